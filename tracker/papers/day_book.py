"""The sales day-book as comma-separated values (RFC 4180), for a spreadsheet or a bookkeeper's program."""

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from tracker.papers.say import exact
from tracker.records.document import Document, DocumentKind, DocumentTax
from tracker.records.money import Money

HEADS = (
    "issued",
    "supplied",
    "due",
    "number",
    "kind",
    "corrects",
    "card",
    "buyer",
    "buyer_tax_number",
    "tax_category",
    "tax_rate_percent",
    "taxable",
    "tax",
    "with_tax",
    "currency",
    "document_total",
    "document_payable",
)
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


@dataclass(frozen=True, slots=True)
class Entry:
    """An issued document with its tax groups, its card's number, and that of the document it corrects."""

    document: Document
    taxes: tuple[DocumentTax, ...]
    card: str = ""
    corrects: str = ""


@dataclass(frozen=True, slots=True)
class TaxTotal:
    """What was sold and what tax fell on it, in one group of one currency; minor units, credit taken off."""

    category: str
    rate: Decimal
    currency: str
    taxable_minor: int
    tax_minor: int


def tax_totals(entries: Iterable[Entry]) -> tuple[TaxTotal, ...]:
    """The sums of the day-book by category and rate, the highest rate first."""
    sums: dict[tuple[str, str, Decimal], list[int]] = {}
    for entry in entries:
        document = entry.document
        sign = _sign(document)
        for tax in entry.taxes or (_untold(document),):
            held = sums.setdefault((document.currency, tax.category, tax.rate.normalize()), [0, 0])
            held[0] += sign * tax.taxable_minor
            held[1] += sign * tax.tax_minor
    return tuple(
        TaxTotal(category, rate, currency, taxable, tax)
        for (currency, category, rate), (taxable, tax) in sorted(
            sums.items(), key=lambda one: (one[0][0], -one[0][2], one[0][1])
        )
    )


def _sign(document: Document) -> int:
    return -1 if document.kind is DocumentKind.CREDIT_NOTE else 1


def day_book(entries: Iterable[Entry]) -> str:
    """One line for each tax group of each document, in order of date and number, under a line of heads.

    Dates are ISO 8601, amounts in major units with a point; a credit note's are negative, so that columns
    add up. The document's own total and payable stand on its first line only. Save it as UTF-8 with a byte
    order mark (`utf-8-sig`) where a spreadsheet is to open it by itself.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(HEADS)
    in_order = sorted(entries, key=_in_order)
    for entry in in_order:
        writer.writerows(_rows(entry))
    return out.getvalue()


def harmless(text: str) -> str:
    """People's text as a spreadsheet cannot take it for a formula: with an apostrophe before it.

    >>> harmless("=1+1"), harmless("  @x"), harmless("Halden - 650")
    ("'=1+1", "'  @x", 'Halden - 650')
    """
    return f"'{text}" if text.startswith(_FORMULA) or text.lstrip().startswith(_FORMULA) else text


def _in_order(entry: Entry) -> tuple[object, ...]:
    document = entry.document
    return document.issued_on, document.at, document.id, document.number


def _rows(entry: Entry) -> Iterable[list[str]]:
    document = entry.document
    sign = _sign(document)
    head = [
        document.issued_on.isoformat(),
        document.supply_on.isoformat(),
        document.due_on.isoformat(),
        harmless(document.number),
        str(document.kind),
        harmless(entry.corrects),
        harmless(entry.card),
        harmless(document.buyer.get("name", "")),
        harmless(document.buyer.get("tax_number", "")),
    ]

    def money(minor: int) -> str:
        return str(Money(sign * minor, document.currency))

    whole = [money(document.total_minor), money(document.payable_minor)]
    for at, tax in enumerate(entry.taxes or (_untold(document),)):
        yield [
            *head,
            harmless(tax.category),
            exact(tax.rate),
            money(tax.taxable_minor),
            money(tax.tax_minor),
            money(tax.taxable_minor + tax.tax_minor),
            document.currency,
            *(whole if at == 0 else ["", ""]),
        ]


def _untold(document: Document) -> DocumentTax:
    """One group for a document that was kept without any."""
    return DocumentTax(
        document=document.id,
        category="",
        rate=Decimal(0),
        taxable_minor=document.net_minor,
        tax_minor=document.tax_minor,
    )
