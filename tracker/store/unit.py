"""One deed's writes: every row through one helper that keeps its before-image, checks its version, finds."""

import base64
import uuid
from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any, TypeVar

import peewee

from tracker.errors import ChangedElsewhereError
from tracker.records.journal import BeforeImage, JournalEntry
from tracker.records.row import Kept, Row
from tracker.records.shop import Counter
from tracker.store.codec import SqlValue, columns, encode, encode_some, table_name
from tracker.store.reader import Reader
from tracker.store.tables import FOUND_BY, finder_row

R = TypeVar("R", bound=Row)
K = TypeVar("K", bound=Kept)


def new_token() -> str:
    """A token for one deed; made by whoever asks for the deed, so that asking twice does it once."""
    return uuid.uuid4().hex


class Unit(Reader):
    """The writes of one deed inside its transaction."""

    def __init__(self, database: peewee.SqliteDatabase, token: str, at: datetime) -> None:
        super().__init__(database)
        if not token:
            raise ValueError("a deed without a token")
        self.token = token
        self.at = at
        self.card: int | None = None
        self.words = ""
        self.undoes: int | None = None
        self._made = 0
        self._images: dict[tuple[type[Row], int], dict[str, object] | None] = {}
        self._after: dict[tuple[type[Row], int], int | None] = {}

    def say(self, words: str, card: int | None = None) -> None:
        """What the journal will say of this deed, and the card it is about."""
        self.words = words
        if card is not None:
            self.card = card

    def insert(self, record: R) -> R:
        """Keeps a new record; returns it with its id and token."""
        cls = type(record)
        self._made += 1
        stored = replace(record, token=record.token or f"{self.token}.{self._made}")
        row = encode(stored)
        del row["id"]
        row_id = self._insert(cls, row)
        self._remember(cls, row_id, None)
        self._after[cls, row_id] = stored.version if isinstance(stored, Kept) else 1
        kept = replace(stored, id=row_id)
        self._index(kept)
        return kept

    def change(self, record: K, **changes: Any) -> K:
        """Changes a record as it was read; raises ChangedElsewhereError when it is no longer that version."""
        cls = type(record)
        changed = replace(record, version=record.version + 1, **changes)
        if replace(changed, version=record.version) == record:
            return record
        bound = self.table(cls)
        before = self._raw(cls, record.id)
        values = encode_some(cls, {**changes, "version": changed.version})
        query = bound.update(_by_column(bound, values)).where(
            (bound.c.id == record.id) & (bound.c.version == record.version)
        )
        if query.execute(self.database) != 1:
            raise _changed_meanwhile(cls)
        self._remember(cls, record.id, before)
        self._after[cls, record.id] = changed.version
        self._index(changed)
        return changed

    def remove(self, record: Row) -> None:
        """Takes out a record as it was read; it can be put back by undo. Raises ChangedElsewhereError."""
        cls = type(record)
        before = self._raw(cls, record.id)
        bound = self.table(cls)
        query = bound.delete().where(bound.c.id == record.id)
        if isinstance(record, Kept):
            query = query.where(bound.c.version == record.version)
        if query.execute(self.database) != 1:
            raise _changed_meanwhile(cls)
        self._remember(cls, record.id, before)
        self._after[cls, record.id] = None
        self._unindex(cls, record.id)

    def number(self, series: str, year: int) -> int:
        """The next number of a series in a year: 1, 2, 3, ... without gaps, taken back if the deed fails."""
        counter = self.first(Counter, series=series, year=year)
        if counter is None:
            return self.insert(Counter(series=series, year=year, last=1)).last
        return self.change(counter, last=counter.last + 1).last

    def put_back(self, cls: type[Row], row_id: int, image: dict[str, object] | None) -> None:
        """Brings a row back to an image (None: it was not there). Its version still grows."""
        present = self._raw(cls, row_id)
        self._remember(cls, row_id, present)
        bound = self.table(cls)
        if image is None:
            bound.delete().where(bound.c.id == row_id).execute(self.database)
            self._after[cls, row_id] = None
            self._unindex(cls, row_id)
            return
        values: dict[str, Any] = {name: _from_image(value) for name, value in image.items()}
        if "version" in values:
            seen = present["version"] if present else values["version"]
            values["version"] = int(str(seen)) + 1
        if present is None:
            self._insert(cls, values)
        else:
            del values["id"]
            bound.update(_by_column(bound, values)).where(bound.c.id == row_id).execute(self.database)
        record = self.get(cls, row_id)
        self._after[cls, row_id] = record.version if isinstance(record, Kept) else 1
        self._index(record)

    def blank_image(self, cls: type[Row], row_id: int, values: Mapping[str, SqlValue]) -> None:
        """Sets columns of the image that this deed is about to keep of a row, where it keeps one."""
        image = self._images.get((cls, row_id))
        if image is not None:
            self._images[cls, row_id] = {name: values.get(name, value) for name, value in image.items()}

    def write_journal(self, who: str, deed: str, subject: Row | None) -> JournalEntry:
        """The deed's one journal entry and the before-images of every row it touched."""
        entry = self.insert(
            JournalEntry(
                token=self.token,
                at=self.at,
                who=who,
                deed=deed,
                words=self.words,
                card=self.card,
                subject_table=table_name(type(subject)) if subject else "",
                subject_id=subject.id if subject else None,
                undoes=self.undoes,
            )
        )
        touched = [(key, image) for key, image in self._images.items() if key[0] is not JournalEntry]
        for (cls, row_id), image in touched:
            self.insert(
                BeforeImage(
                    entry=entry.id,
                    table_name=table_name(cls),
                    row_id=row_id,
                    image=image,
                    after_version=self._after[cls, row_id],
                )
            )
        return entry

    def _insert(self, cls: type[Row], values: Mapping[str, SqlValue]) -> int:
        bound = self.table(cls)
        return int(bound.insert(_by_column(bound, values)).execute(self.database))

    def _raw(self, cls: type[Row], row_id: int) -> dict[str, object] | None:
        names = [c.name for c in columns(cls)]
        quoted = ", ".join(f'"{name}"' for name in names)
        rows = self.sql(f'SELECT {quoted} FROM "{table_name(cls)}" WHERE id = ?', (row_id,))
        return {n: _to_image(v) for n, v in zip(names, rows[0], strict=True)} if rows else None

    def _remember(self, cls: type[Row], row_id: int, image: dict[str, object] | None) -> None:
        if cls is not BeforeImage:
            self._images.setdefault((cls, row_id), image)

    def _index(self, record: Row) -> None:
        cls = type(record)
        if cls in FOUND_BY:
            self._unindex(cls, record.id)
            self.sql(
                "INSERT INTO finder (rowid, folded, table_name, row_id) VALUES (?, ?, ?, ?)",
                (finder_row(cls, record.id), FOUND_BY[cls](record), table_name(cls), record.id),
            )

    def _unindex(self, cls: type[Row], row_id: int) -> None:
        if cls in FOUND_BY:
            self.sql("DELETE FROM finder WHERE rowid = ?", (finder_row(cls, row_id),))


def _changed_meanwhile(cls: type[Row]) -> ChangedElsewhereError:
    return ChangedElsewhereError(
        f"This {table_name(cls).replace('_', ' ')} was changed meanwhile.",
        "Nothing was written. Look at it as it is now, then do it again.",
    )


def _by_column(bound: Any, values: Mapping[str, SqlValue]) -> dict[Any, SqlValue]:
    return {getattr(bound.c, name): value for name, value in values.items()}


def _to_image(value: SqlValue) -> object:
    return {"base64": base64.b64encode(value).decode()} if isinstance(value, bytes) else value


def _from_image(value: object) -> SqlValue:
    if isinstance(value, dict):
        return base64.b64decode(value["base64"])
    assert value is None or isinstance(value, int | float | str)
    return value
