"""What came off twice, in words: on the estimate's line, beside the bill, on the invoice."""

from collections.abc import Mapping

from tracker.card.visits import Again, came_late, came_off_again, off_on, open_visit, visits, why_again
from tracker.card.words import date_of
from tracker.card.work import to_do
from tracker.desk.turn import Turn
from tracker.records.facts import CardFacts
from tracker.records.loom_pattern import Access
from tracker.records.visit import Visit
from tracker.seedfiles.door import Seeds
from tracker.seedfiles.loom_tables import read_accesses


def accesses_of(seeds: Seeds) -> Mapping[str, Access]:
    """What comes off, by id, as the shop's table has it."""
    return read_accesses(seeds, [])


def was_off(facts: CardFacts) -> dict[str, str]:
    """Of what came off on the visits before the one that goes on or comes next: when, and why again.

    By access: “off before, on visit 1 (2026-03-02); stator came later”.
    """
    now, went = open_visit(facts), visits(facts)
    before = [one for one in went if one is not now]
    found: dict[str, str] = {}
    for number, visit in enumerate(before, 1):
        for name in off_on(facts, visit):
            found[name] = f"off before, on visit {number} ({date_of(visit.began_at, facts.shop)})"
    why = _why_now(facts, now, before)
    return {name: f"{words}; {why}" if why else words for name, words in found.items()}


def _why_now(facts: CardFacts, now: Visit | None, before: list[Visit]) -> str:
    if not before:
        return ""
    if now is not None:
        return why_again(facts, now, before[-1])
    late = came_late(facts, [repair.id for repair in to_do(facts)], before[-1])
    return f"{late[0].words} came later" if late else ""


def again_notes(turn: Turn, facts: CardFacts) -> tuple[str, ...]:
    """What came off more than once, with the minutes that took beyond the first time."""
    known = accesses_of(turn.seeds)
    return tuple(
        f"The {known[one.access].words} came off {len(one.visits)} times:"
        f" {known[one.access].minutes * one.further} min more than once."
        for one in came_off_again(facts)
        if one.access in known
    )


def again_words(turn: Turn, facts: CardFacts) -> tuple[str, ...]:
    """The same as an invoice says it, with the days and why."""
    known = accesses_of(turn.seeds)
    return tuple(
        f"Taken off {len(one.visits)} times: {_named(one, known)},"
        f" first on {_day(facts, one, 0)}, last on {_day(facts, one, -1)}{_why(facts, one)}."
        for one in _outermost(came_off_again(facts), known)
    )


def _outermost(again: tuple[Again, ...], known: Mapping[str, Access]) -> list[Again]:
    """Without what only had to come off for another of them: the seat that is in the tank's way."""
    needed = {need for one in again if one.access in known for need in known[one.access].needs}
    return [one for one in again if one.access not in needed]


def _named(one: Again, known: Mapping[str, Access]) -> str:
    return known[one.access].words if one.access in known else one.access.replace("-", " ")


def _day(facts: CardFacts, again: Again, place: int) -> str:
    return str(date_of(again.visits[place][1].began_at, facts.shop))


def _why(facts: CardFacts, again: Again) -> str:
    (_, before), (_, last) = again.visits[-2:]
    if last.why:
        return f" ({last.why})"
    why = why_again(facts, last, before)
    return f"; {why}" if why else ""
