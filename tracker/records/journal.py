"""Who did what, in order; and how a row was before, so that it can be put back."""

from dataclasses import dataclass
from datetime import datetime

from tracker.records.row import Row


@dataclass(frozen=True, slots=True, kw_only=True)
class JournalEntry(Row):
    """One deed. `undoes` names the entry this one takes back."""

    at: datetime
    who: str
    deed: str
    words: str
    card: int | None = None
    undoes: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BeforeImage(Row):
    """A row as it was before a deed; `image` None when the deed made it."""

    entry: int
    table_name: str
    row_id: int
    image: dict[str, object] | None
