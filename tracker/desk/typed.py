"""What people type, as values: amounts, figures, dates, spans of time. Each is a value or a Problem.

A comma is a decimal comma as well as a point; a figure that could be read two ways is asked again.
"""

import re
from datetime import date, timedelta
from decimal import Decimal, InvalidOperation

from tracker.records.money import Money, exponent
from tracker.records.problem import Problem

MOST = Decimal(10) ** 9
"""No amount, count or figure at a workshop's desk is a thousand million."""

NOT_A_FIGURE = "This is not a figure."

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_FIGURE = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)")
_GROUPED = re.compile(r"[+-]?\d{1,3}([.,' ]\d{3})+[.,]\d{1,2}")


def figure(field: str, text: str, *, least: Decimal | None = None, most: Decimal = MOST) -> Decimal | Problem:
    """A decimal figure: `13.9`, `13,9`, `1.234,50`, `1,234.50`. ASCII digits only; no exponents.

    >>> figure("volts", "13,9")
    Decimal('13.9')
    """
    plain = text.strip().replace("\u2212", "-")
    if _GROUPED.fullmatch(plain):
        cut = max(plain.rfind("."), plain.rfind(","))
        plain = re.sub(r"[.,' ]", "", plain[:cut]) + "." + plain[cut + 1 :]
    if not plain.isascii() or not _FIGURE.fullmatch(plain):
        return Problem(field, NOT_A_FIGURE, "Write it like 13.9 or 13,9.", text[:60])
    try:
        value = Decimal(plain.replace(",", "."))
    except InvalidOperation:
        return Problem(field, NOT_A_FIGURE, "Write it like 13.9 or 13,9.", text[:60])
    if least is not None and value < least:
        return Problem(field, f"At least {least:f} is expected here.", given=text[:60])
    if value > most or value < -MOST:
        return Problem(field, f"More than {most:f} cannot be right here.", given=text[:60])
    return value


def whole(field: str, text: str, *, least: int = 0, most: int = int(MOST)) -> int | Problem:
    """A whole figure; thousands may be grouped by a blank, a comma or an apostrophe (`41,230`)."""
    plain = text.strip()
    if plain.isascii() and re.fullmatch(r"\d{1,3}([,' .]\d{3})+", plain):
        plain = re.sub(r"[,' .]", "", plain)
    if not (plain.isascii() and re.fullmatch(r"[+-]?\d+", plain)):
        return Problem(field, "This is not a whole figure.", "Write it like 41230.", text[:60])
    if len(plain) > 15 or int(plain) > most:
        return Problem(field, f"More than {most:,} cannot be right here.", given=text[:60])
    if int(plain) < least:
        return Problem(field, f"At least {least:,} is expected here.", given=text[:60])
    return int(plain)


def amount(field: str, text: str, currency: str, *, least: int | None = 0) -> Money | Problem:
    """An amount of money in a currency, never with more decimals than the currency has."""
    plain = text.strip().removesuffix(currency).removeprefix(currency).strip()
    value = figure(field, plain)
    if isinstance(value, Problem):
        if value.sentence != NOT_A_FIGURE:
            return value
        return Problem(field, "This is not an amount.", "Write it like 186.40 or 186,40.", text[:60])
    digits = exponent(currency)
    places = -int(value.as_tuple().exponent)
    if places > digits:
        return Problem(
            field,
            f"{currency} has {digits or 'no'} digit{'' if digits == 1 else 's'} behind the point.",
            "For thousands write 1234 or 1,234.00.",
            text[:60],
        )
    money = Money.of(value, currency)
    if least is not None and money.minor < least:
        return Problem(field, f"At least {Money(least, currency)} is expected here.", given=text[:60])
    return money


