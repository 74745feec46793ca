"""Who did what, in order; and how a row was before, so that it can be put back."""

from dataclasses import dataclass
from datetime import datetime

from tracker.records.row import Row


@dataclass(frozen=True, slots=True, kw_only=True)
class JournalEntry(Row):
    """One deed. Its token is the deed's own: the same deed sent twice finds this entry and is not done again.

    `subject_table` and `subject_id` name the record the deed was about; `undoes` the entry it takes back.
    """

    at: datetime
    who: str
    deed: str
    words: str
    card: int | None = None
    subject_table: str = ""
    subject_id: int | None = None
    undoes: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BeforeImage(Row):
    """A row as it was before a deed; `image` None if the deed made it, `after_version` None if it went."""

    entry: int
    table_name: str
    row_id: int
    image: dict[str, object] | None
    after_version: int | None = None
