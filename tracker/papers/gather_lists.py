"""Gathers what goes out as lists: dates for a calendar, and the sales day-book."""

from tracker.card.step import standing
from tracker.desk.desk import Desk
from tracker.desk.periods import Period
from tracker.desk.reading import Reader
from tracker.papers.calendar import Appointment, promise_appointment, recheck_appointment
from tracker.papers.day_book import Entry
from tracker.records.bike import Bike
from tracker.records.card import Card
from tracker.records.document import Document, DocumentTax
from tracker.records.people import Customer
from tracker.records.recheck import Recheck


def appointments(desk: Desk) -> tuple[tuple[Appointment, ...], tuple[Appointment, ...]]:
    """Rechecks and promised days: those that stand, and those that no longer do."""

    def look(
        reader: Reader,
    ) -> tuple[list[Recheck], list[Card], dict[int, Card], dict[int, Bike], dict[int, Customer]]:
        rechecks = list(reader.all(Recheck))
        promised = [card for card in reader.all(Card) if card.promised_on is not None]
        cards = {card.id: card for card in reader.all(Card, id=tuple({r.card for r in rechecks}))}
        cards |= {card.id: card for card in promised}
        bikes = {
            bike.id: bike for bike in reader.all(Bike, id=tuple({c.bike for c in cards.values() if c.bike}))
        }
        people = tuple({c.customer for c in cards.values() if c.customer})
        return rechecks, promised, cards, bikes, {c.id: c for c in reader.all(Customer, id=people)}

    rechecks, promised, cards, bikes, people = desk.read(look)
    found = [
        recheck_appointment(
            recheck,
            bike=bikes[recheck.bike],
            customer=people.get(cards[recheck.card].customer or 0),
            card=cards[recheck.card],
        )
        for recheck in rechecks
        if recheck.bike in bikes
    ]
    facts = desk.many_facts([card.id for card in promised])
    now = desk.clock.now()
    for one in facts:
        gone = bool(one.collections) or standing(one, now, desk.today).over
        made = promise_appointment(one.card, bike=one.bike, over=gone)
        if made is not None:
            found.append(made)
    return tuple(a for a in found if not a.cancelled), tuple(a for a in found if a.cancelled)


def sales(desk: Desk, period: Period | None = None) -> tuple[Entry, ...]:
    """What goes into the sales day-book: the documents issued in a period, all where none is named."""
    when = period or Period()

    def look(reader: Reader) -> tuple[Entry, ...]:
        every = reader.all(Document)
        documents = [document for document in every if when.holds(document.issued_on)]
        taxes: dict[int, list[DocumentTax]] = {}
        for tax in reader.all(DocumentTax):
            taxes.setdefault(tax.document, []).append(tax)
        numbers = {document.id: document.number for document in every}
        cards = {card.id: card.number for card in reader.all(Card)}
        return tuple(
            Entry(
                document=document,
                taxes=tuple(taxes.get(document.id, ())),
                card=cards.get(document.card or 0, ""),
                corrects=numbers.get(document.corrects or 0, ""),
            )
            for document in documents
        )

    return desk.read(look)
