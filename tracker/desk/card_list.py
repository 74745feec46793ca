"""Every card there ever was, the newest first, read page by page: a file may hold hundreds of thousands."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import overload

from tracker.desk.desk import Desk
from tracker.store.reader import Reader

PAGE = 100
"""Cards read at once."""

KEPT_PAGES = 8
"""Pages that are kept once they are read."""


@dataclass(frozen=True, slots=True)
class CardLine:
    """One card in short. `came` is its day, `end` how it ended otherwise than by being collected."""

    number: str
    who: str
    bike: str
    came: str
    complaint: str
    end: str


LINES = """
SELECT c.id, c.number, coalesce(p.name, ''), coalesce(trim(b.make || ' ' || b.model), c.unit),
       substr(c.came_at, 1, 10), c.complaint,
       coalesce((SELECT e.kind FROM ending AS e WHERE e.card = c.id ORDER BY e.id DESC LIMIT 1), '')
FROM card AS c LEFT JOIN customer AS p ON p.id = c.customer LEFT JOIN bike AS b ON b.id = c.bike
WHERE c.id <= ? ORDER BY c.id DESC LIMIT ?
"""

FIRSTS = """
SELECT id FROM (SELECT id, row_number() OVER (ORDER BY id DESC) AS place FROM card)
WHERE place % ? = 1 ORDER BY id DESC
"""


class CardLines(Sequence[CardLine]):
    """All cards as a sequence; what is not looked at is not read.

    Reads through the desk, so that it is not to be used from inside a deed. Cards booked in after it was
    made are not in it: make another.
    """

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._pages: dict[int, tuple[CardLine, ...]] = {}
        self._count, self._newest = desk.read(_count)

    def __len__(self) -> int:
        return self._count

    @overload
    def __getitem__(self, index: int) -> CardLine: ...

    @overload
    def __getitem__(self, index: slice) -> list[CardLine]: ...

    def __getitem__(self, index: int | slice) -> CardLine | list[CardLine]:
        if isinstance(index, slice):
            return [self[n] for n in range(*index.indices(self._count))]
        place = index + self._count if index < 0 else index
        if not 0 <= place < self._count:
            raise IndexError(index)
        page, within = divmod(place, PAGE)
        return self._page(page)[within]

    @cached_property
    def _firsts(self) -> tuple[int, ...]:
        """The first card of every page: found once, when somebody goes past the first page."""
        return self._desk.read(lambda reader: tuple(row[0] for row in reader.sql(FIRSTS, (PAGE,))))

    def _page(self, page: int) -> tuple[CardLine, ...]:
        if page not in self._pages:
            first = self._firsts[page] if page else self._newest
            rows = self._desk.read(lambda reader: reader.sql(LINES, (first, PAGE)))
            if len(self._pages) >= KEPT_PAGES:
                self._pages.pop(next(iter(self._pages)))
            self._pages[page] = tuple(CardLine(*row[1:]) for row in rows)
        return self._pages[page]


def _count(reader: Reader) -> tuple[int, int]:
    [(count, newest)] = reader.sql("SELECT count(*), coalesce(max(id), 0) FROM card")
    return count, newest
