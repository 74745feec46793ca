"""The parts of a pattern that belong to a bike of given features, with the values they have there.

A part lives only where what it hangs on lives: a way with its body, a wire and a device with both their
places. So only the ends of a branch need to say when they appear.
"""

import dataclasses
from collections.abc import Mapping
from typing import Any, TypeVar

from tracker.loom.fits import fits
from tracker.records.loom import Body, Device, Entry, Parts, Place, What, Wire
from tracker.records.loom_made import Key

E = TypeVar("E", bound=Entry)
Doubts = dict[Key, tuple[str, ...]]
Kept = Mapping[Key, frozenset[str]]
"""Fields of parts that were seen, so that no other answer changes them."""


def select(parts: Parts, features: Mapping[str, str], seen: Kept) -> tuple[Parts, Doubts]:
    """The parts that belong, and those of them that stand only for want of an answer."""
    doubts: Doubts = {}
    bodies: dict[str, Body] = {}
    for body in parts.bodies.values():
        if _belongs(doubts, "body", body, features, ()):
            bodies[body.id] = _altered("body", body, features, seen)
    gone: set[Key] = {("body", id_) for id_ in parts.bodies if id_ not in bodies}
    places: dict[str, Place] = {}
    for place in parts.places.values():
        hangs: tuple[Key, ...] = (("body", place.body),)
        if not gone.intersection(hangs) and _belongs(doubts, "place", place, features, hangs):
            places[place.id] = _altered("place", place, features, seen)
    gone |= {("place", id_) for id_ in parts.places if id_ not in places}
    devices: dict[str, Device] = {}
    for device in parts.devices.values():
        hangs = (("place", device.a.place), ("place", device.b.place), ("body", device.body))
        if not gone.intersection(hangs) and _belongs(doubts, "device", device, features, hangs):
            devices[device.id] = _altered("device", device, features, seen)
    wires: dict[str, Wire] = {}
    for wire in parts.wires.values():
        hangs = (("place", wire.a.place), ("place", wire.b.place))
        if not gone.intersection(hangs) and _belongs(doubts, "wire", wire, features, hangs):
            wires[wire.id] = _altered("wire", wire, features, seen)
    return Parts(bodies=bodies, places=places, devices=devices, wires=wires), doubts


def _belongs(
    doubts: Doubts, what: What, entry: Entry, features: Mapping[str, str], hangs: tuple[Key, ...]
) -> bool:
    there, questions = fits(entry.when, features)
    if there is False:
        return False
    asked = [*questions, *(question for key in hangs for question in doubts.get(key, ()))]
    if asked:
        doubts[what, entry.id] = tuple(dict.fromkeys(asked))
    return True


def _altered(what: What, entry: E, features: Mapping[str, str], seen: Kept) -> E:
    values: dict[str, Any] = {}
    undecided = []
    for alter in entry.alter:
        applies, _ = fits(alter.when, features)
        if applies:
            values.update(alter.values)
        elif applies is None:
            undecided.append(alter)
    kept = seen.get((what, entry.id), frozenset())
    values = {name: value for name, value in values.items() if name not in kept and "" not in kept}
    return dataclasses.replace(entry, alter=tuple(undecided), **values) if entry.alter else entry
