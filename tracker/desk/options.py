"""Ways to mend the same thing, priced side by side for the customer to choose."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from tracker.card.visits import visit_now
from tracker.card.work import planned
from tracker.desk.bike_loom import loom_of
from tracker.desk.desk import Desk
from tracker.desk.estimate import free_now, had_already, looked_minutes
from tracker.desk.openings import was_off
from tracker.desk.planning import asked_of, tried_repairs
from tracker.desk.show import card_or_bike
from tracker.desk.trying import Tried, priced_up
from tracker.desk.turn import Turn
from tracker.desk.working_out import work_out
from tracker.errors import NotFoundError
from tracker.records.card import Card
from tracker.records.estimating import Asked, Travel
from tracker.records.facts import CardFacts
from tracker.records.money import Money
from tracker.records.problem import Mistakes, Problem
from tracker.records.text import fold

if TYPE_CHECKING:
    from tracker.records.loom_made import Loom

MOST = 6
"""Ways set side by side."""


@dataclass(frozen=True, slots=True)
class Option:
    """One way: its name, the repairs as they were asked, what the whole card would come to with it.

    `more` is what it adds to the card as planned so far; the whole where nothing is planned.
    """

    name: str
    repairs: tuple[str, ...]
    tried: Tried
    more: Money

    @property
    def dearer_by(self) -> str:
        """The amount with its sign."""
        return f"{'+' if self.more.minor >= 0 else ''}{self.more}"


@dataclass(frozen=True, slots=True)
class Options:
    """The ways beside each other, on a card with what is planned on it, or on none of it."""

    card: Card
    planned: Tried | None
    options: tuple[Option, ...]


def read_option(text: str) -> tuple[str, tuple[str, ...]] | Problem:
    """A name and its repairs: “new connector = connector:ways=3; splice-butt:joints=2”, or with + between.

    >>> read_option("splice it = splice-butt:joints=2; earth")
    ('splice it', ('splice-butt:joints=2', 'earth'))
    """
    name, sign, rest = text.partition(" = ")
    repairs = tuple(part.strip() for part in re.split(r";|\s\+\s", rest) if part.strip())
    if not sign or not name.strip() or not repairs:
        return Problem(
            "option", "Write it as NAME = REPAIR; REPAIR.", "splice it = splice-butt:joints=2", text[:60]
        )
    return name.strip(), repairs


def price_options(desk: Desk, name: str, texts: Sequence[str]) -> Options:
    """Prices each way on a card (by its number, or a bike's newest); nothing is kept.

    What is planned on the card already is in each of them, so that what comes off for both is paid once.
    Raises Mistakes with every mistake in all of them.
    """
    ways = read_options(texts)
    return desk.look(lambda turn: priced_ways(turn, card_or_bike(turn.unit, name), ways))


def read_options(texts: Sequence[str]) -> list[tuple[str, tuple[str, ...]]]:
    """Names and repairs of some ways; raises Mistakes with every mistake in them."""
    problems: list[Problem] = []
    read = [read_option(text) for text in texts]
    problems += [one for one in read if isinstance(one, Problem)]
    ways = [one for one in read if not isinstance(one, Problem)]
    if not 1 <= len(texts) <= MOST:
        problems.append(Problem("option", f"One to {MOST} ways are set side by side.", given=str(len(texts))))
    if len({fold(way) for way, _ in ways}) < len(ways):
        problems.append(Problem("option", "Two ways have the same name."))
    if problems:
        raise Mistakes(problems)
    return ways


def priced_ways(turn: Turn, card: Card, ways: Sequence[tuple[str, tuple[str, ...]]]) -> Options:
    """Some ways priced on a card with all that is planned on it; raises every mistake in all of them."""
    facts = turn.facts(card)
    if facts.bike is None:
        raise NotFoundError(f"Card {card.number} has no bike to price on.")
    problems: list[Problem] = []
    loom = loom_of(turn.unit, turn.seeds, facts.bike)
    bike, answers = facts.bike, {one: value for one, value in loom.features.items() if value}

    def whole(repairs: Sequence[Asked]) -> Tried:
        turn.notes.clear()
        worked = work_out(
            turn,
            loom,
            repairs,
            travel=Travel(call_out=card.call_out, distance=Decimal(str(card.distance or 0))),
            looked_min=looked_minutes(facts, turn),
            already_off=free_now(facts),
            visit_now=visit_now(facts),
            was_off=was_off(facts),
            had=had_already(facts),
            model=bike.name,
        )
        return priced_up(turn, bike, worked, answers)

    base = asked_of(turn, facts, loom) if planned(facts) else ()
    asked = [_asked(turn, way, loom, facts, problems) for way in ways]
    if problems:
        raise Mistakes(problems)
    before = whole(base) if base else None
    found = []
    for (way, repairs), own in zip(ways, asked, strict=True):
        tried = whole((*base, *own))
        found.append(Option(way, repairs, tried, tried.total - before.total if before else tried.total))
    turn.notes.clear()
    return Options(card, before, tuple(found))


def _asked(
    turn: Turn, way: tuple[str, tuple[str, ...]], loom: "Loom", facts: CardFacts, problems: list[Problem]
) -> tuple[Asked, ...]:
    """A way's repairs as they would be planned, for the findings that wait; on the visit that is next."""
    name, repairs = way
    first = max((one.id for one in facts.repairs), default=0) + 1
    try:
        asked = tried_repairs(turn, repairs, loom, first, facts)
    except Mistakes as mistakes:
        problems += [Problem(f"{name}: {p.field}", p.sentence, p.hint, p.given) for p in mistakes.problems]
        return ()
    return tuple(replace(one, visit=max(one.visit, visit_now(facts))) for one in asked)
