"""What several loads have in common: the fuse, the plug, the earth on their circuits."""

from collections.abc import Mapping
from dataclasses import dataclass

from tracker.loom.circuits import main_circuit
from tracker.loom.pattern import suppose
from tracker.loom.settle import Settled, settle
from tracker.loom.states import powered, standard
from tracker.records.loom_made import Circuit, Loom, Step

EARTHS = frozenset({"earth", "joint", "post"})
"""Kinds of place that gather what returns."""


@dataclass(frozen=True, slots=True)
class Uses:
    """What one load's main circuit passes, in the state `state` in which it should work."""

    state: str
    circuit: Circuit
    fuses: tuple[str, ...]
    plugs: tuple[str, ...]
    earths: tuple[str, ...]
    back: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sharing:
    """For every load that works in some state what it uses; `loom` is the one it was worked out on."""

    loom: Loom
    uses: Mapping[str, Uses]

    def with_fuse(self, load: str) -> Mapping[str, tuple[str, ...]]:
        """Each fuse of a load with the other loads behind it."""
        return self._others(load, "fuses")

    def with_plug(self, load: str) -> Mapping[str, tuple[str, ...]]:
        """Each plug (body) on a load's circuit with the other loads through it."""
        return self._others(load, "plugs")

    def with_earth(self, load: str) -> Mapping[str, tuple[str, ...]]:
        """Each earth point or joint on a load's way back with the other loads that return by it."""
        return self._others(load, "earths")

    def through(self, element: str) -> tuple[str, ...]:
        """The loads whose main circuit passes a wire, a device, a place or a body."""
        return tuple(
            load
            for load, uses in self.uses.items()
            if element in uses.plugs or any(element == id_ for _, id_ in uses.circuit.elements)
        )

    def _others(self, load: str, name: str) -> dict[str, tuple[str, ...]]:
        mine = getattr(self.uses[load], name) if load in self.uses else ()
        return {
            thing: tuple(
                other for other, uses in self.uses.items() if other != load and thing in getattr(uses, name)
            )
            for thing in mine
        }


def sharing(loom: Loom) -> Sharing:
    """What each load uses and shares; open questions are answered as is usual."""
    loom = suppose(loom)
    states = standard(loom)
    settled: dict[str, Settled] = {}
    uses: dict[str, Uses] = {}
    for device in loom.devices.values():
        for name in device.works:
            if not device.is_load or name not in states or device.id in uses:
                continue
            if name not in settled:
                settled[name] = settle(loom, powered(loom, states[name]))
            circuit = main_circuit(settled[name], device.id, stored=True)
            if circuit is not None:
                uses[device.id] = _uses(loom, name, circuit)
    return Sharing(loom, uses)


def way_back(loom: Loom, circuit: Circuit) -> tuple[Step, ...]:
    """The earth side of a circuit, from the load on."""
    here = next(n for n, step in enumerate(circuit.steps) if step.id == circuit.load)
    if loom.features.get("earth", loom.supposed.get("earth")) == "positive":
        return tuple(reversed(circuit.steps[:here]))
    return circuit.steps[here + 1 :]


def _uses(loom: Loom, state: str, circuit: Circuit) -> Uses:
    back = way_back(loom, circuit)
    passed = [loom.places[place] for place in circuit.places if place in loom.places]
    return_places = dict.fromkeys(
        end.place for step in back for end in (step.start, step.end) if end.place in loom.places
    )
    fuses = [
        step.id for step in circuit.steps if step.what == "device" and loom.devices[step.id].kind == "fuse"
    ]
    plugs = [place.body for place in passed if place.kind in {"way", "bullet"} and place.body in loom.bodies]
    earths = [place for place in return_places if loom.places[place].kind in EARTHS]
    return Uses(
        state=state,
        circuit=circuit,
        fuses=tuple(dict.fromkeys(fuses)),
        plugs=tuple(dict.fromkeys(plug for plug in plugs if loom.bodies[plug].kind in {"plug", "bullet"})),
        earths=tuple(earths),
        back=tuple(return_places),
    )
