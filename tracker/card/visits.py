"""Visits on a card: what is off now, on which visit a repair falls, and what came off more than once."""

from collections.abc import Sequence
from dataclasses import dataclass

from tracker.records.card import Opened
from tracker.records.facts import CardFacts
from tracker.records.stock import PartWanted, WantedState
from tracker.records.visit import Visit
from tracker.records.work import Repair

NEVER = frozenset({WantedState.WRONG, WantedState.DROPPED})


@dataclass(frozen=True, slots=True)
class Again:
    """Something that came off on more than one visit: which, with their numbers, first 1."""

    access: str
    visits: tuple[tuple[int, Visit], ...]

    @property
    def further(self) -> int:
        """How often it was off beyond the first time."""
        return len(self.visits) - 1


def visits(facts: CardFacts) -> tuple[Visit, ...]:
    """The card's visits, the first one first.

    What came off before visits were written down makes one of its own, without an id, before the others.
    """
    written = sorted(facts.visits, key=lambda one: (one.began_at, one.id))
    older = [one for one in _in_order(facts.opened) if one.visit is None]
    if not any(not one.refitted for one in older):
        return tuple(written)
    off = {one.access: not one.refitted for one in older}
    ended = written[0].began_at if written else None if any(off.values()) else older[-1].at
    first = Visit(card=facts.card.id, began_at=older[0].at, ended_at=ended, by=older[0].by)
    return (first, *written)


def open_visit(facts: CardFacts) -> Visit | None:
    """The visit that has not ended; there is one at most."""
    return next((one for one in reversed(visits(facts)) if one.ended_at is None), None)


def visit_now(facts: CardFacts) -> int:
    """The number of the visit that goes on, else of the one that would come next; the first is 1."""
    went = visits(facts)
    return len(went) if went and went[-1].ended_at is None else len(went) + 1


def standing_open(facts: CardFacts) -> frozenset[str]:
    """What is off now: taken off and not put back since."""
    now: dict[str, bool] = {}
    for one in _in_order(facts.opened):
        now[one.access] = not one.refitted
    return frozenset(name for name, is_off in now.items() if is_off)


def off_on(facts: CardFacts, visit: Visit) -> tuple[str, ...]:
    """What came off on a visit, in that order."""
    rows = (one for one in _in_order(facts.opened) if (one.visit or 0) == visit.id and not one.refitted)
    return tuple(dict.fromkeys(one.access for one in rows))


def visit_of(facts: CardFacts, repair: Repair, planned: int = 1) -> int:
    """The number of the visit a repair falls on.

    A done one was done on the visit that had begun last by then. One to do falls on the visit that goes on or
    comes next, or on a later one where it is `planned` for that.
    """
    if repair.done_at is None:
        return max(planned, visit_now(facts))
    begun = sum(1 for one in visits(facts) if one.began_at <= repair.done_at)
    return max(1, begun) if visits(facts) else planned


def came_off_again(facts: CardFacts) -> tuple[Again, ...]:
    """What came off on more than one visit, as it first came off."""
    found: dict[str, list[tuple[int, Visit]]] = {}
    for number, visit in enumerate(visits(facts), 1):
        for name in off_on(facts, visit):
            found.setdefault(name, []).append((number, visit))
    return tuple(Again(name, tuple(rows)) for name, rows in found.items() if len(rows) > 1)


def came_late(facts: CardFacts, repairs: Sequence[int], after: Visit) -> tuple[PartWanted, ...]:
    """Parts of some repairs that were ordered or are still to come, where the bike was closed up before."""
    return tuple(
        one
        for one in sorted(facts.wanted, key=lambda one: one.id)
        if one.repair in repairs
        and one.state not in NEVER
        and after.ended_at is not None
        and (one.state in {WantedState.WANTED, WantedState.ORDERED} or one.ordered_on is not None)
    )


def why_again(facts: CardFacts, visit: Visit, before: Visit) -> str:
    """Why there was a further visit: as a person said it, else the part that came later; empty if unknown."""
    if visit.why:
        return visit.why
    done_on = [
        repair.id
        for repair in facts.repairs
        if repair.done_at is None
        or (repair.done_at >= visit.began_at and (not visit.ended_at or repair.done_at <= visit.ended_at))
    ]
    late = came_late(facts, done_on, before)
    return f"{late[0].words} came later" if late else ""


def _in_order(opened: Sequence[Opened]) -> list[Opened]:
    return sorted(opened, key=lambda one: (one.at, one.id))
