"""Deposit, invoice and credit note say everything that was kept, to the cent, and nothing else."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.billing.making import many_lines
from tests.papers import billed
from tests.papers.every import of_document
from tracker.billing.bill import draw_up
from tracker.papers.document import document_paper
from tracker.papers.paper import Sum, Sums, Table
from tracker.papers.plain import plain
from tracker.papers.say import amount, number, percent, price
from tracker.records.billing import BillLine, TaxKey
from tracker.records.document import DocumentKind, LineKind

DAY = date(2026, 3, 6)


def paper_text(issued: billed.Issued, width: int = 80) -> str:
    return plain(of_document(issued), width)


def sums(issued: billed.Issued) -> dict[str, str]:
    blocks = [block for block in of_document(issued).blocks if isinstance(block, Sums)]
    return {row.label: row.value for block in blocks for row in block.rows}


def tokens(text: str) -> set[str]:
    return set(text.split())


def test_an_invoice_shows_all_that_one_must_show() -> None:
    text = paper_text(billed.INVOICE)
    for wanted in (
        "Invoice", "INV-26-0042", "Issued    6 Mar 2026", "Supplied  5 Mar 2026", "20 Mar 2026",
        "Low Gate Motorcycle Electrics", "3 Low Gate", "1200 Sandwick", "Tax number XX 204 118 337",
        "Adaeze Oyelaran", "12 Quay Lane", "1201 Sandwick", "Look for the fault", "1.1  hour", "60.00",
        "20 %", "Total without tax", "Tax 20 %", "Total with tax", "EUR", "The old battery stays with us",
    ):  # fmt: skip
        assert wanted in text, wanted


@given(many_lines, st.integers(0, 5000), st.sampled_from([1, 5, 100]), st.sampled_from([40, 72, 80]))
@settings(max_examples=60, deadline=None)
def test_every_figure_that_is_kept_is_on_the_paper(
    lines: list[BillLine], prepaid: int, step: int, width: int
) -> None:
    bill = draw_up(lines, currency="EUR", prepaid=prepaid, cash_step=step)
    issued = billed.issue(DocumentKind.INVOICE, "INV-26-0042", bill, 2, DAY)
    kept = issued.document
    found = tokens(paper_text(issued, width))
    wanted = {
        amount(minor, "EUR")
        for minor in (kept.net_minor, kept.tax_minor, kept.total_minor, abs(kept.payable_minor))
    }
    wanted |= {amount(-prepaid, "EUR")} if prepaid else set()
    wanted |= {amount(kept.rounding_minor, "EUR")} if kept.rounding_minor else set()
    for line in issued.lines:
        wanted |= {amount(line.net_minor, "EUR"), number(line.qty), price(line.unit_price, "EUR")}
        wanted |= {number(line.tax_rate)} if line.tax_category != "E" else {"exempt"}
    for tax in issued.taxes:
        wanted |= {amount(tax.taxable_minor, "EUR"), amount(tax.tax_minor, "EUR")}
    assert wanted <= found


@given(many_lines, st.integers(0, 5000), st.sampled_from([1, 5]))
@settings(max_examples=60, deadline=None)
def test_the_sums_on_the_paper_add_up(lines: list[BillLine], prepaid: int, step: int) -> None:
    bill = draw_up(lines, currency="EUR", prepaid=prepaid, cash_step=step)
    issued = billed.issue(DocumentKind.INVOICE, "INV-26-0042", bill, 2, DAY)
    shown = {label: Decimal(value.split()[0]) for label, value in sums(issued).items()}
    tax = sum(
        value for label, value in shown.items() if label.startswith(("Tax ", "No tax")) and " on " in label
    )
    assert shown["Total without tax"] + tax == shown["Total with tax"]
    after = sum(value for label, value in shown.items() if label.startswith(("Paid before", "Rounding")))
    last = shown.get("In your favour")
    due = -last if last is not None else next(v for label, v in shown.items() if label.startswith("To pay"))
    assert shown["Total with tax"] + after == due


def test_a_trader_without_tax_shows_none() -> None:
    text = paper_text(billed.untaxed())
    assert "%" not in text
    assert "without tax" not in text
    assert not any(line.lstrip().startswith("Tax ") for line in text.splitlines() if "number" not in line)
    assert "No tax is charged: the seller is not registered for it." in text
    assert "Total                  290.19 EUR" in text


def test_a_set_off_deposit_is_named_with_its_number_and_date() -> None:
    text = paper_text(billed.INVOICE)
    assert text.count("DEP-26-0007, 3 Mar 2026") == 2
    assert "Deposit DEP-26-0007 of 3 Mar 2026, 100.00 EUR in all" in text


def test_a_deposit_that_the_line_names_already_is_not_named_twice() -> None:
    lines = tuple(
        replace(line, words="Deposit DEP-26-0007") for line in billed.INVOICE.lines if line.sets_off
    )
    paper = document_paper(
        billed.INVOICE.document, lines, billed.INVOICE.taxes, named=[billed.DEPOSIT.document]
    )
    table = next(block for block in paper.blocks if isinstance(block, Table))
    assert {row[1] for row in table.rows} == {"Deposit DEP-26-0007"}


def test_a_credit_note_names_what_it_corrects_and_asks_for_nothing() -> None:
    text = paper_text(billed.CREDIT_NOTE)
    assert "Corrects  INV-26-0042 of 6 Mar 2026" in text
    assert "Credited to you    89.40 EUR" in text
    assert "To pay" not in text
    assert "Due" not in text


def test_why_an_amount_bears_no_tax_is_said() -> None:
    assert "article 79, point c" in paper_text(billed.INVOICE)
    own = TaxKey("E", exemption="VATEX-EU-132", reason="Lessons are exempt here.")
    bill = draw_up([replace(billed.PRICED[7], tax=own)], currency="EUR")
    issued = billed.issue(DocumentKind.INVOICE, "INV-26-0044", bill, 5, DAY)
    assert "Lessons are exempt here." in paper_text(issued)
    unknown = replace(issued, taxes=tuple(replace(tax, reason="") for tax in issued.taxes))
    assert "VATEX-EU-132" in paper_text(unknown)


def test_what_was_taken_off_the_whole_is_shown() -> None:
    document = replace(
        billed.INVOICE.document, line_total_minor=21000, allowance_total_minor=700, charge_total_minor=200
    )
    shown = sums(replace(billed.INVOICE, document=document))
    assert shown["Sum of the lines"] == "210.00 EUR"
    assert shown["Taken off"] == "-7.00 EUR"
    assert shown["Added"] == "2.00 EUR"


def test_what_is_over_is_in_the_buyers_favour() -> None:
    document = replace(billed.INVOICE.document, payable_minor=-1234)
    assert sums(replace(billed.INVOICE, document=document))["In your favour"] == "12.34 EUR"


@pytest.mark.parametrize(("currency", "total"), [("JPY", "12000 JPY"), ("KWD", "12.000 KWD")])
def test_decimals_are_those_of_the_currency(currency: str, total: str) -> None:
    each = Decimal(12000) if currency == "JPY" else Decimal(12)
    line = BillLine("Regulator", Decimal(1), "piece", each, billed.NOBODY, LineKind.PART)
    bill = draw_up([line], currency=currency, registered=False)
    issued = billed.issue(DocumentKind.INVOICE, "INV-26-0045", bill, 6, DAY)
    assert sums(issued)["Total"] == total


def test_rates_are_written_as_they_are() -> None:
    assert percent(Decimal("5.5")) in paper_text(
        billed.issue(
            DocumentKind.INVOICE,
            "INV-26-0046",
            draw_up([replace(billed.PRICED[0], tax=TaxKey("S", Decimal("5.5")))], currency="EUR"),
            7,
            DAY,
        )
    )


def test_what_is_to_pay_stands_out() -> None:
    blocks = [block for block in of_document(billed.INVOICE).blocks if isinstance(block, Sums)]
    assert blocks[0].rows[-1] == Sum("To pay by 20 Mar 2026", "220.65 EUR", strong=True)
