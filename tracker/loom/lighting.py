"""What is asked for on the drawing: a load's circuit, or a part with the wires at it."""

from dataclasses import dataclass

from tracker.loom.find import find, find_loads
from tracker.loom.shares import Sharing
from tracker.loom.where import words_of
from tracker.records.loom import End, What
from tracker.records.loom_made import Circuit, Loom


@dataclass(frozen=True, slots=True, kw_only=True)
class Lit:
    """What is lit: the places (in the order in which the current passes them), wires and devices by id.

    `circuit` is None where a part was asked for that is no load; `state` is the standard state it works in.
    """

    words: str
    places: tuple[str, ...] = ()
    wires: frozenset[str] = frozenset()
    devices: frozenset[str] = frozenset()
    bodies: frozenset[str] = frozenset()
    load: str = ""
    state: str = ""
    circuit: Circuit | None = None


NOTHING = Lit(words="")


def light_circuit(loom: Loom, circuit: Circuit, state: str = "") -> Lit:
    """A circuit, all of it."""
    load = words_of(loom, "device", circuit.load)
    said = loom.known.states[state].words if state in loom.known.states else ""
    devices = frozenset(step.id for step in circuit.steps if step.what == "device") | {circuit.source}
    return Lit(
        words=f"{load}: {said}" if said else load,
        places=circuit.places,
        wires=frozenset(step.id for step in circuit.steps if step.what == "wire"),
        devices=devices,
        bodies=frozenset(loom.devices[id_].body for id_ in devices if loom.devices[id_].body in loom.bodies),
        load=circuit.load,
        state=state,
        circuit=circuit,
    )


def light_load(loom: Loom, shared: Sharing, load: str) -> Lit:
    """The main circuit of a load; only the load itself where it has none in any state."""
    used = shared.uses.get(load)
    if used is None:
        return light_part(loom, "device", load)
    return light_circuit(shared.loom, used.circuit, used.state)


def light_part(loom: Loom, what: What, id_: str) -> Lit:
    """A part itself, and the wires that end at it."""
    part = loom.table(what).get(id_)
    if part is None:
        return NOTHING
    devices = {id_} if what == "device" else set()
    bodies = {id_} if what == "body" else set()
    ends: list[End] = []
    if what == "body":
        devices |= {device.id for device in loom.devices.values() if device.body == id_}
        places = [place.id for place in loom.places.values() if place.body == id_]
    elif what == "place":
        places = [id_]
    else:
        one = loom.devices.get(id_) if what == "device" else None
        wire = loom.wires.get(id_) if what == "wire" else None
        ends = [end for thing in (one, wire) if thing is not None for end in (thing.a, thing.b)]
        places = [end.place for end in ends]
        if one is not None and one.body in loom.bodies:
            bodies |= {one.body}
    here = {place for place in places if place in loom.places and loom.places[place].kind != "metal"}
    at_it = {wire.id for wire in loom.wires.values() if wire.a.place in here or wire.b.place in here}
    return Lit(
        words=words_of(loom, what, id_),
        places=tuple(place for place in dict.fromkeys(places) if place in loom.places),
        wires=frozenset({id_} if what == "wire" else at_it),
        devices=frozenset(devices),
        bodies=frozenset(bodies),
    )


def light_hit(loom: Loom, shared: Sharing, what: What, id_: str) -> Lit:
    """A part that was found: the circuit of the load that it is or holds, else itself."""
    if what == "device" and id_ in shared.uses:
        return light_load(loom, shared, id_)
    inside = [load for load in shared.uses if what == "body" and _is_in(loom, load, id_)]
    return light_load(loom, shared, inside[0]) if inside else light_part(loom, what, id_)


def light(loom: Loom, shared: Sharing, text: str) -> Lit | None:
    """What a few words mean: the circuit of the load so called, else the part; None where nothing is."""
    hits = find(loom, text)
    loads = find_loads(loom, text)
    if loads and (not hits or hits[0].id == loads[0] or _is_in(loom, loads[0], hits[0].id)):
        return light_load(loom, shared, loads[0])
    return light_hit(loom, shared, hits[0].what, hits[0].id) if hits else None


def _is_in(loom: Loom, load: str, body: str) -> bool:
    return load in loom.devices and loom.devices[load].body == body
