"""The looks again that repairs propose, from tables/rechecks.csv."""

from collections.abc import Mapping
from functools import cache

from tracker.records.repair_rule import RecheckKind
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds
from tracker.seedfiles.readings import load_readings
from tracker.seedfiles.table_rows import Row, read_table

RECHECKS = "tables/rechecks.csv"
COLUMNS = ("id", "was", "words", "days", "distance_km", "reads")


def load_rechecks(seeds: Seeds = SHIPPED) -> Mapping[str, RecheckKind]:
    """Rechecks by id; days or distance 0 stand for the shop's own setting. Raises SeedMistakes."""
    return _shipped() if seeds is SHIPPED else _load(seeds)


@cache
def _shipped() -> Mapping[str, RecheckKind]:
    return _load(SHIPPED)


def _load(seeds: Seeds) -> Mapping[str, RecheckKind]:
    table = read_table(seeds, RECHECKS, COLUMNS)
    known = load_readings(seeds)
    kinds = {row.cells["id"]: _kind(row) for row in table.rows}
    if table.rows:
        table.once(["id"])
    for row in table.rows:
        for name in row.cells["reads"].split():
            if name not in known:
                table.wrong(row.line, "reads", f"“{name}” is no kind of reading.", name)
        for name in row.cells["was"].split():
            if name in kinds:
                table.wrong(row.line, "was", f"“{name}” is still the name of a recheck.", name)
    if table.problems:
        raise SeedMistakes(RECHECKS, table.problems)
    return kinds


def _kind(row: Row) -> RecheckKind:
    return RecheckKind(
        id=row.text("id"),
        was=tuple(row.cells["was"].split()),
        words=row.text("words"),
        days=row.whole("days"),
        distance_km=row.whole("distance_km"),
        reads=tuple(row.cells["reads"].split()),
        **row.sourced(),
    )
