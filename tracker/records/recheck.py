"""A look again after a repair."""

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from tracker.records.row import Kept


class RecheckState(StrEnum):
    """Where a recheck stands."""

    OPEN = "open"
    BOOKED = "booked"
    DONE = "done"
    NOT_WANTED = "not wanted"


@dataclass(frozen=True, slots=True, kw_only=True)
class Recheck(Kept):
    """A look again after a repair: due on a date or at an odometer figure, whichever comes first."""

    card: int
    bike: int
    reason: str
    anchor_on: date
    days: int
    distance: int
    due_on: date
    due_odometer: int | None = None
    state: RecheckState = RecheckState.OPEN
    outcome: str = ""
    booked_card: int | None = None
    by: str = ""
    at: datetime
