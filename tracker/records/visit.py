"""Visits: what stood open, from when to when; and ways to mend the same thing, for the customer to choose."""

from dataclasses import dataclass
from datetime import date, datetime

from tracker.records.row import Kept


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit(Kept):
    """One time that things came off a bike: from the first thing off to the last one back on.

    What comes off is paid once for each. `ended_at` is None while something is still off; `why` says why
    there was a further one, in the words of the person `by`.
    """

    card: int
    began_at: datetime
    ended_at: datetime | None = None
    why: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way(Kept):
    """One way to mend something, priced on the day it was offered; of those offered one is chosen.

    `repairs` as they were asked, `words` as the customer reads them. Minutes are of the whole card with it,
    money with tax in minor units of `currency`; `more_minor` is what it adds to what was planned before.
    `estimate` is the one that it was taken into, `planned` are the repairs that it became; `withdrawn` ones
    are no longer offered.
    """

    card: int
    name: str
    repairs: tuple[str, ...]
    words: tuple[str, ...] = ()
    currency: str
    expected_min: int
    low_min: int
    high_min: int
    total_minor: int
    high_total_minor: int
    more_minor: int
    offered_on: date
    chosen_on: date | None = None
    chosen_by: str = ""
    estimate: int | None = None
    planned: tuple[int, ...] = ()
    withdrawn: bool = False
    by: str = ""
    at: datetime
