"""Circuits found in the pattern of a whole bike: each kind that a motorcycle has."""

import dataclasses

import pytest

from tests.loom.making import TWIN, bike, state
from tracker.loom.circuits import circuits, find, lit, main_circuit
from tracker.loom.pattern import build
from tracker.records.loom_made import Circuit, Loom
from tracker.seedfiles.loom import load_pattern


def main(loom: Loom, load: str, name: str) -> Circuit:
    circuit = main_circuit(state(loom, name), load)
    assert circuit is not None, f"{load} has no circuit in {name}"
    return circuit


def in_order(circuit: Circuit, *places: str) -> bool:
    rest = iter(circuit.places)
    return all(place in rest for place in places)


def test_a_lamp_is_fed_by_key_and_fuse_and_returns_by_wire_and_frame() -> None:
    circuit = main(bike(), "low-beam", "head-low")
    assert circuit.source == "battery-cells"
    assert in_order(
        circuit,
        "battery:live", "main-fuse:out", "ignition-switch:on", "fuse-box:lights", "right-switch:head",
        "left-switch:low", "headlamp:low", "headlamp:earth", "front-earth:joint", "harness-earth:joint",
        "frame-earth:bolt", "frame", "battery:earthed",
    )  # fmt: skip
    assert ("device", "dip-low") in circuit.elements
    assert ("joint", "left-plug:low") in circuit.elements, "a plug's way is an element of its own"


def test_a_step_begins_where_the_last_one_ended() -> None:
    for name in ("head-low", "turn-left", "start-clutch", "horn", "idle"):
        now = state(bike(), name)
        for load in lit(now):
            circuit = main_circuit(now, load)
            assert circuit is not None
            for before, after in zip(circuit.steps, circuit.steps[1:], strict=False):
                assert before.end == after.start


def test_the_dip_switch_sends_the_feed_to_one_filament_of_two_with_a_common_way() -> None:
    low, high = lit(state(bike(), "head-low")), lit(state(bike(), "head-high"))
    assert "low-beam" in low
    assert "high-beam" not in low
    assert "high-beam" in high
    assert "low-beam" not in high
    tail, brake = main(bike(), "tail-light", "position"), main(bike(), "brake-light", "rear-brake")
    assert "tail-lamp:earth" in tail.places
    assert "tail-lamp:earth" in brake.places


def test_a_lost_earth_sends_the_tail_lamp_home_through_the_indicators() -> None:
    loom = bike()
    wires = {id_: wire for id_, wire in loom.wires.items() if id_ != "tail-earth-run"}
    broken = dataclasses.replace(loom, wires=wires)
    circuit = find(state(broken, "position"), "tail-light")[0]
    assert "tail-earth:joint" in circuit.places
    assert circuit.through in {
        ("turn-rear-left", "turn-front-left"),
        ("turn-rear-right", "turn-front-right"),
    }
    assert circuit.share < 0.8, "a 5 W lamp before two cold ones of 21 W still glows, but not fully"


def test_the_horn_returns_through_the_handlebar_and_the_steering_bearings() -> None:
    circuit = main(bike(), "horn-winding", "horn")
    assert in_order(circuit, "horn:feed", "horn:out", "left-switch:horn", "left-switch:bar", "bars")
    assert in_order(circuit, "bars", "bar-earth:bearings", "frame")
    assert "horn-winding" not in lit(state(bike(), "key-on"))
    feed = main(bike("four"), "horn-winding", "horn")
    assert "bars" not in feed.places
    assert in_order(feed, "left-switch:horn-in", "left-switch:horn-out", "horn:feed", "horn:out")


def test_a_switched_earth_makes_the_fan_run_when_it_is_hot() -> None:
    circuit = main(bike("four"), "fan", "hot")
    assert in_order(circuit, "fan-plug:feed", "fan-plug:out", "thermo-switch:out", "harness-earth:joint")
    assert "fan" not in lit(state(bike("four"), "key-on"))


@pytest.mark.parametrize(
    ("name", "cranks"),
    [
        ("start-neutral", True),
        ("start-clutch", True),
        ("start-in-gear", False),
        ("start-stand-down", False),
        ("start-killed", False),
        ("key-on", False),
    ],
)
def test_it_cranks_in_neutral_or_with_the_clutch_in_and_the_stand_up(name: str, *, cranks: bool) -> None:
    assert ("starter" in lit(state(bike(), name))) is cranks


def test_the_interlock_is_neutral_through_a_diode_or_clutch_and_stand() -> None:
    neutral = main(bike(), "starter-relay-coil", "start-neutral")
    assert ("device", "interlock-diode") in neutral.elements
    assert ("device", "neutral-contact") in neutral.elements
    clutch = main(bike(), "starter-relay-coil", "start-clutch")
    assert ("device", "clutch-contact") in clutch.elements
    assert ("device", "stand-contact") in clutch.elements
    both = bike().known.states["start-neutral"].moved({"clutch": "in", "stand": "up"})
    found = circuits(bike(), "starter-relay-coil", both)
    passed = [{id_ for what, id_ in circuit.elements if what == "device"} for circuit in found]
    assert any("interlock-diode" in devices for devices in passed)
    assert any("stand-contact" in devices for devices in passed)


def test_the_diode_keeps_the_clutch_from_lighting_the_neutral_lamp() -> None:
    assert "neutral-lamp" in lit(state(bike(), "key-on"))
    assert "neutral-lamp" not in lit(state(bike(), "clutch-in"))
    loom = bike()
    shorted = dataclasses.replace(loom.devices["interlock-diode"], kind="resistor")
    devices = {**loom.devices, "interlock-diode": shorted}
    assert "neutral-lamp" in lit(state(dataclasses.replace(loom, devices=devices), "clutch-in"))


