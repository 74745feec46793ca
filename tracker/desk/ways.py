"""Ways to mend the same thing: offered with their prices of the day, and one of them chosen."""

from dataclasses import dataclass
from typing import Annotated, ClassVar, NoReturn

from tracker.desk.ask import Ask
from tracker.desk.estimate import MakeEstimate
from tracker.desk.on_card import in_order
from tracker.desk.options import Option, priced_ways, read_options
from tracker.desk.turn import Turn
from tracker.errors import NotFoundError, WrongUseError
from tracker.records.card import Card
from tracker.records.document import Estimate
from tracker.records.facts import CardFacts
from tracker.records.money import Money
from tracker.records.problem import Mistakes, Problem
from tracker.records.text import fold
from tracker.records.visit import Way


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferWays:
    """Offer ways to mend it, priced side by side; the estimate's paper shows them, and one is chosen."""

    verb: ClassVar[str] = "offer"

    card: Annotated[str, Ask("Card", place=1)]
    way: Annotated[tuple[str, ...], Ask("Way", "NAME = REPAIR + REPAIR, as often as there are ways")]

    def work(self, turn: Turn) -> Way:
        """Keeps the ways with their prices; those offered before and not chosen are no longer offered."""
        card = turn.card(self.card)
        try:
            found = priced_ways(turn, card, read_options(self.way))
        except Mistakes as mistakes:
            raise Mistakes(
                Problem("way" if p.field == "option" else p.field, p.sentence, p.hint, p.given)
                for p in mistakes.problems
            ) from mistakes
        for old in turn.unit.all(Way, card=card.id, chosen_on=None, withdrawn=False):
            turn.unit.change(old, withdrawn=True)
        kept = [turn.unit.insert(_way(turn, card, one)) for one in found.options]
        for one in found.options:
            more = f", {one.dearer_by} to what is planned" if found.planned else ""
            turn.note(f"{one.name}: {one.tried.total} {one.tried.total.currency} with tax{more}.")
        for one in found.options:
            for words in one.tried.notes:
                turn.note(words)
        turn.say(f"card {card.number}: {len(kept)} way{'' if len(kept) == 1 else 's'} offered", card)
        return kept[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChooseWay:
    """Take the way that the customer chose: its repairs are planned, and the card is priced with them."""

    verb: ClassVar[str] = "choose"

    card: Annotated[str, Ask("Card", place=1)]
    way: Annotated[str, Ask("Way", "its name", place=2)]
    by: Annotated[str, Ask("Chosen by", "the payer when nobody is named")] = ""

    def work(self, turn: Turn) -> Estimate:
        """Plans the repairs, makes the estimate, and keeps on the way who chose it and when."""
        card = turn.card(self.card)
        facts = turn.facts(card)
        offered = [one for one in in_order(facts.ways) if not one.withdrawn]
        open_ = [one for one in offered if one.chosen_on is None]
        chosen = next((one for one in open_ if fold(one.name) == fold(self.way)), None)
        if chosen is None:
            _none_such(card, facts, self.way)
        payer = facts.payer or facts.customer
        before = frozenset(repair.id for repair in facts.repairs)
        for other in offered:
            if other.chosen_on is not None and other.at == chosen.at:
                _taken_back(turn, facts, other, chosen)
        estimate = MakeEstimate(card=self.card, repair=chosen.repairs).work(turn)
        planned = tuple(one.id for one in turn.facts(card).repairs if one.id not in before)
        turn.unit.change(
            chosen,
            chosen_on=turn.today,
            chosen_by=self.by or (payer.name if payer else turn.who),
            estimate=estimate.id,
            planned=planned,
        )
        if (chosen.currency, chosen.total_minor) != (estimate.currency, estimate.total_minor):
            offered_at, now = (
                Money(chosen.total_minor, chosen.currency),
                Money(estimate.total_minor, estimate.currency),
            )
            turn.notes.insert(
                0, f"It was offered at {offered_at} on {chosen.offered_on}; the estimate comes to {now}."
            )
        for other in open_:
            if other.id != chosen.id:
                turn.note(f"Not chosen: {other.name}, {Money(other.total_minor, other.currency)}.")
        turn.say(f"card {card.number}: chosen “{chosen.name}”, {estimate.number}", card)
        return estimate


def _taken_back(turn: Turn, facts: CardFacts, way: Way, other: Way) -> None:
    """The customer chose another of the same ways: what was planned for the first is dropped."""
    repairs = [one for one in facts.repairs if one.id in way.planned]
    begun = next((one for one in repairs if one.started_at or one.done_at), None)
    if begun is not None:
        raise WrongUseError(
            f"“{way.name}” was chosen, and “{begun.words}” of it is begun already.",
            "Price the other one beside it: loomcard estimate N --repair RULE.",
        )
    for one in repairs:
        turn.unit.change(one, dropped=f"“{other.name}” was chosen instead")
    turn.unit.change(way, chosen_on=None, chosen_by="", estimate=None, planned=())
    turn.note(f"No longer chosen: {way.name}. Its repairs are dropped.")


def _none_such(card: Card, facts: CardFacts, name: str) -> NoReturn:
    taken = next((one for one in facts.ways if one.chosen_on and fold(one.name) == fold(name)), None)
    if taken is not None:
        raise WrongUseError(
            f"“{taken.name}” was chosen on {taken.chosen_on}.", "Choosing another of them takes it back."
        )
    names = ", ".join(f"“{one.name}”" for one in in_order(facts.ways) if not one.withdrawn)
    if not names:
        raise NotFoundError(
            f"Card {card.number} offers no ways.", 'loomcard offer N --way "NAME = REPAIR; REPAIR"'
        )
    raise Mistakes([Problem("way", "No way of that name is offered.", f"One of: {names}.", name)])


def _way(turn: Turn, card: Card, one: Option) -> Way:
    result, tried = one.tried.worked.result, one.tried
    planned = len(result.repairs) - len(one.repairs)
    return Way(
        card=card.id,
        name=one.name,
        repairs=one.repairs,
        words=tuple(repair.time.words for repair in result.repairs[planned:]),
        currency=tried.total.currency,
        expected_min=result.minutes.expected,
        low_min=result.band.low,
        high_min=result.band.high,
        total_minor=tried.total.minor,
        high_total_minor=tried.high.minor,
        more_minor=one.more.minor,
        offered_on=turn.today,
        by=turn.who,
        at=turn.at,
    )
