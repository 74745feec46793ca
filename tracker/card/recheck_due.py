"""When a repair is to be looked at again: so many days on or so far ridden, whichever comes first."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

SHORTEST_SPAN_DAYS = 7
"""Two readings closer together say nothing about how much a bike is ridden (our own choice, no source)."""
LOOK_BACK_DAYS = 366
"""A year's riding: long enough to even out the seasons, short enough to be this rider's."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """A date, the odometer figure where one is known (in the bike's own unit), and why that date."""

    due_on: date
    due_odometer: int | None
    words: str


def propose(
    anchor_on: date, days: int, distance: int, odometer_history: Sequence[tuple[date, int]]
) -> Proposal:
    """The date of a recheck, counted from the anchor date alone, so that moving it never drifts.

    `days` are calendar days; `distance` and the history's figures are in the bike's own unit. The date is
    `anchor_on` + `days`, or the day on which the bike, ridden as its own history says, will have come
    `distance` further, where that is earlier. The history counts up to the day of its last reading, in any
    order; of several readings of one day the highest. It is left aside, and the words say so, when it goes
    backwards or spans less than a week. The bike is taken to stand between its last reading up to the anchor
    date and that date. Raises ValueError when `days` is below 0 or the date is past the calendar's end.

    >>> propose(date(2026, 1, 31), 28, 500, [(date(2026, 1, 1), 40_700), (date(2026, 1, 31), 41_200)]).due_on
    datetime.date(2026, 2, 28)
    """
    from dateutil.relativedelta import relativedelta

    if days < 0:
        raise ValueError("a recheck cannot be due before the repair")
    try:
        by_days: date = anchor_on + relativedelta(days=days)
    except OverflowError as error:
        raise ValueError("a recheck cannot be due past the calendar's end") from error

    readings = _highest_of_each_day(odometer_history)
    before = [odometer for day, odometer in readings if day <= anchor_on]
    due_odometer = before[-1] + distance if before and distance > 0 else None
    plain = f"{days} days on" if days != 1 else "a day on"
    if due_odometer is None:
        return Proposal(by_days, None, plain)

    riding = _riding(readings)
    if isinstance(riding, str):
        return Proposal(by_days, due_odometer, f"{plain}; {riding}")
    ridden, span_days = riding
    if ridden == 0:
        return Proposal(by_days, due_odometer, f"{plain}; it was not ridden for {span_days} days before")
    # Rounded up: the first day on which the figure will have been reached.
    reach_days = -(-distance * span_days // ridden)
    if reach_days >= days:
        return Proposal(by_days, due_odometer, plain)
    return Proposal(
        anchor_on + timedelta(days=reach_days),
        due_odometer,
        f"{distance} further, at {ridden} in {span_days} days",
    )


def _highest_of_each_day(history: Sequence[tuple[date, int]]) -> list[tuple[date, int]]:
    highest: dict[date, int] = {}
    for day, odometer in history:
        highest[day] = max(odometer, highest.get(day, odometer))
    return sorted(highest.items())


def _riding(readings: list[tuple[date, int]]) -> tuple[int, int] | str:
    """Distance and days between the last reading and one of a year before, or why they tell nothing."""
    if len(readings) < 2:
        return "the odometer was read on one day only"
    if any(later < earlier for (_, earlier), (_, later) in pairwise(readings)):
        return "the odometer readings go backwards, so they were left aside"
    last_on, last = readings[-1]
    ages = [((last_on - day).days, odometer) for day, odometer in readings[:-1]]
    usable = [each for each in ages if each[0] >= SHORTEST_SPAN_DAYS]
    if not usable:
        return f"the odometer readings span only {max(ages)[0]} days, so they were left aside"
    within = [each for each in usable if each[0] <= LOOK_BACK_DAYS]
    span_days, first = max(within) if within else min(usable)
    return last - first, span_days
