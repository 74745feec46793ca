"""Whether a file is still what was written into it: what SQLite can tell, and what the records promise.

Totals worked out anew from their lines are the desk's, which knows the sums.
"""

import hashlib
import re
import sqlite3
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from decimal import Decimal

import peewee

from tracker.errors import StoreRefusedError
from tracker.records.card import Attachment, Card
from tracker.records.document import Estimate
from tracker.records.journal import BeforeImage, JournalEntry
from tracker.records.problem import Problem
from tracker.records.row import Kept, Row
from tracker.records.shop import Counter
from tracker.records.stock import MoveKind, Part, StockMove
from tracker.store.codec import columns, decode, table_name
from tracker.store.reader import Reader
from tracker.store.steps import STEPS, statements, step_text, teach
from tracker.store.tables import CLASS_OF, FOUND_BY, KEPT

AT_ONCE = 500
"""How many rows are read at a time; photos one by one."""

NUMBERED: dict[str, type[Row]] = {"card": Card, "estimate": Estimate}
"""Series whose records carry their number as text only."""


def check(reader: Reader) -> tuple[Problem, ...]:
    """Everything that is wrong with the file; `field` names the check. Empty when it is sound.

    Where SQLite finds the file itself damaged, or a row cannot be read, nothing beyond that is asked of it.
    """
    for stage in STAGES:
        found = tuple(problem for one in stage for problem in one(reader))
        if found:
            return found
    return ()


def notes(reader: Reader) -> tuple[Problem, ...]:
    """What is no fault of the file but worth knowing: parts of which there are fewer than none."""
    counts: dict[int, Decimal] = defaultdict(Decimal)
    for move in reader.all(StockMove):
        counts[move.part] += move.qty
    return tuple(
        Problem(
            "stock",
            f"There are {counts[part.id]:f} of {part.code} {part.name}: fewer than none.",
            "Count it.",
        )
        for part in reader.all(Part)
        if counts[part.id] < 0
    )


def integrity(reader: Reader) -> Iterator[Problem]:
    """Pages, indexes and constraints, as SQLite sees them."""
    try:
        lines = reader.sql("PRAGMA integrity_check(20)")
    except (sqlite3.DatabaseError, peewee.DatabaseError) as error:
        lines = [(str(error),)]
    for (line,) in lines:
        if line != "ok":
            yield Problem(
                "file", f"The file is damaged: {line}.", "loomcard restore BACKUP brings back a sound one."
            )


def keys(reader: Reader) -> Iterator[Problem]:
    """Rows that name what is not there."""
    for table, row, parent, _ in reader.sql("PRAGMA foreign_key_check"):
        yield Problem("keys", f"{_said(table)} {row} names a {_said(parent)} that is not there.")


def schema(reader: Reader) -> Iterator[Problem]:
    """Tables, indexes and seals, compared with what the schema steps make."""
    entries = "SELECT type, name, sql FROM sqlite_master WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%'"
    fresh = sqlite3.connect(":memory:")
    teach(fresh)
    for step in STEPS:
        for statement in statements(step_text(step)):
            fresh.execute(statement)
    made = {name: (kind, sql) for kind, name, sql in fresh.execute(entries)}
    fresh.close()
    present = {name: (kind, sql) for kind, name, sql in reader.sql(entries)}
    for name, (kind, sql) in made.items():
        word = "seal" if kind == "trigger" else kind
        if name not in present:
            yield Problem("seals" if word == "seal" else "schema", f"The {word} {name} is missing.")
        elif present[name][1] != sql:
            yield Problem("seals" if word == "seal" else "schema", f"The {word} {name} was changed.")
    for name in present.keys() - made.keys():
        yield Problem("schema", f"There is a {present[name][0]} {name} that is none of ours.")


def legible(reader: Reader) -> Iterator[Problem]:
    """Every row can be read as its record; every photo is the one that was kept."""
    for cls in KEPT:
        for row in _rows(reader, cls):
            try:
                record = decode(cls, row)
            except StoreRefusedError as error:
                yield Problem("rows", error.sentence, error.hint)
                continue
            if isinstance(record, Attachment) and hashlib.sha256(record.content).hexdigest() != record.sha256:
                yield Problem("photos", f"{record.name} (attachment {record.id}) is not what was kept.")


def numbers(reader: Reader) -> Iterator[Problem]:
    """1, 2, 3, ... in each series and year, up to the counter; undo takes a counter back too."""
    counted = {(one.series, one.year): one.last for one in reader.all(Counter)}
    taken: dict[tuple[str, int], set[int]] = defaultdict(set)
    for series, year, sequence in reader.sql("SELECT series, year, sequence FROM document"):
        taken[series, year].add(sequence)
    for (series, year), sequences in taken.items():
        last = counted.get((series, year), 0)
        gaps = sorted(set(range(1, max(sequences) + 1)) - sequences)
        if gaps:
            yield Problem("numbers", f"{series} {year}: {_listed(gaps)} missing.")
        if max(sequences) != last:
            yield Problem(
                "numbers",
                f"{series} {year}: the counter stands at {last}, the last number is {max(sequences)}.",
            )
    for series, year in counted.keys() - taken.keys():
        if series not in NUMBERED:
            yield Problem(
                "numbers",
                f"{series} {year}: the counter stands at {counted[series, year]}, nothing is issued.",
            )
    for series, cls in NUMBERED.items():
        yield from _texts(
            reader, series, cls, sum(last for (one, _), last in counted.items() if one == series)
        )


