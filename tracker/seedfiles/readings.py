"""The kinds of reading, from tables/readings.csv: their words, how they are taken, what can be believed."""

import math
from collections.abc import Mapping
from functools import cache

from tracker.records.problem import Problem
from tracker.records.repair_rule import ReadingKind
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds
from tracker.seedfiles.table_rows import NOWHERE, Row, read_table

READINGS = "tables/readings.csv"
COLUMNS = ("id", "was", "words", "unit", "state", "meter", "how", "caution", "least", "most")
UNITS = ("V", "A", "mA", "ohm", "N", "C", "%", "/min", "rev/min", "yes/no", "SG")


def load_readings(seeds: Seeds = SHIPPED) -> Mapping[str, ReadingKind]:
    """Kinds of reading by id, in working order; raises SeedMistakes that names each mistake."""
    return _shipped() if seeds is SHIPPED else _load(seeds)


@cache
def _shipped() -> Mapping[str, ReadingKind]:
    return _load(SHIPPED)


def _load(seeds: Seeds) -> Mapping[str, ReadingKind]:
    table = read_table(seeds, READINGS, COLUMNS)
    kinds = {row.cells["id"]: _kind(row) for row in table.rows}
    if table.rows:
        table.once(["id"])
    for row in table.rows:
        kind = kinds[row.cells["id"]]
        if kind.least is not None and kind.most is not None and kind.least > kind.most:
            table.wrong(row.line, "most", "This must not be less than “least”.", row.cells["most"])
        for name in kind.was:
            if name in kinds:
                table.wrong(row.line, "was", f"“{name}” is still the name of a kind.", name)
    if table.problems:
        raise SeedMistakes(READINGS, table.problems)
    return kinds


def _kind(row: Row) -> ReadingKind:
    return ReadingKind(
        id=row.text("id"),
        was=tuple(row.cells["was"].split()),
        words=row.text("words"),
        unit=row.choice("unit", UNITS),
        state=row.text("state"),
        meter=row.text("meter"),
        how=row.text("how"),
        caution=row.cells["caution"],
        least=_bound(row, "least"),
        most=_bound(row, "most"),
        **row.sourced(),
    )


def _bound(row: Row, column: str) -> float | None:
    """A number of either sign, or none."""
    if not row.cells[column]:
        return None
    value = row.number(column, least=-math.inf, over=False)
    return None if value is NOWHERE else value


def unknown_kinds(names: tuple[str, ...], kinds: Mapping[str, ReadingKind], where: str) -> list[Problem]:
    """A mistake for each name that is no kind of reading."""
    return [
        Problem(where, f"“{name}” is no kind of reading.", f"See {READINGS}.", name)
        for name in names
        if name not in kinds
    ]
