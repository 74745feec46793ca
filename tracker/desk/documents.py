"""Issued documents: kept line by line, and read back as the bills they were."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from tracker.billing.checks import problems_before_issue
from tracker.billing.numbering import which
from tracker.desk.turn import Turn, card_named
from tracker.errors import NotFoundError
from tracker.records.billing import Bill, BillLine, IssuedBill, Party, TaxGroup, TaxKey, Totals
from tracker.records.card import Card
from tracker.records.document import Document, DocumentKind, DocumentLine, DocumentTax
from tracker.records.people import Customer
from tracker.records.problem import Mistakes
from tracker.records.shop import Shop
from tracker.store.reader import Reader

if TYPE_CHECKING:
    from tracker.desk.desk import Desk


@dataclass(frozen=True, slots=True, kw_only=True)
class ToIssue:
    """A bill about to take a number."""

    kind: DocumentKind
    bill: Bill
    card: Card | None
    customer: Customer | None
    supply_on: date
    due_on: date | None = None
    corrects: Document | None = None
    small: bool = False
    words: str = ""

    @property
    def buyer(self) -> dict[str, str]:
        """Who it is for: a credit note's is its document's, as it was billed."""
        if self.corrects:
            return dict(self.corrects.buyer)
        kept = buyer_of(self.customer)
        if self.card is not None and self.card.claim:
            kept["your_number"] = self.card.claim
        return kept


def issue(
    turn: Turn, given: ToIssue, repairs: Sequence[int | None] = (), parts: Sequence[int | None] = ()
) -> Document:
    """Checks everything, takes the next number of the series and keeps the document, its lines and taxes.

    `repairs` and `parts` say for each line what it was for. Raises Mistakes with all that speaks against it,
    before any number is taken.
    """
    shop, customer = turn.shop, given.customer
    corrects = issued(turn.unit, given.corrects) if given.corrects else None
    before = [issued(turn.unit, note).bill for note in credit_notes_of(turn.unit, given.corrects)]
    due_on = given.due_on or due_date(turn, customer)
    buyer = given.buyer
    problems = problems_before_issue(
        given.kind,
        given.bill,
        seller=Party(shop.name, shop.address, shop.tax_number),
        buyer=Party(buyer.get("name", ""), buyer.get("address", "")),
        on=turn.today,
        due=due_on,
        last_on=last_date(turn, given.kind),
        registered=shop.taxed,
        small=given.small,
        corrects=corrects,
        credited_before=before,
    )
    if problems:
        raise Mistakes(problems)
    number, year, sequence = turn.next_number(given.kind.value)
    totals = given.bill.totals
    document = turn.unit.insert(
        Document(
            kind=given.kind,
            number=number,
            series=given.kind.value,
            year=year,
            sequence=sequence,
            card=given.card.id if given.card else None,
            customer=customer.id if customer else None,
            issued_on=turn.today,
            supply_on=given.supply_on,
            due_on=due_on,
            currency=totals.currency,
            seller=seller_of(shop),
            buyer=buyer,
            corrects=given.corrects.id if given.corrects else None,
            line_total_minor=totals.line_total,
            allowance_total_minor=totals.allowance_total,
            charge_total_minor=totals.charge_total,
            net_minor=totals.tax_exclusive,
            tax_minor=totals.tax_total,
            total_minor=totals.tax_inclusive,
            prepaid_minor=totals.prepaid,
            rounding_minor=totals.rounding,
            rounding_why=", ".join(part.why.value for part in given.bill.rounding),
            payable_minor=totals.payable,
            words=given.words,
            by=turn.who,
            at=turn.at,
        )
    )
    for position, line in enumerate(given.bill.lines, 1):
        kept = _line(turn, document, position, line)
        turn.unit.insert(
            replace(
                kept,
                net_minor=totals.line_nets[position - 1],
                repair=_at(repairs, position) or kept.repair,
                part=_at(parts, position) or kept.part,
            )
        )
    for group in totals.groups:
        turn.unit.insert(
            DocumentTax(
                document=document.id,
                category=group.key.category,
                rate=group.key.rate,
                taxable_minor=group.taxable,
                tax_minor=group.tax,
                exemption=group.key.exemption,
                reason=group.key.reason,
            )
        )
    return document


def _at(values: Sequence[int | None], position: int) -> int | None:
    return values[position - 1] if position <= len(values) else None


def _line(turn: Turn, document: Document, position: int, line: BillLine) -> DocumentLine:
    """A line with what it sets off or gives back; its net is the totals' business."""
    sets_off = turn.unit.first(Document, number=line.about) if line.about else None
    gives_back = None
    if document.corrects is not None and line.of_line:
        gives_back = turn.unit.first(DocumentLine, document=document.corrects, position=line.of_line)
    return DocumentLine(
        document=document.id,
        position=position,
        kind=line.kind,
        words=line.words,
        qty=line.qty,
        unit=line.unit,
        unit_price=line.unit_price,
        base_qty=line.base_qty,
        net_minor=0,
        tax_category=line.tax.category,
        tax_rate=line.tax.rate,
        exemption=line.tax.exemption,
        repair=gives_back.repair if gives_back else None,
        part=gives_back.part if gives_back else None,
        sets_off=sets_off.id if sets_off else None,
        gives_back=gives_back.id if gives_back else None,
    )


