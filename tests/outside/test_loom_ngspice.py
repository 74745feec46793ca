"""Whole looms against ngspice: the network that a bike's loom becomes, solved by another simulator.

Source of every expected value: ngspice run on the spot (Debian package `ngspice`; version 39 when written).
Copper, lamps, batteries and resistors obey the same law on both sides. Diodes do not: ngspice has its own
exponential ones, made to have the loom's drop at the current they are meant for. Everything agrees within
0.5 % of the supply. Places that hang on nothing are left out: ngspice cannot say where they are.
"""

import dataclasses
import math

import pytest

from tests.bench.loom import fullest
from tests.loom.making import TWIN, bike
from tests.outside.spice import operating_point
from tracker.electrics.network_changes import changed_circuit
from tracker.loom.network import LoomNetwork, network
from tracker.loom.network_effects import effects_of
from tracker.loom.network_faults import weak_joint
from tracker.loom.pattern import build
from tracker.loom.states import powered
from tracker.records.loom_made import Loom
from tracker.records.network import Circuit, CurrentLoad, Diode, Element, Joint, Resistor, VoltageSource
from tracker.seedfiles.loom import load_pattern

THERMAL_V = 0.025865
"""kT/q at ngspice's 27 C, in volts."""

WITHIN = 0.005


def poor(loom: Loom, place: str, ohm: float) -> Loom:
    joint = dataclasses.replace(loom.places[place], joint_ohm=ohm)
    return dataclasses.replace(loom, places={**loom.places, place: joint})


def cut(loom: Loom, *wires: str) -> Loom:
    return dataclasses.replace(loom, wires={id_: one for id_, one in loom.wires.items() if id_ not in wires})


def worn(loom: Loom, wire: str, ohm: float) -> Loom:
    return dataclasses.replace(
        loom, wires={**loom.wires, wire: dataclasses.replace(loom.wires[wire], ohm=ohm)}
    )


def no_rear_earth() -> Loom:
    return cut(bike(), "rear-earth-run", "tail-earth-run")


def led_twin() -> Loom:
    return build(load_pattern(), {**TWIN, "indicators": "led", "tail-lamp": "led"})


LOOMS = {
    "twin, low beam": (bike(), "head-low"),
    "twin, low beam with a joint of 2 ohm": (poor(bike(), "left-plug:low", 2.0), "head-low"),
    "twin, high beam and its warning lamp": (bike(), "head-high"),
    "twin, position lamps": (bike(), "position"),
    "twin, shared rear earth lost, lamps feed each other": (no_rear_earth(), "position"),
    "twin, brake with the rear earth lost": (no_rear_earth(), "rear-brake"),
    "twin, one turn warning lamp for both sides": (bike(), "turn-left"),
    "twin, hazard lights": (bike(), "hazard"),
    "twin, horn through a greasy steering head": (poor(bike(), "bar-earth:bearings", 1.5), "horn"),
    "twin, starter relay through the interlock diode": (bike(), "start-neutral"),
    "twin, cranking with clutch and stand": (bike(), "start-clutch"),
    "twin, LED indicators behind diodes": (led_twin(), "turn-right"),
    "twin, parked": (bike(), "park"),
    "twin, two sources at 5000 rev/min": (bike(), "riding"),
    "four, fan and lamps": (bike("four"), "hot"),
    "four, cranking with a poor engine strap": (worn(bike("four"), "engine-strap", 0.05), "start-clutch"),
    "four, cranking with a poor battery post": (poor(bike("four"), "battery:earthed", 0.02), "start-neutral"),
    "four, sensors on 5 V and sensor earth": (bike("four"), "key-on"),
    "four, ABS pump and valves at work": (bike("four"), "abs-acts"),
    "fullest, heated grips one after the other": (fullest(load_pattern()), "grips-low"),
    "fullest, extra lamps by their relay": (fullest(load_pattern()), "extra-lamps"),
    "fullest, low beam by its relay": (fullest(load_pattern()), "head-low"),
    "four, three phases at idle": (bike("four"), "idle"),
    "old six, 6 V and positive earth, low beam": (bike("old six"), "head-low"),
    "old six, indicators": (bike("old six"), "turn-left"),
    "old six, dynamo charging": (bike("old six"), "riding"),
    "single, key on": (bike("single"), "key-on"),
    "single, half wave at idle": (bike("single"), "idle"),
    "scooter, horn": (bike("scooter"), "horn"),
    "trail, AC lights at a fast idle": (bike("trail"), "head-low"),
    "trail, AC lights held down at speed": (bike("trail"), "riding"),
}  # fmt: skip


def made(name: str) -> LoomNetwork:
    loom, state = LOOMS[name]
    return network(loom, powered(loom, loom.known.states[state]))


