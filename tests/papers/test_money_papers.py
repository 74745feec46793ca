"""Receipt and statement."""

from dataclasses import replace
from datetime import date

from tests.papers import billed, build
from tests.papers.every import receipt, statement
from tracker.billing.owed import account
from tracker.papers.plain import plain
from tracker.papers.receipt import receipt_paper
from tracker.papers.statement import statement_paper
from tracker.records.billing import Owing, Receipt
from tracker.records.document import DocumentKind, Payment

ON = date(2026, 3, 25)


def receipt_of(payment: Payment) -> str:
    return plain(receipt_paper(payment, (), (), shop=build.SHOP, customer=build.CUSTOMER, number="R-17"))


def statement_of(*receipts: Receipt) -> str:
    invoice = Owing(DocumentKind.INVOICE, "INV-26-0042", date(2026, 3, 6), date(2026, 3, 20), 22065)
    owed = account([invoice], receipts, on=ON)
    return plain(statement_paper(owed, on=ON, shop=build.SHOP, customer=build.CUSTOMER))


def test_a_receipt_says_what_came_how_and_for_what() -> None:
    text = plain(receipt())
    for wanted in ("Receipt", "6 Mar 2026", "card", "250.00 EUR", "DEP-26-0007", "INV-26-0042", "100.00",
                   "140.00", "34.95", "Of it kept for you   10.00 EUR", "not an invoice"):  # fmt: skip
        assert wanted in text, wanted


def test_money_given_back_is_no_receipt() -> None:
    text = receipt_of(replace(billed.PAYMENT, amount_minor=-8940))
    assert text.startswith("Money given back")
    assert "R-17" in text
    assert "Given back  89.40 EUR" in text
    assert "Received" not in text
    assert "kept for you" not in text


def test_money_that_settles_nothing_is_kept() -> None:
    assert "Of it kept for you  250.00 EUR" in receipt_of(billed.PAYMENT)


def test_a_statement_says_what_is_owed_for_how_long() -> None:
    text = plain(statement())
    for wanted in ("INV-25-0310", "15 Dec 2025", "100 d", "86.40", "0.40", "86.00", "INV-26-0042",
                   "6 Mar 2026", "5 d", "220.65", "89.40", "30.00", "101.25", "187.25 EUR", "-10.00 EUR",
                   "177.25 EUR"):  # fmt: skip
        assert wanted in text, wanted
    assert "DEP-26-0007" not in text


def test_columns_without_anything_are_left_out() -> None:
    text = statement_of()
    assert "Credited" not in text
    assert "Let off" not in text
    assert "Owed in all  220.65 EUR" in text


def test_nothing_owed_is_said_in_words() -> None:
    text = statement_of(Receipt(22065, (("INV-26-0042", 22065),)))
    assert "Nothing is owed. Thank you." in text
    assert "crossed" not in text


def test_too_much_paid_is_in_the_customers_favour() -> None:
    text = statement_of(Receipt(23000, (("INV-26-0042", 23000),)))
    assert "9.35 EUR too much" in text
    assert "In your favour   9.35 EUR" in text
