"""Currents that are not the loom's steady one: a stator's AC, a pick-up's and a CDI's pulses.

Each has a small circuit of its own beside the steady one, of copies of the parts that carry it: those on the
circuits found by search, and what would bridge the source if an open switch closed. They meet in one node
only, so that none disturbs another. Several windings of one stator are reckoned as rms in phase and in
quadrature, two copies, which is exact for ohms.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from tracker.loom.circuits import mains
from tracker.loom.settle import Settled, acts, snapshot
from tracker.records.loom import Device
from tracker.records.loom_made import Loom, Step

TURN_DEG = 120.0


@dataclass(frozen=True, slots=True)
class Side:
    """A group of sources that give together, the loads they reach, and the steps that carry it."""

    tag: str
    sources: tuple[Device, ...]
    loads: tuple[str, ...]
    steps: frozenset[tuple[str, str]]
    bridges: frozenset[tuple[str, str]]

    @property
    def pulses(self) -> bool:
        """Whether there are no steady volts to it."""
        return any(source.pulses for source in self.sources)


def lights_by_ac(loom: Loom) -> bool:
    """Whether nothing gives DC to all: then the lighting coil's AC is the loom's steady current, as rms."""
    return not any(
        device.kind == "source" and not device.ac and not device.pulses and device.source != "module pin"
        for device in loom.devices.values()
    )


def aside(loom: Loom, device: Device) -> bool:
    """Whether a source gives something else than the loom's steady current."""
    return device.pulses or (device.ac and not lights_by_ac(loom))


def sides(settled: Settled) -> tuple[Side, ...]:
    """The side circuits of a loom in a state, one a source, the windings of a body together.

    Also those of sources that are bridged (a magneto that is stopped) or whose module does not work: a fault
    may free them.
    """
    loom, state = settled.loom, settled.state
    groups: dict[str, list[Device]] = {}
    for device in loom.devices.values():
        if device.kind == "source" and aside(loom, device) and acts(loom, state, _free(device), frozenset()):
            groups.setdefault(device.body if device.body and not device.pulses else device.id, []).append(
                device
            )
    if not groups:
        return ()
    tags = {source.id: tag for tag, some in groups.items() for source in some}
    freed = _freed(settled, tags)
    found: dict[str, dict[str, list[Step]]] = {tag: {} for tag in groups}
    for device in loom.devices.values():
        if device.is_load:
            for circuit in mains(freed, device):
                if circuit.source in tags:
                    found[tags[circuit.source]].setdefault(device.id, []).extend(circuit.steps)
    return tuple(
        Side(
            tag=tag,
            sources=tuple(sorted(groups[tag], key=lambda source: source.id)),
            loads=tuple(loads),
            steps=frozenset((step.what, step.id) for steps in loads.values() for step in steps),
            bridges=frozenset(_bridges(freed, settled, groups[tag])),
        )
        for tag, loads in found.items()
        if loads
    )


def _free(device: Device) -> Device:
    return replace(device, driven_by=())


def _freed(settled: Settled, sources: Iterable[str]) -> Settled:
    """The same with every one of `sources` giving, and without the switch that bridges one of them."""
    loom, state = settled.loom, settled.state
    devices = dict(loom.devices)
    giving = {source.id for source in settled.giving}
    working = settled.working
    for id_ in sources:
        if id_ not in giving:
            working |= frozenset(loom.devices[id_].driven_by)
        elif settled.shorted(loom.devices[id_]):
            for switch in _bridging(settled, loom.devices[id_]):
                devices.pop(switch, None)
    if working == settled.working and len(devices) == len(loom.devices):
        return settled
    return snapshot(replace(loom, devices=devices), state, working)


def _bridging(settled: Settled, source: Device) -> Iterator[str]:
    """The closed switches each of which, opened alone, would free a bridged source."""
    loom = settled.loom
    for device in loom.devices.values():
        closed = device.kind in {"switch", "contact"} and device.id in settled.closed
        if closed and settled.net[device.a] == settled.net[source.a]:
            others = {id_: one for id_, one in loom.devices.items() if id_ != device.id}
            if not snapshot(replace(loom, devices=others), settled.state, settled.working).shorted(source):
                yield device.id


def _bridges(freed: Settled, settled: Settled, sources: list[Device]) -> Iterator[tuple[str, str]]:
    """A switch that bridges a source, or would if it closed, and what leads to both its ends."""
    for source in sources:
        plus, minus = freed.net[source.b], freed.net[source.a]
        for device in settled.loom.devices.values():
            if device.kind not in {"switch", "contact"} or device.id in freed.closed:
                continue
            for a, b in ((device.a, device.b), (device.b, device.a)):
                if freed.net.get(a, -1) == plus and freed.net.get(b, -1) == minus and plus != minus:
                    yield "device", device.id
                    ways = (freed.legs.main(source.b, a), freed.legs.main(source.a, b))
                    yield from ((step.what, step.id) for way in ways for step in way or ())
