"""What a bike's loom can answer of a repair type's questions: route, wire size and colour, ways of a plug."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from tracker.loom.route import route
from tracker.records.problem import Mistakes
from tracker.records.repair_rule import Rule

if TYPE_CHECKING:
    from tracker.records.loom import Wire
    from tracker.records.loom_made import Loom


def proposed(loom: "Loom", rule: Rule, own: Mapping[str, str], given: Mapping[str, str]) -> dict[str, str]:
    """Answers to the questions that nobody answered, as far as the loom knows them, as they would be typed.

    `own` may name the wire by `from` and `to`, or a `place`.
    """
    found: dict[str, str] = {}
    for ask in rule.asks:
        if ask.name in given or not ask.from_loom:
            continue
        answer = _answer(loom, ask.from_loom, own)
        if answer:
            found[ask.name] = answer
    return found


def _answer(loom: "Loom", what: str, own: Mapping[str, str]) -> str:
    wire = _wire(loom, own)
    if what == "route" and own.get("from") and own.get("to"):
        try:
            return str(route(loom, own["from"], own["to"]).length_mm)
        except Mistakes:
            return ""
    if what == "size" and wire is not None and wire.size_mm2 is not None:
        return f"{wire.size_mm2:g}"
    if what == "colour" and wire is not None and wire.colour is not None:
        return str(wire.colour)
    if what == "ways":
        body = own.get("place", "").partition(":")[0]
        ways = sum(1 for place in loom.places.values() if place.body == body and place.kind == "way")
        return str(ways) if ways else ""
    return ""


def _wire(loom: "Loom", own: Mapping[str, str]) -> "Wire | None":
    ends = {own.get("from", ""), own.get("to", "")}
    for wire in loom.wires.values():
        if {wire.a.place, wire.b.place} == ends:
            return wire
    return None
