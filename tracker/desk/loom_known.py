"""What is known of a bike's loom beyond the pattern: each fact with its level, day, card; what is loose."""

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from tracker.desk.bike_loom import is_own, loom_facts, loom_of
from tracker.desk.bikes import bike_named
from tracker.records.bike import Bike
from tracker.store.reader import Reader

if TYPE_CHECKING:
    from tracker.desk.desk import Desk
    from tracker.records.loom_made import Loom


@dataclass(frozen=True, slots=True)
class KnownFact:
    """A fact in words: whether the model's or this bike's, since when, on which card, by its token.

    `seen` are the words of that day. `fits` is empty where it counts, else why it fits nowhere any more.
    """

    level: str
    words: str
    on: date | None
    card: str
    seen: str
    fits: str
    token: str


@dataclass(frozen=True, slots=True)
class LoomKnown:
    """A bike's facts, oldest first, and what is unfinished about its loom, in sentences."""

    bike: Bike
    own: bool
    facts: tuple[KnownFact, ...]
    unfinished: tuple[str, ...]


def loom_known(desk: "Desk", name: str) -> LoomKnown:
    """All that differs from the pattern on a bike, and what hangs loose by it."""
    from tracker.loom.fact_words import fact_words

    seeds = desk.seeds

    def look(reader: Reader) -> "tuple[Bike, bool, Loom, list[KnownFact]]":
        bike = bike_named(reader, name)
        loom = loom_of(reader, seeds, bike)
        why = {one.fact.token: one.reason for one in loom.unfinished}
        model, own = loom_facts(reader, bike)
        facts = [
            KnownFact(
                level, fact_words(loom, one), one.on, one.card, one.words, why.get(one.token, ""), one.token
            )
            for level, some in (("model", model), ("bike", own))
            for one in some
        ]
        return bike, is_own(reader, bike), loom, facts

    bike, own, loom, facts = desk.read(look)
    return LoomKnown(bike, own, tuple(facts), unfinished_of(loom, changed=bool(facts) or own))


def is_changed(reader: Reader, bike: Bike) -> bool:
    """Whether anything differs from the pattern on this bike."""
    return any(loom_facts(reader, bike)) or is_own(reader, bike)


def unfinished_of(loom: "Loom", *, changed: bool) -> tuple[str, ...]:
    """What hangs loose, stays without a circuit or fits nowhere; the pattern as it is shipped is whole."""
    if not changed:
        return ()
    from tracker.loom.fact_words import fact_words
    from tracker.loom.validate import validate

    nowhere = (f"{fact_words(loom, one.fact)}: {one.reason}" for one in loom.unfinished)
    return (*nowhere, *(problem.sentence for problem in validate(loom)))
