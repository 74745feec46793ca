"""The limits that readings are judged by, from tables/limits.csv, checked before anything is judged."""

import math
from collections.abc import Sequence
from functools import cache
from itertools import pairwise
from typing import Any

from tracker.records.limits import BATTERY_KINDS, FACTS, LEAD, Limit, Limits
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds
from tracker.seedfiles.table_rows import NOWHERE, Row, Table, read_table

LIMITS, PRACTICE = "tables/limits.csv", "tables/practice.csv"

BOUNDS = ("fault_below", "look_below", "look_above", "fault_above")

COLUMNS = (
    "id", "what", "kinds", "unit", *BOUNDS, "at_limit", "volts", "battery", "needs", "not_when",
    "always", "guard",
    "figure", "figure_to", "at_c", "say_good", "say_look", "say_fault", "practice",
)  # fmt: skip

UNITS = ("V", "mA", "ohm", "%", "/min", "SG", "h", "s", "ratio")

RISING = (
    ("rest-0", "rest-25", "rest-50", "rest-75", "rest-100"),
    ("agm-25", "agm-50", "agm-75", "agm-full"),
    ("lfp-boost", "lfp-20", "lfp-40", "lfp-90"),
    ("load-test-18", "load-test-12", "load-test-7", "load-test-1",
     "load-test+4", "load-test+10", "load-test+16", "load-test"),
    ("self-discharge-50F", "self-discharge-80F", "self-discharge-100F"),
)  # fmt: skip
"""Figures that the sums read as a table, by name; each series must rise."""

NEEDED = (
    *(name for series in RISING for name in series),
    "rest-min-flooded", "rest-min-agm", "sg-temp", "sg-spread", "charge-first", "phase-balance-v",
    "phase-balance-pct", "winding-balance-pct",
)  # fmt: skip
"""The limits that the sums ask for by name; each must be there."""


def load_limits(seeds: Seeds = SHIPPED) -> Limits:
    """Every limit as one shop sees it; raises SeedMistakes that names each mistake by row and column."""
    return _shipped() if seeds is SHIPPED else _load(seeds)


@cache
def _shipped() -> Limits:
    return _load(SHIPPED)


def _load(seeds: Seeds) -> Limits:
    table = read_table(seeds, LIMITS, COLUMNS)
    table.once(["id"])
    practices = {row.cells["name"]: row for row in _practices(seeds)}
    limits = Limits({row.cells["id"]: _limit(row, practices) for row in table.rows})
    if table.rows:
        _check_series(table, limits)
    if table.problems:
        raise SeedMistakes(LIMITS, table.problems)
    return limits


def _practices(seeds: Seeds) -> Sequence[Row]:
    return read_table(seeds, PRACTICE, ["name", "what", "low", "high", "unit"]).rows


def _limit(row: Row, practices: dict[str, Row]) -> Limit:
    kinds = tuple(row.cells["kinds"].split())
    bounds: dict[str, Any] = {column: _bound(row, column) for column in BOUNDS}
    sourced: Any = row.sourced()
    name = row.cells["practice"]
    if name in practices:
        held = practices[name]
        bounds |= {"fault_below": held.number("low"), "fault_above": held.number("high")}
        sourced = held.sourced()
    elif name:
        row.table.wrong(row.line, "practice", f"There is no practice “{name}” in practice.csv.", name)
    figure = _bound(row, "figure")
    _check_bounds(row, [value for value in bounds.values() if value is not None])
    if kinds and all(value is None for value in bounds.values()):
        row.table.wrong(row.line, "kinds", "It judges readings but has no bound.", row.cells["kinds"])
    if not kinds and figure is None:
        row.table.wrong(row.line, "figure", "It judges no reading and has no figure either.")
    return Limit(
        id=row.text("id"),
        what=row.text("what"),
        kinds=kinds,
        unit=row.choice("unit", UNITS),
        **bounds,
        at_limit="worse" if _choice(row, "at_limit", ("worse",)) else "good",
        volts={"6": 6, "12": 12}.get(_choice(row, "volts", ("6", "12"))),
        battery=_choice(row, "battery", (LEAD, *BATTERY_KINDS)),
        needs=_facts(row, "needs"),
        not_when=_facts(row, "not_when"),
        always=bool(_choice(row, "always", ("yes",))),
        guard=bool(_choice(row, "guard", ("yes",))),
        figure=figure,
        figure_to=_bound(row, "figure_to"),
        at_c=_bound(row, "at_c"),
        say_good=row.cells["say_good"],
        say_look=row.cells["say_look"],
        say_fault=row.cells["say_fault"],
        **sourced,
    )


def _bound(row: Row, column: str) -> float | None:
    """The number in a cell that may be empty; OL is more ohms than any meter reads."""
    match row.cells[column]:
        case "":
            return None
        case "OL":
            return math.inf
        case _:
            return row.number(column, -300, 1e12, over=False)


def _choice(row: Row, column: str, known: Sequence[str]) -> str:
    """What an optional cell says."""
    return row.choice(column, known) if row.cells[column] else ""


def _facts(row: Row, column: str) -> tuple[str, ...]:
    facts = tuple(part.strip() for part in row.cells[column].split(";") if part.strip())
    for fact in facts:
        if fact not in FACTS:
            known = ", ".join(f"“{word}”" for word in FACTS)
            row.table.wrong(row.line, column, f"“{fact}” is none of {known}.", fact)
    return facts


def _check_bounds(row: Row, bounds: list[float]) -> None:
    """Fault below, look below, look above, fault above: never falling."""
    for lower, upper in pairwise(bounds):
        if upper < lower:
            row.table.wrong(row.line, "fault_above", f"The bounds must rise: {lower:g} is before {upper:g}.")


def _check_series(table: Table, limits: Limits) -> None:
    missing = [name for name in NEEDED if name not in limits.rows]
    if missing:
        table.wrong(1, "id", f"These limits are missing: {', '.join(missing)}.")
    lines = {row.cells["id"]: row.line for row in table.rows}
    for series in RISING:
        there = [name for name in series if name in limits.rows]
        for one, other in pairwise(there):
            low, high = _figure(limits, one), _figure(limits, other)
            if high <= low:
                table.wrong(lines[other], "figure", f"{high:g} must be more than the {low:g} of “{one}”.")


def _figure(limits: Limits, name: str) -> float:
    try:
        return limits.figure(name)
    except StopIteration:
        return NOWHERE
