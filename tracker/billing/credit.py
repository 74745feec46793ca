"""Credit notes: an issued document is put right only by one that names it (BT-25) and takes back from it.

As on the paper and in an e-invoice of type 381, a credit note's amounts are positive: it has its document's
own lines, or parts of them. It never takes back more than was billed and not credited before.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from tracker.billing.left import Left, beyond_billed, decimals, is_within, left_to_credit
from tracker.billing.priced import major, priced
from tracker.billing.totals import item_amount, totals
from tracker.records.billing import Bill, BillLine, DocumentAllowance, IssuedBill, RoundingPart, Why
from tracker.records.money import Money, round_half_up
from tracker.records.problem import Mistakes, Problem


@dataclass(frozen=True, slots=True)
class TakeBack:
    """One line to credit, counted from 1: a part of its quantity, or an amount, or neither: its rest.

    `net` is without tax, in minor units of the document's currency.
    """

    line: int
    qty: Decimal | None = None
    net: int | None = None


def credit_rest(issued: IssuedBill, before: Sequence[Bill] = ()) -> Bill:
    """The credit note for the whole document, or for all that earlier ones left of it.

    Together with them it leaves nothing, rounding amount included. Raises Mistakes where nothing is left.
    """
    left, currency = left_to_credit(issued, before), issued.bill.totals.currency
    if not any(left.lines) and not any(left.allowances):
        raise Mistakes([_nothing_left(issued, "credit")])
    lines = [
        _rest_of(number, line, left.lines[number - 1], issued.bill)
        for number, line in enumerate(issued.bill.lines, 1)
        if left.lines[number - 1] or not before
    ]
    rows = [
        replace(row, minor=minor, of_row=number)
        for number, (row, minor) in enumerate(zip(issued.bill.allowances, left.allowances, strict=True), 1)
        if minor or not before
    ]
    return _closed(lines, rows, left, currency, None)


def credit_lines(issued: IssuedBill, wanted: Sequence[TakeBack], before: Sequence[Bill] = ()) -> Bill:
    """The credit note for the lines in `wanted`, each with its share of what was taken off the document.

    When it leaves nothing of the document, the odd cents that tax rounded per note left over go into the
    rounding amount, so that all credit notes together make the document. Raises Mistakes with everything
    that is wrong: a line that is not there or named twice, a wrong quantity, more than is left.
    """
    left, currency = left_to_credit(issued, before), issued.bill.totals.currency
    nets, problems = _wanted_nets(issued, wanted, left)
    if problems:
        raise Mistakes(problems)
    lines = []
    for take in wanted:
        line, net = issued.bill.lines[take.line - 1], nets[take.line]
        if take.qty is not None and take.qty != line.qty:
            part = replace(line, qty=take.qty, allowances=(), of_line=take.line)
            lines.append(priced(part, net, currency, line.unit_price))
        elif take.net is not None:
            lines.append(_lump(take.line, line, net, currency))
        else:
            lines.append(_rest_of(take.line, line, net, issued.bill))
    rows = _shares_of_allowances(issued.bill, nets, left)
    last = all(rest == nets.get(number, 0) for number, rest in enumerate(left.lines, 1))
    kept = [
        replace(issued.bill.allowances[number - 1], minor=minor, of_row=number)
        for number, minor in rows.items()
        if minor
    ]
    cents = None if last else len(left.groups) * (len(before) + 1)
    credit = _closed(lines, kept, left, currency, cents)
    problems = list(beyond_billed(issued, before, credit))
    if problems:
        raise Mistakes(problems)
    return credit


def _wanted_nets(
    issued: IssuedBill, wanted: Sequence[TakeBack], left: Left
) -> tuple[dict[int, int], list[Problem]]:
    nets: dict[int, int] = {}
    problems: list[Problem] = []
    if not wanted:
        problems.append(Problem("credit", "No line is named.", "Name a line, or credit the whole."))
    for take in wanted:
        field = f"lines.{take.line}"
        if not 1 <= take.line <= len(issued.bill.lines):
            sentence = f"{issued.number} has no line {take.line}."
            problems.append(Problem(field, sentence, f"It has {len(issued.bill.lines)}."))
        elif take.line in nets:
            problems.append(Problem(field, f"Line {take.line} is named twice."))
        else:
            net = _net_of(issued, take, left.lines[take.line - 1])
            nets[take.line] = 0 if isinstance(net, Problem) else net
            if isinstance(net, Problem):
                problems.append(net)
    return nets, problems


def _net_of(issued: IssuedBill, take: TakeBack, rest: int) -> int | Problem:
    """What one line gives back, in minor units, or why it can't."""
    field = f"lines.{take.line}"
    line, billed = issued.bill.lines[take.line - 1], issued.bill.totals.line_nets[take.line - 1]
    currency = issued.bill.totals.currency
    if rest == 0:
        return _nothing_left(issued, field)
    if take.qty is not None and take.net is not None:
        return Problem(field, "Give a quantity or an amount, not both.")
    enough = f"Line {take.line} has {Money(rest, currency)} left to credit."
    if take.qty is not None:
        if not take.qty.is_finite() or take.qty == 0 or (take.qty > 0) != (line.qty > 0):
            sentence = f"The quantity to credit lies between 0 and {line.qty:f}."
            return Problem(f"{field}.qty", sentence, given=str(take.qty))
        net = int(round_half_up(billed * take.qty / line.qty))
        if 0 < abs(net) - abs(rest) <= 1:
            return rest  # each part rounded by itself can run a cent past the whole
        return net if net and is_within(net, rest) else Problem(f"{field}.qty", enough, given=f"{take.qty:f}")
    if take.net is not None:
        sound = take.net and is_within(take.net, rest)
        return take.net if sound else Problem(f"{field}.net", enough, given=str(Money(take.net, currency)))
    return rest


