"""A loom, stator or box sent in without its bike: nothing comes off to reach it; a bench proves it."""

from tracker.records.card import CardKind
from tracker.records.estimating import Where
from tracker.records.facts import CardFacts

NOWHERE = Where()
"""It lies on the bench already."""

ON_THE_BENCH = ("winding_ohms", "insulation_ohms", "continuity_ohms", "diode_forward", "pull")
"""Kinds of reading that need no battery, no engine and no load: the meter's own current is enough."""


def is_loose(facts: CardFacts) -> bool:
    """Whether a card is for a unit without a bike."""
    return facts.card.kind is CardKind.UNIT and facts.bike is None


def proved_loose(proves: tuple[str, ...]) -> tuple[str, ...]:
    """The readings that a repair wants after it, as far as a bench has them; continuity where it has none."""
    kept = tuple(kind for kind in proves if kind in ON_THE_BENCH)
    return kept or (("continuity_ohms",) if proves else ())
