"""The few turns of phrase that the card's sentences share: money, days, names, lists. No locale in them."""

from collections.abc import Iterable
from datetime import UTC, date, datetime

from tracker.clock import zone_named
from tracker.records.money import Money
from tracker.records.shop import Shop
from tracker.records.work import Repair

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
LONGEST_QUOTE = 40


def money_words(minor: int, shop: Shop) -> str:
    """An amount in the shop's currency, in major units without its sign: 186.40."""
    return str(Money(minor, shop.currency))


def day_words(day: date, today: date) -> str:
    """A day as it is said at the desk: of the week to come by its name, which would be doubtful of one past.

    >>> day_words(date(2026, 3, 9), date(2026, 3, 4)), day_words(date(2026, 3, 20), date(2026, 3, 4))
    ('Monday', 'in 16 days')
    >>> day_words(date(2026, 3, 2), date(2026, 3, 4))
    '2 days ago'
    """
    ahead = (day - today).days
    near = {-1: "yesterday", 0: "today", 1: "tomorrow"}
    if ahead in near:
        return near[ahead]
    if 0 < ahead < 7:
        return WEEKDAYS[day.weekday()]
    return f"in {ahead} days" if ahead > 0 else f"{-ahead} days ago"


def date_of(instant: datetime, shop: Shop) -> date:
    """The shop's date at an instant."""
    return instant.astimezone(zone_named(shop.zone)).date()


def start_of(day: date, shop: Shop) -> datetime:
    """The instant at which a date begins where the shop is, in UTC."""
    return datetime(day.year, day.month, day.day, tzinfo=zone_named(shop.zone)).astimezone(UTC)


def quoted(text: str) -> str:
    """Somebody's own words, on one line and cut where they run long.

    >>> quoted("left rear indicator dead")
    '“left rear indicator dead”'
    """
    line = " ".join(text.split())
    if len(line) > LONGEST_QUOTE:
        line = line[: LONGEST_QUOTE - 1].rstrip() + "…"
    return f"“{line}”"


def several(things: Iterable[str]) -> str:
    """Things named after each other, at most three of them.

    >>> several(["a", "b", "c", "d", "e"])
    'a, b, c and 2 more'
    """
    names = list(things)
    if len(names) > 3:
        names = [*names[:3], f"{len(names) - 3} more"]
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def repair_words(repair: Repair) -> str:
    """A repair by its own words, or by its rule where it has none."""
    return quoted(repair.words or plain(repair.rule))


READ_AS = {
    "regulated_volts": "charging volts",
    "regulated_volts_lamps": "charging volts with the lamps on",
    "idle_volts": "charging volts at idle",
    "loaded_drop": "the drop across it with its load on",
    "supply_volts": "volts at the place",
    "lamp_volts": "volts at the lamp",
    "insulation_ohms": "winding to earth",
    "drain": "standing drain",
    "function": "whether it works",
    "wiggle": "whether it holds while shaken",
    "pull": "the pull test",
}
"""Readings that are not spoken of by their names in the tables."""


def reading_words(kind: str) -> str:
    """A kind of reading as it is asked for.

    >>> reading_words("regulated_volts_lamps"), reading_words("winding_ohms")
    ('charging volts with the lamps on', 'winding ohms')
    """
    return READ_AS.get(kind, plain(kind))


def plain(name: str) -> str:
    """A name from a seed file as it is said.

    >>> plain("charging_volts")
    'charging volts'
    """
    return name.replace("_", " ").replace("-", " ")
