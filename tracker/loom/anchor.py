"""Which wire a fact means: by its id and by both its ends as they were that day, splices between allowed."""

from collections.abc import Iterator
from dataclasses import dataclass

from tracker.records.loom import What, Wire
from tracker.records.loom_made import Fact, Loom

CUT = "~"
"""Stands between a wire's id and the splice after which this piece of it begins."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A wire as it is passed from a fact's first end on; `forward` means from its own `a` to its `b`."""

    wire: Wire
    forward: bool


def present(loom: Loom, what: What, id_: str) -> str | None:
    """The id that a part has now, found by this one or by one it had; None where there is none."""
    table = loom.table(what)
    if id_ in table:
        return id_
    return next((entry.id for entry in table.values() if id_ in entry.was), None)


def the_wire(loom: Loom, fact: Fact) -> tuple[Piece, ...] | str:
    """The pieces of the wire a fact means, from its end `a` to its end `b`; or in words why there is none."""
    id_ = present(loom, "wire", fact.id)
    if not fact.a and not fact.b:
        return (Piece(loom.wires[id_], True),) if id_ else f"There is no wire “{fact.id}” in this loom."
    a, b = present(loom, "place", fact.a), present(loom, "place", fact.b)
    if a is None or b is None:
        return f"There is no place “{fact.a if a is None else fact.b}” in this loom."
    runs = list(wire_runs(loom, a, b))
    named = [run for run in runs if id_ and any(root(piece.wire.id) == root(id_) for piece in run)]
    if len(named or runs) == 1:
        return (named or runs)[0]
    if runs:
        return f"Several wires run from “{a}” to “{b}”, and none of them is “{fact.id}”."
    if id_:
        wire = loom.wires[id_]
        return (
            f"The wire “{id_}” now runs from “{wire.a.place}” to “{wire.b.place}”, not from “{a}” to “{b}”."
        )
    return f"No wire runs from “{a}” to “{b}” any more."


def root(wire: str) -> str:
    """The id a wire had before it was cut.

    >>> root("tail-2~splice-7")
    'tail-2'
    """
    return wire.partition(CUT)[0]


def is_cut(loom: Loom, place: str) -> bool:
    """Whether this is a splice that somebody put into a wire, not one of the pattern's."""
    there = loom.places.get(place)
    return there is not None and there.kind == "splice" and ("place", place, "") in loom.origins


def wire_runs(
    loom: Loom, start: str, goal: str, passed: frozenset[str] = frozenset()
) -> Iterator[tuple[Piece, ...]]:
    """Each wire between two places, as its pieces from splice to splice."""
    for wire in loom.wires.values():
        for here, there, forward in ((wire.a, wire.b, True), (wire.b, wire.a, False)):
            if here.place != start or wire.id in passed:
                continue
            piece = Piece(wire, forward)
            if there.place == goal:
                yield (piece,)
            elif is_cut(loom, there.place):
                for rest in wire_runs(loom, there.place, goal, passed | {wire.id}):
                    yield (piece, *rest)