def day(field: str, text: str, today: date) -> date | Problem:
    """A date: `2026-12-03`, `3 dec`, `3 dec 2026`, `3.12.2026`, `today`, `tomorrow`, `fri`, `+7`.

    A date with strokes is refused: 3/12 is a different day on either side of an ocean. A weekday is the
    next one from tomorrow on; `3 dec` the nearest in this year or the next, not more than half a year ago.
    """
    plain = " ".join(text.strip().lower().replace(",", " ").split())
    wrong = Problem(
        field, "This is not a date.", "Write it like 2026-12-03, 3 dec, tomorrow, fri or +7.", text[:60]
    )
    if not plain.isascii():
        return wrong
    if "/" in plain:
        return Problem(
            field,
            "Day or month first? This can be read two ways.",
            "Write it like 2026-12-03 or 3 dec.",
            text[:60],
        )
    if plain in {"today", "tomorrow", "yesterday"}:
        return today + timedelta(days={"today": 0, "tomorrow": 1, "yesterday": -1}[plain])
    if plain[:3] in _DAYS and plain.isalpha():
        ahead = (_DAYS.index(plain[:3]) - today.weekday() - 1) % 7 + 1
        return today + timedelta(days=ahead)
    if re.fullmatch(r"[+-]\d{1,4}", plain):
        return today + timedelta(days=int(plain))
    return _written_date(plain, today) or wrong


def _written_date(plain: str, today: date) -> date | None:
    try:
        if re.fullmatch(r"\d{4}-\d{2}-\d{2}", plain):
            return date.fromisoformat(plain)
        if dotted := re.fullmatch(r"(\d{1,2})\.(\d{1,2})\.(\d{4})", plain):
            return date(int(dotted[3]), int(dotted[2]), int(dotted[1]))
        if named := re.fullmatch(r"(\d{1,2})\.? ([a-z]{3})[a-z]*\.?(?: (\d{4}))?", plain):
            if named[2] not in _MONTHS:
                return None
            month = _MONTHS.index(named[2]) + 1
            if named[3]:
                return date(int(named[3]), month, int(named[1]))
            this_year = date(today.year, month, int(named[1]))
            return (
                this_year if (today - this_year).days <= 182 else date(today.year + 1, month, int(named[1]))
            )
    except ValueError:
        return None
    return None


def minutes(field: str, text: str, *, most: int = 100_000) -> int | Problem:
    """A span of time in minutes: `90`, `90 min`, `1.5 h`, `1,5h`, `1:30`, `1h30`.

    >>> minutes("limit", "1.5 h"), minutes("limit", "1h30"), minutes("limit", "90")
    (90, 90, 90)
    """
    plain = text.strip().lower().replace(" ", "")
    hint = "Write it like 90, 1.5 h or 1:30."
    if not plain.isascii():
        return Problem(field, "This is not a span of time.", hint, text[:60])
    if clock := re.fullmatch(r"(\d{1,4})(?::|h)([0-5]\d)", plain):
        total = Decimal(int(clock[1]) * 60 + int(clock[2]))
    elif hours := re.fullmatch(r"(.+?)(?:hours|hour|hrs|hr|h)", plain):
        value = figure(field, hours[1], least=Decimal(0))
        if isinstance(value, Problem):
            return Problem(field, "This is not a span of time.", hint, text[:60])
        total = value * 60
    else:
        value = figure(field, re.sub(r"(minutes|minute|mins|min|m)$", "", plain), least=Decimal(0))
        if isinstance(value, Problem):
            return Problem(field, "This is not a span of time.", hint, text[:60])
        total = value
    if total > most:
        return Problem(field, f"More than {most // 60:,} hours cannot be right here.", hint, text[:60])
    return round(total)


def truth(field: str, text: str) -> bool | Problem:
    """Yes or no."""
    plain = text.strip().lower()
    if plain in {"yes", "y", "true", "1", "on", "ja", "oui", "si", "sí"}:
        return True
    if plain in {"no", "n", "false", "0", "off", "nein", "non"}:
        return False
    return Problem(field, "Yes or no is expected here.", given=text[:60])
