"""Facts as they are written down, a wire's anchored on both its ends as they are now.

Each gives the bare fact; card, day, words and token are put beside it with `dataclasses.replace`.
"""

from collections.abc import Mapping

from tracker.loom.plain import to_plain
from tracker.records.loom import Body, Colour, Device, End, Entry, Place, What, Wire
from tracker.records.loom_made import Changed, Deed, Fact, Loom


def add(part: Entry) -> Fact:
    """A part that the pattern does not have."""
    return Fact(deed="add", what=kind_of(part), id=part.id, values=to_plain(part))


def remove(loom: Loom, what: What, id_: str) -> Fact:
    """A part that is not there; a body takes its places and devices with it."""
    a, b = _anchors(loom, id_) if what == "wire" else ("", "")
    return Fact(deed="remove", what=what, id=id_, a=a, b=b)


def move(what: What, id_: str, zone: str) -> Fact:
    """A body or a place that sits elsewhere."""
    return Fact(deed="move", what=what, id=id_, values={"zone": zone})


def repin(loom: Loom, wire: str, *, a: End | None = None, b: End | None = None) -> Fact:
    """A wire that now ends elsewhere: its `a`, its `b`, or both."""
    ends = {name: str(end) for name, end in (("a", a), ("b", b)) if end is not None}
    return _on_wire(loom, "move", wire, ends)


def rename(what: What, id_: str, words: str) -> Fact:
    """What a part is called on this bike. Its id stays."""
    return Fact(deed="rename", what=what, id=id_, values={"words": words})


def colour(loom: Loom, wire: str, seen: Colour) -> Fact:
    """A wire's colours as they are."""
    plain = {"main": seen.main, "tracer": seen.tracer, "code": seen.code}
    return _on_wire(loom, "colour", wire, {"colour": plain})


def size(loom: Loom, wire: str, size_mm2: float) -> Fact:
    """A wire's size as it is, mm²."""
    return _on_wire(loom, "size", wire, {"size_mm2": size_mm2})


def length(loom: Loom, wire: str, length_mm: int) -> Fact:
    """A wire's length as measured, mm."""
    return _on_wire(loom, "length", wire, {"length_mm": length_mm})


def change(loom: Loom, what: Changed, id_: str, values: Mapping[str, object]) -> Fact:
    """Any other values of a part, as plain values by field."""
    a, b = _anchors(loom, id_) if what == "wire" else ("", "")
    return Fact(deed="change", what=what, id=id_, values=values, a=a, b=b)


def splice(loom: Loom, wire: str, place: str, mm: int, *, start: str = "", zone: str = "") -> Fact:
    """A splice as the new place `place`, `mm` from the wire's end at place `start` (its `a` if empty)."""
    a, b = _anchors(loom, wire)
    if start and start == b:
        a, b = b, a
    values = {"place": place, "zone": zone} if zone else {"place": place}
    return Fact(deed="splice", what="wire", id=wire, values=values, a=a, b=b, mm=mm)


def renew(wire: str, a: str, b: str, values: Mapping[str, object]) -> Fact:
    """A wire made new from place `a` to place `b`: splices between are gone."""
    return Fact(deed="renew", what="wire", id=wire, values=values, a=a, b=b)


def kind_of(part: Entry) -> What:
    """The kind of a part."""
    kinds: dict[type[Entry], What] = {Body: "body", Place: "place", Device: "device", Wire: "wire"}
    return kinds[type(part)]


def _on_wire(loom: Loom, deed: Deed, wire: str, values: Mapping[str, object]) -> Fact:
    a, b = _anchors(loom, wire)
    return Fact(deed=deed, what="wire", id=wire, values=values, a=a, b=b)


def _anchors(loom: Loom, wire: str) -> tuple[str, str]:
    there = loom.wires.get(wire)
    return (there.a.place, there.b.place) if there else ("", "")
