"""What was seen or done on a bike, put onto its loom. A fact that fits nowhere is kept as unfinished."""

import dataclasses
from collections.abc import Callable, Iterable, Mapping
from typing import Any, Final

from tracker.loom.anchor import CUT, Piece, is_cut, present, root, the_wire
from tracker.loom.plain import CLASSES, from_plain
from tracker.records.loom import End, Entry, Place, What
from tracker.records.loom_made import Changed, Deed, Fact, Loom, Origin, Unfinished
from tracker.records.problem import Mistakes

Did = Loom | str
"""The loom after a fact, or in words why it fits nowhere."""

TABLES: Final[dict[What, str]] = {"body": "bodies", "place": "places", "device": "devices", "wire": "wires"}

ALLOWED: Final[dict[Deed, frozenset[str]]] = {
    "move": frozenset({"zone", "a", "b"}),
    "rename": frozenset({"words", "synonyms"}),
    "colour": frozenset({"colour"}),
    "size": frozenset({"size_mm2", "kind", "ohm"}),
    "length": frozenset({"length_mm", "station_mm", "branch_mm"}),
}
"""The fields each of these deeds may change; “change” may change any."""


def apply(loom: Loom, fact: Fact) -> Loom:
    """The loom after one fact. Where it fits nowhere the loom is as before, with the fact unfinished."""
    try:
        done = _shape(fact) or _DEEDS[fact.deed](loom, fact)
    except Mistakes as mistakes:
        done = " ".join(f"{problem.field}: {problem.sentence}" for problem in mistakes.problems)
    if isinstance(done, str):
        return dataclasses.replace(loom, unfinished=(*loom.unfinished, Unfinished(fact, done)))
    return done


def _shape(fact: Fact) -> str:
    """What is wrong with a fact before it is held against the loom: it may come from a foreign file."""
    mm: object = fact.mm
    values: object = fact.values
    if fact.deed not in _DEEDS:
        return f"“{fact.deed}” is no change of a loom."
    if fact.what not in CLASSES:
        return f"“{fact.what}” is no kind of part."
    if mm is not None and (not isinstance(mm, int) or isinstance(mm, bool)):
        return f"“{mm}” is no whole number of millimetres."
    if not isinstance(values, Mapping):
        return "Its values have no names."
    return ""


def _add(loom: Loom, fact: Fact) -> Did:
    if fact.what == "zone":
        return "A zone cannot be added to one bike."
    if not fact.id:
        return "What is added has no name."
    if present(loom, fact.what, fact.id):
        return f"There is a {fact.what} “{fact.id}” already."
    values = from_plain(fact.what, fact.values)
    wanted = {
        field.name
        for field in dataclasses.fields(CLASSES[fact.what])
        if field.default is dataclasses.MISSING and field.name != "id"
    }
    if lacking := sorted(wanted - set(values)):
        return f"A {fact.what} also needs: {', '.join(lacking)}."
    part: Any = CLASSES[fact.what](id=fact.id, **values)
    return _put(loom, fact, fact.what, [part], whole=True)


def _remove(loom: Loom, fact: Fact) -> Did:
    if fact.what == "zone":
        return "A zone cannot be taken from one bike."
    if fact.what == "wire":
        pieces = the_wire(loom, fact)
        return pieces if isinstance(pieces, str) else _without_run(loom, pieces)
    id_ = present(loom, fact.what, fact.id)
    if id_ is None:
        return f"There is no {fact.what} “{fact.id}” in this loom."
    if fact.what == "body":
        loom = _without(loom, "place", [place.id for place in loom.places.values() if place.body == id_])
        loom = _without(loom, "device", [device.id for device in loom.devices.values() if device.body == id_])
    return _without(loom, fact.what, [id_])