JUNCTION_V = 0.7
"""Of a regulator's limit so much is ngspice's diode; the rest is volts in series with it."""


RELAY_A, LIMIT_A, LAMP_A = 3.0, 2.0, 0.2
"""Amps at which a plain diode has its drop: a starter relay's coil, a regulator's few, a warning lamp's."""


def model(diode: Diode, supply_v: float) -> str:
    """An exponential diode with this one's drop at the amps it is meant for.

    That is what the supply drives through its ohms where it has many, as an LED lamp or a module has.
    """
    meant_a = LIMIT_A if diode.name.endswith(" limit") else RELAY_A if "interlock" in diode.name else LAMP_A
    if diode.on_ohm > 1:
        meant_a = (supply_v - diode.drop_v) / diode.on_ohm
    steps = 28.0 if diode.drop_v < 2 else 46.0
    return f"is={meant_a * math.exp(-steps)!r} n={diode.drop_v / (THERMAL_V * steps)!r} rs={diode.on_ohm!r}"


def asked(circuit: Circuit, net: LoomNetwork) -> Circuit:
    """What of it hangs together, in parts that ngspice has.

    A module below the volts it works from is the resistor its law makes of it; a limit is volts and a diode.
    """
    floating, volts = net.solution.floating, net.solution.volts
    kept: list[Element] = []
    for part in circuit.elements:
        if part.a in floating or part.b in floating:
            continue
        if isinstance(part, CurrentLoad) and volts[part.a] - volts[part.b] < part.full_v:
            kept.append(Resistor(part.name, part.a, part.b, part.full_v / part.current_a))
        elif isinstance(part, Diode) and part.name.endswith(" limit"):
            middle = f"{part.name} middle"
            kept.append(VoltageSource(f"{part.name} volts", part.a, middle, part.drop_v - JUNCTION_V, 1e-6))
            kept.append(Diode(part.name, middle, part.b, JUNCTION_V, part.on_ohm))
        else:
            kept.append(part)
    return Circuit(circuit.reference, tuple(kept))


def outside(circuit: Circuit, net: LoomNetwork) -> dict[str, float]:
    diodes = [part for part in circuit.elements if isinstance(part, Diode)]
    models = {part.name: model(part, supply(net)) for part in diodes}
    return operating_point(circuit, models)


def supply(net: LoomNetwork) -> float:
    """Volts of the battery, or of the lighting coil's limit: what half a per cent is taken of."""
    batteries = [
        one.volts for one in net.circuit.elements if isinstance(one, VoltageSource) and "battery" in one.name
    ]
    return abs(batteries[0]) if batteries else 12.0


@pytest.mark.parametrize("name", LOOMS)
def test_ngspice_finds_the_same_volts_everywhere(name: str) -> None:
    net = made(name)
    circuit = asked(net.circuit, net)
    found = outside(circuit, net)
    assert len(found) > 60
    gaps = {
        node: abs(net.solution.volts[node] - volts) / _scale(net, node)
        for node, volts in found.items()
        if node in net.solution.volts
    }
    worst = max(gaps, key=lambda node: gaps[node])
    assert gaps[worst] < WITHIN, (
        f"{worst}: {net.solution.volts[worst]:.4f} V here, {found[worst]:.4f} V there"
    )


def _scale(net: LoomNetwork, node: str) -> float:
    """Half a per cent is of the supply; of pulses and AC on the side, of their own source's volts."""
    for copy in net.copies[1:]:
        if node.endswith(copy.suffix):
            return max(abs(volts) for volts, _ in copy.sources.values())
    return supply(net)


@pytest.mark.parametrize(
    "fault",
    [
        "tail-joint",
        "rear-plug:earth",
        "harness-earth:joint",
        "fuse-box:feed",
        "tail-lamp:earth",
        "right-plug:tail",
    ],
)
def test_a_poor_joint_put_in_afterwards_is_what_ngspice_finds(fault: str) -> None:
    loom = bike()
    net = network(loom, loom.known.states["position"])
    poor_one = weak_joint(net, fault, 3.0)
    again = network(poor(loom, fault, 3.0 + _ohm(net, fault)), loom.known.states["position"])
    changed = changed_circuit(net.circuit, poor_one.change)
    found = outside(asked(changed, again), again)
    short = network(loom, loom.known.states["position"])
    table = effects_of(short, [poor_one])
    for end in (
        "tail-lamp:tail@out",
        "tail-lamp:earth@in",
        "instruments:lights@out",
        "position-lamp:feed@out",
    ):
        node = net.node(end)
        assert table.volts(end)[0] == pytest.approx(found[node], abs=WITHIN * 12.6)


def _ohm(net: LoomNetwork, place: str) -> float:
    joint = net.by_name[f"joint {place}"]
    assert isinstance(joint, Joint)
    return joint.ohm
