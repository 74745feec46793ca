"""Documents of the invented card as e-invoices: what to write, and the figures to find in it."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from tests.papers import billed
from tracker.billing.bill import draw_up
from tracker.billing.tax import standard
from tracker.papers.ubl import EInvoice, ubl
from tracker.records.billing import BillLine
from tracker.records.document import DocumentKind

NAMED = {
    "invoice": (billed.DEPOSIT.document,),
    "credit note": (billed.INVOICE.document,),
}


def at_home(issued: billed.Issued, country: str = "IE", **seller: str) -> billed.Issued:
    """The same document by a shop that has said where it is."""
    kept = {**issued.document.seller, "country": country, "email": "bench@lowgate.example", **seller}
    return replace(issued, document=replace(issued.document, seller=kept))


def in_currency(currency: str, prices: tuple[str, ...], *, with_tax: bool = False) -> billed.Issued:
    """A small invoice in any currency, its prices typed with or without 20 % tax."""
    lines = [
        BillLine(f"Part {at}", Decimal(at), "piece", Decimal(price), standard(Decimal(20)))
        for at, price in enumerate(prices, 1)
    ]
    bill = draw_up(lines, currency=currency, typed_with_tax=with_tax)
    return billed.issue(DocumentKind.INVOICE, "INV-26-0050", bill, 9, date(2026, 3, 6))


def several_rates() -> billed.Issued:
    """Two rates, a zero rate and a discount as a line of its own."""
    lines = [
        BillLine("Labour", Decimal("1.5"), "hour", Decimal(60), standard(Decimal(23))),
        BillLine("Wiring diagram, printed", Decimal(1), "piece", Decimal("12.35"), standard(Decimal("9"))),
        BillLine("Sent abroad", Decimal(2), "dab", Decimal("3.10"), standard(Decimal(0))),
        BillLine("Discount", Decimal(-1), "piece", Decimal("5.55"), standard(Decimal(23))),
    ]
    bill = draw_up(lines, currency="EUR")
    return billed.issue(DocumentKind.INVOICE, "INV-26-0051", bill, 10, date(2026, 3, 6))


CASES: dict[str, billed.Issued] = {
    "deposit": at_home(billed.DEPOSIT),
    "invoice": at_home(billed.INVOICE),
    "credit note": at_home(billed.CREDIT_NOTE),
    "tax number known abroad": at_home(billed.INVOICE, tax_number="IE 2041183SA"),
    "not registered": at_home(billed.untaxed(), tax_number=""),
    "several rates": at_home(several_rates()),
    "prices with tax": at_home(in_currency("EUR", ("0.03",), with_tax=True)),
    "without decimals": at_home(in_currency("JPY", ("1250", "333")), "JP"),
}
"""What a shop issues; the invoice sets off its deposit, has money paid ahead and is rounded to cash."""


def written(name: str) -> EInvoice:
    """The e-invoice of a case."""
    issued = CASES[name]
    named = NAMED.get("invoice" if name.startswith("tax") else name, ())
    return ubl(issued.document, issued.lines, issued.taxes, named=named)
