"""Circuits, found by search: from a source through a load and back, in a state."""

import dataclasses
from collections.abc import Iterator, Mapping
from itertools import pairwise

from tracker.loom.legs import Way
from tracker.loom.pattern import open_questions, suppose
from tracker.loom.settle import Hops, Settled, settle, works
from tracker.records.loom import Device, End, What
from tracker.records.loom_made import Circuit, Loom, Step
from tracker.records.loom_pattern import State

MOST = 8
"""Circuits of one load that are listed; a loom with many earths has more ways back than are worth reading."""


def circuits(loom: Loom, load: str, state: State, most: int = MOST) -> tuple[Circuit, ...]:
    """All circuits of a load in a state, the one that carries most first.

    Where answers are wanting, those under the usual answers come first, then what other answers would add;
    each says what it supposes. `load` may be a battery: then the circuit that charges it.
    """
    open_now = open_questions(loom)
    found = list(_labelled(loom, find(settle(suppose(loom), state), load, most)))
    for name in open_now:
        feature = loom.known.features[name]
        for value in feature.values:
            if value != feature.usual:
                other = settle(suppose(loom, {name: value}), state)
                known = {circuit.elements for circuit in found}
                more = _labelled(loom, find(other, load, most), {name: value})
                found += [circuit for circuit in more if circuit.elements not in known]
    return tuple(found[:most])


def find(settled: Settled, load: str, most: int = MOST) -> tuple[Circuit, ...]:
    """The circuits of a load in a settled loom without open questions, the main one first."""
    device = settled.loom.devices.get(load)
    if device is None:
        return ()
    first = sorted(mains(settled, device), key=lambda circuit: (not circuit.works, -circuit.share))
    found = {circuit.elements: circuit for circuit in first}
    for circuit in first:
        for other in _beside(settled, circuit, most - len(found)):
            found.setdefault(other.elements, other)
    return tuple(found.values())[:most]


def main_circuit(settled: Settled, load: str, *, stored: bool = False) -> Circuit | None:
    """The circuit that carries most of a load's current; None where it has none that works.

    `stored` prefers one from the battery, also while something else charges it: the way its fuses lie.
    """
    device = settled.loom.devices.get(load)
    if device is None:
        return None
    working = [circuit for circuit in mains(settled, device) if circuit.works]
    battery = [c for c in working if settled.loom.devices[c.source].source == "battery"] if stored else []
    return max(battery or working, key=lambda circuit: circuit.share, default=None)


def lit(settled: Settled) -> frozenset[str]:
    """The loads that do their job in this state."""
    loads = (device for device in settled.loom.devices.values() if device.is_load)
    return frozenset(device.id for device in loads if works(settled, device))


def mains(settled: Settled, device: Device) -> Iterator[Circuit]:
    """The circuit of each way from each source to a device, by the ways of least ohms."""
    for source in settled.giving:
        if source.id == device.id:
            continue
        for hops in settled.bare(source, device):
            steps = _steps(settled, source, hops)
            if steps is None:
                continue
            share = settled.share(hops, device)
            yield Circuit(
                load=device.id,
                source=source.id,
                steps=steps,
                through=tuple(h.device.id for h in hops if h.device.is_load and h.device.id != device.id),
                share=share,
                works=settled.enough(source, device, share),
                needs=_needs(settled, source, steps),
            )


def _steps(settled: Settled, source: Device, hops: Hops) -> Way | None:
    """The hops joined by the ways of least ohms. An AC source may push either way round."""
    first, last = source.b, source.a
    if settled.net[_ends(hops, 0)[0]] != settled.net[first]:
        first, last = last, first
    steps: list[Step] = []
    here = first
    for number, hop in enumerate(hops):
        enter, leave = _ends(hops, number)
        way = settled.legs.main(here, enter)
        if way is None:
            return None
        steps += [*way, Step("device", hop.device.id, enter, leave)]
        here = leave
    way = settled.legs.main(here, last) if last in settled.legs.trees else _back(settled, here, last)
    return None if way is None else (*steps, *way)


def _back(settled: Settled, here: End, last: End) -> Way | None:
    settled.legs.main(last, here)
    return settled.legs.main(here, last)


def _ends(hops: Hops, number: int) -> tuple[End, End]:
    hop = hops[number]
    return (hop.device.a, hop.device.b) if hop.forward else (hop.device.b, hop.device.a)


def _beside(settled: Settled, circuit: Circuit, most: int) -> Iterator[Circuit]:
    """The same circuit with one of its legs taking another way."""
    loads = {circuit.load, *circuit.through}
    diodes = {device.id for device in settled.loom.devices.values() if device.kind == "diode"}
    cuts = [n for n, s in enumerate(circuit.steps) if s.what == "device" and s.id in loads | diodes]
    edges = [-1, *cuts, len(circuit.steps)]
    for before, after in pairwise(edges):
        leg = circuit.steps[before + 1 : after]
        if not leg:
            continue
        for way in settled.legs.others(leg[0].start, leg[-1].end, most):
            steps = (*circuit.steps[: before + 1], *way, *circuit.steps[after:])
            source = settled.loom.devices[circuit.source]
            yield dataclasses.replace(circuit, steps=steps, needs=_needs(settled, source, steps))


def _needs(settled: Settled, source: Device, steps: Way) -> tuple[str, ...]:
    devices = [source, *(settled.loom.devices[step.id] for step in steps if step.what == "device")]
    names = [driver for device in devices for driver in device.driven_by if driver in settled.working]
    return tuple(dict.fromkeys(names))


def _labelled(
    loom: Loom, found: tuple[Circuit, ...], answered: Mapping[str, str] | None = None
) -> Iterator[Circuit]:
    for circuit in found:
        doubts: dict[str, str] = dict(answered or {})
        for what, id_ in circuit.elements:
            key: What = "place" if what == "joint" else "device" if what == "device" else "wire"
            for name in loom.doubtful.get((key, id_), ()):
                doubts.setdefault(name, loom.known.features[name].usual)
        yield dataclasses.replace(circuit, supposing=tuple(doubts.items()))
