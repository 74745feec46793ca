"""A customer's data out as one, and erased on request while issued documents stay whole."""

from dataclasses import dataclass, replace
from typing import Annotated, ClassVar

from tracker.card.owing import unpaid
from tracker.card.step import standing
from tracker.desk.ask import Ask
from tracker.desk.desk import Desk
from tracker.desk.people import customer_named
from tracker.desk.turn import Turn
from tracker.records.bike import Bike
from tracker.records.card import Attachment, Call, Card, Collection, GoAhead
from tracker.records.document import Document, DocumentLine, DocumentTax, Payment
from tracker.records.facts import CardFacts
from tracker.records.journal import JournalEntry
from tracker.records.people import Customer, Ownership
from tracker.records.problem import Mistakes, Problem
from tracker.records.visit import Way
from tracker.store.forgetting import forget, forget_drafts, forget_in_journal, tidy_finder
from tracker.store.reader import Reader

STAYS = (
    "What was issued keeps the name and address, as the law wants it.",
    "What was done to the bike, and photos of it, stay on its cards.",
    "Backups made before keep what they hold: make a new one, and delete those.",
)


@dataclass(frozen=True, slots=True)
class PersonalData:
    """All that is kept of one customer. `cards` are those they brought, pay for or ride."""

    customer: Customer
    ownerships: tuple[Ownership, ...]
    bikes: tuple[Bike, ...]
    cards: tuple[CardFacts, ...]
    documents: tuple[Document, ...]
    document_lines: tuple[DocumentLine, ...]
    document_taxes: tuple[DocumentTax, ...]
    payments: tuple[Payment, ...]
    photos: tuple[Attachment, ...]
    journal: tuple[JournalEntry, ...]


def personal_data(desk: Desk, name: str) -> PersonalData:
    """All of a customer by number, name or phone; raises NotFoundError, or Mistakes when several fit."""

    def look(reader: Reader) -> PersonalData:
        customer = customer_named(reader, name)
        ownerships = reader.all(Ownership, customer=customer.id)
        cards = tuple(card.id for card in cards_of(reader, customer))
        documents = reader.all(Document, customer=customer.id)
        ids = tuple(document.id for document in documents)
        own = reader.all(JournalEntry, subject_table="customer", subject_id=customer.id)
        journal = {entry.id: entry for entry in (*own, *reader.all(JournalEntry, card=cards))}
        return PersonalData(
            customer=customer,
            ownerships=ownerships,
            bikes=reader.all(Bike, id=tuple({one.bike for one in ownerships})),
            cards=(),
            documents=documents,
            document_lines=reader.all(DocumentLine, document=ids),
            document_taxes=reader.all(DocumentTax, document=ids),
            payments=reader.all(Payment, customer=customer.id),
            photos=reader.all(Attachment, card=cards),
            journal=tuple(journal[key] for key in sorted(journal)),
        )

    found = desk.read(look)
    cards = desk.read(lambda reader: [card.id for card in cards_of(reader, found.customer)])
    return replace(found, cards=desk.many_facts(cards))


def cards_of(reader: Reader, customer: Customer) -> tuple[Card, ...]:
    """The cards that a customer brought, pays for or rides, oldest first."""
    own = customer.id
    all_parts = (
        *reader.all(Card, customer=own), *reader.all(Card, payer=own), *reader.all(Card, rider=own)
    )  # fmt: skip
    found = {card.id: card for card in all_parts}
    return tuple(found[key] for key in sorted(found))


@dataclass(frozen=True, slots=True, kw_only=True)
class EraseCustomer:
    """Erase a customer: name, phone, address, mail, tax number, notes, also from how they were before."""

    verb: ClassVar[str] = "customer erase"

    customer: Annotated[str, Ask("Customer", "number, name or phone", place=1)]

    def work(self, turn: Turn) -> Customer:
        """Refused while a card is open or money is owed; issued documents are not touched."""
        customer = customer_named(turn.unit, self.customer)
        cards = cards_of(turn.unit, customer)
        problems = _still_needed(turn, cards)
        if problems:
            raise Mistakes(problems)
        for tie in turn.unit.all(Ownership, customer=customer.id, until=None):
            turn.unit.change(tie, until=turn.today)
        for card in cards:
            if card.notes:
                turn.unit.change(card, notes="")
        blank = {
            "name": f"erased {customer.id}",
            "phone": "",
            "email": "",
            "address": "",
            "tax_number": "",
            "notes": "",
        }
        made = turn.unit.change(customer, **blank, reminders=False)
        _forget(turn, customer, cards, blank)
        turn.say(f"customer {customer.id} erased on request")
        for words in STAYS:
            turn.note(words)
        return made


def _forget(turn: Turn, customer: Customer, cards: tuple[Card, ...], blank: dict[str, str]) -> None:
    """Takes them out of how things were before, of calls and collections, and of what was never saved."""
    forget(turn.unit, Customer, customer.id, **blank)
    ids = tuple(card.id for card in cards)
    for card in cards:
        forget(turn.unit, Card, card.id, notes="")
    for call in turn.unit.all(Call, card=ids):
        if call.who == customer.name:
            forget(turn.unit, Call, call.id, who=blank["name"])
    for given in turn.unit.all(GoAhead, card=ids):
        if given.who == customer.name:
            forget(turn.unit, GoAhead, given.id, who=blank["name"])
    for gone in turn.unit.all(Collection, card=ids):
        if gone.to_whom == customer.name:
            forget(turn.unit, Collection, gone.id, to_whom=blank["name"])
    for way in turn.unit.all(Way, card=ids):
        if way.chosen_by == customer.name:
            forget(turn.unit, Way, way.id, chosen_by=blank["name"])
    forget_in_journal(turn.unit, customer.name, blank["name"], ids, customer.id)
    forget_drafts(turn.unit, (customer.name, customer.phone, customer.email))
    tidy_finder(turn.unit)


def _still_needed(turn: Turn, cards: tuple[Card, ...]) -> list[Problem]:
    problems = []
    for card in cards:
        facts = turn.facts(card)
        if not standing(facts, turn.at, turn.today).over:
            hint = "Bring it to its end first."
            problems.append(Problem("customer", f"Card {card.number} is still open.", hint))
        problems += [
            Problem("customer", f"{document.number} is not settled yet.", "Settle it or write it off first.")
            for document, _ in unpaid(facts)
        ]
    return problems
