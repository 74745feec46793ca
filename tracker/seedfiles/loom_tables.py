"""The tables of zones and of what comes off to reach them."""

from typing import Literal

from tracker.records.loom import ALWAYS, When
from tracker.records.loom_pattern import Access, Zone
from tracker.records.problem import Problem
from tracker.seedfiles.door import Seeds
from tracker.seedfiles.loom_words import close
from tracker.seedfiles.table_rows import Row, read_table

ZONES = "tables/zones.csv"
ACCESSES = "tables/access.csv"
TRAITS = ("steering", "suspension", "wet", "hot", "shakes")
SIDES: dict[str, Literal["left", "middle", "right"]] = {"left": "left", "middle": "middle", "right": "right"}


def read_zones(seeds: Seeds, problems: list[Problem]) -> dict[str, Zone]:
    """Zones by id, in the file's order; stations may lie before the headstock (negative)."""
    columns = ["id", "words", "side", "x", "y", "station_mm", "branch_mm", "off", "traits"]
    table = read_table(seeds, ZONES, columns)
    table.once(["id"]) if not table.problems else None
    zones = {
        row.cells["id"]: Zone(
            id=row.text("id"),
            words=row.text("words"),
            side=SIDES.get(row.choice("side", tuple(SIDES)), "middle"),
            x=_signed(row, "x"),
            y=_signed(row, "y"),
            station_mm=_signed(row, "station_mm"),
            branch_mm=row.whole("branch_mm"),
            off=tuple(row.cells["off"].split()),
            traits=tuple(row.cells["traits"].split()),
            **row.sourced(),
        )
        for row in table.rows
    }
    for row in table.rows:
        for trait in row.cells["traits"].split():
            if trait not in TRAITS:
                table.wrong(row.line, "traits", f"“{trait}” is not one of {', '.join(TRAITS)}.", trait)
    problems += _named(ZONES, table.problems)
    return zones


def read_accesses(seeds: Seeds, problems: list[Problem]) -> dict[str, Access]:
    """What comes off, by id. `needs` must be in the table and never lead back to the same thing."""
    columns = ["id", "words", "minutes", "needs", "when", "cautions"]
    table = read_table(seeds, ACCESSES, columns)
    table.once(["id"]) if not table.problems else None
    accesses = {
        row.cells["id"]: Access(
            id=row.text("id"),
            words=row.text("words"),
            minutes=row.whole("minutes"),
            needs=tuple(row.cells["needs"].split()),
            when=_when(row),
            cautions=tuple(row.cells["cautions"].split()),
            **row.sourced(),
        )
        for row in table.rows
    }
    for row in table.rows:
        for need in row.cells["needs"].split():
            if need not in accesses:
                table.wrong(
                    row.line,
                    "needs",
                    f"There is no access “{need}”. {close(need, list(accesses))}".strip(),
                    need,
                )
            elif row.cells["id"] in _all_needs(accesses, need):
                table.wrong(row.line, "needs", "This goes round in a circle.", need)
    problems += _named(ACCESSES, table.problems)
    return accesses


def _all_needs(accesses: dict[str, Access], first: str) -> set[str]:
    seen: set[str] = set()
    todo = [first]
    while todo:
        now = todo.pop()
        if now not in seen:
            seen.add(now)
            todo += accesses[now].needs if now in accesses else ()
    return seen


def _signed(row: Row, column: str) -> int:
    text = row.cells[column]
    if not text.lstrip("-").isdigit():
        row.table.wrong(row.line, column, "This must be a whole number.", text)
        return 0
    return int(text)


def _when(row: Row) -> When:
    """`fairing=half|full cooling=liquid`: each feature with the values that let the access appear."""
    need: list[tuple[str, tuple[str, ...]]] = []
    for part in row.cells["when"].split():
        name, sign, values = part.partition("=")
        if not (name and sign and values):
            row.table.wrong(row.line, "when", "Written as feature=value or feature=value|value.", part)
        need.append((name, tuple(values.split("|"))))
    return When((tuple(need),)) if need else ALWAYS


def _named(file: str, problems: list[Problem]) -> list[Problem]:
    folder = file.rsplit("/", 1)[0]
    return [Problem(f"{folder}/{p.field}", p.sentence, p.hint, p.given) for p in problems]
