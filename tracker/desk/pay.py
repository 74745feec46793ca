"""Money that comes: taken down as a fact, set against what is owed, the longest due first."""

from dataclasses import dataclass
from datetime import date
from typing import Annotated, ClassVar

from tracker.card.owing import unpaid
from tracker.desk.ask import Ask
from tracker.desk.documents import document_named
from tracker.desk.people import customer_named
from tracker.desk.turn import Turn
from tracker.errors import NotFoundError
from tracker.records.card import Card
from tracker.records.document import Allocation, Document, DocumentKind, Payment, WriteOff
from tracker.records.money import Money
from tracker.records.problem import Mistakes, Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Pay:
    """Take down money that came, or went back (--back), on a card or a document."""

    verb: ClassVar[str] = "pay"

    on: Annotated[str, Ask("Card or document", "its number", place=1)]
    amount: Annotated[
        Money | None, Ask("Amount", "all that is owed when none is named", least=1, place=2)
    ] = None
    method: Annotated[str, Ask("Method", "cash, card, transfer")] = "cash"
    received: Annotated[date | None, Ask("Received on", "today when nothing is said")] = None
    by: Annotated[str, Ask("Paid by", "a customer's number or name, when it is not the payer")] = ""
    back: Annotated[bool, Ask("Money given back")] = False
    words: Annotated[str, Ask("Words")] = ""

    def work(self, turn: Turn) -> Payment:
        """Keeps the payment; too much is a fact, kept as credit in hand, and said."""
        document, card = self._meant(turn)
        facts = turn.facts(card) if card is not None else None
        owed = [
            (d, minor)
            for d, minor in (unpaid(facts) if facts else ())
            if document is None or d.id == document.id
        ]
        in_all = sum(minor for _, minor in owed)
        currency = turn.shop.currency
        paid = self.amount or Money(in_all, currency)
        if paid.minor <= 0:
            raise Mistakes([Problem("amount", "Nothing is owed there.", "Say the amount that came.")])
        if self.received is not None and self.received > turn.today:
            raise Mistakes(
                [Problem("received", "That day is still to come.", given=self.received.isoformat())]
            )
        customer = document.customer if document else (card.payer or card.customer) if card else None
        if self.by:
            customer = customer_named(turn.unit, self.by).id
        payment = turn.unit.insert(
            Payment(
                customer=customer,
                card=card.id if card else None,
                amount_minor=-paid.minor if self.back else paid.minor,
                currency=currency,
                method=self.method,
                received_on=self.received or turn.today,
                words=self.words,
                by=turn.who,
                at=turn.at,
            )
        )
        if self.back:
            self._give_back(turn, payment, document)
        else:
            self._settle(turn, payment, owed)
        verb = "given back" if self.back else "paid"
        turn.say(
            f"{document.number if document else card.number if card else ''}: {paid} {verb}, {self.method}",
            card,
        )
        return payment

    def _meant(self, turn: Turn) -> tuple[Document | None, Card | None]:
        try:
            document = document_named(turn.unit, turn.shop, self.on)
        except NotFoundError:
            return None, turn.card(self.on)
        return document, turn.unit.get(Card, document.card) if document.card else None

    def _settle(self, turn: Turn, payment: Payment, owed: list[tuple[Document, int]]) -> None:
        rest = payment.amount_minor
        for document, minor in sorted(owed, key=lambda pair: (pair[0].due_on, pair[0].id)):
            part = min(rest, minor)
            if part > 0:
                turn.unit.insert(
                    Allocation(payment=payment.id, document=document.id, amount_minor=part, at=turn.at)
                )
            rest -= part
        if rest > 0:
            what = "more than is owed" if owed else "without a document: it is taken off the invoice"
            turn.note(f"{Money(rest, payment.currency)} came {what}.")

    def _give_back(self, turn: Turn, payment: Payment, document: Document | None) -> None:
        if document is not None:
            sign = 1 if document.kind is DocumentKind.CREDIT_NOTE else -1
            turn.unit.insert(
                Allocation(
                    payment=payment.id,
                    document=document.id,
                    amount_minor=sign * abs(payment.amount_minor),
                    at=turn.at,
                )
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class WriteOffRest:
    """Write off what is no longer asked for; the document itself stays as it is."""

    verb: ClassVar[str] = "write-off"

    document: Annotated[str, Ask("Document", "its number", place=1)]
    reason: Annotated[str, Ask("Reason", lines=True)]
    amount: Annotated[Money | None, Ask("Amount", "the rest when none is named", least=1)] = None

    def work(self, turn: Turn) -> WriteOff:
        """Keeps the write-off, never more than is owed."""
        document = document_named(turn.unit, turn.shop, self.document)
        card = turn.unit.get(Card, document.card) if document.card else None
        owed = {d.id: minor for d, minor in (unpaid(turn.facts(card)) if card else ())}
        rest = owed.get(document.id, 0)
        wanted = self.amount.minor if self.amount else rest
        if not 0 < wanted <= rest:
            raise Mistakes(
                [Problem("amount", f"{Money(rest, document.currency)} is owed on {document.number}.")]
            )
        made = turn.unit.insert(
            WriteOff(document=document.id, amount_minor=wanted, reason=self.reason, by=turn.who, at=turn.at)
        )
        turn.say(f"{document.number}: {Money(wanted, document.currency)} written off", card)
        return made
