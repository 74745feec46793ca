"""Walking the loom: from place to place along a circuit, from circuit to circuit at a place, what is there.

Made once for a loom; each step is a look-up, so that a screen follows the arrow keys without delay.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from tracker.loom.lighting import NOTHING, Lit, light_load
from tracker.loom.shares import Sharing, sharing
from tracker.loom.sketch import NumberedRepair, spot_of, spot_of_repair
from tracker.loom.where import Whereabouts, where
from tracker.records.loom_made import Loom


@dataclass(frozen=True, slots=True)
class Walk:
    """A loom to walk: `shared` has each load's main circuit, `through` loads by place; `loose` are the places
    that no circuit passes, front to rear.
    """

    loom: Loom
    shared: Sharing
    through: Mapping[str, tuple[str, ...]]
    loose: tuple[str, ...] = ()

    @property
    def loads(self) -> tuple[str, ...]:
        """Every load that has a circuit, in the loom's order."""
        return tuple(self.shared.uses)


@dataclass(frozen=True, slots=True)
class Here:
    """Where the cursor is: at a place of a load's circuit, or of none. Both are empty on an empty loom."""

    load: str
    place: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceCard:
    """All about the place under the cursor.

    `place` is the spot itself with its wires, `body` what it sits in (how it is plugged, symptoms, what to
    check first), `load` the load whose circuit is walked (how its current returns, what shares its fuse, plug
    and earth).
    `through` are the loads whose circuits pass here, `before` and `after` the neighbours on the circuit;
    `repairs` the numbers of those done at this spot.
    """

    place: Whereabouts
    body: Whereabouts | None
    load: Whereabouts | None
    through: tuple[str, ...]
    before: str
    after: str
    repairs: tuple[int, ...]


def walk_of(loom: Loom, shared: Sharing | None = None) -> Walk:
    """A loom made ready to be walked; `shared` saves working it out again."""
    shared = shared or sharing(loom)
    through: dict[str, list[str]] = {}
    for load, uses in shared.uses.items():
        for place in uses.circuit.places:
            through.setdefault(place, []).append(load)
    zones = loom.known.zones
    stations = {
        place.id: zones[place.zone].station_mm if place.zone in zones else 0
        for place in loom.places.values()
        if place.id not in through
    }
    return Walk(
        loom,
        shared,
        {place: tuple(loads) for place, loads in through.items()},
        tuple(sorted(stations, key=lambda place: stations[place])),
    )


def places_of(walk: Walk, load: str) -> tuple[str, ...]:
    """The places of a load's circuit in the order in which the current passes them."""
    uses = walk.shared.uses.get(load)
    return uses.circuit.places if uses else ()


def stand_at(walk: Walk, load: str = "", place: str = "") -> Here:
    """The cursor on a load's circuit, at `place` where that is on it, else where the load itself begins.

    Without a load, on the first circuit through the place; at a place that no circuit passes on none; else on
    the first circuit of all.
    """
    if place in walk.loose and load not in walk.shared.uses:
        return Here("", place)
    if load not in walk.shared.uses:
        load = next(iter(walk.through.get(place, walk.loads)), "")
    places = places_of(walk, load)
    if place in places:
        return Here(load, place)
    start = next(
        (step.start.place for step in walk.shared.uses[load].circuit.steps if step.id == load), ""
    ) if load else next(iter(walk.loose), "")  # fmt: skip
    return Here(load, start)


def along(walk: Walk, here: Here, steps: int) -> Here:
    """So many places on with the current, or back against it; the ends of the circuit are the ends.

    At a place that no circuit passes: to the next such place towards the rear, or the front.
    """
    places = places_of(walk, here.load) if here.load else walk.loose
    if here.place not in places:
        return stand_at(walk, here.load)
    at = max(0, min(len(places) - 1, places.index(here.place) + steps))
    return replace(here, place=places[at])


def across(walk: Walk, here: Here, steps: int) -> Here:
    """Another circuit through the same place, round and round; where there is no other, the next of all."""
    loads = walk.through.get(here.place, ())
    if len(loads) < 2 or here.load not in loads:
        loads = walk.loads
    if not loads:
        return here
    at = loads.index(here.load) if here.load in loads else 0
    return stand_at(walk, loads[(at + steps) % len(loads)], here.place)


def lit_here(walk: Walk, here: Here) -> Lit:
    """What is lit while walking."""
    return light_load(walk.loom, walk.shared, here.load) if here.load else NOTHING


def place_card(walk: Walk, here: Here, repairs: Iterable[NumberedRepair] = ()) -> PlaceCard | None:
    """What a mechanic wants to know of the place under the cursor; None where the loom has none there."""
    loom, shared = walk.loom, walk.shared
    there = loom.places.get(here.place)
    place = where(loom, "place", here.place, shared)
    if there is None or place is None:
        return None
    near = {one: (before, after) for before, one, after in _neighbours(places_of(walk, here.load))}
    before, after = near.get(here.place, ("", ""))
    spot = spot_of(loom, here.place)
    done = (repair.number for repair in repairs if spot_of_repair(loom, repair) == spot)
    return PlaceCard(
        place=place,
        body=where(loom, "body", there.body, shared) if there.body in loom.bodies else None,
        load=where(loom, "device", here.load, shared) if here.load else None,
        through=walk.through.get(here.place, ()),
        before=before,
        after=after,
        repairs=tuple(done),
    )


def _neighbours(places: tuple[str, ...]) -> Iterable[tuple[str, str, str]]:
    padded = ("", *places, "")
    for (before, one), (_, after) in pairwise(pairwise(padded)):
        yield before, one, after
