"""The schema's text and the records say the same, and what the schema promises is really enforced."""

import re
import sqlite3
import typing
from collections.abc import Iterator
from dataclasses import fields
from enum import StrEnum
from pathlib import Path
from typing import Any

import pytest

from tests.store.making import NOW, deed, opened
from tests.store.samples import everything
from tracker.records.journal import JournalEntry
from tracker.records.row import Row
from tracker.store import steps
from tracker.store.codec import columns, table_name
from tracker.store.tables import CLASS_OF, FOUND_BY, KEPT, SEALED

NOT_RECORDS = {"draft", "sqlite_sequence"}


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A file with a row in every table."""
    path = tmp_path_factory.mktemp("schema") / "full.loomcard"
    with opened(path) as store:
        store.do(deed(), lambda unit: everything(unit)[CLASS_OF["card"]])
    return path


@pytest.fixture
def raw(full: Path) -> Iterator[sqlite3.Connection]:
    """A bare connection; nothing that it writes is kept."""
    connection = sqlite3.connect(full, isolation_level=None)
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute("PRAGMA recursive_triggers = ON")
    connection.execute("BEGIN")
    yield connection
    connection.rollback()
    connection.close()


def test_every_table_keeps_one_record_class_and_the_other_way_round(raw: sqlite3.Connection) -> None:
    tables = {
        name
        for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        if not name.startswith("finder")
    }
    assert tables - NOT_RECORDS == {table_name(cls) for cls in KEPT}
    assert set(FOUND_BY) <= set(KEPT)


@pytest.mark.parametrize("cls", KEPT, ids=table_name)
def test_columns_have_the_fields_names_kinds_and_gaps(raw: sqlite3.Connection, cls: type[Row]) -> None:
    table = table_name(cls)
    info = raw.execute(f'PRAGMA table_info("{table}")').fetchall()
    assert [(name, kind) for _, name, kind, *_ in info] == [(c.name, c.affinity) for c in columns(cls)]
    assert {name for _, name, _, notnull, _, key in info if not notnull and not key} == {
        c.name for c in columns(cls) if c.nullable
    }
    (sql,) = raw.execute("SELECT sql FROM sqlite_master WHERE name = ?", (table,)).fetchone()
    assert sql.endswith("STRICT")
    assert "id INTEGER PRIMARY KEY AUTOINCREMENT" in sql


@pytest.mark.parametrize("cls", KEPT, ids=table_name)
def test_choices_are_listed_and_json_and_yes_or_no_are_checked(
    raw: sqlite3.Connection, cls: type[Row]
) -> None:
    (sql,) = raw.execute("SELECT sql FROM sqlite_master WHERE name = ?", (table_name(cls),)).fetchone()
    hints = typing.get_type_hints(cls)
    lines = re.split(r"\n|, (?=\w+ (?:TEXT|INT|REAL|BLOB))", sql)  # a step's own columns share a line
    for field in fields(cls):
        (line,) = [one for one in lines if re.match(rf'\s*"?{field.name}"? (TEXT|INT|REAL|BLOB)', one)]
        kinds = _kinds(hints[field.name])
        if typing.get_origin(hints[field.name]) in (tuple, dict) or field.name == "image":
            assert "json_valid" in line
        elif bool in kinds:
            assert f"CHECK ({field.name} IN (0, 1))" in line
        elif isinstance(kinds[0], type) and issubclass(kinds[0], StrEnum):
            listed = re.findall(r"'((?:[^']|'')*)'", line)
            assert [one.replace("''", "'") for one in listed] == [choice.value for choice in kinds[0]]


@pytest.mark.parametrize("cls", KEPT, ids=table_name)
def test_every_field_that_names_a_record_is_a_foreign_key(raw: sqlite3.Connection, cls: type[Row]) -> None:
    referring = {one[3] for one in raw.execute(f'PRAGMA foreign_key_list("{table_name(cls)}")')}
    hints = typing.get_type_hints(cls)
    naming = {f.name for f in fields(cls) if f.name in CLASS_OF and int in _kinds(hints[f.name])}
    if cls is JournalEntry:
        naming -= {"card"}  # an entry outlives the card that was taken back
    assert naming <= referring


@pytest.mark.parametrize("cls", KEPT, ids=table_name)
def test_an_orphan_is_refused_for_each_foreign_key(raw: sqlite3.Connection, cls: type[Row]) -> None:
    table = table_name(cls)
    for _, _, _, column, *_ in raw.execute(f'PRAGMA foreign_key_list("{table}")').fetchall():
        orphan = _another(raw, table)
        _insert(raw, table, orphan)  # the row itself is good
        orphan = _another(raw, table)
        if table == "allocation" and column != "document":
            orphan |= {"payment": None, "credit_note": None}  # exactly one of the two
        orphan[column] = 999_999
        with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
            _insert(raw, table, orphan)


def test_a_parent_with_children_cannot_go(raw: sqlite3.Connection) -> None:
    for parent in ("card", "bike", "customer", "repair", "part", "mechanic", "finding"):
        with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
            raw.execute(f"DELETE FROM {parent}")


@pytest.mark.parametrize("cls", KEPT, ids=table_name)
def test_what_a_field_may_not_lack_is_refused(raw: sqlite3.Connection, cls: type[Row]) -> None:
    table = table_name(cls)
    for column in columns(cls):
        if column.name == "id" or column.nullable:
            continue
        row = _another(raw, table)
        row[column.name] = None
        with pytest.raises(sqlite3.IntegrityError):
            _insert(raw, table, row)


@pytest.mark.parametrize("cls", [cls for cls in KEPT if cls in SEALED], ids=table_name)
def test_seals_refuse_every_way_of_writing_over(raw: sqlite3.Connection, cls: type[Row]) -> None:
    table = table_name(cls)
    before = raw.execute(f'SELECT * FROM "{table}"').fetchall()
    assert before
    names = [column.name for column in columns(cls)]
    quoted = ", ".join(f'"{name}"' for name in names)
    marks = ", ".join("?" for _ in names)
    ways: list[tuple[str, tuple[Any, ...]]] = [
        *((f'UPDATE "{table}" SET "{name}" = "{name}"', ()) for name in names),
        (f'DELETE FROM "{table}"', ()),
        (f'DELETE FROM "{table}" WHERE id = ?', (before[0][0],)),
        (f'INSERT OR REPLACE INTO "{table}" ({quoted}) VALUES ({marks})', before[0]),
        (f'REPLACE INTO "{table}" ({quoted}) SELECT {quoted} FROM "{table}"', ()),
        (f'UPDATE OR REPLACE "{table}" SET token = token', ()),
        (
            f'INSERT INTO "{table}" ({quoted}) VALUES ({marks}) ON CONFLICT DO UPDATE SET token = "x"',
            before[0],
        ),
    ]
    for statement, values in ways:
        with pytest.raises(sqlite3.IntegrityError, match=f"sealed: {table}"):
            raw.execute(statement, values)
    assert raw.execute(f'SELECT * FROM "{table}"').fetchall() == before


def test_the_seals_of_the_schema_are_the_sealed_records(raw: sqlite3.Connection) -> None:
    triggers = {name for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")}
    assert triggers == {f"{table_name(cls)}_sealed_{way}" for cls in SEALED for way in ("update", "delete")}


def test_every_foreign_key_has_an_index(raw: sqlite3.Connection) -> None:
    bare = set()
    for cls in KEPT:
        table = table_name(cls)
        leading = set()
        for index in raw.execute(f'PRAGMA index_list("{table}")').fetchall():
            leading.add(raw.execute(f'PRAGMA index_info("{index[1]}")').fetchall()[0][2])
        for key in raw.execute(f'PRAGMA foreign_key_list("{table}")').fetchall():
            if key[3] not in leading:
                bare.add(f"{table}.{key[3]}")
    assert bare == set()


def test_a_file_tells_whose_it_is(raw: sqlite3.Connection) -> None:
    assert raw.execute("PRAGMA application_id").fetchone() == (0x4C6F6F6D,)
    assert raw.execute("PRAGMA user_version").fetchone() == (len(steps.STEPS),)
    assert NOW.tzinfo is not None


def _kinds(hint: Any) -> tuple[Any, ...]:
    return typing.get_args(hint) or (hint,)


def _another(raw: sqlite3.Connection, table: str) -> dict[str, Any]:
    """The last row of a table again, with all that must be its own made so."""
    cursor = raw.execute(f'SELECT * FROM "{table}" ORDER BY id DESC LIMIT 1')
    row = dict(zip([one[0] for one in cursor.description], cursor.fetchone(), strict=True))
    referring = {one[3] for one in raw.execute(f'PRAGMA foreign_key_list("{table}")')}
    serial = row.pop("id")
    for index in raw.execute(f'PRAGMA index_list("{table}")').fetchall():
        if not index[2]:
            continue
        for _, _, column in raw.execute(f'PRAGMA index_info("{index[1]}")').fetchall():
            if column == "undoes":
                row[column] = None
            elif isinstance(row[column], str) and column != "reason":
                row[column] += f"{serial}"
            elif isinstance(row[column], int) and column not in referring:
                row[column] += 1000 + serial
            elif column == "reason":
                row[column] += f" {serial}"
    return row


def _insert(raw: sqlite3.Connection, table: str, row: dict[str, Any]) -> None:
    names = ", ".join(f'"{name}"' for name in row)
    raw.execute(
        f'INSERT INTO "{table}" ({names}) VALUES ({", ".join("?" for _ in row)})', tuple(row.values())
    )
