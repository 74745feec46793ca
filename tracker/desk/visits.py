"""Visits: what comes off is written down with who and when, and paid once for each; a second time is seen."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Annotated, ClassVar

from tracker.card.visits import came_off_again, off_on, standing_open, visits, why_again
from tracker.desk.ask import Ask
from tracker.desk.bike_loom import loom_of
from tracker.desk.desk import Desk
from tracker.desk.openings import accesses_of
from tracker.desk.show import card_or_bike
from tracker.desk.turn import Turn, one_card, own_seeds
from tracker.errors import WrongUseError
from tracker.loom.access import zones_open
from tracker.records.card import Card, Opened
from tracker.records.facts import CardFacts
from tracker.records.problem import Mistakes, Problem
from tracker.records.visit import Visit
from tracker.store.reader import Reader


@dataclass(frozen=True, slots=True, kw_only=True)
class BeginVisit:
    """Open the bike: what comes off, and why again where it was off before. More may come off later."""

    verb: ClassVar[str] = "visit begin"

    card: Annotated[str, Ask("Card", place=1)]
    off: Annotated[tuple[str, ...], Ask("Taken off", "seat, tank, headlamp, ...")]
    why: Annotated[str, Ask("Why", "the plug came later")] = ""

    def work(self, turn: Turn) -> Visit:
        """Keeps what came off; a visit that goes on already is gone on with."""
        card = turn.card(self.card)
        if problems := access_problems(turn, self.off):
            raise Mistakes(problems)
        visit = off_and_on(turn, card, self.off, (), self.why)
        assert visit is not None
        number = len(visits(turn.facts(card)))
        turn.say(f"card {card.number}: visit {number}, {', '.join(self.off)} off", card)
        return visit


@dataclass(frozen=True, slots=True, kw_only=True)
class EndVisit:
    """Close the bike up: all that is off is back on, and the visit is over."""

    verb: ClassVar[str] = "visit end"

    card: Annotated[str, Ask("Card", place=1)]
    why: Annotated[str, Ask("Why", "waits for its part")] = ""

    def work(self, turn: Turn) -> Visit:
        """Puts everything back on; raises WrongUseError where nothing is off."""
        card = turn.card(self.card)
        off = standing_open(turn.facts(card))
        if not off:
            raise WrongUseError(f"Nothing is off on card {card.number}.", "loomcard visit begin N --off tank")
        visit = off_and_on(turn, card, (), sorted(off), self.why)
        assert visit is not None
        turn.say(f"card {card.number}: closed up, {', '.join(sorted(off))} back on", card)
        return visit


def access_problems(turn: Turn, names: Sequence[str]) -> list[Problem]:
    """Things to take off that the table of what comes off does not have."""
    if not names:
        return []
    known = accesses_of(turn.seeds)
    return [
        Problem("off", "There is no such thing to take off.", f"One of: {', '.join(known)}.", name)
        for name in names
        if name not in known
    ]


def off_and_on(
    turn: Turn, card: Card, off: Sequence[str], refitted: Sequence[str], why: str = ""
) -> Visit | None:
    """Writes down what came off and what went back on; the visit it was, None where there is none.

    A visit begins with the first thing off, and with anything that comes off again after it was back on; it
    ends when nothing is off any more. What comes off on a further visit is said, with its minutes.
    """
    visit = next(iter(turn.unit.all(Visit, card=card.id, ended_at=None, newest=True)), None)
    for name in off:
        rows = [one for one in turn.unit.all(Opened, card=card.id) if one.access == name]
        if rows and not rows[-1].refitted:
            continue
        if visit is not None and any(one.visit == visit.id for one in rows):
            turn.unit.change(visit, ended_at=turn.at)
            visit = None
        if visit is None:
            visit = turn.unit.insert(Visit(card=card.id, began_at=turn.at, why=why, by=turn.who))
        turn.unit.insert(Opened(card=card.id, access=name, visit=visit.id, by=turn.who, at=turn.at))
    if visit is None:
        for name in refitted:
            turn.unit.insert(Opened(card=card.id, access=name, refitted=True, by=turn.who, at=turn.at))
        return None
    for name in refitted:
        turn.unit.insert(
            Opened(card=card.id, access=name, refitted=True, visit=visit.id, by=turn.who, at=turn.at)
        )
    if why and not visit.why:
        visit = turn.unit.change(visit, why=why)
    facts = turn.facts(card)
    if refitted and not standing_open(facts):
        visit = turn.unit.change(visit, ended_at=turn.at)
    if off:
        _say_again(turn, facts, off)
    return visit


def _say_again(turn: Turn, facts: CardFacts, off: Sequence[str]) -> None:
    known = accesses_of(turn.seeds)
    for again in came_off_again(facts):
        if again.access in off:
            number, _ = again.visits[-1]
            time = {2: "a second time", 3: "a third time"}.get(len(again.visits), f"time {len(again.visits)}")
            access = known.get(again.access)
            words = access.words if access else again.access.replace("-", " ")
            minutes = f": {access.minutes} min more than if it had come off once" if access else ""
            turn.note(f"The {words} comes off {time} on this card (visit {number}){minutes}.")


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitView:
    """One visit, as it is shown: `again` of what came off on it was off before; `zones` stood open."""

    number: int
    began_at: datetime
    ended_at: datetime | None
    by: str
    why: str
    off: tuple[str, ...]
    again: tuple[str, ...]
    zones: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitsView:
    """A card's visits, what is off now, and the minutes spent on things that came off before."""

    card: str
    visits: tuple[VisitView, ...]
    off_now: tuple[str, ...]
    again_min: int


def visits_view(desk: Desk, name: str) -> VisitsView:
    """The visits of a card, by its number or a bike's newest."""
    shop = desk.shop

    def look(reader: Reader) -> VisitsView:
        card = card_or_bike(reader, name)
        facts = one_card(reader, shop, card.id)
        seeds = own_seeds(reader)
        known = accesses_of(seeds)

        def words(names: Sequence[str]) -> tuple[str, ...]:
            return tuple(known[name].words if name in known else name for name in names)

        loom = loom_of(reader, seeds, facts.bike)
        again = came_off_again(facts)
        went = visits(facts)
        rows = []
        for number, visit in enumerate(went, 1):
            off = off_on(facts, visit)
            before = [one.access for one in again if number in [n for n, _ in one.visits[1:]]]
            why = why_again(facts, visit, went[number - 2]) if number > 1 else visit.why
            rows.append(
                VisitView(
                    number=number,
                    began_at=visit.began_at,
                    ended_at=visit.ended_at,
                    by=visit.by,
                    why=why,
                    off=words(off),
                    again=words(before),
                    zones=zones_open(loom, frozenset(off)),
                )
            )
        minutes = sum(known[one.access].minutes * one.further for one in again if one.access in known)
        return VisitsView(
            card=card.number,
            visits=tuple(rows),
            off_now=words(sorted(standing_open(facts))),
            again_min=minutes,
        )

    return desk.read(look)
