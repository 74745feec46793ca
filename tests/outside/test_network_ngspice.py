"""The network against ngspice: the same circuits, another simulator's sums.

Source of every expected value: ngspice run on the spot (Debian package `ngspice`; version 39 when written).
Lamps, wires and sources obey the same law on both sides, so there the two must agree closely. Diodes do not:
ngspice has its own exponential ones, ours are a drop and a resistance through two points of that curve (half
and one and a half times the current it is meant for), and the two must agree within 0.5 % of the supply.
"""

import math
from dataclasses import dataclass

import pytest

from tests.outside.spice import need_ngspice, operating_point
from tracker.electrics.network import solve
from tracker.electrics.network_changes import changed_circuit
from tracker.records.network import (
    Change,
    Circuit,
    CurrentLoad,
    Diode,
    Element,
    Filament,
    Joint,
    Resistor,
    VoltageSource,
    WireElement,
)

THERMAL_V = 0.025865
"""kT/q at ngspice's 27 C, in volts."""


@dataclass(frozen=True)
class Junction:
    """An exponential diode: u = count x (N Vt ln(i/IS + 1) + RS i)."""

    saturation_a: float
    ideality: float
    series_ohm: float
    count: int = 1

    @property
    def model(self) -> str:
        """As ngspice takes it; a string of equal diodes is one of so many times the ideality and ohms."""
        return (
            f"is={self.saturation_a!r} n={self.count * self.ideality!r} rs={self.count * self.series_ohm!r}"
        )

    def volts(self, amps: float) -> float:
        bend = self.ideality * THERMAL_V * math.log(amps / self.saturation_a + 1)
        return self.count * (bend + self.series_ohm * amps)

    def element(self, name: str, a: str, b: str, meant_a: float) -> Diode:
        """Our diode through this one's points at half and one and a half times what it is meant for."""
        low_a, high_a = 0.5 * meant_a, 1.5 * meant_a
        on_ohm = (self.volts(high_a) - self.volts(low_a)) / (high_a - low_a)
        return Diode(name, a, b, self.volts(low_a) - on_ohm * low_a, on_ohm)


RECTIFIER = Junction(saturation_a=14.11e-9, ideality=1.984, series_ohm=0.03389)
"""A 1 A silicon rectifier (1N400x model as widely published; from memory)."""

LED_STRING = Junction(saturation_a=1e-18, ideality=2.0, series_ohm=1.5, count=3)
"""Three amber LEDs in a row, about 2 V each at 20 mA (a made-up typical part)."""

BATTERY = VoltageSource("battery", "battery +", "battery -", 12.6, 0.025)
EARTH = WireElement("earth strap", "battery -", "frame", 400, 2.1)


def lamp(name: str, a: str, b: str, watts: float) -> Filament:
    return Filament(name, a, b, watts, 13.5)


def circuit(*parts: Element) -> Circuit:
    return Circuit("battery -", (BATTERY, EARTH, *parts))


REAR = (
    WireElement("tail feed", "battery +", "tail", 1900, 24.7),
    WireElement("pilot feed", "battery +", "pilot", 500, 24.7),
    WireElement("brake feed", "key", "brake", 1700, 24.7),
    WireElement("key feed", "battery +", "key", 900, 9.4),
    Joint("brake switch", "brake", "brake lamp", 0.05),
    WireElement("left feed", "left front", "left rear", 1600, 24.7),
    WireElement("right feed", "right front", "right rear", 1600, 24.7),
    lamp("tail lamp", "tail", "rear earth", 5),
    lamp("brake lamp", "brake lamp", "rear earth", 21),
    lamp("left rear lamp", "left rear", "rear earth", 21),
    lamp("right rear lamp", "right rear", "rear earth", 21),
    lamp("left front lamp", "left front", "frame", 21),
    lamp("right front lamp", "right front", "frame", 21),
    lamp("pilot lamp", "pilot", "frame", 5),
)

