"""Where a part is, and all that a mechanic wants to know of it before getting up."""

from collections.abc import Iterable
from dataclasses import dataclass

from tracker.loom.access import TakenOff, of_part, to_reach
from tracker.loom.pattern import suppose
from tracker.loom.shares import Sharing, sharing
from tracker.records.loom import About, Colour, Entry, What, Wire
from tracker.records.loom_made import PATTERN, Loom, Origin
from tracker.records.loom_pattern import Zone


@dataclass(frozen=True, slots=True)
class WireLine:
    """One wire at a part: from and to in words, colour, size, length, and where that is known from."""

    id: str
    start: str
    end: str
    colour: Colour | None
    size_mm2: float | None
    length_mm: int
    origin: Origin


@dataclass(frozen=True, slots=True)
class Shared:
    """A fuse, plug or earth in words, with the loads that have it in common with the part."""

    id: str
    words: str
    loads: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Whereabouts:
    """The answer to “where is it”. `doubtful` are the questions that would settle whether it is there."""

    what: What
    id: str
    words: str
    synonyms: tuple[str, ...]
    does: str
    zones: tuple[Zone, ...]
    off: TakenOff
    plug: str
    ways: tuple[str, ...]
    wires: tuple[WireLine, ...]
    back: tuple[str, ...]
    fuses: tuple[Shared, ...]
    plugs: tuple[Shared, ...]
    earths: tuple[Shared, ...]
    symptoms: tuple[str, ...]
    first_check: str
    why: str
    cautions: tuple[str, ...]
    doubtful: tuple[str, ...]
    origins: tuple[Origin, ...]


def where(loom: Loom, what: What, id_: str, shared: Sharing | None = None) -> Whereabouts | None:
    """All about one part; None where the loom has none of that id. `shared` saves working it out again."""
    entry = loom.table(what).get(id_)
    if entry is None:
        return None
    shared = shared or sharing(loom)
    about = _about(loom, entry)
    body = loom.bodies.get(getattr(entry, "body", "") or id_)
    places = _places(loom, what, id_)
    loads = _loads(loom, what, id_)
    shared = _where_it_is(loom, what, id_, loads, shared)
    zones, off = of_part(loom, id_)
    cautions = (*about.cautions, *(body.cautions if body else ())) if about else ()
    return Whereabouts(
        what=what,
        id=id_,
        words=words_of(loom, what, id_),
        synonyms=entry.synonyms,
        does=about.does if about else "",
        zones=tuple(loom.known.zones[zone] for zone in zones if zone in loom.known.zones),
        off=to_reach(loom, zones, off),
        plug=body.plug if body else "",
        ways=tuple(loom.places[place].words for place in places if loom.places[place].body),
        wires=tuple(_line(loom, wire) for wire in _wires(loom, what, id_, places)),
        back=_back(loom, shared, loads),
        fuses=_shared(loom, shared, loads, "fuses"),
        plugs=_shared(loom, shared, loads, "plugs"),
        earths=_shared(loom, shared, loads, "earths"),
        symptoms=about.symptoms if about else (),
        first_check=about.first_check if about else "",
        why=about.why if about else "",
        cautions=tuple(dict.fromkeys(loom.known.cautions[name] for name in cautions)),
        doubtful=tuple(loom.known.features[name].question for name in loom.doubtful.get((what, id_), ())),
        origins=_origins(loom, what, id_),
    )


def words_of(loom: Loom, what: What, id_: str) -> str:
    """A part as it is said; a wire without words of its own by its ends."""
    entry = loom.table(what).get(id_)
    if entry is None:
        return id_
    if isinstance(entry, Wire) and not entry.words:
        return f"wire from {place_words(loom, entry.a.place)} to {place_words(loom, entry.b.place)}"
    return entry.words


def place_words(loom: Loom, place: str) -> str:
    """A place as it is said."""
    return loom.places[place].words if place in loom.places else place


