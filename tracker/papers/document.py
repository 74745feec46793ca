"""Deposit, invoice and credit note: what was issued, as it was issued, down to the last cent."""

from collections.abc import Sequence

from tracker.papers.own_words import line_words, note_words
from tracker.papers.paper import (
    Column,
    ColumnKind,
    Pair,
    Pairs,
    Paper,
    Sum,
    Sums,
    Table,
    Words,
    WordsKind,
    some,
)
from tracker.papers.parties import about_pairs, kept_party
from tracker.papers.say import amount, day, money, number, percent, price
from tracker.papers.taxes import is_taxed, rate_words, reasons, several_taxes, tax_sums
from tracker.papers.tongue import mark, t
from tracker.records.bike import Bike
from tracker.records.card import Card
from tracker.records.document import Document, DocumentKind, DocumentLine, DocumentTax

TITLES = {
    DocumentKind.DEPOSIT: mark("Deposit"),
    DocumentKind.INVOICE: mark("Invoice"),
    DocumentKind.CREDIT_NOTE: mark("Credit note"),
}


def document_paper(
    document: Document,
    lines: Sequence[DocumentLine],
    taxes: Sequence[DocumentTax],
    *,
    named: Sequence[Document] = (),
    card: Card | None = None,
    bike: Bike | None = None,
) -> Paper:
    """The paper of an issued document; its figures are those kept, none is worked out anew.

    `lines` and `taxes` are the document's own. `named` are the documents it speaks of: the deposits that its
    lines set off, the one that a credit note corrects; one that is missing is left unnamed.
    """
    own = sorted(lines, key=lambda line: line.position)
    known = {one.id: one for one in named}
    taxed = is_taxed([tax.category for tax in taxes] or [line.tax_category for line in own])
    return Paper(
        t(TITLES[document.kind]),
        document.number,
        (kept_party(mark("From"), document.seller), kept_party(mark("To"), document.buyer)),
        some(
            Pairs((*_dates(document, known), *about_pairs(card, bike)), columns=2),
            _table(document, own, known, taxed=taxed),
            Sums((*_totals(document, taxes, taxed=taxed), *_to_pay(document))),
            Words(tuple(filter(None, note_words(document.words).split("\n"))), WordsKind.LIST),
            Words(_notes(document, own, taxes, known)),
        ),
    )


def _dates(document: Document, known: dict[int, Document]) -> tuple[Pair, ...]:
    pairs = [Pair(t("Issued"), day(document.issued_on)), Pair(t("Supplied"), day(document.supply_on))]
    if document.kind is not DocumentKind.CREDIT_NOTE:
        pairs.append(Pair(t("Due"), day(document.due_on)))
    if yours := document.buyer.get("your_number", ""):
        pairs.append(Pair(t("Your number"), yours))
    if document.corrects is not None and (corrected := known.get(document.corrects)):
        pairs.append(Pair(t("Corrects"), _with_date(corrected)))
    return tuple(pairs)


def _with_date(document: Document) -> str:
    return t("{number} of {day}", number=document.number, day=day(document.issued_on))


def _table(
    document: Document, lines: Sequence[DocumentLine], known: dict[int, Document], *, taxed: bool
) -> Table:
    columns = (
        Column(t("No."), ColumnKind.FIGURES),
        Column(t("Description")),
        Column(t("Quantity"), ColumnKind.FIGURES),
        Column(t("Unit")),
        Column(t("Price"), ColumnKind.FIGURES),
        *((Column(t("Tax"), ColumnKind.FIGURES),) if taxed else ()),
        Column(f"{t('Net') if taxed else t('Amount')} {document.currency}", ColumnKind.FIGURES),
    )
    rows = tuple(
        (
            str(at),
            _description(line, known),
            number(line.qty),
            t(line.unit),
            price(line.unit_price, document.currency, line.base_qty),
            *((rate_words(line.tax_category, percent(line.tax_rate)),) if taxed else ()),
            amount(line.net_minor, document.currency),
        )
        for at, line in enumerate(lines, 1)
    )
    return Table(columns, rows)


def _description(line: DocumentLine, known: dict[int, Document]) -> str:
    words = line_words(line.words)
    deposit = known.get(line.sets_off) if line.sets_off is not None else None
    if deposit is None or deposit.number in line.words:
        return words
    return f"{words}\n  {deposit.number}, {day(deposit.issued_on)}"


def _totals(document: Document, taxes: Sequence[DocumentTax], *, taxed: bool) -> list[Sum]:
    currency = document.currency
    rows = []
    if document.allowance_total_minor or document.charge_total_minor:
        rows.append(Sum(t("Sum of the lines"), money(document.line_total_minor, currency)))
    if document.allowance_total_minor:
        rows.append(Sum(t("Taken off"), money(-document.allowance_total_minor, currency)))
    if document.charge_total_minor:
        rows.append(Sum(t("Added"), money(document.charge_total_minor, currency)))
    if not taxed:
        return [*rows, Sum(t("Total"), money(document.total_minor, currency))]
    return [
        *rows,
        Sum(t("Total without tax"), money(document.net_minor, currency)),
        *tax_sums(taxes, currency),
        *([Sum(t("Tax in all"), money(document.tax_minor, currency))] if several_taxes(taxes) else []),
        Sum(t("Total with tax"), money(document.total_minor, currency)),
    ]


def _to_pay(document: Document) -> list[Sum]:
    currency, payable = document.currency, document.payable_minor
    rows = []
    if document.prepaid_minor:
        rows.append(Sum(t("Paid before"), money(-document.prepaid_minor, currency)))
    if document.rounding_minor:
        whys = ", ".join(t(why) for why in document.rounding_why.split(", ") if why)
        rows.append(
            Sum(
                f"{t('Rounding')} ({whys})" if whys else t("Rounding"),
                money(document.rounding_minor, currency),
            )
        )
    if document.kind is DocumentKind.CREDIT_NOTE:
        return [*rows, Sum(t("Credited to you"), money(payable, currency), strong=True)]
    if payable < 0:
        return [*rows, Sum(t("In your favour"), money(-payable, currency), strong=True)]
    due = t("To pay by {day}", day=day(document.due_on)) if payable else t("To pay")
    return [*rows, Sum(due, money(payable, currency), strong=True)]


def _notes(
    document: Document,
    lines: Sequence[DocumentLine],
    taxes: Sequence[DocumentTax],
    known: dict[int, Document],
) -> tuple[str, ...]:
    notes = []
    if document.kind is DocumentKind.DEPOSIT:
        notes.append(t("This asks for money before the work. The invoice sets it off under this number."))
    for id_ in dict.fromkeys(line.sets_off for line in lines):
        if id_ is not None and (deposit := known.get(id_)):
            whole = money(deposit.total_minor, deposit.currency)
            said = t(
                "Deposit {which}, {whole} in all, is set off in the lines above.",
                which=_with_date(deposit),
                whole=whole,
            )
            notes.append(said)
    return (*notes, *reasons(taxes))
