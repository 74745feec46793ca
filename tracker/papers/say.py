"""How figures, dates and amounts are written on paper: English plainly, other languages by their locale."""

import re
from datetime import date, datetime
from decimal import Decimal

from tracker.clock import zone_named
from tracker.papers.tongue import ENGLISH, language, local_date, local_decimal, mark, t
from tracker.records.bike import Bike
from tracker.records.money import Money, exponent
from tracker.records.shop import Shop

_FRACTION = re.compile(r"[+-]?\d{1,9}[.,]\d{1,9}", re.ASCII)
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_SPELLED = {"rev min": "rev/min", "abs": "ABS", "led": "LED"}
_UNITS = {"C": "°C", "mm2": "mm²", "yes/no": "", "/min": mark("a minute"), "ohm": mark("ohm")}


def day(value: date) -> str:
    """A date.

    >>> day(date(2026, 12, 3))
    '3 Dec 2026'
    """
    if language() != ENGLISH:
        return local_date(value)
    return f"{value.day} {MONTHS[value.month - 1]} {value.year}"


def moment(instant: datetime, shop: Shop) -> str:
    """An instant as the shop's wall clock showed it, to the minute."""
    local = instant.astimezone(zone_named(shop.zone))
    return f"{day(local.date())}, {local:%H:%M}"


def day_of(instant: datetime, shop: Shop) -> str:
    """The shop's date at an instant."""
    return day(instant.astimezone(zone_named(shop.zone)).date())


def amount(minor: int, currency: str) -> str:
    """An amount in major units, without its currency.

    >>> amount(-123450, "EUR"), amount(1234, "JPY")
    ('-1234.50', '1234')
    """
    known = Money(minor, currency)
    return str(known) if language() == ENGLISH else local_decimal(known.major, exponent(currency))


def money(minor: int, currency: str) -> str:
    """An amount with its currency.

    >>> money(123450, "EUR")
    '1234.50 EUR'
    """
    return f"{amount(minor, currency)} {currency}"


def exact(value: Decimal | float | int) -> str:
    """A figure for machines: a point, no grouping, no exponent, no trailing noughts, in any language.

    >>> exact(Decimal("1.50")), exact(0.06)
    ('1.5', '0.06')
    """
    held = value if isinstance(value, Decimal) else Decimal(repr(value))
    text = f"{held:f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def number(value: Decimal | float | int) -> str:
    """A figure as it was written, without an exponent or trailing noughts behind the point.

    >>> number(Decimal("1.50")), number(0.06), number(1200000.0), number(-0.0)
    ('1.5', '0.06', '1200000', '0')
    """
    text = exact(value)
    return text if language() == ENGLISH else _local(text)


def read_off(value: float, typed: str) -> str:
    """A reading with the noughts it was read with, where `typed` is that figure; else as `number`.

    >>> read_off(13.0, "13,0 V"), read_off(0.85, "850 mA"), read_off(13.0, "13")
    ('13.0', '0.85', '13')
    """
    written = _FRACTION.match(typed.strip())
    if written is None or float(written[0].replace(",", ".")) != value:
        return number(value)
    text = written[0].replace(",", ".")
    return text if language() == ENGLISH else _local(text)


def _local(text: str) -> str:
    return local_decimal(Decimal(text), len(text.partition(".")[2]))


def price(value: Decimal, currency: str, base: Decimal = Decimal(1)) -> str:
    """A unit price, with the currency's decimals or as many as it has; “per” how many where not one.

    >>> price(Decimal(60), "EUR"), price(Decimal("0.0035"), "EUR"), price(Decimal(60), "EUR", Decimal(60))
    ('60.00', '0.0035', '60.00 per 60')
    """
    digits = exponent(currency)
    text = exact(value)
    decimals = len(text.partition(".")[2])
    if decimals < digits:
        text = f"{value:.{digits}f}"
    said = text if language() == ENGLISH else _local(text)
    return said if base == 1 else t("{price} per {base}", price=said, base=number(base))


def percent(rate: Decimal) -> str:
    """A rate.

    >>> percent(Decimal("5.50"))
    '5.5 %'
    """
    return f"{number(rate)} %"


def minutes(count: int) -> str:
    """A length of time.

    >>> minutes(45), minutes(90), minutes(120)
    ('45 min', '1 h 30 min', '2 h')
    """
    hours, rest = divmod(count, 60)
    return " ".join(
        part for part in (f"{hours} h" if hours else "", f"{rest} min" if rest or not hours else "") if part
    )


def odometer(figure: int, unit: str) -> str:
    """What the odometer shows.

    >>> odometer(41230, "km")
    '41,230 km'
    """
    return f"{figure:,} {unit}" if language() == ENGLISH else f"{local_decimal(Decimal(figure), 0)} {unit}"


def unit(name: str) -> str:
    """A unit of a reading as it is read out; nothing for yes and no.

    >>> unit("V"), unit("C"), unit("yes/no")
    ('V', '°C', '')
    """
    return t(_UNITS.get(name, name))


def plain_name(name: str) -> str:
    """A name from a seed file as it is said.

    >>> plain_name("electric-start")
    'electric start'
    """
    spaced = name.replace("_", " ").replace("-", " ")
    return t(_SPELLED.get(spaced, spaced).replace("mm2", "mm²"))


def bike_words(bike: Bike) -> str:
    """Make, model, year and registration, as far as known."""
    return ", ".join(part for part in (bike.name, str(bike.year or ""), bike.registration) if part)