SAME_LAW = {
    "a fixed load at the end of 3 m": circuit(
        WireElement("feed", "battery +", "load", 3000, 24.7), Resistor("load", "load", "frame", 8.6786)
    ),
    "one lamp, its own wires": circuit(
        WireElement("feed", "battery +", "lamp", 2200, 24.7),
        lamp("brake lamp", "lamp", "lamp earth", 21),
        WireElement("return", "lamp earth", "frame", 2200, 24.7),
    ),
    "low beam with a joint of 2 ohm": circuit(
        WireElement("dip feed", "battery +", "plug", 1100, 12.7),
        Joint("plug", "plug", "low beam", 2.0),
        lamp("low beam lamp", "low beam", "headlamp earth", 55),
        lamp("pilot lamp", "plug", "headlamp earth", 5),
        WireElement("headlamp earth", "headlamp earth", "frame", 700, 12.7),
    ),
    "a shared rear earth, tail and brake on": circuit(
        *REAR, Joint("rear earth", "rear earth", "frame", 0.01)
    ),
    "a shared rear earth gone green": circuit(*REAR, Joint("rear earth", "rear earth", "frame", 4.0)),
    "a shared rear earth lost, lamps feed each other": circuit(*REAR),
    "headlamp, horn and switchgear on one headstock earth": circuit(
        WireElement("feed", "battery +", "front", 1000, 9.4),
        lamp("low beam lamp", "front", "headstock", 55),
        lamp("pilot lamp", "front", "headstock", 5),
        Resistor("horn", "front", "headstock", 3.3),
        Joint("headstock earth", "headstock", "frame", 0.6),
    ),
    "cranking, sound strap": circuit(
        WireElement("starter cable", "battery +", "stud in", 350, 1.1),
        Joint("starter relay", "stud in", "stud out", 0.0009),
        WireElement("motor cable", "stud out", "starter", 450, 1.1),
        Resistor("starter motor", "starter", "engine", 0.075),
        Joint("engine to frame", "engine", "frame", 0.0004),
        WireElement("main feed", "battery +", "main", 600, 7.6),
        lamp("low beam lamp", "main", "frame", 55),
    ),
    "cranking, poor strap between engine and battery": circuit(
        WireElement("starter cable", "battery +", "stud in", 350, 1.1),
        Joint("starter relay", "stud in", "stud out", 0.0009),
        WireElement("motor cable", "stud out", "starter", 450, 1.1),
        Resistor("starter motor", "starter", "engine", 0.075),
        Joint("engine to frame", "engine", "frame", 0.06),
        WireElement("thin loom earth", "engine", "headlamp earth", 900, 24.7),
        WireElement("headlamp earth", "headlamp earth", "frame", 900, 24.7),
        WireElement("main feed", "battery +", "main", 600, 7.6),
        lamp("low beam lamp", "main", "headlamp earth", 55),
    ),
    "one turn warning lamp shared by both sides, left on": circuit(
        WireElement("flasher feed", "battery +", "flasher", 1200, 24.7),
        Joint("flasher contact and switch", "flasher", "left", 0.06),
        lamp("left front lamp", "left", "frame", 21),
        WireElement("left rear feed", "left", "left rear", 1600, 24.7),
        lamp("left rear lamp", "left rear", "frame", 21),
        Filament("turn warning lamp", "left", "right", 3.4, 12),
        lamp("right front lamp", "right", "frame", 21),
        WireElement("right rear feed", "right", "right rear", 1600, 24.7),
        lamp("right rear lamp", "right rear", "frame", 21),
    ),
    "two sources: engine running, battery taking charge": circuit(
        VoltageSource("charging output", "rectifier", "battery -", 14.6, 0.15),
        WireElement("charge lead", "rectifier", "battery +", 800, 7.6),
        WireElement("main feed", "battery +", "main", 900, 7.6),
        lamp("low beam lamp", "main", "frame", 55),
        CurrentLoad("ignition", "main", "frame", 2.8),
        CurrentLoad("fuel pump", "main", "frame", 3.5),
    ),
    "heated grips in series on low, a heater beside them": circuit(
        WireElement("feed", "battery +", "grips", 1500, 18.5),
        Resistor("left grip", "grips", "middle", 4.1),
        Resistor("right grip", "middle", "frame", 4.4),
        Resistor("lambda heater", "grips", "frame", 9.0),
    ),
    "6 V, positive earth": Circuit(
        "frame",
        (
            VoltageSource("battery", "frame", "battery -", 6.3, 0.04),
            WireElement("feed", "battery -", "lamp", 1200, 12.7),
            Joint("dip switch", "lamp", "headlamp", 0.08),
            Filament("headlamp lamp", "headlamp", "frame", 24, 6),
            Filament("tail lamp", "lamp", "tail earth", 3, 6),
            Joint("tail earth", "tail earth", "frame", 0.5),
        ),
    ),
}


