"""Everything that must be right before a document takes a number, said at once."""

from collections.abc import Iterator, Sequence
from datetime import date

from tracker.billing.left import beyond_billed
from tracker.billing.line_checks import allowance_problems, line_problems, mixed_problems
from tracker.billing.totals import totals
from tracker.records.billing import Bill, BillLine, DocumentAllowance, IssuedBill, Party
from tracker.records.document import DocumentKind
from tracker.records.money import Money
from tracker.records.problem import Problem


def problems_before_issue(
    kind: DocumentKind,
    bill: Bill,
    *,
    seller: Party,
    buyer: Party,
    on: date,
    due: date | None = None,
    last_on: date | None = None,
    registered: bool = True,
    small: bool = False,
    corrects: IssuedBill | None = None,
    credited_before: Sequence[Bill] = (),
) -> tuple[Problem, ...]:
    """All that speaks against issuing `bill`; empty when it may take its number.

    `on` is the date of issue, `last_on` that of the last number in the same series, `corrects` what a
    credit note names and `credited_before` its earlier credit notes. `small`: the law of the place lets a
    bill of this size go without the customer (Directive 2006/112/EC, article 226b). A bill yet to be drawn
    up from what was typed is checked first with `typed_problems`: sums need numbers.

    Fields: `seller.name`, `seller.address`, `seller.tax_number`, `buyer.name`, `buyer.address`,
    `issued_on`, `due_on`, `lines`, `lines.N.what`, `allowances`, `allowances.N`, `deposit`, `corrects`,
    `credit`.
    """
    typed = typed_problems(bill.lines, bill.allowances, registered=registered)
    taxed = any(group.key.category not in ("", "O") for group in bill.totals.groups)
    return (
        *standing_problems(seller, buyer, on=on, due=due, last_on=last_on, taxed=taxed, small=small),
        *typed,
        *(() if typed else _sums(kind, bill)),
        *_credit(kind, bill, corrects, credited_before),
    )


def standing_problems(
    seller: Party,
    buyer: Party,
    *,
    on: date,
    due: date | None = None,
    last_on: date | None = None,
    taxed: bool = True,
    small: bool = False,
) -> tuple[Problem, ...]:
    """What of the parties and the dates speaks against issuing anything at all, whatever is billed."""
    return (*_seller(seller, taxed=taxed), *(() if small else _buyer(buyer)), *_dates(on, due, last_on))


def typed_problems(
    lines: Sequence[BillLine], allowances: Sequence[DocumentAllowance] = (), *, registered: bool = True
) -> tuple[Problem, ...]:
    """What is wrong with lines and allowances as they were typed; none left, and every sum can be done."""
    keys = [*(line.tax for line in lines), *(row.tax for row in allowances)]
    return (
        *(() if lines else [Problem("lines", "There is nothing to bill.", "Add a line.")]),  # BR-16
        *line_problems(lines),
        *allowance_problems(allowances),
        *mixed_problems(keys),
        *(
            [Problem("lines", "The shop is not registered for tax and may not charge it.")]
            if not registered and any(key.rate for key in keys)
            else []
        ),
    )


def _seller(seller: Party, *, taxed: bool) -> Iterator[Problem]:
    if not seller.name.strip():  # BR-06
        yield Problem("seller.name", "The shop has no name.", "Fill it in under settings.")
    if not seller.address.strip():  # BR-08
        yield Problem("seller.address", "The shop has no address.", "Fill it in under settings.")
    if taxed and not seller.tax_number.strip():  # BR-S-02, BR-Z-02, BR-E-02
        hint = "Fill it in under settings, or switch tax off there."
        yield Problem("seller.tax_number", "The shop charges tax and has no tax number.", hint)


def _buyer(buyer: Party) -> Iterator[Problem]:
    if not buyer.name.strip():  # BR-07
        yield Problem("buyer.name", "Nobody is named who is billed.")
    if not buyer.address.strip():  # BR-10
        yield Problem("buyer.address", "The customer has no address.", "It has to stand on the paper.")


def _dates(on: date, due: date | None, last_on: date | None) -> Iterator[Problem]:
    if last_on and on < last_on:
        sentence = f"The date is before that of the last number, {last_on.isoformat()}."
        yield Problem("issued_on", sentence, "Numbers and dates run the same way.", on.isoformat())
    if due and due < on:
        yield Problem("due_on", "It would be due before it is issued.", given=due.isoformat())


def _sums(kind: DocumentKind, bill: Bill) -> Iterator[Problem]:
    known = bill.totals
    again = totals(
        bill.lines,
        bill.allowances,
        currency=known.currency,
        prepaid=known.prepaid,
        rounding=known.rounding,
    )
    if again != known:
        yield Problem("lines", "The totals are not those of the lines.", "Draw the bill up again.")
    takes_back = any(line.qty < 0 for line in bill.lines)
    for group in again.groups:
        if group.taxable < 0 and not takes_back:
            given = str(Money(group.taxable, known.currency))
            sentence = "More is taken off than there is."
            yield Problem("allowances", sentence, "Make the discount smaller.", given)
    if kind is DocumentKind.DEPOSIT and again.payable <= 0:
        yield Problem("deposit", "A deposit is more than nothing.")


def _credit(
    kind: DocumentKind, bill: Bill, corrects: IssuedBill | None, before: Sequence[Bill]
) -> Iterator[Problem]:
    if kind is not DocumentKind.CREDIT_NOTE:
        return
    if corrects is None:  # BR-55
        hint = "It cannot stand by itself."
        yield Problem("corrects", "The credit note names no document.", hint)
    elif corrects.kind is DocumentKind.CREDIT_NOTE:
        yield Problem("corrects", "A credit note cannot be credited.", given=corrects.number)
    else:
        yield from beyond_billed(corrects, before, bill)
