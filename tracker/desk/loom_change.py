"""What a repair changes in a bike's loom: a splice is a new place, kept as a fact with its words."""

from typing import TYPE_CHECKING

from tracker.desk.bike_loom import loom_of
from tracker.desk.turn import Turn
from tracker.records.bike import Bike, LoomFact
from tracker.records.card import Card
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
    kept = turn.unit.insert(
        LoomFact(
            bike=bike.id,
            card=card.id,
            deed="splice",
            facts={
                "what": "wire",
                "a": near,
                "b": far,
                "mm": repair.mm,
                "values": {"place": f"splice-{repair.id}"},
            },
            words=f"{repair.splice}, {repair.mm} mm from {near} towards {far}",
            who=turn.who,
            at=turn.at,
        )
    )
    loom = loom_of(turn.unit, turn.seeds, bike)
    for unfinished in loom.unfinished:
        if unfinished.fact.token == kept.token:
            turn.note(
                f"The splice is kept as written; it fits nowhere in this bike's loom yet: {unfinished.reason}"
            )
    for words in _hints(loom, repair):
        turn.note(words)
    return kept


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
