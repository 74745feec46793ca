"""What a repair changes in a bike's loom: a splice is a new place, a wire made new loses its splices, a wire
has the colours and size that were written down, a plug is the new one. Each is kept as a fact with its words.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, get_args

from tracker.desk.bike_loom import loom_of
from tracker.desk.turn import Turn
from tracker.records.bike import Bike, LoomFact
from tracker.records.card import Card
from tracker.records.loom import ColourSet
from tracker.records.problem import Mistakes
from tracker.records.work import Repair

if TYPE_CHECKING:
    from tracker.records.loom_made import Loom


def note_splice(turn: Turn, card: Card, bike: Bike, repair: Repair) -> LoomFact | None:
    """Keeps the splice of a repair as a new place of this bike's loom; None where there is none to keep.

    It is anchored on both ends of its wire and the mm from one of them. What fits nowhere in the loom is
    kept too, as unfinished, and said.
    """
    if not (repair.splice and repair.wire_from and repair.wire_to and repair.mm is not None):
        return None
    near, far = repair.wire_from, repair.wire_to
    if repair.mm_end == far:
        near, far = far, near
    values = {"place": f"splice-{repair.id}"}
    facts = {"what": "wire", "a": near, "b": far, "mm": repair.mm, "values": values}
    words = f"{repair.splice}, {repair.mm} mm from {near} towards {far}"
    kept = _keep(turn, card, bike, _Change("splice", facts, words))
    loom = loom_of(turn.unit, turn.seeds, bike)
    for unfinished in loom.unfinished:
        if unfinished.fact.token == kept.token:
            turn.note(
                f"The splice is kept as written; it fits nowhere in this bike's loom yet: {unfinished.reason}"
            )
    for hint in _hints(loom, repair):
        turn.note(hint)
    return kept


WIRE_RULE = "wire"
"""The repair type that makes a wire new from end to end."""


def note_changes(turn: Turn, card: Card, bike: Bike, repair: Repair) -> None:
    """Keeps all that a repair which is done changes in the loom of its bike."""
    spliced = note_splice(turn, card, bike, repair)
    loom = loom_of(turn.unit, turn.seeds, bike)
    if spliced is None:
        _note_wire(turn, card, bike, repair, loom)
    _note_plug(turn, card, bike, repair, loom)


def _note_wire(turn: Turn, card: Card, bike: Bike, repair: Repair, loom: "Loom") -> None:
    """A wire between two places of the loom: made new, or its colours and size as they were read."""
    from tracker.loom.anchor import root, wire_runs

    near, far = repair.wire_from, repair.wire_to
    if near not in loom.places or far not in loom.places:
        return
    runs = list(wire_runs(loom, near, far))
    if len(runs) != 1:
        return
    values: dict[str, object] = {}
    if repair.colour:
        values["colour"] = _colour(repair)
    if repair.size_mm2:
        values["size_mm2"] = repair.size_mm2
    renewed = repair.rule == WIRE_RULE
    if not values and not (renewed and len(runs[0]) > 1):
        return
    words = f"made new from {near} to {far}" if renewed else f"wire from {near} to {far} as it was read"
    facts = {"what": "wire", "id": root(runs[0][0].wire.id), "a": near, "b": far, "values": values}
    _keep(turn, card, bike, _Change("renew" if renewed else "change", facts, words))


def _colour(repair: Repair) -> dict[str, str]:
    """Its colours in words; letters that their code set does not know stay as they were written."""
    from tracker.desk.loom_named import colour_words

    code = repair.colour_code if repair.colour_code in get_args(ColourSet) else "words"
    try:
        main, tracer = (colour_words("colour", text, code) for text in (repair.colour, repair.tracer))
    except Mistakes:
        return {"main": repair.colour, "tracer": repair.tracer, "code": "words"}
    return {"main": main, "tracer": tracer, "code": code}


def _note_plug(turn: Turn, card: Card, bike: Bike, repair: Repair, loom: "Loom") -> None:
    """The new connector of the one plug or box that the repair was at."""
    if not repair.connector_new:
        return
    named = (repair.asked.get("@place", ""), repair.mm_end, repair.wire_from, repair.wire_to)
    bodies = [loom.places[name].body if name in loom.places else name for name in named if name]
    found = [body for body in dict.fromkeys(bodies) if body in loom.bodies]
    if not found:
        return
    ways = {True: ", its ways as before", False: ", re-pinned", None: ""}[repair.keeps_ways]
    old = f" instead of {repair.connector_old}" if repair.connector_old else ""
    words = f"{repair.connector_new}{old}{ways}"
    facts = {"what": "body", "id": found[0], "values": {"plug": repair.connector_new}}
    _keep(turn, card, bike, _Change("change", facts, words))


@dataclass(frozen=True, slots=True)
class _Change:
    """A fact about to be kept."""

    deed: str
    facts: Mapping[str, object]
    words: str


def _keep(turn: Turn, card: Card, bike: Bike, change: _Change) -> LoomFact:
    return turn.unit.insert(
        LoomFact(
            bike=bike.id,
            card=card.id,
            deed=change.deed,
            facts=dict(change.facts),
            words=change.words,
            who=turn.who,
            at=turn.at,
        )
    )


FLEXES = frozenset({"steering", "suspension"})
"""Traits of a zone in which the loom is bent again and again."""


def _hints(loom: "Loom", repair: Repair) -> tuple[str, ...]:
    """Where a splice sits badly: near a plug, another splice of its wire, or where an end of the wire flexes;
    never a refusal, it is done.
    """
    from tracker.electrics.splice_place import splice_hints
    from tracker.seedfiles.tables import electric_tables

    mine = f"splice-{repair.id}"
    near, far = repair.wire_from, repair.wire_to
    if repair.mm_end == far:
        near, far = far, near
    along = _splices(loom, near, far, mine)
    if repair.mm is None or along is None:
        return ()
    whole, others = along
    return splice_hints(
        at_mm=repair.mm,
        wire_mm=whole,
        tables=electric_tables(),
        flexing_mm=[
            (0, mm) if end == near else (whole - mm, whole)
            for end in (near, far)
            if (mm := _flexing_mm(loom, end, whole))
        ],
        splices_mm=others,
    )


def _splices(loom: "Loom", near: str, far: str, mine: str) -> tuple[int, list[int]] | None:
    """The length of the wire that has this splice, mm, and how far from its near end the others are."""
    from tracker.loom.anchor import wire_runs

    for run in wire_runs(loom, near, far):
        at, found = 0, {}
        for piece in run:
            at += piece.wire.length_mm
            found[piece.wire.b.place if piece.forward else piece.wire.a.place] = at
        if mine in found:
            return at, [mm for place, mm in found.items() if place not in (mine, far)]
    return None


def _flexing_mm(loom: "Loom", place: str, most: int) -> int:
    """How much of a wire from this place on flexes: its twig and its zone's branch, mm; 0 elsewhere."""
    there = loom.places.get(place)
    zone = loom.known.zones.get(there.zone) if there else None
    if zone is None or not FLEXES.intersection(zone.traits):
        return 0
    return min(most, loom.known.route.twig_mm + zone.branch_mm)
