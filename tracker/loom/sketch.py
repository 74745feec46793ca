"""From a bike's loom to what is drawn of it: zones in their order, spots in their zones, what is lit.

A plug or a housing is one spot with all its ways: what a mechanic reaches for. Wires are not drawn one by
one; where lit wires run along the trunk, the trunk is.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from tracker.loom.lighting import NOTHING, Lit
from tracker.records.drawing import Sketch, SketchZone, Spot, SpotKind
from tracker.records.loom import Place, PlaceKind
from tracker.records.loom_made import Key, Loom
from tracker.records.loom_pattern import Zone

ELSEWHERE: Final = "elsewhere"
"""The zone of what lies in none that is known."""

_KINDS: Final[Mapping[PlaceKind, SpotKind]] = {
    "splice": "splice", "joint": "joint", "earth": "earth", "metal": "metal",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class NumberedRepair:
    """A repair of the record: its number there, the places or bodies it is at, nearest first, and its zone
    for where nothing nearer is known."""

    number: int
    places: tuple[str, ...]
    zone: str = ""


def sketch(
    loom: Loom,
    lit: Lit = NOTHING,
    *,
    here: str = "",
    repairs: Sequence[NumberedRepair] = (),
) -> Sketch:
    """All of a loom. `here` is the place under the cursor; a repair stands at the first of its places that
    the loom still has, else somewhere in its zone."""
    at_spots, at_zones = _numbers(loom, repairs)
    spots = _spots(loom, lit, here, at_spots)
    found = set(loom.known.zones) & (set(spots) | set(at_zones))
    ordered = sorted(
        (loom.known.zones[id_] for id_ in found), key=lambda zone: (zone.station_mm, zone.x, zone.id)
    )
    heights = _Trunk(loom)
    zones = [
        SketchZone(
            id=zone.id,
            words=zone_words(zone),
            said=zone.words,
            station_mm=zone.station_mm,
            rise=zone.y - heights.at(zone.station_mm),
            x=zone.x,
            y=zone.y,
            spots=tuple(spots.get(zone.id, ())),
            repairs=tuple(at_zones.get(zone.id, ())),
        )
        for zone in ordered
    ]
    if ELSEWHERE in spots:
        last = zones[-1].station_mm if zones else 0
        zones.append(
            SketchZone(
                id=ELSEWHERE,
                words=ELSEWHERE,
                said=ELSEWHERE,
                station_mm=last,
                rise=0,
                x=1000,
                y=0,
                spots=tuple(spots[ELSEWHERE]),
            )
        )
    placed = {number for zone in zones for spot in zone.spots for number in spot.repairs}
    placed |= {number for zone in zones for number in zone.repairs}
    return Sketch(
        zones=tuple(zones),
        runs=_runs(loom, lit),
        caption=lit.words,
        nowhere=tuple(one.number for one in repairs if one.number not in placed),
    )


def spot_of(loom: Loom, place: str) -> Key | None:
    """The spot that a place, or a body, is drawn at; None where the loom has no such thing."""
    there = loom.places.get(place)
    if there is None:
        return ("body", place) if place in loom.bodies else None
    return ("body", there.body) if there.body in loom.bodies else ("place", place)


def zone_words(zone: Zone) -> str:
    """A zone's name where room is dear: its words, or its id where that says it in fewer letters.

    “behind the left side panel” is said “left panel”.
    """
    short = zone.id.replace("-", " ")
    return short if len(short) < len(zone.words) else zone.words


def _spots(loom: Loom, lit: Lit, here: str, numbers: Mapping[Key, list[int]]) -> dict[str, list[Spot]]:
    lit_keys = {spot_of(loom, place) for place in lit.places} | {("body", id_) for id_ in lit.bodies}
    at = spot_of(loom, here)
    ways: dict[str, list[Place]] = {}
    for place in loom.places.values():
        ways.setdefault(place.body if place.body in loom.bodies else "", []).append(place)
    found: dict[str, list[Spot]] = {}

    def put(key: Key, zone: str, words: str, kind: SpotKind, count: int) -> None:
        spot = Spot(
            key=key,
            words=words,
            kind=kind,
            ways=count,
            lit=key in lit_keys,
            here=key == at,
            repairs=tuple(numbers.get(key, ())),
        )
        found.setdefault(zone if zone in loom.known.zones else ELSEWHERE, []).append(spot)

    for body in loom.bodies.values():
        own = ways.get(body.id, [])
        kinds = {place.kind for place in own}
        kind = _KINDS.get(next(iter(kinds)), "part") if len(kinds) == 1 else "part"
        put(("body", body.id), body.zone, body.words, kind, len(own))
    for place in ways.get("", []):
        put(("place", place.id), place.zone, place.words, _KINDS.get(place.kind, "part"), 1)
    return found


def spot_of_repair(loom: Loom, repair: NumberedRepair) -> Key | None:
    """The spot that a repair is drawn at; None where nothing nearer than a zone is known."""
    return next((key for place in repair.places if (key := spot_of(loom, place))), None)


def _numbers(
    loom: Loom, repairs: Sequence[NumberedRepair]
) -> tuple[dict[Key, list[int]], dict[str, list[int]]]:
    """The numbers of repairs by their spots, and by their zones where they have none."""
    spots: dict[Key, list[int]] = {}
    zones: dict[str, list[int]] = {}
    for repair in repairs:
        key = spot_of_repair(loom, repair)
        if key is not None:
            spots.setdefault(key, []).append(repair.number)
        elif repair.zone in loom.known.zones:
            zones.setdefault(repair.zone, []).append(repair.number)
    return spots, zones


def _runs(loom: Loom, lit: Lit) -> tuple[tuple[str, str], ...]:
    """Between which zones the lit wires run. Through metal nothing runs along the loom."""
    runs: set[tuple[str, str]] = set()
    for wire in (loom.wires[id_] for id_ in lit.wires if id_ in loom.wires):
        zones = [_zone_of(loom, end.place) for end in (wire.a, wire.b)]
        if wire.kind != "metal" and zones[0] != zones[1]:
            runs.add((min(zones), max(zones)))
    return tuple(sorted(runs))


def _zone_of(loom: Loom, place: str) -> str:
    """The zone in which a place is drawn: that of its body where it has one."""
    there = loom.places.get(place)
    body = loom.bodies.get(there.body) if there else None
    zone = body.zone if body else there.zone if there else ""
    return zone if zone in loom.known.zones else ELSEWHERE


class _Trunk:
    """How high the trunk lies along the bike: through the zones that sit on it."""

    def __init__(self, loom: Loom) -> None:
        zones, twig = loom.known.zones.values(), loom.known.route.twig_mm
        on_it = [zone for zone in zones if zone.branch_mm <= twig] or list(zones)
        self.points = sorted((zone.station_mm, zone.y) for zone in on_it)

    def at(self, station_mm: int) -> int:
        """‰ of the wheelbase above the ground."""
        before = [point for point in self.points if point[0] <= station_mm]
        after = [point for point in self.points if point[0] >= station_mm]
        if not before or not after:
            return (self.points[0] if not before else self.points[-1])[1]
        (x1, y1), (x2, y2) = before[-1], after[0]
        return y1 if x1 == x2 else round(y1 + (y2 - y1) * (station_mm - x1) / (x2 - x1))