def interlock(*more: Element) -> Circuit:
    """Starter relay coil through the interlock diode to the neutral switch, the neutral lamp beside it."""
    return circuit(
        WireElement("control feed", "battery +", "button", 1800, 24.7),
        Joint("start button", "button", "coil", 0.04),
        Resistor("starter relay coil", "coil", "interlock", 4.2),
        RECTIFIER.element("interlock diode", "interlock", "neutral", 3.0),
        Filament("neutral lamp", "button", "neutral", 3, 12),
        *more,
    )


DIODES: dict[str, Circuit] = {
    "interlock diode in neutral": interlock(Joint("neutral switch", "neutral", "frame", 0.15)),
    "interlock diode in gear with the clutch in: the neutral lamp stays dark": interlock(
        Joint("clutch switch", "interlock", "frame", 0.05), Resistor("meter", "neutral", "frame", 10e6)
    ),
    "LED indicators with a ballast": circuit(
        WireElement("flasher feed", "battery +", "left", 1300, 24.7),
        Resistor("ballast", "left", "frame", 10),
        Resistor("front resistor", "left", "front led", 270),
        LED_STRING.element("front string", "front led", "frame", 0.02),
        WireElement("rear feed", "left", "rear", 1600, 24.7),
        Resistor("rear resistor", "rear", "rear led", 270),
        LED_STRING.element("rear string", "rear led", "frame", 0.02),
    ),
    "two turn warning diodes, left on": circuit(
        WireElement("flasher feed", "battery +", "left", 1300, 24.7),
        lamp("left lamp", "left", "frame", 21),
        RECTIFIER.element("left diode", "left", "warning", 0.28),
        RECTIFIER.element("right diode", "right", "warning", 0.28),
        Filament("turn warning lamp", "warning", "frame", 3.4, 12),
        lamp("right lamp", "right", "frame", 21),
    ),
}

MODELS = {
    "interlock diode": RECTIFIER.model,
    "left diode": RECTIFIER.model,
    "right diode": RECTIFIER.model,
    "front string": LED_STRING.model,
    "rear string": LED_STRING.model,
}


def widest_gap(one: Circuit) -> float:
    """The most that any node differs between the two, as a part of the supply."""
    found = solve(one).solution
    assert found.converged
    outside = operating_point(one, MODELS)
    supply = max(abs(part.volts) for part in one.elements if isinstance(part, VoltageSource))
    assert outside.keys() == found.volts.keys()
    return max(abs(found.volts[node] - volts) for node, volts in outside.items()) / supply


@pytest.mark.parametrize("name", SAME_LAW)
def test_where_the_law_is_the_same_the_two_agree(name: str) -> None:
    assert widest_gap(SAME_LAW[name]) < 1e-6


@pytest.mark.parametrize("name", DIODES)
def test_with_real_diodes_the_two_agree_within_half_a_percent_of_the_supply(name: str) -> None:
    assert widest_gap(DIODES[name]) < 0.005


def test_every_single_fault_of_the_rear_end_agrees() -> None:
    whole = SAME_LAW["a shared rear earth, tail and brake on"]
    faults = [
        Change(f"{part.name} weak", (part.name,), (Joint(part.name, part.a, part.b, 3.0),)) for part in REAR
    ]
    faults += [Change(f"{part.name} open", (part.name,)) for part in whole.elements if part != BATTERY]
    table = solve(whole).faults(faults)
    compared = 0
    for change, found in zip(faults, table, strict=True):
        if found.floating:
            continue  # ngspice cannot say where a place that hangs on nothing is
        compared += 1
        outside = operating_point(changed_circuit(whole, change))
        worst = max(abs(found.volts[node] - volts) for node, volts in outside.items())
        assert worst < 1e-4, change.label
    assert compared > 25


def test_the_lost_earth_does_light_what_is_switched_off() -> None:
    """With the rear earth gone, lamps that are off carry current: ngspice says so too."""
    lost = SAME_LAW["a shared rear earth lost, lamps feed each other"]
    assert operating_point(lost)["rear earth"] > 1.0
    found = solve(lost).solution
    assert abs(found.current["left rear lamp"]) > 0.3


@pytest.mark.parametrize(("ci", "outcome"), [("true", pytest.fail.Exception), ("", pytest.skip.Exception)])
def test_without_ngspice_the_checks_skip_with_their_reason_and_fail_in_ci(
    ci: str, outcome: type[BaseException], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PATH", "")
    monkeypatch.setenv("CI", ci)
    with pytest.raises(outcome, match="ngspice is not installed"):
        need_ngspice()
