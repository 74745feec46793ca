"""The head of a card is changed: what was written wrong, or came to be known later."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any, ClassVar

from tracker.desk.ask import Ask
from tracker.desk.bikes import bike_named
from tracker.desk.people import customer_named
from tracker.desk.turn import Turn
from tracker.records.card import Card
from tracker.records.money import Money
from tracker.records.problem import Mistakes, Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeCard:
    """Change the head of a card: what was written wrong, or is only known now; what is not named stays."""

    verb: ClassVar[str] = "card change"

    card: Annotated[str, Ask("Card", place=1)]
    complaint: Annotated[str | None, Ask("Complaint", "in the customer's words", lines=True)] = None
    bike: Annotated[str, Ask("Bike", "number, registration or frame number of a known one")] = ""
    customer: Annotated[str, Ask("Customer", "number, name or phone")] = ""
    payer: Annotated[str, Ask("Who pays", "when that is another")] = ""
    rider: Annotated[str, Ask("Who rides", "when that is another")] = ""
    claim: Annotated[str | None, Ask("Payer's number", "an order or claim number, for the invoice")] = None
    excess: Annotated[Money | None, Ask("Excess", "what the customer pays beside an insurer")] = None
    odometer: Annotated[int | None, Ask("Odometer", most=2_000_000)] = None
    comes: Annotated[date | None, Ask("Comes on", "of a bike still to come")] = None
    promised: Annotated[date | None, Ask("Promised for", "2026-12-03, 3 dec, fri, +7")] = None
    came_how: Annotated[str | None, Ask("Came how", "ridden, pushed, van, post")] = None
    marks: Annotated[str | None, Ask("Marks", "scratches, dents, what is missing", lines=True)] = None
    keys: Annotated[str | None, Ask("Keys", "how many, which tag")] = None
    stands: Annotated[str | None, Ask("Stands", "where it is now")] = None
    road_test: Annotated[bool | None, Ask("Leave to road-test", "yes or no")] = None
    call_out: Annotated[bool | None, Ask("Call-out", "yes or no")] = None
    distance: Annotated[Decimal | None, Ask("Distance", "one way", least=0, most=5000)] = None
    charged: Annotated[bool | None, Ask("Charged", "a comeback may be free")] = None
    notes: Annotated[str | None, Ask("Notes", lines=True)] = None

    def work(self, turn: Turn) -> Card:
        """Changes what is named; what was issued stays as it was issued."""
        card = turn.card(self.card)
        if self.comes is not None and card.comes_on is None:
            given = self.comes.isoformat()
            raise Mistakes([Problem("comes", f"Card {card.number} waits for no bike.", given=given)])
        people = {"customer": self.customer, "payer": self.payer, "rider": self.rider}
        changes: dict[str, Any] = {
            name: customer_named(turn.unit, typed).id for name, typed in people.items() if typed
        }
        if self.bike:
            changes["bike"] = bike_named(turn.unit, self.bike).id
        same = ("complaint", "claim", "odometer", "came_how", "marks", "keys", "stands", "road_test")
        told = {name: getattr(self, name) for name in (*same, "call_out", "notes")}
        told |= {"promised_on": self.promised, "comes_on": self.comes, "comeback_charged": self.charged}
        told["distance"] = None if self.distance is None else float(self.distance)
        told["excess_minor"] = None if self.excess is None else self.excess.minor
        changes |= {name: value for name, value in told.items() if value is not None}
        changed = turn.unit.change(card, **changes)
        if turn.facts(card).documents and {"customer", "payer", "claim"} & changes.keys():
            turn.note("What was issued already stays as it was issued.")
        names = ", ".join(name.replace("_", " ").removesuffix(" minor") for name in changes) or "nothing"
        turn.say(f"card {card.number}: {names} changed", changed)
        return changed
