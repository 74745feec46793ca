"""An issued document as a UBL 2.1 invoice or credit note by EN 16931-1 (bound to UBL by CEN/TS 16931-3-2).

Every figure is the one kept with the document; none is worked out anew. What the standard asks for and the
document lacks is said in words before anything is written. The numbers in comments are terms (BT, BG) and
rules (BR) of EN 16931-1.
"""

import xml.etree.ElementTree as ET
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from tracker.papers.own_words import line_words, note_words
from tracker.papers.say import exact
from tracker.papers.ubl_party import Place, add_party, place_of
from tracker.papers.ubl_problems import ubl_problems
from tracker.papers.ubl_xml import AGGREGATES, BASICS, add, amount
from tracker.records.document import Document, DocumentKind, DocumentLine, DocumentTax
from tracker.records.problem import Mistakes

FORM = "urn:cen.eu:en16931:2017"
"""BT-24: the standard's own core, without anybody's additions."""
TYPES = {DocumentKind.INVOICE: "380", DocumentKind.DEPOSIT: "386", DocumentKind.CREDIT_NOTE: "381"}
"""BT-3, codes of UNTDID 1001: invoice, prepayment invoice, credit note."""
UNITS = {"hour": "HUR", "minute": "MIN", "piece": "H87", "mm": "MMT", "m": "MTR", "km": "KMT", "mi": "SMI"}
"""BT-130, codes of UN/ECE Recommendation 20; anything else is counted as “one” (C62)."""
_ONE = "C62"


@dataclass(frozen=True, slots=True)
class EInvoice:
    """The XML in UTF-8, and what was taken for granted in it, in sentences."""

    content: bytes
    notes: tuple[str, ...] = ()


def ubl(
    document: Document,
    lines: Sequence[DocumentLine],
    taxes: Sequence[DocumentTax],
    *,
    named: Sequence[Document] = (),
    country: str = "",
) -> EInvoice:
    """The e-invoice of an issued document. `named` are those it sets off or corrects, `country` is the shop's
    (two letters of ISO 3166-1) where the document keeps none.

    Raises Mistakes with everything that the standard asks for and the document lacks.
    """
    seller = place_of(document.seller, usual=country)
    buyer = place_of(document.buyer, usual=seller.country)
    problems = ubl_problems(document, taxes, named, seller, buyer)
    if problems:
        raise Mistakes(problems)
    credit = document.kind is DocumentKind.CREDIT_NOTE
    kind = "CreditNote" if credit else "Invoice"
    root = ET.Element(
        kind,
        {
            "xmlns": f"urn:oasis:names:specification:ubl:schema:xsd:{kind}-2",
            "xmlns:cac": AGGREGATES,
            "xmlns:cbc": BASICS,
        },
    )
    _head(root, document, named, credit=credit)
    untaxed = all(tax.category == "O" for tax in taxes)
    add_party(root, "AccountingSupplierParty", document.seller, seller, untaxed=untaxed, seller=True)
    add_party(root, "AccountingCustomerParty", document.buyer, buyer, untaxed=untaxed)
    add(add(root, "cac:Delivery"), "cbc:ActualDeliveryDate", document.supply_on.isoformat())  # BT-72
    _taxes(root, document, taxes)
    _totals(root, document)
    for line in sorted(lines, key=lambda one: one.position):
        _line(root, document, line, credit=credit)
    ET.indent(root)
    text = ET.tostring(root, encoding="unicode")
    content = f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'.encode()
    return EInvoice(content, tuple(_notes(document, seller, buyer)))


