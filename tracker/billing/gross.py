"""Prices typed with tax: the amounts people typed, turned into lines without tax.

The totals always run on amounts without tax. About one amount in six at 20 % has no net that gives it
back: a net of 2 makes 2 with its tax, a net of 3 makes 4, and no net makes 3. So per tax group the net is
taken whose net plus tax comes nearest to what was typed, and what is still missing, never more than one
minor unit a group, goes into the rounding amount (BT-114).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import TypeVar

from tracker.billing.priced import priced
from tracker.billing.share import round_to_sum
from tracker.billing.totals import item_amount, line_net, signed, tax_of
from tracker.records.billing import BillLine, DocumentAllowance, LineAllowance

_Row = TypeVar("_Row", LineAllowance, DocumentAllowance)


@dataclass(frozen=True, slots=True)
class WithoutTax:
    """Lines and allowances without tax, and the sum that was typed with tax, in minor units."""

    lines: tuple[BillLine, ...]
    allowances: tuple[DocumentAllowance, ...]
    typed_total: int


def nearest_net(with_tax: int, rate: Decimal) -> int:
    """The net in minor units whose net plus tax comes nearest to `with_tax`; `rate` in percent, not under 0.

    Never off by more than one minor unit while the rate is at most 100 %.

    >>> nearest_net(12000, Decimal(20)), nearest_net(3, Decimal(20))
    (10000, 2)
    """
    exact = _exact(with_tax, rate)
    floor = exact.__floor__()
    return min(
        (floor, floor + 1),
        key=lambda net: (abs(net + tax_of(net, rate) - with_tax), abs(net - exact), net),
    )


def without_tax(
    lines: Sequence[BillLine], allowances: Sequence[DocumentAllowance], currency: str
) -> WithoutTax:
    """Takes the tax out of lines and allowances typed with it; quantities and words stay as they are.

    Each line is rounded down or up so that the nets of a group add up to its nearest net, and within a line
    what it is worth and what is taken off it likewise: a line given away stays at nothing. A unit price
    keeps at least two decimals more than the currency, and more where the line needs them.
    """
    typed = [line_net(line, currency) for line in lines] + [signed(row) for row in allowances]
    keys = [line.tax.group for line in lines] + [row.tax.group for row in allowances]
    nets = [0] * len(typed)
    for key in dict.fromkeys(keys):
        places = [place for place, other in enumerate(keys) if other == key]
        whole = nearest_net(sum(typed[place] for place in places), key[1])
        parts = [_exact(typed[place], key[1]) for place in places]
        for place, net in zip(places, round_to_sum(parts, whole), strict=True):
            nets[place] = net
    return WithoutTax(
        tuple(_line(line, net, currency) for line, net in zip(lines, nets, strict=False)),
        tuple(_row(row, net) for row, net in zip(allowances, nets[len(lines) :], strict=True)),
        sum(typed),
    )


def _exact(with_tax: int, rate: Decimal) -> Fraction:
    return Fraction(with_tax) / (1 + Fraction(rate) / 100)


def _line(line: BillLine, net: int, currency: str) -> BillLine:
    typed = [item_amount(line, currency), *(signed(row) for row in line.allowances)]
    worth, *rows = round_to_sum([_exact(amount, line.tax.rate) for amount in typed], net)
    plain = priced(line, worth, currency, line.unit_price / (1 + line.tax.rate / 100))
    return replace(
        plain, allowances=tuple(_row(row, part) for row, part in zip(line.allowances, rows, strict=True))
    )


def _row(row: _Row, amount: int) -> _Row:
    return replace(row, minor=amount if row.charge else -amount)
