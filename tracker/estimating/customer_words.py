"""An estimate in a customer's words: about so much, and not past so much without a call."""

from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal

from tracker.records.money import Money, exponent

_ROUND_TO = Decimal("0.06")
"""Figures are rounded to the largest of 1, 2, 5, 10, 20, ... that is at most this part of the amount."""


def for_customer(expected: Money, high: Money, limit: Money | None = None) -> str:
    """“About 180 EUR, and not past 220 EUR without a call.” Amounts as the customer pays them, with tax.

    Both are rounded to figures people say, the second upwards; `limit` is what was agreed, said exactly.
    Nothing of percentiles, and never a “not past” below the “about”.

    >>> for_customer(Money(17832, "EUR"), Money(21480, "EUR"))
    'About 180 EUR, and not past 220 EUR without a call.'
    """
    about, past = about_and_past(expected, high)
    if limit is not None and limit < expected:
        return f"About {_words(about)}: more than the {_words(limit)} agreed, so it needs a further go-ahead."
    past = limit or past
    if past <= about:
        return f"About {_words(past)}, and not past it without a call."
    return f"About {_words(about)}, and not past {_words(past)} without a call."


def about_and_past(expected: Money, high: Money) -> tuple[Money, Money]:
    """The two amounts as people say them, the second upwards and never below the first.

    >>> [str(one) for one in about_and_past(Money(17832, "EUR"), Money(21480, "EUR"))]
    ['180.00', '220.00']
    """
    about = _said(expected, ROUND_HALF_UP)
    return about, max(_said(high, ROUND_CEILING), about)


def fixed_words(amount: Money) -> str:
    """The words for a price that will not move.

    >>> fixed_words(Money(18000, "EUR"))
    '180 EUR, fixed.'
    """
    return f"{_words(amount)}, fixed."


def _said(money: Money, rounding: str) -> Money:
    step = _step(money.major)
    rounded = (money.major / step).to_integral_value(rounding) * step
    return Money.of(rounded, money.currency)


def _step(amount: Decimal) -> Decimal:
    """1, 2 or 5 times a power of ten, at most 6 % of the amount, and never under 1.

    >>> _step(Decimal(178)), _step(Decimal(15)), _step(Decimal(24000))
    (Decimal('10'), Decimal('1'), Decimal('1000'))
    """
    wanted = abs(amount) * _ROUND_TO
    step = Decimal(1)
    for times in (2, Decimal("2.5"), 2) * 12:
        if step * times > wanted:
            break
        step *= times
    return Decimal(int(step))


def _words(money: Money) -> str:
    major = money.major
    whole = major == major.to_integral_value()
    return f"{int(major) if whole else f'{major:.{exponent(money.currency)}f}'} {money.currency}"
