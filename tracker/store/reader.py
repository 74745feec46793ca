"""Reading records. Everything here runs in the store's own thread, on its one connection."""

from collections.abc import Sequence
from typing import Any, TypeVar

import peewee

from tracker.errors import NotFoundError
from tracker.records.row import Row
from tracker.records.text import fold
from tracker.store.codec import columns, decode, encode_some, table_name

R = TypeVar("R", bound=Row)

MOST_WORDS = 12
LONGEST_WORD = 60
"""What of a search is looked at: past a thousand terms SQLite gives up, and nobody types that much."""


class Reader:
    """Reads one file."""

    def __init__(self, database: peewee.SqliteDatabase) -> None:
        self.database = database
        self._tables: dict[type[Row], Any] = {}

    def table(self, cls: type[Row]) -> Any:
        """The bound table of a record class for the query builder; its columns are `.c.name`."""
        if cls not in self._tables:
            self._tables[cls] = peewee.Table(table_name(cls)).bind(self.database)
        return self._tables[cls]

    def all(
        self, cls: type[R], *, order: str = "id", newest: bool = False, most: int | None = None, **equal: Any
    ) -> tuple[R, ...]:
        """The records whose fields equal what is named; a tuple or list means “one of”, None “not set”."""
        bound = self.table(cls)
        names = [c.name for c in columns(cls)]
        query = bound.select(*(getattr(bound.c, name) for name in names))
        for name, value in equal.items():
            query = query.where(self._matches(cls, bound, name, value))
        column = getattr(bound.c, order)
        query = query.order_by(column.desc() if newest else column.asc())
        if most is not None:
            query = query.limit(most)
        return tuple(decode(cls, row) for row in query.tuples().execute(self.database))

    def first(self, cls: type[R], *, order: str = "id", newest: bool = False, **equal: Any) -> R | None:
        """The first of `all`, or None."""
        found = self.all(cls, order=order, newest=newest, most=1, **equal)
        return found[0] if found else None

    def get(self, cls: type[R], row_id: int) -> R:
        """The record with this id; raises NotFoundError."""
        found = self.first(cls, id=row_id)
        if found is None:
            raise NotFoundError(f"There is no {table_name(cls).replace('_', ' ')} {row_id}.")
        return found

    def sql(self, text: str, values: Sequence[Any] = ()) -> list[tuple[Any, ...]]:
        """Rows of a query written out: lists and reports, where the builder would only hide the SQL."""
        cursor: Any = self.database.execute_sql(text, tuple(values))  # type: ignore[no-untyped-call]
        return list(cursor.fetchall())

    def find(self, typed: str, classes: Sequence[type[Row]], most: int = 20) -> tuple[tuple[str, int], ...]:
        """(table, id) of what holds every word typed, in the order of `classes`, newest first.

        Numbers are kept without blanks: a phone's or a frame number's tail finds, however it is typed.
        """
        words = [word[:LONGEST_WORD] for word in fold(typed).split()[:MOST_WORDS]]
        if not words:
            return ()
        found: list[tuple[str, int]] = []
        for cls in classes:
            name = table_name(cls)
            found += [(name, row) for row in self._holding(name, words, most)]
        return tuple(found[:most])

    def _holding(self, name: str, words: Sequence[str], most: int) -> list[int]:
        """Rows that hold every word.

        Only the longest goes to the trigram index, by LIKE, and only from three letters on: FTS5 counts
        bytes there and misses two letters of another script, and two LIKEs of which one is short crash
        SQLite 3.40.1. The rest is looked for in what that finds.
        """
        longest, *others = sorted(words, key=len, reverse=True)
        holds = ["folded LIKE '%' || ? || '%'" if len(longest) > 2 else "instr(folded, ?)"]
        holds += ["instr(folded, ?)"] * len(others)
        rows = self.sql(
            f"SELECT row_id FROM finder WHERE table_name = ? AND {' AND '.join(holds)}"
            " ORDER BY row_id DESC LIMIT ?",
            (name, longest, *others, most),
        )
        return [int(row) for (row,) in rows]

    def _matches(self, cls: type[Row], bound: Any, name: str, value: Any) -> Any:
        column = getattr(bound.c, name)
        if value is None:
            return column.is_null()
        if isinstance(value, list | tuple | set | frozenset):
            return column.in_([encode_some(cls, {name: one})[name] for one in value])
        return column == encode_some(cls, {name: value})[name]
