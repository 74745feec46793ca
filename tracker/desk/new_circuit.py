"""A new circuit or a conversion worked out on a bike: wire, fuse, relay, time and price, and the balance."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from tracker.desk.bike_loom import loom_of
from tracker.desk.bikes import bike_named
from tracker.desk.charging import own_figures
from tracker.desk.desk import Desk
from tracker.desk.figures import ALTERNATOR_WATTS
from tracker.desk.trying import Tried, try_on_bike
from tracker.desk.turn import Turn
from tracker.electrics.charge_balance import ChargeBudgetSum, Output
from tracker.estimating.charge_effect import balance_with, balance_words
from tracker.estimating.new_circuit import plan_circuit
from tracker.loom.pattern import suppose
from tracker.loom.riding_loads import fuses
from tracker.loom.route import route
from tracker.loom.settle import settle
from tracker.records.electrics import Load, Tables
from tracker.records.new_circuit import Circuit, CircuitAsked, Feeding, NewLoad
from tracker.records.problem import Mistakes, Problem
from tracker.seedfiles.new_loads import load_new_loads
from tracker.seedfiles.tables import electric_tables

if TYPE_CHECKING:
    from tracker.records.loom_made import Loom

BATTERY = "battery:live"


@dataclass(frozen=True, slots=True, kw_only=True)
class NewCircuitAsked:
    """What a person says of it: the load by its name, and where it goes; the rest where it differs.

    `load` stands for the table's own (“7 A”), `feed` is a fuse of the loom (the battery when none is named),
    `gives` are the alternator's measured points as (rev/min, A), `alternator_w` its rated watts.
    """

    name: str
    to: str = ""
    load: Load | None = None
    feed: str = ""
    keyed: bool | None = None
    switch_a: float | None = None
    length_mm: int | None = None
    control_mm: int | None = None
    earth_mm: int | None = None
    ambient_c: float | None = None
    together: int | None = None
    gives: tuple[tuple[float, float], ...] = ()
    alternator_w: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NewCircuit:
    """What was worked out. `circuit` is None for a conversion, `tried` where no wire at all will do.

    `repair` is the repair as an estimate takes it. `refused` are all reasons against it, in words.
    """

    load: NewLoad
    start: str
    goal: str
    length_mm: int
    circuit: Circuit | None
    repair: str
    tried: Tried | None
    balance: ChargeBudgetSum | None
    balance_words: tuple[str, ...]
    refused: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Way:
    start: str
    goal: str
    length_mm: int
    zones: tuple[str, ...]


def work_out_new(desk: Desk, bike_name: str, asked: NewCircuitAsked) -> NewCircuit:
    """Works a new load out on a bike; nothing is kept.

    Raises Mistakes for names that the table or the loom does not have, NotFoundError for the bike.
    """
    tables = electric_tables()

    def work(turn: Turn) -> NewCircuit:
        bike = bike_named(turn.unit, bike_name)
        loom = suppose(loom_of(turn.unit, turn.seeds, bike))
        load = _load(asked, turn)
        watts = next((f.least for f in own_figures(turn.unit, bike) if f.kind == ALTERNATOR_WATTS), None)
        output = _output(asked, watts)
        balance = balance_with(loom, load, output) if output is not None else None
        if not load.lays_circuit:
            place = _place(loom, asked.to) if asked.to else _device_place(loom, load.instead)
            way, circuit, text = _Way("", place, 0, ()), None, _text(load, place=place)
        else:
            way = _way(loom, asked)
            circuit = plan_circuit(_circuit_asked(loom, asked, load, way, tables), tables)
            text = _feed_text(load, asked, way, circuit)
            if circuit.relay and not asked.feed:
                circuit = replace(circuit, why=(*circuit.why, *_with_room(loom, circuit, load, tables)))
        return _found((load, way, circuit, text), balance, known=output is not None)

    found = desk.look(work)
    if found.circuit is not None and found.circuit.wire is None:
        return found
    return replace(found, tried=try_on_bike(desk, bike_name, [found.repair]))


def _load(asked: NewCircuitAsked, turn: Turn) -> NewLoad:
    known = load_new_loads(turn.seeds)
    found = known.get(asked.name.strip().casefold().replace(" ", "-").replace("_", "-"))
    if found is None:
        listed = ", ".join(known)
        raise Mistakes(
            [Problem("load", "There is no such load in the table.", f"One of: {listed}.", asked.name)]
        )
    return replace(found, load=asked.load) if asked.load is not None else found


def _output(asked: NewCircuitAsked, watts: float | None) -> Output | None:
    if asked.gives:
        return Output(points=asked.gives)
    rated = asked.alternator_w if asked.alternator_w is not None else watts
    return None if rated is None else Output(rated_w=rated)


def _found(
    parts: tuple[NewLoad, _Way, Circuit | None, str], balance: ChargeBudgetSum | None, *, known: bool
) -> NewCircuit:
    load, way, circuit, repair = parts
    words, against = balance_words(load, balance, known=known)
    return NewCircuit(
        load=load,
        start=way.start,
        goal=way.goal,
        length_mm=way.length_mm,
        circuit=circuit,
        repair=repair,
        tried=None,
        balance=balance,
        balance_words=words,
        refused=(*(circuit.refused if circuit else ()), *against),
    )


def _way(loom: "Loom", asked: NewCircuitAsked) -> _Way:
    if not asked.to:
        raise Mistakes([Problem("to", "Where does it go?", "A place, a part or a zone: --to left-bar")])
    if asked.feed:
        known = fuses(loom)
        if asked.feed not in known:
            listed = ", ".join(known) or "none"
            raise Mistakes(
                [Problem("feed", "There is no such fuse on this bike.", f"There are: {listed}.", asked.feed)]
            )
        start = known[asked.feed].device.b.place
    else:
        start = BATTERY if BATTERY in loom.places else _place(loom, "battery")
    goal = _place(loom, asked.to)
    found = route(loom, start, goal)
    length = found.length_mm if asked.length_mm is None else asked.length_mm
    return _Way(start, goal, length, found.zones)


def _place(loom: "Loom", name: str) -> str:
    """A place of the loom: itself, the first of a part, the first in a zone; raises Mistakes."""
    wanted = name.strip()
    if wanted in loom.places:
        return wanted
    inside = [place.id for place in loom.places.values() if place.body == wanted]
    inside += [place.id for place in loom.places.values() if place.zone == wanted]
    if inside:
        return inside[0]
    zones = ", ".join(loom.known.zones)
    raise Mistakes([Problem("to", "The loom has no such place, part or zone.", f"Zones: {zones}.", name)])


def _device_place(loom: "Loom", devices: Sequence[str]) -> str:
    found = [loom.devices[name].a.place for name in devices if name in loom.devices]
    return found[0] if found else ""


def _circuit_asked(
    loom: "Loom", asked: NewCircuitAsked, load: NewLoad, way: _Way, tables: Tables
) -> CircuitAsked:
    hot = any("hot" in loom.known.zones[zone].traits for zone in way.zones if zone in loom.known.zones)
    practice = "ambient-hot" if hot else "ambient-usual"
    feed = fuses(loom)[asked.feed] if asked.feed else None
    return CircuitAsked(
        words=load.words,
        load=load.load,
        length_mm=way.length_mm,
        drop_percent=load.drop_percent,
        keyed=load.keyed if asked.keyed is None else asked.keyed,
        supply_v=loom.volts,
        switch_a=tables.practice("switch-amps").low if asked.switch_a is None else asked.switch_a,
        ambient_c=tables.practice(practice).low if asked.ambient_c is None else asked.ambient_c,
        together=int(tables.practice("loom-loaded").low) if asked.together is None else asked.together,
        switched=load.switched,
        feed=Feeding(feed.device.words, feed.rating_a, feed.carries_a, fuse=True) if feed else None,
        through=feed.feeds if feed else (),
        feed_keyed=feed is not None and not _live_without_key(loom, feed.device.b),
    )


def _with_room(loom: "Loom", circuit: Circuit, load: NewLoad, tables: Tables) -> tuple[str, ...]:
    """The fuses behind the key that it could hang on without a relay."""
    if load.switched and circuit.current_a > tables.practice("switch-amps").low:
        return ()
    margin = tables.practice("fuse-margin").low
    room = [
        f"{one.device.words} (--feed {name}, {one.carries_a:.1f} of {one.rating_a / margin:.1f} A used)"
        for name, one in fuses(loom).items()
        if (one.carries_a + circuit.current_a) * margin <= one.rating_a
        and circuit.fuse_a < one.rating_a
        and not _live_without_key(loom, one.device.b)
    ]
    return (f"It could hang on another’s fuse without a relay: {'; '.join(room)}.",) if room else ()


def _live_without_key(loom: "Loom", end: object) -> bool:
    """Whether a place hangs on the battery with the key off."""
    off = loom.known.states.get("off")
    cells = next(
        (one for one in loom.devices.values() if one.kind == "source" and one.body == "battery"), None
    )
    if off is None or cells is None:
        return True
    net = settle(loom, off).net
    return net.get(end) == net.get(cells.b)  # type: ignore[call-overload, no-any-return]


def _feed_text(load: NewLoad, asked: NewCircuitAsked, way: _Way, circuit: Circuit) -> str:
    answers = {
        "length_mm": str(way.length_mm),
        "size_mm2": f"{circuit.size_mm2:g}",
        "fuse_a": f"{circuit.fuse_a:g}",
        "relay": "yes" if circuit.relay else "no",
        **({"control_mm": str(asked.control_mm)} if asked.control_mm is not None else {}),
        **({} if circuit.relay else {"control_mm": "0"}),
        **({"earth_mm": str(asked.earth_mm)} if asked.earth_mm is not None else {}),
    }
    return _text(load, **answers, **{"from": way.start, "to": way.goal})


def _text(load: NewLoad, **answers: str) -> str:
    """The repair as an estimate takes it."""
    said = {part.split("=")[0]: part.split("=")[1] for part in load.answers.split()}
    pairs = {**answers, **said, "words": f"{load.words[:1].upper()}{load.words[1:]} fitted"}
    return f"{load.rule}:" + ",".join(f"{name}={value}" for name, value in pairs.items() if value)