def _shares_of_allowances(bill: Bill, nets: dict[int, int], left: Left) -> dict[int, int]:
    """What each row off (or onto) the document gives back beside the credited nets of its tax group."""
    rows: dict[int, int] = {}
    finished = all(nets.get(at, 0) == rest for at, rest in enumerate(left.lines, 1))
    for number, row in enumerate(bill.allowances, 1):
        members = [at for at, line in enumerate(bill.lines, 1) if line.tax.group == row.tax.group]
        rest = left.allowances[number - 1]
        taken = sum(nets.get(at, 0) for at in members)
        whole = sum(bill.totals.line_nets[at - 1] for at in members)
        if finished or (taken and all(nets.get(at, 0) == left.lines[at - 1] for at in members)):
            rows[number] = rest
        elif whole:
            part = int(round_half_up(Decimal(row.minor) * taken / whole))
            rows[number] = sorted((0, part, rest))[1]  # never more than is left of it
    return rows


def _rest_of(number: int, line: BillLine, rest: int, bill: Bill) -> BillLine:
    """The line as it was billed where all of it is left; else as many of it as the rest is worth."""
    own = replace(line, of_line=number)
    currency = bill.totals.currency
    if rest == bill.totals.line_nets[number - 1]:
        return own
    if line.unit_price and not line.allowances:
        qty = major(rest, currency) * line.base_qty / line.unit_price
        as_many = replace(own, qty=qty)
        if decimals(qty) <= decimals(line.qty) and item_amount(as_many, currency) == rest:
            return as_many
    return _lump(number, line, rest, currency)


def _lump(number: int, line: BillLine, net: int, currency: str) -> BillLine:
    """An amount given back on a line without a quantity of it coming back."""
    one = Decimal(1 if net > 0 else -1)
    price = major(abs(net), currency)
    return replace(
        line, qty=one, unit="piece", unit_price=price, base_qty=Decimal(1), allowances=(), of_line=number
    )


def _closed(
    lines: Sequence[BillLine],
    rows: Sequence[DocumentAllowance],
    left: Left,
    currency: str,
    cents: int | None,
) -> Bill:
    """The note with its rounding amount: all that is then left over (None), or a few `cents` too many."""
    odd = left.asked - totals(lines, rows, currency=currency).tax_inclusive
    if cents is not None and not (abs(odd) <= cents and (odd < 0) != (left.asked < 0)):
        odd = 0
    parts = (RoundingPart(Why.CREDIT, odd),) if odd else ()
    return Bill(tuple(lines), tuple(rows), totals(lines, rows, currency=currency, rounding=odd), parts)


def _nothing_left(issued: IssuedBill, field: str) -> Problem:
    return Problem(field, f"Nothing of it is left to credit on {issued.number}.")
