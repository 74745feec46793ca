"""E-invoices: the record's figures to the cent, what is taken for granted, what is missing said at once."""

import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from tests.hostile import FINE
from tests.papers import billed
from tests.papers.einvoices import CASES, at_home, in_currency, written
from tracker.papers.ubl import EInvoice, ubl
from tracker.papers.ubl_party import is_tax_identifier, place_of
from tracker.records.document import DocumentKind
from tracker.records.money import Money
from tracker.records.problem import Mistakes

NAMES = {
    "cac": "urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2",
    "cbc": "urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2",
}


def texts(made: EInvoice, path: str) -> list[str]:
    """Every text at a path below the root."""
    return [one.text or "" for one in ET.fromstring(made.content).iterfind(path, NAMES)]


def sole(made: EInvoice, path: str) -> str:
    (found,) = texts(made, path)
    return found


@pytest.mark.parametrize("name", CASES)
def test_every_figure_is_the_records(name: str) -> None:
    issued, made = CASES[name], written(name)
    document, currency = issued.document, issued.document.currency

    def shown(minor: int) -> str:
        return str(Money(minor, currency))

    totals = "cac:LegalMonetaryTotal/cbc:"
    assert sole(made, totals + "LineExtensionAmount") == shown(document.line_total_minor)
    assert sole(made, totals + "TaxExclusiveAmount") == shown(document.net_minor)
    assert sole(made, totals + "TaxInclusiveAmount") == shown(document.total_minor)
    assert sole(made, totals + "PayableAmount") == shown(document.payable_minor)
    assert texts(made, totals + "PrepaidAmount") == (
        [shown(document.prepaid_minor)] if document.prepaid_minor else []
    )
    rounding = [shown(document.rounding_minor)] if document.rounding_minor else []
    assert texts(made, totals + "PayableRoundingAmount") == rounding
    assert sole(made, "cac:TaxTotal/cbc:TaxAmount") == shown(document.tax_minor)
    groups = "cac:TaxTotal/cac:TaxSubtotal/cbc:"
    assert texts(made, groups + "TaxableAmount") == [shown(tax.taxable_minor) for tax in issued.taxes]
    assert texts(made, groups + "TaxAmount") == [shown(tax.tax_minor) for tax in issued.taxes]
    line = "cac:CreditNoteLine" if document.kind is DocumentKind.CREDIT_NOTE else "cac:InvoiceLine"
    assert texts(made, f"{line}/cbc:LineExtensionAmount") == [shown(one.net_minor) for one in issued.lines]
    assert texts(made, f"{line}/cac:Item/cbc:Name") == [one.words for one in issued.lines]


def test_the_cases_hold_what_they_are_for() -> None:
    invoice = CASES["invoice"].document
    assert invoice.prepaid_minor
    assert invoice.rounding_minor
    assert any(line.sets_off for line in CASES["invoice"].lines)
    assert CASES["prices with tax"].document.rounding_minor


def test_a_fee_outside_the_tax_is_exempt_with_its_code() -> None:
    made = written("invoice")
    category = "cac:TaxTotal/cac:TaxSubtotal/cac:TaxCategory/cbc:"
    assert texts(made, category + "ID") == ["S", "E"]
    assert texts(made, category + "TaxExemptionReasonCode") == ["VATEX-EU-79-C"]


def test_who_is_not_registered_shows_no_rate_and_no_tax_number() -> None:
    made = written("not registered")
    assert set(texts(made, "cac:InvoiceLine/cac:Item/cac:ClassifiedTaxCategory/cbc:ID")) == {"O"}
    assert not texts(made, ".//cbc:Percent")
    assert not texts(made, ".//cac:PartyTaxScheme")
    assert (
        sole(made, "cac:AccountingSupplierParty//cac:PartyIdentification/cbc:ID") == "bench@lowgate.example"
    )


def test_the_invoice_names_its_deposit_and_the_credit_note_its_invoice() -> None:
    reference = "cac:BillingReference/cac:InvoiceDocumentReference/cbc:ID"
    assert texts(written("invoice"), reference) == ["DEP-26-0007"]
    assert texts(written("credit note"), reference) == ["INV-26-0042"]
    assert not texts(written("deposit"), reference)


def test_each_kind_has_its_code() -> None:
    assert sole(written("invoice"), "cbc:InvoiceTypeCode") == "380"
    assert sole(written("deposit"), "cbc:InvoiceTypeCode") == "386"
    assert sole(written("credit note"), "cbc:CreditNoteTypeCode") == "381"


