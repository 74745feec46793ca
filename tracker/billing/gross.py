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

from tracker.billing.priced import priced
from tracker.billing.share import round_to_sum
from tracker.billing.totals import item_amount, signed, tax_of
from tracker.records.billing import BillLine, DocumentAllowance, LineAllowance


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
    exact = Fraction(with_tax) / (1 + Fraction(rate) / 100)
    floor = exact.__floor__()
    return min(
        (floor, floor + 1),
        key=lambda net: (abs(net + tax_of(net, rate) - with_tax), abs(net - exact), net),
    )


def without_tax(
    lines: Sequence[BillLine], allowances: Sequence[DocumentAllowance], currency: str
) -> WithoutTax:
    """Takes the tax out of lines and allowances typed with it; quantities and words stay as they are.

    Each amount is rounded down or up so that the nets of a group add up to its nearest net; a unit price
    keeps at least two decimals more than the currency, and more where the line needs them.
    """
    typed: list[tuple[tuple[str, Decimal], int]] = []
    for line in lines:
        typed.append((line.tax.group, item_amount(line, currency)))
        typed.extend((line.tax.group, signed(row)) for row in line.allowances)
    typed.extend((row.tax.group, signed(row)) for row in allowances)

    nets = [0] * len(typed)
    for group in dict.fromkeys(key for key, _ in typed):
        places = [place for place, (key, _) in enumerate(typed) if key == group]
        whole = nearest_net(sum(typed[place][1] for place in places), group[1])
        parts = [Fraction(typed[place][1]) / (1 + Fraction(group[1]) / 100) for place in places]
        for place, net in zip(places, round_to_sum(parts, whole), strict=True):
            nets[place] = net

    taken = iter(nets)
    new_lines = []
    for line in lines:
        natural = line.unit_price / (1 + line.tax.rate / 100)
        new_line = priced(line, next(taken), currency, natural)
        rows = tuple(replace(row, minor=_unsigned(row, next(taken))) for row in line.allowances)
        new_lines.append(replace(new_line, allowances=rows))
    new_rows = tuple(replace(row, minor=_unsigned(row, next(taken))) for row in allowances)
    return WithoutTax(tuple(new_lines), new_rows, sum(amount for _, amount in typed))


def _unsigned(row: LineAllowance | DocumentAllowance, amount: int) -> int:
    return amount if row.charge else -amount
