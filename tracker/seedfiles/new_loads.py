"""What people have put on a bike, from tables/new_loads.csv: the load, its drop, the rule that puts it on."""

from collections.abc import Mapping, Sequence
from functools import cache
from typing import get_args

from tracker.records.electrics import Load, LoadKind
from tracker.records.new_circuit import CIRCUIT_RULE, NewLoad
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds
from tracker.seedfiles.repairs import load_rules
from tracker.seedfiles.table_rows import Row, Table, read_table

NEW_LOADS = "tables/new_loads.csv"
COLUMNS = (
    "id", "words", "kind", "value", "share", "drop_percent", "keyed", "switched",
    "rule", "answers", "instead",
)  # fmt: skip


def load_new_loads(seeds: Seeds = SHIPPED) -> Mapping[str, NewLoad]:
    """Loads by id; raises SeedMistakes with every mistake of the table."""
    return _shipped() if seeds is SHIPPED else _load(seeds)


@cache
def _shipped() -> Mapping[str, NewLoad]:
    return _load(SHIPPED)


def _load(seeds: Seeds) -> Mapping[str, NewLoad]:
    table = read_table(seeds, NEW_LOADS, COLUMNS)
    if table.rows:
        table.once(["id"])
    rules = load_rules(seeds)
    for row in table.rows:
        _check(table, row, [rule.id for rule in rules])
    found = [_record(row) for row in table.rows]
    if table.problems:
        raise SeedMistakes(NEW_LOADS, table.problems)
    return {one.id: one for one in found}


def _check(table: Table, row: Row, rules: Sequence[str]) -> None:
    row.choice("rule", rules)
    if row.cells["rule"] == CIRCUIT_RULE or row.cells["drop_percent"]:
        row.number("drop_percent", 0, 20)
    if row.cells["rule"] != CIRCUIT_RULE and not row.cells["instead"]:
        table.wrong(row.line, "instead", "What is no new circuit takes the place of a load.")


def _record(row: Row) -> NewLoad:
    kind = row.choice("kind", get_args(LoadKind))
    return NewLoad(
        id=row.text("id"),
        words=row.text("words"),
        load=Load(next((one for one in get_args(LoadKind) if one == kind), "power"), row.number("value")),
        share=row.number("share", 0, 1, over=False),
        drop_percent=row.maybe("drop_percent") or 0.0,
        keyed=row.choice("keyed", ("yes", "no")) == "yes",
        switched=row.choice("switched", ("yes", "no")) == "yes",
        rule=row.cells["rule"],
        answers=row.cells["answers"],
        instead=tuple(row.cells["instead"].split()),
        **row.sourced(),
    )