def test_a_local_tax_number_and_one_known_abroad_stand_under_their_own_scheme() -> None:
    scheme = "cac:AccountingSupplierParty/cac:Party/cac:PartyTaxScheme/"
    local, abroad = written("invoice"), written("tax number known abroad")
    assert sole(local, scheme + "cac:TaxScheme/cbc:ID") == "TAX"
    assert sole(local, scheme + "cbc:CompanyID") == "XX 204 118 337"
    assert sole(abroad, scheme + "cac:TaxScheme/cbc:ID") == "VAT"
    assert sole(abroad, scheme + "cbc:CompanyID") == "IE2041183SA"
    assert is_tax_identifier("EL094543092", "GR")


def test_a_country_that_is_not_kept_is_taken_for_the_shops_and_said() -> None:
    made = written("invoice")
    assert sole(made, "cac:AccountingCustomerParty//cac:Country/cbc:IdentificationCode") == "IE"
    assert made.notes == ("The country of Adaeze Oyelaran is not kept; it is taken to be the shop's, IE.",)
    kept = CASES["invoice"].document
    abroad = replace(kept, buyer={**kept.buyer, "address": "Kai 3\n20457 Hamburg\nDE"})
    again = ubl(abroad, CASES["invoice"].lines, CASES["invoice"].taxes)
    assert sole(again, "cac:AccountingCustomerParty//cac:Country/cbc:IdentificationCode") == "DE"
    assert again.notes == ()


def test_the_shops_country_is_that_of_its_settings_where_the_document_keeps_none() -> None:
    issued = billed.INVOICE
    made = ubl(issued.document, issued.lines, issued.taxes, country="IE")
    assert sole(made, "cac:AccountingSupplierParty//cac:Country/cbc:IdentificationCode") == "IE"
    assert "it is that of the settings, IE." in made.notes[0]


@pytest.mark.parametrize(
    ("address", "street", "zone", "city"),
    [
        ("3 Low Gate\n1200 Sandwick", ("3 Low Gate",), "1200", "Sandwick"),
        ("Hof 2\nAm Deich 7\nD-25980 Westerland", ("Hof 2", "Am Deich 7"), "D-25980", "Westerland"),
        ("Weir Terrace", ("Weir Terrace",), "", ""),
        ("1 Mill Road\nOxley, AB1 2CD", ("1 Mill Road",), "AB1 2CD", "Oxley"),
        ("Ropewalk Yard\nSandwick", ("Ropewalk Yard",), "", "Sandwick"),
        ("\n\n", (), "", ""),
    ],
)
def test_lines_of_an_address(address: str, street: tuple[str, ...], zone: str, city: str) -> None:
    place = place_of({"address": address})
    assert (place.lines, place.zone, place.city) == (street, zone, city)


def test_everything_that_is_missing_is_said_at_once() -> None:
    issued = billed.INVOICE
    bare = replace(issued.document, seller={"name": " "}, buyer={}, currency="KWD")
    with pytest.raises(Mistakes) as said:
        ubl(bare, issued.lines, ())
    assert [problem.field for problem in said.value.problems] == [
        "seller.name", "seller.country", "seller.tax_number", "buyer.name", "buyer.address", "currency",
        "taxes",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("issued", "field"),
    [
        (at_home(billed.INVOICE, "XX"), "seller.country"),
        (at_home(billed.INVOICE, tax_number=""), "seller.tax_number"),
        (at_home(billed.CREDIT_NOTE), "corrects"),
        (at_home(in_currency("KWD", ("1.255",))), "currency"),
    ],
)
def test_one_thing_missing_is_one_problem(issued: billed.Issued, field: str) -> None:
    with pytest.raises(Mistakes) as said:
        ubl(issued.document, issued.lines, issued.taxes)
    assert [problem.field for problem in said.value.problems] == [field]


@pytest.mark.parametrize("text", FINE)
def test_what_a_person_wrote_is_read_back_as_it_was(text: str) -> None:
    issued = CASES["invoice"]
    document = replace(
        issued.document, words=text, buyer={**issued.document.buyer, "name": text}, number=text
    )
    made = ubl(document, [replace(issued.lines[0], words=text)], issued.taxes)
    assert sole(made, "cbc:Note") == text
    assert sole(made, "cbc:ID") == text
    assert sole(made, "cac:AccountingCustomerParty//cac:PartyLegalEntity/cbc:RegistrationName") == text
    assert sole(made, "cac:InvoiceLine/cac:Item/cbc:Name") == text
