"""The only door through which time enters: instants in UTC, dates in the shop's own time zone."""

import os
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta, tzinfo
from zoneinfo import ZoneInfo

from tracker.errors import WrongUseError

NOW_VARIABLE = "LOOMCARD_NOW"
"""An ISO 8601 instant here stands in for the machine's clock (rehearsals, tests of other processes)."""


def _machine_now() -> datetime:
    return datetime.now(UTC)


@dataclass(frozen=True, slots=True)
class Clock:
    """Tells the time for one shop; `now_source` is swapped in rehearsals and tests."""

    zone: tzinfo = UTC
    now_source: Callable[[], datetime] = field(default=_machine_now)

    def now(self) -> datetime:
        """The present instant, aware, in UTC, to the second."""
        return self.now_source().astimezone(UTC).replace(microsecond=0)

    def today(self) -> date:
        """The present date where the shop is."""
        return self.now().astimezone(self.zone).date()

    def local(self, instant: datetime) -> datetime:
        """An instant as the shop's wall clock shows it."""
        return instant.astimezone(self.zone)

    def date_of(self, instant: datetime) -> date:
        """The shop's date at an instant."""
        return self.local(instant).date()

    def in_zone(self, zone: tzinfo) -> "Clock":
        """The same clock for a shop in another zone."""
        return Clock(zone, self.now_source)


class MovableTime:
    """A time source set by hand: the demo is replayed with it, and screens are tested with it."""

    def __init__(self, start: datetime) -> None:
        self.at = start

    def __call__(self) -> datetime:
        return self.at

    def move(self, step: timedelta) -> None:
        """Moves by `step`, forwards or backwards."""
        self.at += step

    def set(self, instant: datetime) -> None:
        """Moves to an aware instant."""
        self.at = instant


def zone_named(name: str) -> tzinfo:
    """The time zone of an IANA name; raises WrongUseError with the name when there is none."""
    if name == "UTC":
        return UTC
    try:
        return ZoneInfo(name)
    except (KeyError, ValueError, OSError) as error:
        raise WrongUseError(
            f"There is no time zone called “{name}”.", "For instance Europe/Dublin."
        ) from error


def clock_of_this_machine(zone: tzinfo = UTC) -> Clock:
    """The machine's clock, or the instant in LOOMCARD_NOW when that is set.

    Raises WrongUseError when LOOMCARD_NOW is not an ISO 8601 instant.
    """
    given = os.environ.get(NOW_VARIABLE)
    if not given:
        return Clock(zone)
    try:
        instant = datetime.fromisoformat(given)
    except ValueError as error:
        raise WrongUseError(f"{NOW_VARIABLE} is “{given}”, which is not an instant.") from error
    if instant.tzinfo is None:
        instant = instant.replace(tzinfo=zone)
    return Clock(zone, lambda: instant)
