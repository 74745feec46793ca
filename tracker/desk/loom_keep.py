"""How a change of a loom is kept: as facts, once it is known what they would break."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated

from tracker.desk.ask import Ask
from tracker.desk.bike_loom import is_own, loom_of, model_key
from tracker.desk.bikes import bike_named
from tracker.desk.turn import Turn
from tracker.records.bike import Bike, LoomFact
from tracker.records.problem import Mistakes, Problem

if TYPE_CHECKING:
    from tracker.records.loom_made import Fact, Loom

MOST_SAID = 4
"""Consequences told before the rest is only counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OnLoom:
    """What every change of a loom asks."""

    bike: Annotated[str, Ask("Bike", "its number, registration or frame number", place=1)]

    def bike_here(self, turn: Turn) -> Bike:
        """The bike that is meant."""
        return bike_named(turn.unit, self.bike)


@dataclass(frozen=True, slots=True, kw_only=True)
class OnPart(OnLoom):
    """A change of one part."""

    part: Annotated[str, Ask("Part", "any of its names; a wire also by its places, A > B", place=2)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """How a change is kept: seen on which card, of this bike or of all its model, whole or unfinished."""

    card: str
    model: bool
    words: str
    unfinished: bool


def keep(turn: Turn, bike: Bike, loom: "Loom", *facts: "Fact", seen: Seen) -> LoomFact:
    """Keeps what was said as one deed, once what it would break is known: refused in words, or kept as
    unfinished and said. Returns the last fact.
    """
    from tracker.loom.fact_words import fact_words
    from tracker.loom.pattern import apply_all
    from tracker.loom.plain import fact_to_row
    from tracker.loom.validate import consequences

    fact = facts[-1]
    after = apply_all(loom, facts)
    if refused := after.unfinished[len(loom.unfinished) :]:
        raise Mistakes(
            [Problem("part", refused[0].reason, "loomcard where --list names every part.", fact.id)]
        )
    own = is_own(turn.unit, bike)
    found = [one.sentence for one in consequences(loom, *facts)]
    said = in_short(found)
    if found and not (seen.unfinished or own):
        hint = "Put it right first, or keep it as unfinished."
        raise Mistakes([Problem("unfinished", f"By this: {said}.", hint)])
    if found:
        turn.note(f"Unfinished: {said}.")
    kept = [insert(turn, bike, *fact_to_row(one), seen) for one in facts]
    said = fact_words(after if fact.deed == "add" else loom, fact)
    whose = f"all {bike.name}" if seen.model else f"bike {bike.name}"
    along = f", with {len(facts) - 1} of its wires" if len(facts) > 1 else ""
    turn.say(f"{whose}: {said}{along}")
    return kept[-1]


def in_short(sentences: list[str]) -> str:
    """The first few in one line, the rest counted."""
    told = "; ".join(sentence.rstrip(".") for sentence in sentences[:MOST_SAID])
    return told + (f"; and {len(sentences) - MOST_SAID} more" if len(sentences) > MOST_SAID else "")


def bike_and_loom(turn: Turn, name: str) -> "tuple[Bike, Loom]":
    """The bike that is meant, and its loom as it is now."""
    bike = bike_named(turn.unit, name)
    return bike, loom_of(turn.unit, turn.seeds, bike)


def seen_by(deed: object) -> Seen:
    """How a deed wants its change kept; what it does not ask is as usual."""
    return Seen(
        card=getattr(deed, "card", ""),
        model=getattr(deed, "model", False),
        words=getattr(deed, "words", ""),
        unfinished=getattr(deed, "unfinished", False),
    )


def insert(turn: Turn, bike: Bike, deed: str, facts: Mapping[str, object], seen: Seen) -> LoomFact:
    """Keeps one fact, of this bike or of all its model, with the card it was seen on."""
    return turn.unit.insert(
        LoomFact(
            bike=None if seen.model else bike.id,
            model_of=model_key(bike) if seen.model else "",
            card=turn.card(seen.card).id if seen.card else None,
            deed=deed,
            facts=dict(facts),
            words=seen.words,
            who=turn.who,
            at=turn.at,
        )
    )
