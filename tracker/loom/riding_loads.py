"""What a bike's loom takes while riding, load by load, and what hangs on each of its fuses."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tracker.electrics.charge_balance import OnLoad
from tracker.loom.circuits import main_circuit
from tracker.loom.currents import Element, currents, limit_a
from tracker.loom.settle import Settled, settle
from tracker.loom.where import place_words
from tracker.records.electrics import Load
from tracker.records.loom import Device
from tracker.records.loom_made import Loom
from tracker.records.new_circuit import Feeding

RIDING = "riding"


@dataclass(frozen=True, slots=True)
class FuseCarries:
    """A fuse of the loom: its rating and the most that goes through it all day, in amperes; what feeds it."""

    device: Device
    rating_a: float
    carries_a: float
    feeds: tuple[Feeding, ...]


def riding_loads(loom: Loom) -> tuple[OnLoad, ...]:
    """The loads that are on at a cruise with the lights on, each under its id; no horn, no starter.

    Only what the battery and the regulator feed: lamps on a lighting coil take nothing from them.
    """
    state = loom.known.states.get(RIDING)
    if state is None:
        return ()
    settled = settle(loom, state)
    return tuple(
        OnLoad(device.id, load)
        for device in loom.devices.values()
        if device.is_load and not device.short_s and (load := _load(settled, device)) is not None
    )


def _load(settled: Settled, device: Device) -> Load | None:
    loom = settled.loom
    circuit = main_circuit(settled, device.id)
    if circuit is None:
        return None
    source = loom.devices[circuit.source]
    if source.ac or source.pulses or device.kind == "regulator":
        return None
    return load_of(loom, device)


def load_of(loom: Loom, device: Device) -> Load | None:
    """What a part of the loom takes when it is on; None where nobody knows."""
    volts = device.rated_v or loom.volts
    if device.kind == "filament" and device.watts:
        return Load("filament", device.watts, volts)
    if device.current_a:
        return Load("current", device.current_a)
    if device.watts:
        return Load("current", device.watts / volts)
    return Load("resistance", device.ohm) if device.ohm else None


def fuses(loom: Loom) -> dict[str, FuseCarries]:
    """Each fuse with the most that goes through it all day in any state of the bike, and what feeds it."""
    settled = [settle(loom, state) for state in loom.known.states.values()]
    most = busiest_all_day(settled)
    rated = {one.id: one for one in loom.devices.values() if one.kind == "fuse" and one.rating_a}
    return {
        name: FuseCarries(
            device, device.rating_a or 0.0, most.get(("device", name), 0.0), _upstream(settled, name, most)
        )
        for name, device in rated.items()
    }


def busiest_all_day(settled: Iterable[Settled]) -> dict[Element, float]:
    """The most that goes through each part all day in any of these states, in amperes."""
    most: dict[Element, float] = {}
    for now in settled:
        for element, busy in currents(now).items():
            most[element] = max(most.get(element, 0.0), busy.steady_a)
    return most


def _upstream(settled: Iterable[Settled], fuse: str, most: Mapping[Element, float]) -> tuple[Feeding, ...]:
    """The wires and fuses between the source and a fuse, each with what it is rated for and carries."""
    for now in settled:
        loom = now.loom
        for device in loom.devices.values():
            circuit = main_circuit(now, device.id) if device.is_load else None
            if circuit is None or ("device", fuse) not in circuit.elements or loom.devices[circuit.source].ac:
                continue
            before = circuit.elements[: circuit.elements.index(("device", fuse))]
            found = [_feeding(loom, element, most.get(element, 0.0)) for element in dict.fromkeys(before)]
            return tuple(one for one in found if one is not None)
    return ()


def _feeding(loom: Loom, element: Element, carries_a: float) -> Feeding | None:
    what, name = element
    if what == "device" and loom.devices[name].kind == "fuse":
        return Feeding(loom.devices[name].words, loom.devices[name].rating_a or 0.0, carries_a, fuse=True)
    wire = loom.wires.get(name) if what == "wire" else None
    limit = limit_a(loom, wire.size_mm2) if wire is not None and wire.size_mm2 and wire.ohm is None else None
    if wire is None or limit is None:
        return None
    ends = f"{place_words(loom, wire.a.place)} to {place_words(loom, wire.b.place)}"
    return Feeding(f"wire of {wire.size_mm2:g} mm², {ends},", limit, carries_a)