def _change(loom: Loom, fact: Fact) -> Did:
    values = from_plain(fact.what, fact.values)
    allowed = ALLOWED.get(fact.deed)
    if not values or (allowed is not None and not set(values) <= allowed):
        return f"“{fact.deed}” cannot be said of: {', '.join(sorted(values)) or 'nothing'}."
    if fact.what == "zone":
        return _zone(loom, fact, values)
    if fact.what == "wire":
        return _wire(loom, fact, values)
    id_ = present(loom, fact.what, fact.id)
    if id_ is None:
        return f"There is no {fact.what} “{fact.id}” in this loom."
    entry: Any = loom.table(fact.what)[id_]
    done = _put(loom, fact, fact.what, [dataclasses.replace(entry, **values)])
    if fact.what == "body" and "zone" in values:
        moved = [p for p in loom.places.values() if p.body == id_ and p.zone == entry.zone]
        return _put(done, fact, "place", [dataclasses.replace(p, zone=values["zone"]) for p in moved])
    return done


def _zone(loom: Loom, fact: Fact, values: dict[str, Any]) -> Did:
    zone = loom.known.zones.get(fact.id)
    if zone is None:
        return f"There is no zone “{fact.id}”."
    zones = {**loom.known.zones, zone.id: dataclasses.replace(zone, **values)}
    known = dataclasses.replace(loom.known, zones=zones)
    return dataclasses.replace(loom, known=known, origins=_origins(loom, fact, "zone", zone.id, values))


def _wire(loom: Loom, fact: Fact, values: dict[str, Any]) -> Did:
    pieces = the_wire(loom, fact)
    if isinstance(pieces, str):
        return pieces
    if "length_mm" in values and len(pieces) > 1:
        return "There is a splice in this wire now: each of its pieces has its own length."
    if values.get("length_mm", 1) <= 0:
        return "A wire is longer than nothing."
    rest = {name: value for name, value in values.items() if name not in {"a", "b"}}
    for name, piece in (("a", pieces[0]), ("b", pieces[-1])):
        if name in values:
            near = (name == "a") == piece.forward
            wire = loom.wires[piece.wire.id]
            loom = _put(
                loom, fact, "wire", [dataclasses.replace(wire, **{"a" if near else "b": values[name]})]
            )
    if not rest:
        return loom
    changed = [dataclasses.replace(loom.wires[piece.wire.id], **rest) for piece in pieces]
    return _put(loom, fact, "wire", changed, fields=rest)


def _splice(loom: Loom, fact: Fact) -> Did:
    """Cuts a wire in two, `mm` from the fact's end `a`; the splice is a new place between the two pieces."""
    pieces = the_wire(loom, fact) if fact.what == "wire" else "Only a wire can be spliced."
    if isinstance(pieces, str):
        return pieces
    extra = dict(fact.values)
    place_id = extra.pop("place", "")
    if not isinstance(place_id, str) or not place_id:
        return "The splice has no name."
    if present(loom, "place", place_id):
        return f"There is a place “{place_id}” already."
    left = fact.mm or 0
    for piece in pieces:
        if 0 < left < piece.wire.length_mm:
            break
        left -= piece.wire.length_mm
    else:
        total = sum(piece.wire.length_mm for piece in pieces)
        return f"{fact.mm} mm is not within this wire; it is {total} mm long."
    wire = piece.wire
    first_mm = left if piece.forward else wire.length_mm - left
    near = wire.a if first_mm * 2 <= wire.length_mm else wire.b
    zone = loom.places[near.place].zone if near.place in loom.places else ""
    values = {"words": f"splice in {wire.words or wire.id}", "zone": zone, "kind": "splice"}
    place = Place(id=place_id, when=wire.when, **from_plain("place", values | extra))
    first = dataclasses.replace(wire, b=End(place_id, "in"), length_mm=first_mm)
    second = dataclasses.replace(
        wire,
        id=f"{wire.id}{CUT}{place_id}",
        was=(),
        a=End(place_id, "out"),
        length_mm=wire.length_mm - first_mm,
    )
    loom = _copy_origins(loom, wire.id, second.id)
    if ("wire", wire.id) in loom.doubtful:
        doubt = loom.doubtful["wire", wire.id]
        doubtful = {**loom.doubtful, ("wire", second.id): doubt, ("place", place_id): doubt}
        loom = dataclasses.replace(loom, doubtful=doubtful)
    loom = _put(loom, fact, "place", [place], whole=True)
    loom = _put(loom, fact, "wire", [first if piece.forward else second], fields=("a", "b", "length_mm"))
    return _put(loom, fact, "wire", [second if piece.forward else first], fields=("a", "b"))