def _about(loom: Loom, entry: Entry) -> About | None:
    """What is known of a part itself or, where it says nothing, of the body it sits in."""
    body = loom.bodies.get(getattr(entry, "body", ""))
    if isinstance(entry, About) and (entry.first_check or entry.symptoms or body is None):
        return entry
    return body


def _places(loom: Loom, what: What, id_: str) -> tuple[str, ...]:
    if what == "body":
        own = [place.id for place in loom.places.values() if place.body == id_]
        ends = [e.place for d in loom.devices.values() if d.body == id_ for e in (d.a, d.b)]
        return tuple(dict.fromkeys([*own, *(place for place in ends if place in loom.places)]))
    if what == "place":
        return (id_,)
    ends_of = loom.devices[id_] if what == "device" else loom.wires[id_]
    return tuple(end.place for end in (ends_of.a, ends_of.b) if end.place in loom.places)


def _loads(loom: Loom, what: What, id_: str) -> tuple[str, ...]:
    devices = loom.devices.values()
    if what == "body":
        return tuple(device.id for device in devices if device.body == id_ and device.is_load)
    return (id_,) if what == "device" and loom.devices[id_].is_load else ()


def _wires(loom: Loom, what: What, id_: str, places: Iterable[str]) -> tuple[Wire, ...]:
    if what == "wire":
        return (loom.wires[id_],)
    here = {place for place in places if loom.places[place].kind != "metal"} or set(places)
    return tuple(wire for wire in loom.wires.values() if wire.a.place in here or wire.b.place in here)


def _line(loom: Loom, wire: Wire) -> WireLine:
    origins = [origin for origin in _origins(loom, "wire", wire.id) if origin.level != "pattern"]
    return WireLine(
        id=wire.id,
        start=place_words(loom, wire.a.place),
        end=place_words(loom, wire.b.place),
        colour=wire.colour,
        size_mm2=wire.size_mm2,
        length_mm=wire.length_mm,
        origin=origins[-1] if origins else PATTERN,
    )


def _origins(loom: Loom, what: What, id_: str) -> tuple[Origin, ...]:
    found = [origin for key, origin in loom.origins.items() if key[:2] == (what, id_)]
    return tuple(dict.fromkeys(found)) or (PATTERN,)


def _where_it_is(loom: Loom, what: What, id_: str, loads: Iterable[str], shared: Sharing) -> Sharing:
    """What loads use on a bike that has this part, where the one that is usual has it not."""
    if not any(load in loom.devices and load not in shared.loom.devices for load in loads):
        return shared
    entries: list[Entry] = [loom.table(what)[id_]]
    for load in loads:
        device = loom.devices[load]
        entries += [device, *(loom.bodies[one] for one in (device.body,) if one in loom.bodies)]
        entries += [loom.places[end.place] for end in (device.a, device.b) if end.place in loom.places]
    answers: dict[str, str] = {}
    for entry in entries:
        for name, values in entry.when.need[0] if entry.when.need else ():
            answers.setdefault(name, values[0])
    return sharing(suppose(loom, answers))


def _back(loom: Loom, shared: Sharing, loads: Iterable[str]) -> tuple[str, ...]:
    used = next((shared.uses[load] for load in loads if load in shared.uses), None)
    return tuple(place_words(loom, place) for place in used.back) if used else ()


def _shared(loom: Loom, shared: Sharing, loads: Iterable[str], name: str) -> tuple[Shared, ...]:
    mine = tuple(loads)
    found: dict[str, dict[str, None]] = {}
    for load in mine:
        if load in shared.uses:
            for thing in getattr(shared.uses[load], name):
                others = (o for o, uses in shared.uses.items() if thing in getattr(uses, name))
                found.setdefault(thing, {}).update(dict.fromkeys(o for o in others if o not in mine))
    what: What = {"fuses": "device", "plugs": "body"}.get(name, "place")  # type: ignore[assignment]
    return tuple(
        Shared(thing, words_of(loom, what, thing), tuple(words_of(loom, "device", o) for o in others))
        for thing, others in found.items()
    )
