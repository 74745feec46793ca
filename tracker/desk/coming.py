"""A bike that a card was written for before it came: waiting for it, and taking it in."""

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any, ClassVar

from tracker.desk.ask import Ask, Minutes
from tracker.desk.bikes import last_odometer
from tracker.desk.turn import Turn
from tracker.errors import WrongUseError
from tracker.records.bike import Bike
from tracker.records.card import Card, GoAhead, GoAheadFor
from tracker.records.money import Money
from tracker.records.problem import Mistakes, Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class BikeCame:
    """The bike that a card was waiting for is here: from now on it is looked at."""

    verb: ClassVar[str] = "came"

    card: Annotated[str, Ask("Card", place=1)]
    odometer: Annotated[int | None, Ask("Odometer", most=2_000_000, place=2)] = None
    came_how: Annotated[str, Ask("Came how", "ridden, pushed, van, post")] = ""
    marks: Annotated[str, Ask("Marks", "scratches, dents, what is missing", lines=True)] = ""
    keys: Annotated[str, Ask("Keys", "how many, which tag")] = ""
    stands: Annotated[str, Ask("Stands", "where it is now")] = ""
    road_test: Annotated[bool | None, Ask("Leave to road-test", "yes or no")] = None
    promised: Annotated[date | None, Ask("Promised for", "2026-12-03, 3 dec, fri, +7")] = None
    look_limit: Annotated[Minutes | None, Ask("Leave to look up to", "1.5 h, 90")] = None
    look_amount: Annotated[Money | None, Ask("Leave to look up to", "an amount with tax")] = None

    def work(self, turn: Turn) -> Card:
        """Takes the card from In to Look."""
        card = turn.card(self.card)
        if card.comes_on is None:
            raise WrongUseError(
                f"Card {card.number} waits for no bike: it came on {turn.clock.date_of(card.came_at)}.",
                "loomcard card change N changes what was written wrong.",
            )
        if self.promised is not None and self.promised < turn.today:
            raise Mistakes([Problem("promised", "That day is past.", given=self.promised.isoformat())])
        told = {name: getattr(self, name) for name in ("came_how", "marks", "keys", "stands")}
        came = take_in(
            turn,
            card,
            odometer=self.odometer,
            road_test=self.road_test,
            promised_on=self.promised,
            **{name: words for name, words in told.items() if words},
        )
        leave_to_look(turn, came, self.look_limit, self.look_amount)
        turn.say(f"card {card.number}: it came", came)
        return came


def take_in(turn: Turn, card: Card, **told: Any) -> Card:
    """A card whose bike was to come, now that it is here; what is not told stays as it was written."""
    given = {name: value for name, value in told.items() if value is not None}
    if card.bike is not None:
        odometer_note(turn, turn.unit.get(Bike, card.bike), given.get("odometer"))
    return turn.unit.change(card, comes_on=None, came_at=turn.at, **given)


def odometer_note(turn: Turn, bike: Bike, odometer: int | None) -> None:
    """Says where an odometer went back; it is kept as written."""
    last = last_odometer(turn.unit, bike)
    if last is not None and odometer is not None and odometer < last:
        turn.note(f"The odometer was at {last:,} last time; {odometer:,} is less. Kept as written.")


def leave_to_look(turn: Turn, card: Card, minutes: int | None, amount: Money | None) -> None:
    """Keeps leave to look that was given at the counter; none where no limit was named."""
    if minutes is None and amount is None:
        return
    customer = turn.facts(card).customer
    turn.unit.insert(
        GoAhead(
            card=card.id,
            what=GoAheadFor.LOOK,
            who=customer.name if customer else turn.who,
            how="at book in",
            limit_minor=amount.minor if amount else None,
            limit_min=minutes,
            by=turn.who,
            at=turn.at,
        )
    )


def waiting_for(turn: Turn, bike: Bike) -> Card | None:
    """The card that waits for this bike to come, the one expected first."""
    waiting = [card for card in turn.unit.all(Card, bike=bike.id) if card.comes_on is not None]
    return min(waiting, key=lambda card: (card.comes_on or date.max, card.id), default=None)
