"""What the store's tests open and write."""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import fields, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, TypeVar

from tracker.records.bike import Bike
from tracker.records.card import Card, Symptom, SymptomKind
from tracker.records.journal import BeforeImage, JournalEntry
from tracker.records.people import Customer
from tracker.records.row import Row
from tracker.store.codec import table_name
from tracker.store.reader import Reader
from tracker.store.store import Deed, Store
from tracker.store.tables import KEPT
from tracker.store.undo import last_to_undo, undo
from tracker.store.unit import Unit, new_token

R = TypeVar("R", bound=Row)

NOW = datetime(2026, 3, 9, 9, 30, tzinfo=UTC)


def now() -> datetime:
    return NOW


def opened(path: Path, *, busy_ms: int = 5000, create: bool = True) -> Store:
    return Store(path, now, create=create, busy_ms=busy_ms)


def deed(who: str = "Anna", token: str = "", verb: str = "test") -> Deed:
    return Deed(verb, who, NOW, token or new_token())


def add(store: Store, record: R, who: str = "Anna") -> R:
    """Keeps one record with a deed of its own."""
    return do(store, lambda unit: unit.insert(record), who=who)


def do(store: Store, work: Callable[[Unit], R], who: str = "Anna", words: str = "", token: str = "") -> R:
    def saying(unit: Unit) -> R:
        unit.say(words)
        return work(unit)

    return store.do(deed(who, token), saying)


def take_back(store: Store, who: str = "Anna") -> JournalEntry:
    """Undoes that person's last deed; returns its entry."""

    def work(unit: Unit) -> JournalEntry:
        entry = last_to_undo(unit, who)
        assert entry is not None
        undo(unit, entry)
        return entry

    return store.do(deed(who, verb="undo"), work)


def book_in(unit: Unit, complaint: str = "no charge", symptoms: int = 3) -> Card:
    """A bike, its numbered card and what is wrong with it: a parent with lines."""
    number = unit.number("card", 2026)
    bike = unit.insert(Bike(make="Harrow", model=f"Trail {number}"))
    card = unit.insert(Card(number=f"26-{number:04}", bike=bike.id, complaint=complaint, came_at=unit.at))
    for place in range(symptoms):
        unit.insert(Symptom(card=card.id, kind=SymptomKind.DEAD, words=f"load {place}", at=unit.at))
    unit.say(f"booked in {card.number}", card.id)
    return card


def customer(name: str = "Zoë Quill", **values: Any) -> Customer:
    return replace(Customer(name=name), **values)


def count(store: Store, table: str) -> int:
    return int(store.read(lambda reader: reader.sql(f'SELECT count(*) FROM "{table}"'))[0][0])


def later(minutes: int) -> datetime:
    return NOW + timedelta(minutes=minutes)


def got(store: Store, record: R) -> R:
    """The record as it is kept now."""
    return store.read(lambda reader: reader.get(type(record), record.id))


def rows(store: Store, cls: type[R], **equal: Any) -> tuple[R, ...]:
    return store.read(lambda reader: reader.all(cls, **equal))


def all_rows(store: Store) -> dict[str, list[tuple[Any, ...]]]:
    """Every row of every table, the finder's included."""

    def work(reader: Reader) -> dict[str, list[tuple[Any, ...]]]:
        names = reader.sql("SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'finder_%'")
        return {name: reader.sql(f'SELECT * FROM "{name}"') for (name,) in names}

    return store.read(work)


def removed(unit: Unit, record: R) -> R:
    unit.remove(record)
    return record


@contextmanager
def listening(store: Store) -> Iterator[list[str]]:
    """The statements SQLite was given meanwhile."""
    heard: list[str] = []
    _trace(store, heard.append)
    heard.clear()
    yield heard
    _trace(store, None)
    del heard[-1:]  # the BEGIN of the work that stopped listening


def _trace(store: Store, hear: Callable[[str], None] | None) -> None:
    def work(reader: Reader) -> None:
        connection: Any = reader.database.connection()  # type: ignore[no-untyped-call]
        connection.set_trace_callback(hear)

    store.read(work)


def asked(store: Store, work: Callable[[Reader], object]) -> list[str]:
    """As `listening` for one read, without the transaction's and the finder's own."""
    with listening(store) as heard:
        store.read(work)
    return [one for one in heard if not one.startswith(("BEGIN", "COMMIT", "ROLLBACK", "--"))]


def names(folder: Path) -> list[str]:
    return sorted(one.name for one in folder.iterdir() if not one.name.endswith(("-wal", "-shm")))


def damage(path: Path, table: str) -> None:
    with closing(sqlite3.connect(path)) as raw:
        (root,) = raw.execute("SELECT rootpage FROM sqlite_master WHERE name = ?", (table,)).fetchone()
        (size,) = raw.execute("PRAGMA page_size").fetchone()
    with path.open("r+b") as file:
        file.seek((root - 1) * size)
        file.write(b"\xff" * size)


def rename(store: Store, row: Customer, name: str, who: str = "Anna") -> None:
    do(store, lambda unit: unit.change(unit.get(Customer, row.id), name=name), who, f"named {name}")


def content(store: Store) -> dict[str, Any]:
    """Every row but the journal's, without its version."""

    def work(reader: Reader) -> dict[str, Any]:
        kept: dict[str, Any] = {}
        for cls in set(KEPT) - {JournalEntry, BeforeImage}:
            listed = ", ".join(f'"{field.name}"' for field in fields(cls) if field.name != "version")
            kept[table_name(cls)] = reader.sql(f'SELECT {listed} FROM "{table_name(cls)}" ORDER BY id')
        kept["finder"] = reader.sql("SELECT folded, table_name, row_id FROM finder ORDER BY rowid")
        return kept

    return store.read(work)