def test_a_relay_contact_closes_when_its_coil_has_a_circuit() -> None:
    starter = main(bike(), "starter", "start-neutral")
    assert starter.needs == ("starter-relay-coil",)
    assert ("device", "starter-relay-contact") in starter.elements
    loom = bike()
    devices = {id_: one for id_, one in loom.devices.items() if id_ != "starter-relay-coil"}
    assert "starter" not in lit(state(dataclasses.replace(loom, devices=devices), "start-neutral"))


def test_the_fuel_pump_needs_its_relay_and_the_relay_the_control_unit() -> None:
    pump = main(bike("four"), "fuel-pump", "idle")
    assert "pump-relay-coil" in pump.needs
    relay = main(bike("four"), "pump-relay-coil", "idle")
    assert "ecu-electronics" in relay.needs


def test_the_flasher_feeds_the_side_that_is_chosen() -> None:
    for side, other in (("left", "right"), ("right", "left")):
        now = lit(state(bike(), f"turn-{side}"))
        assert {f"turn-front-{side}", f"turn-rear-{side}"} <= now
        assert not {f"turn-front-{other}", f"turn-rear-{other}"} & now
    circuit = main(bike(), "turn-rear-left", "turn-left")
    assert ("device", "flasher-contact") in circuit.elements
    assert circuit.needs == ()
    assert main(bike("four"), "turn-rear-left", "turn-left").needs == ("flasher-electronics",)


def test_hazard_and_turn_are_two_circuits_of_one_lamp() -> None:
    both = bike().known.states["hazard"].moved({"turn": "left"})
    found = circuits(bike(), "turn-front-left", both)
    feeds = {id_ for circuit in found for what, id_ in circuit.elements if what == "device"}
    assert {"turn-left-contact", "hazard-left-contact"} <= feeds
    all_four = {f"turn-{end}-{side}" for end in ("front", "rear") for side in ("left", "right")}
    assert all_four <= lit(state(bike(), "hazard"))


def test_a_shared_warning_lamp_returns_through_the_other_sides_bulbs() -> None:
    left, right = main(bike(), "turn-lamp", "turn-left"), main(bike(), "turn-lamp", "turn-right")
    assert left.through[0] in {"turn-front-right", "turn-rear-right"}
    assert right.through[0] in {"turn-front-left", "turn-rear-left"}
    assert 0.85 < left.share < 1
    assert "turn-front-right" not in lit(state(bike(), "turn-left")), "its bulb stays dark"
    assert "turn-lamp" not in lit(state(bike(), "hazard")), "both its ends are live then"


def test_separate_warning_lamps_return_by_their_own_earth() -> None:
    circuit = main(bike("four"), "turn-lamp-left", "turn-left")
    assert circuit.through == ()
    assert "instruments:earth" in circuit.places
    assert "turn-lamp-right" not in lit(state(bike("four"), "turn-left"))


def test_led_indicators_after_a_shared_lamp_leave_it_without_volts_enough() -> None:
    loom = bike()
    leds = {
        id_: dataclasses.replace(one, kind="led", watts=2.0)
        for id_, one in loom.devices.items()
        if id_.startswith(("turn-front", "turn-rear"))
    }
    swapped = dataclasses.replace(loom, devices={**loom.devices, **leds})
    assert "turn-lamp" not in lit(state(swapped, "turn-left"))
    made_so = build(load_pattern(), {**TWIN, "indicators": "led"})
    assert "turn-lamp-behind-diodes" in lit(state(made_so, "turn-left"))
    assert "turn-front-right" not in lit(state(made_so, "turn-left")), "the diodes part the two sides"


def test_with_the_engine_running_there_are_two_sources_and_the_battery_is_a_load() -> None:
    sources = {circuit.source for circuit in circuits(bike(), "low-beam", bike().known.states["riding"])}
    assert sources == {"battery-cells", "regulator-output"}
    charging = find(state(bike(), "riding"), "battery-cells")[0]
    assert charging.source == "regulator-output"
    assert in_order(charging, "regulator:live", "live-joint", "main-fuse:out", "main-fuse:in", "battery:live")
    assert in_order(charging, "battery:live", "battery:earthed", "regulator:earth")
    assert not find(state(bike(), "key-on"), "battery-cells")


def test_the_charging_output_needs_the_stators_own_circuits() -> None:
    loom = bike()
    cut = {f"stator-run-{way}" for way in "uvw"}
    wires = {id_: wire for id_, wire in loom.wires.items() if id_ not in cut}
    assert not find(state(dataclasses.replace(loom, wires=wires), "riding"), "battery-cells")
    one_left = {id_: wire for id_, wire in loom.wires.items() if id_ != "stator-run-u"}
    still = state(dataclasses.replace(loom, wires=one_left), "riding")
    assert find(still, "battery-cells"), "one pair of three still charges"
    assert not any(circuit.source == "stator-uv" for circuit in find(still, "regulator-leg-uv"))


def test_points_and_boxes_switch_the_coils_earth_and_a_cdi_pulses_its_feed() -> None:
    box = main(bike(), "coil-2", "idle")
    assert in_order(box, "ignition-joint", "ignition-coil-2:feed", "ignition-coil-2:switched")
    assert set(box.needs) >= {"ignition-electronics", "ignition-trigger"}
    cdi = main(bike("single"), "coil-1", "idle")
    assert cdi.source == "ignition-output-1"


def test_what_is_not_there_has_no_circuit() -> None:
    assert circuits(bike(), "no-such-load", bike().known.states["key-on"]) == ()
    assert main_circuit(state(bike(), "key-on"), "no-such-load") is None
