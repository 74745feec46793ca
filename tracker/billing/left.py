"""What an issued document still stands for once its credit notes are taken off."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from tracker.records.billing import Bill, IssuedBill, SetOff, TaxGroup, Totals
from tracker.records.problem import Problem


@dataclass(frozen=True, slots=True)
class Left:
    """What can still be credited, in minor units.

    `lines` net by line, `allowances` by row of the document, `groups` its tax groups; `asked` with tax and
    rounding. What was prepaid is not in it: it was the customer's before the document and is again after.
    """

    lines: tuple[int, ...]
    allowances: tuple[int, ...]
    groups: tuple[TaxGroup, ...]
    asked: int


def asked(totals: Totals) -> int:
    """What a document stands for, prepaid or not: total with tax and rounding (BT-112 + BT-114)."""
    return totals.tax_inclusive + totals.rounding


def left_to_credit(issued: IssuedBill, before: Sequence[Bill] = ()) -> Left:
    """The document less the credit notes `before`; each of their lines names its own line (`of_line`)."""
    lines = list(issued.bill.totals.line_nets)
    rows = [row.minor for row in issued.bill.allowances]
    whole = asked(issued.bill.totals)
    groups = {group.key.group: group for group in issued.bill.totals.groups}
    for credit in before:
        whole -= asked(credit.totals)
        for line, net in zip(credit.lines, credit.totals.line_nets, strict=True):
            if line.of_line:
                lines[line.of_line - 1] -= net
        for row in credit.allowances:
            if row.of_row:
                rows[row.of_row - 1] -= row.minor
        for taken in credit.totals.groups:
            if group := groups.get(taken.key.group):
                groups[taken.key.group] = replace(
                    group, taxable=group.taxable - taken.taxable, tax=group.tax - taken.tax
                )
    return Left(tuple(lines), tuple(rows), tuple(groups.values()), whole)


def beyond_billed(issued: IssuedBill, before: Sequence[Bill], credit: Bill) -> tuple[Problem, ...]:
    """Where a credit note takes back more than was billed and not credited before, group by group."""
    left = left_to_credit(issued, before)
    own = {group.key.group: group.taxable for group in credit.totals.groups}
    allowed = {group.key.group: group.taxable for group in left.groups}
    problems = [
        _beyond(issued, f"{rate:f} % tax" if rate else "no tax")
        for (category, rate), taken in own.items()
        if not is_within(taken, allowed.get((category, rate), 0))
    ]
    if not problems and not is_within(asked(credit.totals), left.asked):
        problems.append(_beyond(issued, "its total"))
    return tuple(problems)


def set_off_of(deposit: IssuedBill, before: Sequence[Bill], words: str) -> SetOff:
    """What a final invoice sets off of a deposit: all that its credit notes left of it."""
    left = left_to_credit(deposit, before)
    return SetOff(deposit.number, left.groups, left.asked, words)


def is_within(taken: int, left: int) -> bool:
    """Whether `taken` lies between nothing and what is `left`, on whichever side of nothing that is."""
    return min(left, 0) <= taken <= max(left, 0)


def _beyond(issued: IssuedBill, where: str) -> Problem:
    return Problem(
        "credit",
        f"The credit note takes back more than {issued.number} still stands for ({where}).",
        "Credit less, or credit the rest in whole.",
    )


def decimals(number: Decimal) -> int:
    """How many decimals a finite number carries."""
    exponent = number.normalize().as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0
