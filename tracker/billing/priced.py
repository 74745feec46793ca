"""A line given the unit price that makes it worth a wanted amount."""

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal, localcontext

from tracker.billing.totals import item_amount
from tracker.records.billing import BillLine
from tracker.records.money import exponent, round_half_up

_FINEST = 12
"""Decimals behind the currency's own: a million of anything still comes out to the minor unit."""


def major(minor: int, currency: str) -> Decimal:
    """Minor units as a Decimal in major units.

    >>> major(1234, "EUR"), major(1234, "JPY")
    (Decimal('12.34'), Decimal('1234'))
    """
    return Decimal(minor).scaleb(-exponent(currency))


def priced(line: BillLine, wanted: int, currency: str, natural: Decimal | None = None) -> BillLine:
    """The line with a price by which quantity x price / base quantity rounds to `wanted` minor units.

    `natural` is the price to keep where it does so, with two decimals more than the currency or as many
    as it takes; else the price with the fewest decimals that does. The line's own allowances are left as
    they are. ValueError where no price can do it, as with a quantity of nothing.
    """
    with localcontext() as finer:
        finer.prec = 60
        for price in _prices(line, wanted, currency, natural):
            tried = replace(line, unit_price=price)
            if item_amount(tried, currency) == wanted:
                return tried
    raise ValueError(f"no price makes {line.qty} worth {wanted}")


def _prices(line: BillLine, wanted: int, currency: str, natural: Decimal | None) -> Iterator[Decimal]:
    own = exponent(currency)
    if natural is not None:
        if natural == round_half_up(natural, own + 2):
            yield natural
        for digits in range(own + 2, own + _FINEST):
            yield round_half_up(natural, digits)
    if line.qty:
        exact = major(wanted, currency) * line.base_qty / line.qty
        for digits in range(own, own + _FINEST):
            yield round_half_up(exact, digits)
    elif natural is None:
        yield line.unit_price