def stock(reader: Reader) -> Iterator[Problem]:
    """No move contradicts what it says it is; the stock itself is only ever their sum."""
    signs = {MoveKind.ARRIVED: 1, MoveKind.RETURNED: 1, MoveKind.USED: -1, MoveKind.SENT_BACK: -1}
    for move in reader.all(StockMove):
        if move.qty * signs.get(move.kind, 0) < 0:
            yield Problem("stock", f"Move {move.id} says “{move.kind}” of {move.qty:f}.")


def journal(reader: Reader) -> Iterator[Problem]:
    """Every row was made by a deed, is as the last deed left it, and every deed's subject is known."""
    last: dict[str, dict[int, int | None]] = defaultdict(dict)
    for table, row, version in reader.sql(
        "SELECT table_name, row_id, after_version FROM before_image ORDER BY id"
    ):
        last[table][row] = version
    for cls in KEPT:
        if cls in (JournalEntry, BeforeImage):
            continue
        table = table_name(cls)
        version = "version" if issubclass(cls, Kept) else "1"
        present: dict[int, int] = dict(reader.sql(f'SELECT id, {version} FROM "{table}"'))
        told = {row: at for row, at in last[table].items() if at is not None}
        for row in present.keys() - told.keys():
            yield Problem("journal", f"No deed made {_said(table)} {row}.")
        for row in told.keys() - present.keys():
            yield Problem("journal", f"{_said(table)} {row} is gone, and no deed took it out.")
        for row in present.keys() & told.keys():
            if present[row] != told[row]:
                yield Problem("journal", f"{_said(table)} {row} was changed by no deed.")
    for entry, table in reader.sql("SELECT id, subject_table FROM journal_entry"):
        if table not in CLASS_OF:
            yield Problem("journal", f"Entry {entry} is about nothing known.")


def finder(reader: Reader) -> Iterator[Problem]:
    """What is found by typing is what is there."""
    held = {
        (table, row): folded
        for folded, table, row in reader.sql("SELECT folded, table_name, row_id FROM finder")
    }
    for cls, text in FOUND_BY.items():
        table = table_name(cls)
        for record in reader.all(cls):
            if held.pop((table, record.id), None) != text(record):
                yield Problem("finder", f"{_said(table)} {record.id} is not found by its words.")
    for table, row in held:
        yield Problem("finder", f"{_said(table)} {row} is found but not there.")


STAGES: tuple[tuple[Callable[[Reader], Iterable[Problem]], ...], ...] = (
    (integrity,),
    (keys, schema, legible),
    (numbers, stock, journal, finder),
)
"""The checks; a stage that finds faults is the last one that makes sense."""


def _rows(reader: Reader, cls: type[Row]) -> Iterator[tuple[object, ...]]:
    names = ", ".join(f'"{column.name}"' for column in columns(cls))
    most = 1 if cls is Attachment else AT_ONCE
    after = -1
    while True:
        rows = reader.sql(
            f'SELECT {names} FROM "{table_name(cls)}" WHERE id > ? ORDER BY id LIMIT ?', (after, most)
        )
        if not rows:
            return
        yield from rows
        after = rows[-1][0]


def _texts(reader: Reader, series: str, cls: type[Row], counted: int) -> Iterator[Problem]:
    """Each number is its own, so that there is no gap when there are as many as were counted."""
    texts = [str(text) for (text,) in reader.sql(f'SELECT number FROM "{table_name(cls)}"')]
    if len(texts) == counted:
        return
    gaps = _gaps(texts)
    which = f": {_listed(gaps)} missing" if len(gaps) == counted - len(texts) else ""
    yield Problem("numbers", f"{series}: {counted} numbers were taken, {len(texts)} are there{which}.")


def _gaps(texts: Iterable[str]) -> list[str]:
    """Numbers that would stand between these, where only the last digits count on."""
    groups: dict[str, dict[int, int]] = defaultdict(dict)
    for text in texts:
        found = re.fullmatch(r"(.*?)(\d+)", text)
        if found:
            groups[found[1]][int(found[2])] = len(found[2])
    return [
        f"{before}{number:0{min(places.values())}}"
        for before, places in groups.items()
        for number in range(1, max(places) + 1)
        if number not in places
    ]


def _listed(gaps: Iterable[object]) -> str:
    listed = [str(gap) for gap in gaps]
    more = f" and {len(listed) - 5} more" if len(listed) > 5 else ""
    return f"{', '.join(listed[:5])}{more} {'is' if len(listed) == 1 else 'are'}"


def _said(table: str) -> str:
    return table.replace("_", " ")
