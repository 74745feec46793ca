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


def _hints(loom: "Loom", repair: Repair) -> tuple[str, ...]:
    """Where a splice sits badly; never a refusal, it is done."""
    from tracker.electrics.splice_place import splice_hints
    from tracker.seedfiles.tables import electric_tables

    pieces = [w for w in loom.wires.values() if f"splice-{repair.id}" in (w.a.place, w.b.place)]
    if len(pieces) != 2 or repair.mm is None:
        return ()
    whole = sum(piece.length_mm for piece in pieces)
    return splice_hints(at_mm=repair.mm, wire_mm=whole, tables=electric_tables())
