"""Currents that are not the loom's steady one: a stator's AC, a pick-up's and a CDI's pulses.

Each has a small circuit of its own beside the steady one, of copies of the parts that carry it: those on the
circuits found by search, and what would bridge the source if an open switch closed. They meet in one node
only, so that none disturbs another. Several windings of one stator are reckoned as rms in phase and in
quadrature, two copies, which is exact for ohms.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from tracker.loom.circuits import mains
from tracker.loom.settle import Settled
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
    """The side circuits of a loom in a state, one a source that gives, the windings of a body together."""
    groups: dict[str, list[Device]] = {}
    for source in settled.giving:
        if aside(settled.loom, source):
            tag = source.body if source.body and not source.pulses else source.id
            groups.setdefault(tag, []).append(source)
    if not groups:
        return ()
    found: dict[str, dict[str, list[Step]]] = {tag: {} for tag in groups}
    tags = {source.id: tag for tag, some in groups.items() for source in some}
    for device in settled.loom.devices.values():
        if device.is_load:
            for circuit in mains(settled, device):
                if circuit.source in tags:
                    found[tags[circuit.source]].setdefault(device.id, []).extend(circuit.steps)
    return tuple(
        Side(
            tag=tag,
            sources=tuple(sorted(groups[tag], key=lambda source: source.id)),
            loads=tuple(loads),
            steps=frozenset((step.what, step.id) for steps in loads.values() for step in steps),
            bridges=frozenset(_bridges(settled, groups[tag])),
        )
        for tag, loads in found.items()
        if loads
    )


def _bridges(settled: Settled, sources: list[Device]) -> Iterator[tuple[str, str]]:
    """What leads from a source to both ends of an open switch that would bridge it: a stop switch."""
    for source in sources:
        plus, minus = settled.net[source.b], settled.net[source.a]
        for device in settled.loom.devices.values():
            if device.kind not in {"switch", "contact"} or device.id in settled.closed:
                continue
            for a, b in ((device.a, device.b), (device.b, device.a)):
                if settled.net[a] == plus and settled.net[b] == minus:
                    ways = (settled.legs.main(source.b, a), settled.legs.main(source.a, b))
                    yield from ((step.what, step.id) for way in ways for step in way or ())
