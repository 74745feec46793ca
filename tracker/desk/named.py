"""What is meant by a number: a card's, a document's, an estimate's, or a payment's place on its card."""

from tracker.billing.numbering import which
from tracker.desk.documents import document_named
from tracker.desk.show import card_or_bike
from tracker.errors import NotFoundError
from tracker.records.card import Card
from tracker.records.document import Allocation, Document, Estimate, Payment
from tracker.records.shop import Shop
from tracker.store.reader import Reader

ISSUED = ("deposit", "invoice", "credit note")
"""The series of documents."""


def series_of(reader: Reader, shop: Shop, name: str) -> str:
    """The series a number is of: one of the documents', `estimate`, or nothing for a card or a bike."""
    wanted = name.strip()
    if (document := reader.first(Document, number=wanted)) is not None:
        return document.series
    if reader.first(Estimate, number=wanted) is not None:
        return "estimate"
    meant = which(shop.numbers, wanted)
    return meant[0] if meant is not None and meant[0] in (*ISSUED, "estimate") else ""


def card_meant(reader: Reader, shop: Shop, name: str) -> Card:
    """The card of a number; also by a document or an estimate of it, or the newest of a bike.

    Raises NotFoundError.
    """
    series = series_of(reader, shop, name)
    if series == "estimate":
        return reader.get(Card, estimate_named(reader, shop, name).card)
    if series:
        document = document_named(reader, shop, name)
        if document.card is None:
            raise NotFoundError(f"{document.number} is of no card.")
        return reader.get(Card, document.card)
    return card_or_bike(reader, name)


def estimate_named(reader: Reader, shop: Shop, number: str) -> Estimate:
    """The estimate of a number, typed with or without its noughts; raises NotFoundError."""
    wanted = number.strip()
    found = reader.first(Estimate, number=wanted)
    if found is None and (meant := which(shop.numbers, wanted)) is not None and meant[0] == "estimate":
        year = [one for one in reader.all(Estimate) if which(shop.numbers, one.number) == meant]
        found = year[0] if year else None
    if found is None:
        raise NotFoundError(f"There is no estimate “{number}”.", "loomcard card N names the card's own.")
    return found


def payments_of(reader: Reader, shop: Shop, name: str) -> tuple[Payment, ...]:
    """The payments on a card, or those that settle a document, oldest first."""
    if series_of(reader, shop, name) in ISSUED:
        document = document_named(reader, shop, name)
        ids = tuple({one.payment for one in reader.all(Allocation, document=document.id) if one.payment})
        return reader.all(Payment, id=ids)
    return reader.all(Payment, card=card_meant(reader, shop, name).id)


def payment_named(reader: Reader, shop: Shop, name: str) -> Payment:
    """A payment: the newest of a card or a document, or by its place there (`26-0412/2`).

    Raises NotFoundError.
    """
    place: int | None = None
    try:
        found = payments_of(reader, shop, name)
    except NotFoundError:
        before, sign, typed = name.rpartition("/")
        if not sign or not (typed.strip().isascii() and typed.strip().isdigit()) or len(typed) > 6:
            raise
        found, place, name = payments_of(reader, shop, before), int(typed), before
    if not found:
        raise NotFoundError(f"Nothing was paid on {name.strip()}.")
    if place is not None and not 1 <= place <= len(found):
        raise NotFoundError(f"{len(found)} payments came on {name.strip()}.", f"1 to {len(found)}.")
    return found[(place or len(found)) - 1]


def payment_number(reader: Reader, payment: Payment) -> str:
    """A payment by its card and its place there; nothing for one that is on no card."""
    if payment.card is None:
        return ""
    on_card = [one.id for one in reader.all(Payment, card=payment.card)]
    return f"{reader.get(Card, payment.card).number}/{on_card.index(payment.id) + 1}"
