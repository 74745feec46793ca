"""Every part of a motorcycle's electrics that a mechanic knows stands in the pattern, with what is known.

The list is that of common practice, no source: eighty-two rows by their ids.
"""

import pytest

from tracker.records.loom import About
from tracker.seedfiles.loom import load_pattern

PATTERN = load_pattern()

STANDS_AS: dict[str, str] = {
    "battery": "body battery",
    "main_fuse": "body main-fuse",
    "fuse_box": "body fuse-box",
    "starter_relay": "body starter-relay",
    "starter_motor": "body starter-motor",
    "main_earth": "body main-earth",
    "harness_earth": "body harness-earth",
    "stator": "body stator",
    "rotor_pm": "body flywheel",
    "rotor_field": "body field-rotor",
    "reg_rec": "body regulator",
    "zener": "body zener",
    "ign_switch": "body ignition-switch",
    "kill_switch": "body kill-switch",
    "switch_rh": "body right-switch",
    "switch_lh": "body left-switch",
    "start_button": "body start-button",
    "clutch_switch": "body clutch-switch",
    "neutral_switch": "body neutral-switch",
    "sidestand_switch": "body stand-switch",
    "diode_pack": "body diode-pack",
    "front_brake_sw": "body front-brake-switch",
    "rear_brake_sw": "body rear-brake-switch",
    "horn": "body horn",
    "headlamp": "body headlamp",
    "position_front": "body position-lamp",
    "dip_relay": "body low-relay",
    "flasher_relay": "body flasher",
    "indicator_front": "body indicator-front-left",
    "indicator_rear": "body indicator-rear-left",
    "tail_stop": "body tail-lamp",
    "plate_lamp": "body plate-lamp",
    "coil": "body ignition-coil-1",
    "ht_lead": "body spark-lead-1",
    "spark_plug": "body spark-plug-1",
    "points_cond": "body points",
    "pickup": "body pickup",
    "cdi": "body ignition-box",
    "ecu": "body ecu",
    "efi_relay": "body injection-relay",
    "fuel_pump": "body pump-plug",
    "level_sender": "body level-sender",
    "injectors": "body injector-1",
    "tps": "body throttle-sensor",
    "o2_sensor": "body oxygen-sensor",
    "fan": "body fan-plug",
    "oil_switch": "body oil-switch",
    "speed_sensor": "body speed-sensor",
    "abs_sensor": "body abs-sensor-front",
    "abs_unit": "body abs-unit",
    "instruments": "body instruments",
    "immobiliser": "body immobiliser-aerial",
    "acc_socket": "body socket",
    "alarm_tracker": "body alarm",
    "coolant_sensor": "body coolant-sensor",
    "air_temp_sensor": "body air-sensor",
    "map_sensor": "body pressure-sensor",
    "lean_sensor": "body tip-over-sensor",
    "gear_sensor": "body gear-sensor",
    "idle_valve": "body idle-valve",
    "crank_sensor": "device ecu-crank-input",
    "pump_relay": "body pump-relay",
    "horn_button": "body horn-button",
    "dip_switch": "body dip-switch",
    "turn_switch": "body turn-switch",
    "hazard_switch": "body hazard-switch",
    "warning_lamps": "device neutral-lamp",
    "bar_earth": "body bar-earth",
    "engine_strap": "body engine-earth-strap",
    "dynamo": "body dynamo",
    "lighting_coil": "body lighting-coil",
    "source_coil": "body source-coil",
    "ac_regulator": "body ac-regulator",
    "coil_ballast": "body coil-ballast",
    "auto_choke": "body auto-choke",
    "carb_heater": "body carb-heater",
    "thermo_switch": "body thermo-switch",
    "exhaust_servo": "body exhaust-servo",
    "body_module": "body body-module",
    "keyless_reader": "body keyless",
    "quickshifter": "body quickshifter",
    "battery_eliminator": "body battery-eliminator",
}
"""Row of the list, and the part that stands for it; others of the same row have it as their component."""

PICK_UP = {"crank_sensor"}
"""The pick-up tells box and control unit alike where the crankshaft stands: its body says the rest."""


def part(component: str) -> About:
    what, id_ = STANDS_AS[component].split()
    entries = {"body": PATTERN.bodies, "device": PATTERN.devices}[what]
    found = entries[id_]
    assert isinstance(found, About)
    return found


def test_the_list_is_whole_and_the_pattern_names_no_other_row() -> None:
    assert len(STANDS_AS) == 82
    named = {one.component for one in (*PATTERN.bodies.values(), *PATTERN.devices.values())} - {""}
    assert named == set(STANDS_AS)


@pytest.mark.parametrize("component", STANDS_AS)
def test_a_part_says_where_it_is_what_goes_wrong_and_what_to_look_at_first(component: str) -> None:
    found = part(component)
    assert found.component == component
    if component not in PICK_UP:
        assert found.symptoms
        assert found.first_check
    body = PATTERN.bodies.get(found.id) or PATTERN.bodies[PATTERN.devices[found.id].body]
    assert body.zone in PATTERN.known.zones
    assert body.plug
    assert body.why


def test_every_load_has_amps_a_wire_with_a_size_and_a_way_back() -> None:
    """What a mechanic asks beside the place: how much it takes, by what wire, and how it returns."""
    ends = {end.place for wire in PATTERN.wires.values() for end in (wire.a, wire.b)}
    ends |= {end.place for device in PATTERN.devices.values() for end in (device.a, device.b)}
    for device in PATTERN.devices.values():
        if device.is_load:
            assert device.watts or device.ohm or device.current_a, device.id
    for wire in PATTERN.wires.values():
        assert wire.size_mm2 or wire.ohm is not None, wire.id
    assert ends == set(PATTERN.places)
