"""Repairs found again: by words, zone, connector, make and model or bike, over all that was ever done."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tracker.desk.bike_loom import loom_of
from tracker.desk.bikes import bike_named
from tracker.desk.loom_picture import numbered
from tracker.records.bike import Bike, LoomFact
from tracker.records.card import Attachment, Card
from tracker.records.text import fold
from tracker.records.work import Repair
from tracker.seedfiles.door import Seeds
from tracker.store.reader import Reader

if TYPE_CHECKING:
    from tracker.desk.desk import Desk
    from tracker.records.loom_made import Loom


@dataclass(frozen=True, slots=True)
class FoundRepair:
    """A repair that was done: on which card and bike, in which zones by id, at which plugs in words."""

    card: str
    bike: Bike
    repair: Repair
    zones: tuple[str, ...]
    connectors: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is looked for; all that is said must hold, every word of it somewhere."""

    words: str = ""
    zone: str = ""
    connector: str = ""
    model: str = ""
    bike: str = ""
    card: str = ""


def repairs_found(desk: "Desk", wanted: Wanted) -> tuple[FoundRepair, ...]:
    """The repairs that fit, the newest first."""
    seeds = desk.seeds
    return desk.read(lambda reader: _found(reader, seeds, wanted))


def photos_of(desk: "Desk", repair: Repair) -> tuple[str, ...]:
    """The names of the photos kept with a repair, with what they show."""
    kept = desk.read(lambda reader: reader.all(Attachment, repair=repair.id))
    return tuple(f"{one.name}{f' ({one.words})' if one.words else ''}" for one in kept)


def _found(reader: Reader, seeds: Seeds, wanted: Wanted) -> tuple[FoundRepair, ...]:
    one = bike_named(reader, wanted.bike) if wanted.bike else None
    cards = {
        c.id: c for c in (reader.all(Card, bike=one.id) if one else reader.all(Card)) if c.bike is not None
    }
    bikes = {bike.id: bike for bike in (one,) if bike} or {bike.id: bike for bike in reader.all(Bike)}
    done = [r for r in reader.all(Repair, card=tuple(cards)) if r.done_at is not None and not r.dropped]
    looms = _Looms(reader, seeds)
    found = [_placed(looms, cards[r.card], bikes[cards[r.card].bike or 0], r) for r in done]
    fitting = [each for each in found if _fits(looms, each, wanted)]
    fitting.sort(key=lambda each: (each.repair.done_at, each.repair.id), reverse=True)
    return tuple(fitting)


class _Looms:
    """Each bike's loom; a bike of which nothing was seen has the pattern's, built once for them all."""

    def __init__(self, reader: Reader, seeds: Seeds) -> None:
        self._reader, self._seeds = reader, seeds
        self._own = {fact.bike for fact in reader.all(LoomFact) if fact.bike is not None}
        self._known: dict[int | None, Loom] = {}

    def of(self, bike: Bike) -> "Loom":
        """The loom of a bike, as far as places and plugs go."""
        key = bike.id if bike.id in self._own else None
        if key not in self._known:
            self._known[key] = loom_of(self._reader, self._seeds, bike if key is not None else None)
        return self._known[key]


def _placed(looms: _Looms, card: Card, bike: Bike, repair: Repair) -> FoundRepair:
    loom = looms.of(bike)
    at = numbered(0, repair)
    places = [loom.places[name] for name in at.places if name in loom.places]
    bodies = [loom.bodies[name] for name in at.places if name in loom.bodies]
    bodies += [loom.bodies[place.body] for place in places if place.body in loom.bodies]
    zones = [place.zone for place in places] + [body.zone for body in bodies] + ([at.zone] if at.zone else [])
    named = (*(body.words for body in bodies), repair.connector_old, repair.connector_new)
    return FoundRepair(
        card.number,
        bike,
        repair,
        tuple(dict.fromkeys(zones)),
        tuple(dict.fromkeys(name for name in named if name)),
    )


def _fits(looms: _Looms, found: FoundRepair, wanted: Wanted) -> bool:
    repair, known = found.repair, looms.of(found.bike).known.zones
    zones = " ".join(f"{zone} {known[zone].words if zone in known else ''}" for zone in found.zones)
    connectors = " ".join(found.connectors)
    model = f"{found.bike.name} {found.bike.registration}"
    places = (repair.wire_from, repair.wire_to, repair.asked.get("@place", ""))
    spliced = f"splice {repair.splice}" if repair.splice else ""
    said = (
        repair.rule, repair.words, repair.circuit, spliced, repair.terminal, repair.sleeve, repair.colour,
        repair.tracer, found.card, *places,
    )  # fmt: skip
    everything = " ".join((*said, zones, connectors, model))
    asked = (
        (wanted.words, everything),
        (wanted.zone, zones),
        (wanted.connector, f"{connectors} {' '.join(places)}"),
        (wanted.model, model),
        (wanted.card, found.card),
    )
    return all(_holds(words, text) for words, text in asked)


def _holds(words: str, text: str) -> bool:
    inside = fold(text).replace("-", " ")
    return all(word in inside for word in fold(words).replace("-", " ").split())