def seller_of(shop: Shop) -> dict[str, str]:
    """The shop as it is on this day."""
    kept = {"name": shop.name, "address": shop.address, "phone": shop.phone, "email": shop.email}
    kept["tax_number"] = shop.tax_number if shop.taxed else ""
    kept["country"] = shop.country
    return kept


def buyer_of(customer: Customer | None) -> dict[str, str]:
    """The customer as they are on this day."""
    if customer is None:
        return {}
    return {
        "name": customer.name,
        "address": customer.address,
        "phone": customer.phone,
        "email": customer.email,
        "tax_number": customer.tax_number,
    }


def last_date(turn: Turn, kind: DocumentKind) -> date | None:
    """The date of the last number of a series, where there is one."""
    last = turn.unit.first(Document, series=kind.value, newest=True)
    return last.issued_on if last else None


def due_date(turn: Turn, customer: Customer | None) -> date:
    """By when it is to be paid: an account by its own terms, everybody else by the shop's."""
    days = customer.terms_days if customer and customer.terms_days else turn.shop.terms_days
    return turn.today + timedelta(days=days)


def issued(reader: Reader, document: Document) -> IssuedBill:
    """A kept document as the bill it was."""
    lines = reader.all(DocumentLine, document=document.id, order="position")
    taxes = reader.all(DocumentTax, document=document.id)
    places = {
        line.id: line.position
        for line in (reader.all(DocumentLine, document=document.corrects) if document.corrects else ())
    }
    numbers = {
        d.id: d.number for d in reader.all(Document, id=tuple({x.sets_off for x in lines if x.sets_off}))
    }
    reasons = {(tax.category, tax.rate): tax.reason for tax in taxes}
    return IssuedBill(
        kind=document.kind,
        number=document.number,
        on=document.issued_on,
        bill=Bill(
            lines=tuple(
                BillLine(
                    words=line.words,
                    qty=line.qty,
                    unit=line.unit,
                    unit_price=line.unit_price,
                    tax=TaxKey(
                        line.tax_category,
                        line.tax_rate,
                        line.exemption,
                        reasons.get((line.tax_category, line.tax_rate), ""),
                    ),
                    kind=line.kind,
                    base_qty=line.base_qty,
                    about=numbers.get(line.sets_off or 0, ""),
                    of_line=places.get(line.gives_back or 0, 0),
                )
                for line in lines
            ),
            allowances=(),
            totals=Totals(
                currency=document.currency,
                line_nets=tuple(line.net_minor for line in lines),
                groups=tuple(
                    TaxGroup(TaxKey(t.category, t.rate, t.exemption, t.reason), t.taxable_minor, t.tax_minor)
                    for t in taxes
                ),
                line_total=document.line_total_minor,
                allowance_total=document.allowance_total_minor,
                charge_total=document.charge_total_minor,
                tax_exclusive=document.net_minor,
                tax_total=document.tax_minor,
                tax_inclusive=document.total_minor,
                prepaid=document.prepaid_minor,
                rounding=document.rounding_minor,
                payable=document.payable_minor,
            ),
        ),
    )


def credit_notes_of(reader: Reader, document: Document | None) -> tuple[Document, ...]:
    """The credit notes that name a document, oldest first."""
    if document is None:
        return ()
    return reader.all(Document, kind=DocumentKind.CREDIT_NOTE, corrects=document.id)


def document_named(reader: Reader, shop: Shop, number: str) -> Document:
    """The document of a number, typed with or without its noughts and capitals; raises NotFoundError."""
    found = reader.first(Document, number=number.strip())
    if found is None and (meant := which(shop.numbers, number)) is not None:
        series, count = meant
        found = reader.first(Document, series=series, year=count.year, sequence=count.sequence)
    if found is None:
        raise NotFoundError(f"There is no document “{number}”.", "loomcard owed lists what is open.")
    return found


@dataclass(frozen=True, slots=True)
class WholeDocument:
    """A document with its lines and tax groups."""

    document: Document
    lines: tuple[DocumentLine, ...]
    taxes: tuple[DocumentTax, ...]


def document_meant(reader: Reader, shop: Shop, name: str) -> Document:
    """The document of a number; of a card's number, its newest invoice, else its newest document.

    Raises NotFoundError where there is none, saying so of the card where it is one.
    """
    try:
        return document_named(reader, shop, name)
    except NotFoundError:
        try:
            card = card_named(reader, name)
        except NotFoundError:
            card = None
        if card is None:
            raise
    made = reader.all(Document, card=card.id, order="id")
    if not made:
        raise NotFoundError(f"Nothing was issued for card {card.number} yet.", "loomcard bill issues it.")
    return next((one for one in reversed(made) if one.kind is DocumentKind.INVOICE), made[-1])


def document_whole(desk: "Desk", number: str) -> WholeDocument:
    """A document whole: by its number, or a card's newest invoice."""
    shop = desk.shop

    def look(reader: Reader) -> WholeDocument:
        found = document_meant(reader, shop, number)
        return WholeDocument(
            found,
            reader.all(DocumentLine, document=found.id, order="position"),
            reader.all(DocumentTax, document=found.id),
        )

    return desk.read(look)