def _renew(loom: Loom, fact: Fact) -> Did:
    """A wire made new from end to end: its pieces and the splices between them go."""
    pieces = the_wire(loom, fact) if fact.what == "wire" else "Only a wire can be renewed."
    if isinstance(pieces, str):
        return pieces
    old = dataclasses.replace(pieces[0].wire, id=root(pieces[0].wire.id))
    first, last = pieces[0], pieces[-1]
    values = from_plain("wire", fact.values)
    length_mm = sum(piece.wire.length_mm for piece in pieces)
    ends = (first.wire.a if first.forward else first.wire.b, last.wire.b if last.forward else last.wire.a)
    a, b = ends if first.forward else ends[::-1]
    renewed: dict[str, Any] = {"a": a, "b": b, "length_mm": length_mm} | values
    new = dataclasses.replace(old, **renewed)
    return _put(_without_run(loom, pieces), fact, "wire", [new], whole=True)


def _without_run(loom: Loom, pieces: Iterable[Piece]) -> Loom:
    wires = [piece.wire for piece in pieces]
    ends = [end.place for wire in wires for end in (wire.a, wire.b)]
    cuts = [place for place in dict.fromkeys(ends) if ends.count(place) > 1 and is_cut(loom, place)]
    return _without(_without(loom, "wire", [wire.id for wire in wires]), "place", cuts)


def _without(loom: Loom, what: What, ids: Iterable[str]) -> Loom:
    gone = set(ids)
    table = {id_: part for id_, part in loom.table(what).items() if id_ not in gone}
    origins = {key: origin for key, origin in loom.origins.items() if not (key[0] == what and key[1] in gone)}
    changed: dict[str, Any] = {TABLES[what]: table, "origins": origins}
    return dataclasses.replace(loom, **changed)


def _put(
    loom: Loom,
    fact: Fact,
    what: What,
    parts: Iterable[Entry],
    *,
    whole: bool = False,
    fields: Iterable[str] | None = None,
) -> Loom:
    names = [""] if whole else list(fact.values if fields is None else fields)
    table = dict(loom.table(what))
    for part in parts:
        table[part.id] = part
        loom = dataclasses.replace(loom, origins=_origins(loom, fact, what, part.id, names))
    changed: dict[str, Any] = {TABLES[what]: table}
    return dataclasses.replace(loom, **changed)


def _origins(
    loom: Loom, fact: Fact, what: Changed, id_: str, names: Iterable[str]
) -> dict[tuple[Changed, str, str], Origin]:
    origin = Origin(fact.level, fact.card, fact.on, fact.words, fact.token)
    return {**loom.origins, **{(what, id_, name): origin for name in names}}


def _copy_origins(loom: Loom, wire: str, other: str) -> Loom:
    copied: dict[tuple[Changed, str, str], Origin] = {
        ("wire", other, key[2]): origin for key, origin in loom.origins.items() if key[:2] == ("wire", wire)
    }
    return dataclasses.replace(loom, origins={**loom.origins, **copied})


_DEEDS: Final[dict[Deed, Callable[[Loom, Fact], Did]]] = {
    "add": _add,
    "remove": _remove,
    "move": _change,
    "rename": _change,
    "colour": _change,
    "size": _change,
    "length": _change,
    "change": _change,
    "splice": _splice,
    "renew": _renew,
}
