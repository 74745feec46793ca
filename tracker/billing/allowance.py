"""Discounts by percent: off one line, or off the whole document and shared exactly over its tax groups."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from tracker.billing.priced import major
from tracker.billing.share import share
from tracker.billing.totals import item_amount, line_net, signed, tax_groups
from tracker.records.billing import BillLine, DocumentAllowance, LineAllowance
from tracker.records.document import LineKind
from tracker.records.money import round_half_up
from tracker.records.problem import Mistakes, Problem

NOT_DISCOUNTED = frozenset({LineKind.FEE, LineKind.DEPOSIT, LineKind.DISCOUNT})
"""A fee is passed on at cost, a deposit is the customer's own money, a discount was given already."""


def percent_off_line(line: BillLine, percent: Decimal, words: str, currency: str) -> BillLine:
    """The line with `percent` of its quantity x price taken off (BT-136), rounded half up.

    Raises Mistakes where the percentage is not within 0 to 100.
    """
    _within(percent)
    off = int(round_half_up(item_amount(line, currency) * percent / 100))
    return replace(line, allowances=(*line.allowances, LineAllowance(off, words, percent=percent)))


def percent_off(
    lines: Sequence[BillLine], percent: Decimal, words: str, currency: str
) -> tuple[DocumentAllowance, ...]:
    """`percent` off all lines but fees, deposits and discounts: one allowance per tax group (BG-20).

    The whole discount is rounded half up once and then shared over the groups by what they are worth, so
    that the rows add up to it to the minor unit. A group below nothing (a part taken back) gives a charge.
    Lines typed with tax give a discount typed with tax. Raises Mistakes outside 0 to 100 %.

    >>> from tracker.billing.tax import standard
    >>> work = BillLine("Labour", Decimal(1), "hour", Decimal("33.33"), standard(Decimal(20)))
    >>> book = BillLine("Wiring diagram", Decimal(1), "piece", Decimal("33.35"), standard(Decimal(5)))
    >>> [row.minor for row in percent_off([work, book], Decimal(5), "Good customer", "EUR")]
    [166, 167]
    """
    _within(percent)
    groups = tax_groups(
        (line.tax, line_net(line, currency)) for line in lines if line.kind not in NOT_DISCOUNTED
    )
    worth = [group.taxable for group in groups]
    if sum(worth) == 0:
        return ()
    whole = int(round_half_up(sum(worth) * percent / 100))
    return tuple(
        DocumentAllowance(abs(off), group.key, words, charge=off < 0, percent=percent)
        for group, off in zip(groups, share(whole, worth), strict=True)
        if off
    )


def as_lines(allowances: Sequence[DocumentAllowance], currency: str) -> tuple[BillLine, ...]:
    """Allowances on the document as lines of their own, for papers that keep lines only.

    The tax groups and every total from BT-109 on stay the same; BT-106 to BT-108 move together.
    """
    return tuple(
        BillLine(
            row.words,
            Decimal(1 if signed(row) > 0 else -1),
            "piece",
            major(row.minor, currency),
            row.tax,
            LineKind.DISCOUNT,
        )
        for row in allowances
    )


def _within(percent: Decimal) -> None:
    if not (percent.is_finite() and 0 <= percent <= 100):
        problem = Problem("discount", "A discount lies between 0 and 100 %.", given=str(percent))
        raise Mistakes([problem])
