"""From what was typed to what is printed: one function that draws up an estimate or an invoice."""

from collections.abc import Sequence

from tracker.billing.cash import cash_difference
from tracker.billing.deposit import set_off_lines
from tracker.billing.gross import without_tax
from tracker.billing.tax import tax_off
from tracker.billing.totals import totals
from tracker.records.billing import Bill, BillLine, DocumentAllowance, RoundingPart, SetOff, Why


def draw_up(
    lines: Sequence[BillLine],
    allowances: Sequence[DocumentAllowance] = (),
    *,
    currency: str,
    registered: bool = True,
    typed_with_tax: bool = False,
    deposits: Sequence[SetOff] = (),
    prepaid: int = 0,
    cash_step: int = 1,
) -> Bill:
    """The bill for `lines`, with what the customer paid before set off, in minor units of `currency`.

    registered      the trader charges tax; if not, every line is outside it and prices are what they are.
    typed_with_tax  prices and allowances include tax; the result's never do.
    deposits        issued deposits, each set off by one negative line per tax group that names it.
    prepaid         money received without a document (BT-113).
    cash_step       what is due is rounded to this many minor units.

    What is due is always: the bill without its deposits, less what the deposits asked, less `prepaid`,
    rounded to `cash_step`. Where tax, rounded once per document and group, would leave it an odd cent
    away, that cent stands in the rounding amount (BT-114); `Bill.rounding` says how much for which reason.
    """
    if not registered:
        lines, allowances = tax_off(lines, allowances)
    lines, allowances = tuple(lines), tuple(allowances)
    parts = []
    if typed_with_tax:
        net = without_tax(lines, allowances, currency)
        lines, allowances = net.lines, net.allowances
        computed = totals(lines, allowances, currency=currency).tax_inclusive
        parts.append(RoundingPart(Why.TYPED_WITH_TAX, net.typed_total - computed))
    if deposits:
        before = totals(lines, allowances, currency=currency).tax_inclusive
        lines += tuple(line for deposit in deposits for line in set_off_lines(deposit, currency))
        after = totals(lines, allowances, currency=currency).tax_inclusive
        asked = sum(deposit.payable for deposit in deposits)
        parts.append(RoundingPart(Why.DEPOSIT, before - asked - after))
    due = totals(
        lines, allowances, currency=currency, prepaid=prepaid, rounding=sum(part.minor for part in parts)
    ).payable
    parts.append(RoundingPart(Why.CASH, cash_difference(due, cash_step)))
    kept = tuple(part for part in parts if part.minor)
    return Bill(
        lines,
        allowances,
        totals(
            lines, allowances, currency=currency, prepaid=prepaid, rounding=sum(part.minor for part in kept)
        ),
        kept,
    )
