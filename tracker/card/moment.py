"""A card's facts at one instant, and what an unmet need says of itself: the terms the steps are judged in."""

from dataclasses import dataclass
from datetime import date, datetime

from tracker.card.needs import needs_of
from tracker.card.standing import NextThing, Step, Stop
from tracker.card.work import ending_in_force
from tracker.records.card import Ending, Need
from tracker.records.facts import CardFacts


@dataclass(frozen=True, slots=True)
class Moment:
    """The facts of one card as they are judged `now`, on the shop's date `today`."""

    facts: CardFacts
    now: datetime
    today: date
    needs: frozenset[Need]
    ending: Ending | None

    @classmethod
    def of(cls, facts: CardFacts, now: datetime, today: date) -> "Moment":
        """With the needs and the ending worked out once."""
        return cls(facts, now, today, needs_of(facts), ending_in_force(facts))

    def latest(self, *instants: datetime | None) -> datetime:
        """The last of some instants, not before the card came and not after now."""
        known = [each for each in instants if each is not None]
        return min(max(known, default=self.facts.card.came_at), self.now)


@dataclass(frozen=True, slots=True)
class Unmet:
    """A need that is not met: at which step it holds the card, what to do, what stops it, since when."""

    step: Step
    next: NextThing
    since: datetime
    stops: tuple[Stop, ...] = ()
    also: tuple[NextThing, ...] = ()
