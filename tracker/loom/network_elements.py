"""Each part of a loom as what the network solve knows: which law a load, a lamp, a source follows.

| part                                  | element                                                       |
|---------------------------------------|---------------------------------------------------------------|
| wire                                  | copper by length, size and temperature; its own ohms if given |
| joint of a place, switch, fuse        | ohms                                                          |
| filament                              | filament law, by its watts at its rated volts                 |
| LED lamp                              | a diode of LED_SHARE of the rated volts, then ohms            |
| module by its amps                    | those amps down to the volts at which it gives up             |
| module by its ohms                    | a diode and ohms where it has a polarity, else ohms           |
| winding, coil, motor, heater, sensor  | ohms; one that pulses by its mean amps                        |
| leg or shunt of a regulator           | ohms, and on one AC winding a limit                           |
| diode                                 | its drop, then its ohms                                       |
| battery, module pin                   | volts behind ohms                                             |
| charging output                       | its most amps, and a limit that holds the volts               |
| AC winding                            | volts by speed behind ohms and reactance, as rms              |
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from tracker.loom.ohms import COPPER_M_PER_OHM_MM2, load_current_a, load_ohm, rated_v, source_v
from tracker.records.electrics import Conductor
from tracker.records.loom import Device, Wire
from tracker.records.loom_made import Loom
from tracker.records.loom_pattern import State
from tracker.records.network import (
    CurrentLoad,
    Diode,
    Element,
    Filament,
    Joint,
    Node,
    Resistor,
    VoltageSource,
    WireElement,
)

LEAST_OHM: Final = 1e-6
"""Below this two spots are one (the network's own limit)."""

CONTACT_OHM: Final = 0.01
"""A sound switch, contact or fuse nobody gave ohms for (common practice, no source)."""

LED_SHARE: Final = 0.6
"""Of an LED lamp's rated volts its string takes so much before it lights (common practice, no source)."""

SILICON_V: Final = 0.7
"""Drop of a diode nobody gave one for (common practice, no source)."""

INNER_OHM: Final = 0.02
"""Inside a source nobody gave ohms for (common practice, no source)."""

COPPER_PER_K: Final = 0.00393
"""Rise of copper's resistance per kelvin from 20 °C (IEC 60028)."""

_METAL_OHM: Final = 1e-3


@dataclass(frozen=True, slots=True)
class Leads:
    """An element's name and its two nodes, in the direction of the current; a source's plus end is `b`."""

    name: str
    a: Node
    b: Node


@dataclass(frozen=True, slots=True)
class Copper:
    """How wires are reckoned: at a temperature, by ohm/km at 20 °C by kind and mm² where a table knows it."""

    temperature_c: float = 20.0
    table: Mapping[tuple[str, float], float] = field(default_factory=dict)


def copper(conductors: Sequence[Conductor], temperature_c: float) -> Copper:
    """Wires at a temperature, by a conductor table where it has the size."""
    return Copper(temperature_c, {(row.family, row.fit_mm2): row.ohm_per_km for row in conductors})


def wire_element(wire: Wire, leads: Leads, copper: Copper) -> Element:
    """A wire: its own ohms, else by length, size and temperature.

    Formula: 1000 / (58 x size) ohm/km x (1 + 0.00393 (T - 20)).
    Range: any wire of the loom; one without size or ohms is taken for a milliohm.
    """
    if wire.ohm is not None:
        return Joint(leads.name, leads.a, leads.b, max(wire.ohm, LEAST_OHM))
    if not wire.size_mm2 or wire.length_mm <= 0:
        return Joint(leads.name, leads.a, leads.b, _METAL_OHM)
    at_20 = copper.table.get((wire.kind, wire.size_mm2), 1000 / (COPPER_M_PER_OHM_MM2 * wire.size_mm2))
    per_km = at_20 * (1 + COPPER_PER_K * (copper.temperature_c - 20))
    return WireElement(leads.name, leads.a, leads.b, wire.length_mm, per_km)


def closed_ohm(device: Device) -> float:
    """A closed switch or contact, a whole fuse."""
    return max(CONTACT_OHM if device.ohm is None else device.ohm, LEAST_OHM)


def passive(device: Device, leads: Leads) -> Element:
    """A fuse, a closed switch or contact, a diode, a resistor in line."""
    if device.kind == "diode":
        on_ohm = max(0.05 if device.ohm is None else device.ohm, LEAST_OHM)
        return Diode(leads.name, leads.a, leads.b, device.drop_v or SILICON_V, on_ohm)
    made = Resistor if device.kind == "resistor" else Joint
    return made(leads.name, leads.a, leads.b, closed_ohm(device))


def load(device: Device, loom: Loom, leads: Leads) -> tuple[Element, ...]:
    """A load by the table above; nothing where neither watts, ohms nor amps are known."""
    name, a, b = leads.name, leads.a, leads.b
    volts, amps, ohm = rated_v(device, loom), load_current_a(device, loom), load_ohm(device, loom)
    if amps <= 0 or ohm <= 0:
        return ()
    match device.kind:
        case "filament":
            return (Filament(name, a, b, volts * amps, volts),)
        case "led":
            return (Diode(name, a, b, LED_SHARE * volts, (1 - LED_SHARE) * volts / amps),)
        case "module" if device.ohm is None and device.one_way:
            return (CurrentLoad(name, a, b, amps, max(0.1, device.works_from * volts)),)
        case "module" if device.one_way and volts > 2 * SILICON_V:
            return (Diode(name, a, b, SILICON_V, ohm * (volts - SILICON_V) / volts),)
    if device.pulses and device.current_a:
        ohm = volts / device.current_a
    return (Resistor(name, a, b, ohm),)


def limit(device: Device, leads: Leads) -> tuple[Element, ...]:
    """What a shunt on one AC winding takes beyond its limit."""
    if device.kind != "regulator" or not device.limit_v:
        return ()
    return (Diode(limit_name(leads.name), leads.a, leads.b, device.limit_v, 0.05),)


def limit_name(name: str) -> str:
    """The second element of a regulator or a charging output."""
    return f"{name} limit"


def dc_source(device: Device, leads: Leads, state: State, loom: Loom) -> tuple[Element, ...]:
    """A battery, a pin, or a charging output: the latter gives its most amps, and a limit takes what is over.

    So it holds its volts less its inner drop up to `most_a`, and not one amp more below them.
    """
    name, plus, minus = leads.name, leads.b, leads.a
    volts, inner = source_v(device, state, loom), inner_ohm(device)
    if device.source != "charging output" or not device.most_a or volts - inner * device.most_a <= 0.1:
        return (VoltageSource(name, plus, minus, volts, inner),)
    return (
        VoltageSource(name, plus, minus, 3 * volts, 2 * volts / device.most_a),
        Diode(limit_name(name), plus, minus, volts - inner * device.most_a, inner),
    )


def ac_source(device: Device, leads: Leads, state: State, loom: Loom, amps: float) -> VoltageSource:
    """One AC winding as rms, as a straight line through where it gives `amps`.

    Formula: V = sqrt(E^2 - (X I)^2) - R I into a load without reactance; X such that a short circuit takes
        `most_a`. Range: any speed; amps beyond 99 % of what it can give are taken for that.
    """
    volts, inner = source_v(device, state, loom), inner_ohm(device)
    short = volts / device.most_a if device.most_a else 0.0
    if short <= inner:
        return VoltageSource(leads.name, leads.b, leads.a, volts, inner)
    reactance = math.sqrt(short**2 - inner**2)
    amps = min(max(amps, 0.0), 0.99 * volts / reactance)
    behind = math.sqrt(volts**2 - (reactance * amps) ** 2)
    slope = reactance**2 * amps / behind + inner
    return VoltageSource(leads.name, leads.b, leads.a, behind - inner * amps + slope * amps, slope)


def phase(device: Device, state: State, loom: Loom, angle_deg: float) -> tuple[float, float, float]:
    """One of several windings: volts in phase and in quadrature, rms, and the ohms behind them."""
    volts, inner = source_v(device, state, loom), inner_ohm(device)
    behind = max(inner, volts / device.most_a) if device.most_a else inner
    turn = math.radians(angle_deg)
    return volts * math.cos(turn), volts * math.sin(turn), behind


def inner_ohm(device: Device) -> float:
    """Ohms inside a source."""
    return max(INNER_OHM if device.inner_ohm is None else device.inner_ohm, LEAST_OHM)
