"""What a part of a loom is now, as the form of a deed that changes it would have it typed."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from tracker.desk.bike_loom import loom_of
from tracker.desk.bikes import bike_named
from tracker.errors import LoomcardError
from tracker.records.loom import What

if TYPE_CHECKING:
    from tracker.desk.desk import Desk
    from tracker.records.loom_made import Loom

LOOM_CHANGES = ("loom move", "loom rename", "loom wire", "loom plug")
"""Deeds that change a part that is there."""


def loom_stands(desk: "Desk", verb: str, given: Mapping[str, str]) -> dict[str, str]:
    """The fields of the part that is meant by `bike` and `part` as they stand; empty where none is."""
    from tracker.desk.loom_named import part_meant

    if not (given.get("bike") and given.get("part")):
        return {}
    seeds = desk.seeds
    try:
        loom = desk.read(lambda reader: loom_of(reader, seeds, bike_named(reader, given["bike"])))
        what, id_ = part_meant(loom, given["part"])
    except LoomcardError:
        return {}
    return part_stands(loom, verb, what, id_)


def part_stands(loom: "Loom", verb: str, what: What, id_: str) -> dict[str, str]:
    """What of a part a deed would change, as it would be typed."""
    entry = loom.table(what)[id_]
    if verb == "loom rename":
        return {"name": entry.words} if entry.words else {}
    if verb == "loom plug":
        body = loom.bodies.get(id_ if what == "body" else getattr(entry, "body", ""))
        return {"plug": body.plug} if body and body.plug else {}
    if what != "wire":
        return {}
    wire = loom.wires[id_]
    if verb == "loom move":
        return {"start": str(wire.a), "end": str(wire.b)}
    found = {"length": str(wire.length_mm), "size": f"{wire.size_mm2:g}" if wire.size_mm2 else ""}
    if wire.colour is not None:
        found |= {"main": wire.colour.main, "tracer": wire.colour.tracer, "code": wire.colour.code}
    return {name: value for name, value in found.items() if value}
