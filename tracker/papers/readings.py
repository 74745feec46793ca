"""Readings set beside each other: what a place read before the repair, and what it reads after."""

import re
from collections.abc import Sequence
from decimal import Decimal
from itertools import zip_longest

from tracker.papers.known import NOTHING, Known
from tracker.papers.paper import Column, ColumnKind, Table
from tracker.papers.say import number, plain_name, read_off, unit
from tracker.papers.tongue import mark, t
from tracker.records.card import Phase, Reading

CONDITIONS = {
    "hours_standing": mark("stood {value} h"),
    "rev_min": mark("at {value} rev/min"),
    "amps": mark("{value} A flowing"),
    "temperature": mark("at {value} °C"),
    "lead_ohms": mark("probes {value} ohm"),
}
"""How figures that are noted with a reading are said."""
_FIGURE = re.compile(r"-?\d{1,9}(?:\.\d{1,6})?", re.ASCII)


def value_words(reading: Reading) -> str:
    """What the meter showed, without the unit: the figure, “yes” or “no”, or the words where it has none."""
    if reading.value is None:
        return reading.words or "OL"
    if reading.unit == "yes/no":
        return t("yes") if reading.value else t("no")
    return read_off(reading.value, reading.words)


def with_unit(reading: Reading) -> str:
    """What the meter showed, with its unit."""
    return (
        value_words(reading)
        if reading.value is None
        else f"{value_words(reading)} {unit(reading.unit)}".strip()
    )


def how(reading: Reading) -> str:
    """How the bike stood when it was read."""
    said = [_condition(name, value) for name, value in sorted(reading.conditions.items())]
    return ", ".join(part for part in (reading.state, *said) if part)


def _condition(name: str, value: str) -> str:
    """A condition noted with a reading; where it is a figure of a known kind, as one says it."""
    if name in CONDITIONS and _FIGURE.fullmatch(value.strip()):
        return t(CONDITIONS[name], value=number(Decimal(value.strip())))
    return f"{plain_name(name)} {value}".strip()


def where(reading: Reading, known: Known) -> str:
    """Where the meter was put, and on which side of it; nothing where no place was written down."""
    side = f"({t(reading.side)})" if reading.side else ""
    at = t("at {place}", place=known.place(reading.place)) if reading.place else ""
    return " ".join(part for part in (at, side) if part)


def before_and_after(
    readings: Sequence[Reading], known: Known = NOTHING, *, title: str = mark("Readings"), room: int = 0
) -> Table:
    """Every reading, one row for each time the same thing was read at the same place.

    Kinds stand in the order in which `known` has them; several readings of one thing in the order in which
    they were taken. A column for what was judged is there when anything was. With `room`, so many rows are
    left blank.
    """
    in_order = sorted(readings, key=lambda one: (one.at, one.id))
    order = {kind: at for at, kind in enumerate(known.kinds)}
    groups: dict[tuple[str, ...], list[Reading]] = {}
    for one in in_order:
        groups.setdefault((one.kind, one.place, one.side, one.unit), []).append(one)
    judged = any(one.id in known.judged for one in readings)
    rows: list[tuple[str, ...]] = []
    for _, own in sorted(groups.items(), key=lambda group: order.get(group[0][0], len(order))):
        before = [one for one in own if one.phase is Phase.BEFORE]
        after = [one for one in own if one.phase is Phase.AFTER]
        for pair in zip_longest(before, after):
            cells = _row(pair, known)
            rows.append(cells if judged else cells[:-1])
    columns = (
        Column(t("Reading")),
        Column(t("Before"), ColumnKind.FIGURES),
        Column(t("After"), ColumnKind.FIGURES),
        Column(t("Unit")),
        *((Column(t("Judged")),) if judged else ()),
    )
    return Table(columns, tuple(rows), t(title) if title else "", room)


def _row(pair: tuple[Reading | None, Reading | None], known: Known) -> tuple[str, ...]:
    """What, at which place and how; before; after; unit; judged."""
    taken = [one for one in pair if one is not None]
    one = taken[0]
    at = where(one, known)
    lines = [known.kind(one.kind), *(f"  {line}" for line in ([at] if at else []) + _conditions(taken))]
    judged = [f"{t(each.phase)}: {t(known.judged[each.id])}" for each in taken if each.id in known.judged]
    figures = (value_words(each) if each else "" for each in pair)
    return ("\n".join(lines), *figures, unit(one.unit), "\n".join(judged))


def _conditions(taken: Sequence[Reading]) -> list[str]:
    said = [how(each) for each in taken]
    if len(set(said)) == 1:
        return [said[0]] if said[0] else []
    return [f"{t(each.phase)}: {words}" for each, words in zip(taken, said, strict=True) if words]
