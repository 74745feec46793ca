"""A bike's loom: the pattern for its answers, changed by what was seen on its model and on this bike."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from tracker.records.bike import UNKNOWN, Bike, BikeFeature, LoomFact
from tracker.records.card import Card
from tracker.records.text import fold
from tracker.seedfiles.door import Seeds
from tracker.store.reader import Reader

if TYPE_CHECKING:
    from tracker.records.loom_made import Fact, Loom


def answers_of(reader: Reader, bike: Bike) -> dict[str, str | None]:
    """The bike's answers to the loom's questions; what its own figures say counts unless it was answered."""
    own: dict[str, str | None] = {
        "earth": None if bike.earth == UNKNOWN else str(bike.earth),
        "volts": str(bike.volts) if bike.volts in (6, 12) else None,
        "battery": None if bike.battery_kind == UNKNOWN else bike.battery_kind,
    }
    answered = {
        f.feature: None if f.answer == UNKNOWN else f.answer for f in reader.all(BikeFeature, bike=bike.id)
    }
    return {**own, **answered}


def model_key(bike: Bike) -> str:
    """What bikes of one make and model share."""
    return fold(bike.name)


BUILT = "own"
"""The deed from which on a bike's loom is home-made: it starts empty, and later facts build it."""

PATTERN_AGAIN = "pattern"
"""The deed from which on it is the pattern's again, with all that was seen before."""


def is_own(reader: Reader, bike: Bike) -> bool:
    """Whether the bike has a home-made loom now."""
    return _began(reader.all(LoomFact, bike=bike.id)) is not None


def _began(kept: Sequence[LoomFact]) -> int | None:
    """The place among a bike's facts from which on its loom is home-made; None where it is not."""
    marks = [place for place, one in enumerate(kept) if one.deed in (BUILT, PATTERN_AGAIN)]
    return marks[-1] if marks and kept[marks[-1]].deed == BUILT else None


def loom_of(reader: Reader, seeds: Seeds, bike: Bike | None, *, without: str = "") -> "Loom":
    """The loom of a bike; the general pattern with every variant where no bike is named.

    `without` is the token of a fact that is left out, to see what the loom would be.
    """
    from tracker.loom.pattern import build, home_made
    from tracker.seedfiles.loom import load_pattern

    pattern = load_pattern(seeds)
    if bike is None:
        return build(pattern, {})
    model, own = loom_facts(reader, bike)
    if is_own(reader, bike):
        pattern = home_made(pattern)
    if without:
        model = [one for one in model if one.token != without]
        own = [one for one in own if one.token != without]
    return build(pattern, answers_of(reader, bike), model, own, bike.wheelbase_mm)


def loom_facts(reader: Reader, bike: Bike) -> "tuple[list[Fact], list[Fact]]":
    """What counts of all that was seen on its make and model, and on this bike: of a home-made loom, only
    what was written since it is one."""
    kept = reader.all(LoomFact, bike=bike.id)
    began = _began(kept)
    if began is not None:
        return [], facts_in(reader, kept[began + 1 :], "bike")
    seen = [one for one in kept if one.deed not in (BUILT, PATTERN_AGAIN)]
    model = reader.all(LoomFact, model_of=model_key(bike), bike=None)
    return facts_in(reader, model, "model"), facts_in(reader, seen, "bike")


def facts_in(reader: Reader, kept: Iterable[LoomFact], level: Any) -> list["Fact"]:
    """Kept facts as the loom reads them."""
    from tracker.records.loom_made import Fact

    found = []
    for one in kept:
        card = reader.first(Card, id=one.card) if one.card else None
        raw: dict[str, Any] = dict(one.facts)
        found.append(
            Fact(
                deed=one.deed,  # type: ignore[arg-type]
                what=raw.get("what", "wire"),
                id=str(raw.get("id", "")),
                values=raw.get("values", {}),
                a=str(raw.get("a", "")),
                b=str(raw.get("b", "")),
                mm=raw.get("mm"),
                words=one.words,
                card=card.number if card else "",
                on=one.at.date(),
                token=one.token,
                level=level,
            )
        )
    return found