def _head(root: ET.Element, document: Document, named: Sequence[Document], *, credit: bool) -> None:
    add(root, "cbc:CustomizationID", FORM)
    add(root, "cbc:ID", document.number)
    add(root, "cbc:IssueDate", document.issued_on.isoformat())
    if not credit:
        add(root, "cbc:DueDate", document.due_on.isoformat())
    add(root, "cbc:CreditNoteTypeCode" if credit else "cbc:InvoiceTypeCode", TYPES[document.kind])
    if document.words:
        add(root, "cbc:Note", note_words(document.words))
    add(root, "cbc:DocumentCurrencyCode", document.currency)
    if yours := document.buyer.get("your_number", "").strip():
        add(add(root, "cac:OrderReference"), "cbc:ID", yours)  # BT-13
    for one in sorted(named, key=lambda one: (one.issued_on, one.id)):  # BG-3
        reference = add(add(root, "cac:BillingReference"), "cac:InvoiceDocumentReference")
        add(reference, "cbc:ID", one.number)
        add(reference, "cbc:IssueDate", one.issued_on.isoformat())


def _taxes(root: ET.Element, document: Document, taxes: Iterable[DocumentTax]) -> None:
    total = add(root, "cac:TaxTotal")
    amount(total, "cbc:TaxAmount", document.tax_minor, document.currency)
    for tax in taxes:
        group = add(total, "cac:TaxSubtotal")
        amount(group, "cbc:TaxableAmount", tax.taxable_minor, document.currency)
        amount(group, "cbc:TaxAmount", tax.tax_minor, document.currency)
        _category(group, "cac:TaxCategory", tax.category, tax.rate, (tax.exemption, tax.reason))


def _category(
    above: ET.Element, name: str, code: str, rate: Decimal, why: tuple[str, str] = ("", "")
) -> None:
    category = add(above, name)
    add(category, "cbc:ID", code)
    if code != "O":  # BR-O-05: what is not subject to tax has no rate, not even nought
        add(category, "cbc:Percent", exact(rate))
    for field, words in zip(("cbc:TaxExemptionReasonCode", "cbc:TaxExemptionReason"), why, strict=True):
        if words:
            add(category, field, words)
    add(add(category, "cac:TaxScheme"), "cbc:ID", "VAT")


def _totals(root: ET.Element, document: Document) -> None:
    totals = add(root, "cac:LegalMonetaryTotal")
    amount(totals, "cbc:LineExtensionAmount", document.line_total_minor, document.currency)
    amount(totals, "cbc:TaxExclusiveAmount", document.net_minor, document.currency)
    amount(totals, "cbc:TaxInclusiveAmount", document.total_minor, document.currency)
    if document.prepaid_minor:
        amount(totals, "cbc:PrepaidAmount", document.prepaid_minor, document.currency)
    if document.rounding_minor:
        amount(totals, "cbc:PayableRoundingAmount", document.rounding_minor, document.currency)
    amount(totals, "cbc:PayableAmount", document.payable_minor, document.currency)


def _line(root: ET.Element, document: Document, line: DocumentLine, *, credit: bool) -> None:
    unit = {"unitCode": UNITS.get(line.unit, _ONE)}
    one = add(root, "cac:CreditNoteLine" if credit else "cac:InvoiceLine")
    add(one, "cbc:ID", str(line.position))
    add(one, "cbc:CreditedQuantity" if credit else "cbc:InvoicedQuantity", exact(line.qty), unit)
    amount(one, "cbc:LineExtensionAmount", line.net_minor, document.currency)
    item = add(one, "cac:Item")
    words = line_words(line.words)
    name, _, more = words.partition("\n")
    if more:
        add(item, "cbc:Description", words)
    add(item, "cbc:Name", name)
    _category(item, "cac:ClassifiedTaxCategory", line.tax_category, line.tax_rate)
    price = add(one, "cac:Price")
    add(price, "cbc:PriceAmount", exact(line.unit_price), {"currencyID": document.currency})
    if line.base_qty != 1:
        add(price, "cbc:BaseQuantity", exact(line.base_qty), unit)


def _notes(document: Document, seller: Place, buyer: Place) -> Iterable[str]:
    if seller.country_supposed:
        yield f"The document does not keep the shop's country; it is that of the settings, {seller.country}."
    if buyer.country_supposed:
        name = document.buyer.get("name", "")
        yield f"The country of {name} is not kept; it is taken to be the shop's, {buyer.country}."
