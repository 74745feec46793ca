"""Answers that are known for the fields of a change to a loom: its own parts, places, boxes and states."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, get_args

from tracker.desk.bike_loom import loom_of
from tracker.desk.bikes import bike_named
from tracker.desk.desk import Desk
from tracker.records.loom import DeviceKind, PlaceKind, WireKind

if TYPE_CHECKING:
    from tracker.records.loom_made import Loom

COLOURS = (
    "black", "blue", "brown", "green", "grey", "light blue", "light green", "orange", "pink", "red", "violet",
    "white", "yellow",
)  # fmt: skip
PLUGS = (
    "ring terminal", "bullets, 3.9 mm", "blades, 6.3 mm", "two ways, sealed", "three ways, sealed",
    "four ways, sealed", "six ways, sealed", "nine ways",
)  # fmt: skip
BOXES = ("plug", "lamp holder", "switch housing", "fuse holder", "battery", "relay", "box")


def known_of_loom(desk: Desk, verb: str, name: str, given: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    """Answers with what they mean; empty where none is known."""
    if name in {"main", "tracer"}:
        return tuple((one, "") for one in COLOURS)
    if name == "plug":
        return tuple((one, "") for one in PLUGS)
    if name == "kind":
        return tuple((one, "") for one in _kinds(given.get("sort", "")))
    seeds = desk.seeds
    loom = desk.read(lambda reader: loom_of(reader, seeds, bike_named(reader, given.get("bike", ""))))
    if name in {"start", "end"}:
        return tuple((place.id, place.words) for place in loom.places.values())
    if name == "inside":
        return tuple((body.id, body.words) for body in loom.bodies.values())
    if name == "zone":
        return tuple((zone.id, zone.words) for zone in loom.known.zones.values())
    if name == "part":
        return _parts(loom, verb)
    return _states(loom, name)


def _kinds(sort: str) -> tuple[str, ...]:
    kinds = {"place": get_args(PlaceKind), "part": get_args(DeviceKind), "wire": get_args(WireKind)}
    return kinds.get(sort, BOXES)


def _parts(loom: "Loom", verb: str) -> tuple[tuple[str, str], ...]:
    from tracker.loom.where import words_of

    if verb == "loom wire":
        return tuple((f"wire {id_}", words_of(loom, "wire", id_)) for id_ in loom.wires)
    boxes = [(f"body {one.id}", one.words) for one in loom.bodies.values()]
    places = [(f"place {one.id}", one.words) for one in loom.places.values() if one.body not in loom.bodies]
    return (*boxes, *places, *((f"wire {id_}", words_of(loom, "wire", id_)) for id_ in loom.wires))


def _states(loom: "Loom", name: str) -> tuple[tuple[str, str], ...]:
    from tracker.loom.states import standard

    if name == "works":
        return tuple((id_, state.words) for id_, state in standard(loom).items())
    if name == "closed":
        return tuple(
            (f"{control.id}={position}", control.words)
            for control in loom.known.controls.values()
            for position in control.positions
        )
    return ()
