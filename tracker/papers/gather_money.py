"""Gathers from the desk what the papers about money need: estimate, documents, receipt, statement."""

from collections.abc import Callable
from functools import partial

from tracker.card.allowed import agreed_limit
from tracker.desk.desk import Desk
from tracker.desk.documents import document_meant
from tracker.desk.ledger import ledger, owed_after
from tracker.desk.named import card_meant, estimate_named, payment_named, payment_number, series_of
from tracker.desk.people import customer_named
from tracker.desk.reading import Reader
from tracker.errors import NotFoundError
from tracker.papers.document import document_paper
from tracker.papers.estimate import estimate_paper
from tracker.papers.paper import Paper
from tracker.papers.receipt import receipt_paper
from tracker.papers.statement import statement_paper
from tracker.papers.ways import ways_paper, ways_shown
from tracker.records.bike import Bike
from tracker.records.card import Card, GoAheadFor
from tracker.records.document import Allocation, Document, DocumentLine, DocumentTax, Estimate, EstimateLine
from tracker.records.facts import CardFacts
from tracker.records.money import Money
from tracker.records.people import Customer


def facts_meant(desk: Desk, name: str) -> CardFacts:
    """What is written on the card of a number: its own, a document's, an estimate's, or a bike's newest."""
    shop = desk.shop
    return desk.facts(desk.read(lambda reader: card_meant(reader, shop, name)).id)


def estimate_of(desk: Desk, name: str) -> Paper:
    """The estimate of a number, or the newest of a card."""
    shop = desk.shop
    facts = facts_meant(desk, name)

    def look(reader: Reader) -> tuple[Estimate, tuple[EstimateLine, ...]]:
        if series_of(reader, shop, name) == "estimate":
            made = estimate_named(reader, shop, name)
        elif facts.estimates:
            made = max(facts.estimates, key=lambda one: one.revision)
        else:
            hint = "loomcard estimate N --repair RULE makes one."
            raise NotFoundError(f"Card {facts.card.number} has no estimate.", hint)
        return made, reader.all(EstimateLine, estimate=made.id, order="position")

    made, lines = desk.read(look)
    return estimate_paper(
        made,
        lines,
        shop=facts.shop,
        card=facts.card,
        bike=facts.bike,
        customer=facts.payer or facts.customer,
        findings=facts.findings,
        wanted=facts.wanted,
        limit=_agreed(facts, made.currency),
        ways=ways_shown(facts.ways),
    )


def ways_of(desk: Desk, name: str) -> Paper:
    """The ways that a card offers to choose from."""
    facts = facts_meant(desk, name)
    ways = ways_shown(facts.ways)
    if not ways:
        raise NotFoundError(
            f"Card {facts.card.number} offers no ways.", 'loomcard offer N --way "NAME = REPAIR"'
        )
    return ways_paper(
        ways,
        shop=facts.shop,
        card=facts.card,
        bike=facts.bike,
        customer=facts.payer or facts.customer,
        findings=facts.findings,
    )


def _agreed(facts: CardFacts, currency: str) -> Money | None:
    limit = agreed_limit(facts)
    if limit is None or limit.go_ahead.what is not GoAheadFor.WORK or limit.go_ahead.limit_minor is None:
        return None
    return Money(limit.go_ahead.limit_minor, currency)


def document_of(desk: Desk, name: str) -> Paper:
    """A deposit, an invoice or a credit note by its number; by a card's number, its newest invoice."""
    shop = desk.shop

    def look(reader: Reader) -> Callable[[], Paper]:
        document = document_meant(reader, shop, name)
        lines = reader.all(DocumentLine, document=document.id, order="position")
        spoken = {line.sets_off for line in lines if line.sets_off} | (
            {document.corrects} if document.corrects else set()
        )
        card = reader.get(Card, document.card) if document.card else None
        return partial(
            document_paper,
            document,
            lines,
            reader.all(DocumentTax, document=document.id),
            named=reader.all(Document, id=tuple(spoken)),
            card=card,
            bike=reader.get(Bike, card.bike) if card and card.bike else None,
        )

    return desk.read(look)()  # the store's thread reads, this one speaks


def receipt_of(desk: Desk, name: str) -> Paper:
    """The receipt of the newest payment on a card or a document, or of the one at a place there."""
    shop = desk.shop

    def look(reader: Reader) -> Callable[[], Paper]:
        payment = payment_named(reader, shop, name)
        own = reader.all(Allocation, payment=payment.id)
        documents = reader.all(Document, id=tuple({one.document for one in own}))
        return partial(
            receipt_paper,
            payment,
            own,
            documents,
            shop=shop,
            customer=reader.get(Customer, payment.customer) if payment.customer else None,
            number=payment_number(reader, payment),
            owed=owed_after(reader, payment, documents),
        )

    return desk.read(look)()


def statement_of(desk: Desk, name: str) -> Paper:
    """What a customer owes today, by number, name or phone."""
    customer = desk.read(lambda reader: customer_named(reader, name))
    stands, issued = ledger(desk, customer)
    return statement_paper(
        stands,
        on=desk.today,
        shop=desk.shop,
        customer=customer,
        issued={document.number: document.issued_on for document in issued},
    )
