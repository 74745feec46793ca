"""What must be right before a number is taken."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from tests.billing.making import DAY, S5, Z, issued, line
from tracker.billing.bill import draw_up
from tracker.billing.checks import problems_before_issue, typed_problems
from tracker.billing.credit import TakeBack, credit_lines, credit_rest
from tracker.billing.tax import NOT_REGISTERED, PASSED_ON
from tracker.records.billing import UNSAID, Bill, BillLine, DocumentAllowance, LineAllowance, Party, TaxKey
from tracker.records.document import DocumentKind
from tracker.records.problem import Problem

SELLER = Party("Sparks & Daughter", "2 Canal Row", "XX123456")
BUYER = Party("Ida Quill", "9 Mill Lane")


def check(bill: Bill, kind: DocumentKind = DocumentKind.INVOICE, **more: Any) -> tuple[Problem, ...]:
    known: dict[str, Any] = {"seller": SELLER, "buyer": BUYER, "on": DAY, **more}
    return problems_before_issue(kind, bill, **known)


def fields(problems: tuple[Problem, ...]) -> list[str]:
    return [problem.field for problem in problems]


SOUND = draw_up([line(2, 60), line(1, 12, S5), line(1, 54, PASSED_ON)], currency="EUR")


def test_a_sound_bill_may_go() -> None:
    assert check(SOUND, last_on=DAY, due=DAY) == ()


def test_all_is_said_at_once() -> None:
    bill = draw_up([line(1, 60), line(1, 10, UNSAID)], currency="EUR")
    found = check(
        bill,
        seller=Party(" ", "", ""),
        buyer=Party("", ""),
        last_on=date(2026, 3, 3),
        due=date(2026, 3, 1),
    )
    assert fields(found) == [
        "seller.name",
        "seller.address",
        "seller.tax_number",
        "buyer.name",
        "buyer.address",
        "issued_on",
        "due_on",
        "lines.2.tax",
    ]
    assert all(problem.sentence.endswith(".") for problem in found)


def test_a_trader_who_charges_none_needs_no_tax_number_and_may_not_charge_any() -> None:
    seller = replace(SELLER, tax_number="")
    untaxed = draw_up([line(1, 60)], currency="EUR", registered=False)
    assert check(untaxed, seller=seller, registered=False) == ()
    assert fields(check(SOUND, registered=False)) == ["lines"]


def test_a_small_bill_goes_without_the_customer() -> None:
    assert check(SOUND, buyer=Party("", ""), small=True) == ()


def test_nothing_to_bill() -> None:
    assert fields(check(draw_up([], currency="EUR"))) == ["lines"]


@pytest.mark.parametrize(
    ("bad", "field"),
    [
        (line(words="  "), "lines.1.words"),
        (line("NaN"), "lines.1.qty"),
        (line("1E+9"), "lines.1.qty"),
        (line("-1E+9"), "lines.1.qty"),
        (line(1, "Infinity"), "lines.1.price"),
        (line(1, "-5"), "lines.1.price"),
        (line(1, "1E+30"), "lines.1.price"),
        (replace(line(), base_qty=Decimal(0)), "lines.1.base_qty"),
        (line(tax=UNSAID), "lines.1.tax"),
        (line(tax=TaxKey("S", Decimal(0))), "lines.1.tax"),
        (line(tax=TaxKey("S", Decimal(2000))), "lines.1.tax"),
        (line(tax=TaxKey("S", Decimal("NaN"))), "lines.1.tax"),
        (line(tax=TaxKey("S", Decimal("19.00001"))), "lines.1.tax"),
        (line(tax=TaxKey("E", Decimal(20), "VATEX-EU-132")), "lines.1.tax"),
        (line(tax=TaxKey("E")), "lines.1.tax"),
        (replace(line(), allowances=(LineAllowance(5, ""),)), "lines.1.allowances"),
        (replace(line(), allowances=(LineAllowance(-5, "Off"),)), "lines.1.allowances"),
    ],
)
def test_a_line_that_cannot_stand(bad: BillLine, field: str) -> None:
    assert fields(typed_problems([bad])) == [field]


def test_not_subject_to_tax_stands_alone() -> None:
    assert fields(typed_problems([line(), line(tax=NOT_REGISTERED)])) == ["lines"]


def test_a_discount_needs_words_and_a_rate_and_is_not_more_than_there_is() -> None:
    rows = [DocumentAllowance(100, UNSAID, "")]
    assert fields(typed_problems([line()], rows)) == ["allowances.1", "allowances.1.tax"]
    too_much = draw_up([line(1, 60), line(1, 60, Z)], [DocumentAllowance(6001, Z, "Off")], currency="EUR")
    assert fields(check(too_much)) == ["allowances"]


def test_what_is_taken_back_may_stand_below_nought() -> None:
    assert check(draw_up([line(1, 60), line(-1, 10, Z)], currency="EUR")) == ()


def test_a_deposit_asks_for_something() -> None:
    assert fields(check(draw_up([line(1, 0)], currency="EUR"), DocumentKind.DEPOSIT)) == ["deposit"]


def test_totals_that_are_not_those_of_the_lines() -> None:
    wrong = replace(SOUND, totals=replace(SOUND.totals, payable=SOUND.totals.payable - 1))
    assert fields(check(wrong)) == ["lines"]


def test_a_credit_note_names_a_document_that_still_stands_for_so_much() -> None:
    invoice = issued(SOUND)
    credit = credit_rest(invoice)
    kind = DocumentKind.CREDIT_NOTE
    assert check(credit, kind, corrects=invoice) == ()
    assert fields(check(credit, kind)) == ["corrects"]
    assert fields(check(credit, kind, corrects=issued(credit, "CRN-26-0001", kind))) == ["corrects"]
    earlier = credit_lines(invoice, [TakeBack(1, qty=Decimal(1))])
    assert fields(check(credit, kind, corrects=invoice, credited_before=[earlier])) == ["credit"]


def test_a_rate_the_invoice_never_had_cannot_be_credited() -> None:
    other = draw_up([line(1, 1, TaxKey("S", Decimal(7)))], currency="EUR")
    found = check(other, DocumentKind.CREDIT_NOTE, corrects=issued(SOUND))
    assert found[0].sentence.endswith("still stands for (7 % tax).")
