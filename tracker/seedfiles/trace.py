"""How often faults are found, what wears on them, what checks cost: trace/*.csv, checked first."""

from collections.abc import Sequence
from functools import cache
from typing import TypeVar, get_args

from tracker.records.loom import DeviceKind, PlaceKind, WireKind
from tracker.records.trace import (
    ANY,
    CHECK_WORDS,
    CONDITIONS,
    FAULTS,
    TRAITS,
    CheckKind,
    ConditionShare,
    ConditionWord,
    FaultRate,
    TraceTables,
    TraitTimes,
)
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds
from tracker.seedfiles.loom_words import close
from tracker.seedfiles.table_rows import Row, Table, read_table

RATES, TRAITS_FILE, CONDITIONS_FILE, CHECKS = (
    f"trace/{name}.csv" for name in ("rates", "traits", "conditions", "checks")
)
OF: tuple[str, ...] = (
    *get_args(PlaceKind),
    *(kind for kind in get_args(WireKind) if kind != "metal"),
    "metal wire",
    *(kind for kind in get_args(DeviceKind) if kind != "source"),
    "battery", "charging output", "stator winding", "lighting coil", "source coil", "pick-up", "module pin",
    "flasher", "loom",
)  # fmt: skip
"""What a rate may be of: kinds of place, wire and device, what a source is, the flasher, the loom itself."""

_W = TypeVar("_W", bound=str)


def load_trace(seeds: Seeds = SHIPPED) -> TraceTables:
    """The tables of the trace; raises SeedMistakes naming each mistake of the first file that has any."""
    return _shipped() if seeds is SHIPPED else _load(seeds)


@cache
def _shipped() -> TraceTables:
    return _load(SHIPPED)


def _load(seeds: Seeds) -> TraceTables:
    return TraceTables(
        rates={(one.fault, one.of): one for one in _rates(seeds)},
        traits=_traits(seeds),
        conditions=_conditions(seeds),
        checks={one.kind: one for one in _checks(seeds)},
    )


def _rates(seeds: Seeds) -> tuple[FaultRate, ...]:
    table = read_table(seeds, RATES, ("fault", "of", "weight"))
    _once(table, "fault", "of")
    rates = tuple(
        FaultRate(
            fault=_word(row, "fault", FAULTS),
            of=_word(row, "of", OF),
            weight=row.number("weight", most=10_000),
            **row.sourced(),
        )
        for row in table.rows
    )
    _settle(table)
    return rates


def _traits(seeds: Seeds) -> tuple[TraitTimes, ...]:
    table = read_table(seeds, TRAITS_FILE, ("trait", "of", "times"))
    _once(table, "trait", "of")
    traits = tuple(
        TraitTimes(
            trait=_word(row, "trait", TRAITS),
            of=_of(row, OF),
            times=row.number("times", most=100),
            **row.sourced(),
        )
        for row in table.rows
    )
    _settle(table)
    return traits


def _conditions(seeds: Seeds) -> tuple[ConditionShare, ...]:
    table = read_table(seeds, CONDITIONS_FILE, ("condition", "trait", "of", "share"))
    _once(table, "condition", "trait", "of")
    rows = tuple(
        ConditionShare(
            condition=_word(row, "condition", CONDITIONS),
            trait=_word(row, "trait", ("", *TRAITS)),
            of=_of(row, (*OF, ANY)),
            share=row.number("share", most=1),
            **row.sourced(),
        )
        for row in table.rows
    )
    for condition in CONDITIONS:
        if not _covers_all(rows, condition) and not table.problems:
            table.wrong(1, "condition", f"“{condition}” needs a row without trait for “{ANY}”.", condition)
    _settle(table)
    return rows


def _covers_all(rows: Sequence[ConditionShare], condition: ConditionWord) -> bool:
    return any(row.condition == condition and not row.trait and ANY in row.of for row in rows)


def _checks(seeds: Seeds) -> tuple[CheckKind, ...]:
    table = read_table(seeds, CHECKS, ("kind", "words", "minutes", "hands", "free", "misread"))
    _once(table, "kind")
    checks = tuple(
        CheckKind(
            kind=_word(row, "kind", CHECK_WORDS),
            words=row.text("words"),
            minutes=row.number("minutes", most=480),
            hands=row.whole("hands", 1),
            free=row.choice("free", ("", "yes")) == "yes",
            misread=row.number("misread", most=0.4),
            **row.sourced(),
        )
        for row in table.rows
    )
    missing = [kind for kind in CHECK_WORDS if kind not in {one.kind for one in checks}]
    if missing and not table.problems:
        table.wrong(1, "kind", f"No row for: {', '.join(missing)}.")
    _settle(table)
    return checks


def _word(row: Row, column: str, known: Sequence[_W]) -> _W:
    given = row.cells[column]
    found = next((word for word in known if word == given), None)
    if found is None:
        sentence = f"There is no {column} “{given}”. {close(given, list(known))}".strip()
        row.table.wrong(row.line, column, sentence, given)
        return known[-1]
    return found


def _of(row: Row, known: Sequence[str]) -> tuple[str, ...]:
    parts = tuple(part.strip() for part in row.cells["of"].split(";") if part.strip())
    if not parts:
        row.table.wrong(row.line, "of", "This cell is empty.")
    for part in parts:
        if part not in known:
            row.table.wrong(row.line, "of", f"There is no “{part}”. {close(part, list(known))}".strip(), part)
    return parts


def _once(table: Table, *columns: str) -> None:
    if table.rows:
        table.once(columns)


def _settle(table: Table) -> None:
    if table.problems:
        raise SeedMistakes(table.name, table.problems)
