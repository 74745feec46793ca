"""Looms that are not battery + to battery -: each written out small, in the pattern's own format."""

import dataclasses

from tests.bench.loom import fullest
from tests.loom.making import BATTERY, FOUR, SCOOTER, TWIN, bike, small_loom, state
from tests.loom.small import GRIPS, SENSORS
from tracker.loom.circuits import circuits, find, lit, main_circuit
from tracker.loom.network import solve_loom
from tracker.loom.pattern import build
from tracker.loom.settle import settle
from tracker.loom.states import has_steady_source, powered, standard
from tracker.records.loom import End
from tracker.records.loom_pattern import State
from tracker.seedfiles.loom import load_pattern

ON = State(id="on", words="on", at={"key": "on"})


def test_positive_earth_turns_what_has_a_polarity_and_nothing_else() -> None:
    six = bike("old six")
    assert six.volts == 6
    circuit = main_circuit(state(six, "head-low"), "low-beam")
    assert circuit is not None
    assert circuit.places[0] == "battery:earthed"
    assert circuit.places[-1] == "battery:live"
    assert six.devices["battery-cells"].b == End("battery:earthed", "out")
    assert find(state(six, "riding"), "battery-cells"), "the dynamo charges it"


def test_a_diode_the_wrong_way_round_for_its_earth_blocks() -> None:
    text = """
    [place.foot]
    words = "foot"
    zone = "seat"
    kind = "blade"
    [place.top]
    words = "top"
    zone = "seat"
    kind = "blade"
    [device.lamp-diode]
    words = "diode"
    kind = "diode"
    from = "battery:live"
    to = "top"
    drop_v = 0.7
    [device.lamp]
    words = "lamp"
    kind = "filament"
    from = "top"
    to = "frame"
    watts = 5
    works = ["off"]
    """
    assert "lamp" in lit(settle(small_loom(BATTERY, text), ON))
    positive = small_loom(BATTERY, text, earth="positive")
    assert "lamp" in lit(settle(positive, ON))
    back = {**positive.devices, "lamp-diode": small_loom(BATTERY, text).devices["lamp-diode"]}
    assert "lamp" not in lit(settle(dataclasses.replace(positive, devices=back), ON))


def test_ac_lights_without_a_battery_need_the_engine() -> None:
    trail = bike("trail")
    assert not has_steady_source(trail)
    assert "low-beam" not in lit(settle(trail, trail.known.states["head-low"]))
    now = settle(trail, powered(trail, trail.known.states["head-low"]))
    circuit = main_circuit(now, "low-beam")
    assert circuit is not None
    assert circuit.source == "lighting-coil-winding"
    assert {"engine", "lighting-coil:core"} <= set(circuit.places)
    assert powered(trail, trail.known.states["off"]) == trail.known.states["off"]


def test_a_stop_switch_to_earth_is_a_path_that_must_be_open() -> None:
    trail = bike("trail")
    assert "coil-1" in lit(state(trail, "idle"))
    killed = state(trail, "killed")
    assert not {"coil-1", "ignition-charge"} & lit(killed)
    assert killed.shorted(trail.devices["source-coil-winding"])
    assert not state(trail, "idle").shorted(trail.devices["source-coil-winding"])


def test_a_magneto_is_stopped_by_earthing_its_primary() -> None:
    from tests.loom.making import TRAIL

    magneto = build(load_pattern(), {**TRAIL, "ignition": "magneto"})
    assert "coil-1" in lit(state(magneto, "idle"))
    assert "coil-1" not in lit(state(magneto, "killed"))


def test_half_wave_charges_through_the_case() -> None:
    circuit = find(state(bike("single"), "idle"), "regulator-leg-half")[0]
    assert {"engine", "regulator:earth", "stator:u"} <= set(circuit.places)


def test_heated_grips_in_series_share_the_volts_and_in_parallel_do_not() -> None:
    loom = small_loom(BATTERY, GRIPS)
    low = settle(loom, ON.moved({"grips": "low"}))
    circuit = main_circuit(low, "grip-left")
    assert circuit is not None
    assert circuit.through == ("grip-right",)
    assert circuit.share == 0.5
    high = settle(loom, ON.moved({"grips": "high"}))
    assert [c.through for c in find(high, "grip-left")] == [()]
    assert lit(high) == {"grip-left", "grip-right"}
    assert not lit(settle(loom, ON))


def test_a_sensor_stands_between_five_volts_and_sensor_earth_and_needs_the_module() -> None:
    loom = small_loom(BATTERY, SENSORS)
    circuit = main_circuit(settle(loom, ON), "throttle-track")
    assert circuit is not None
    assert circuit.source == "box-five"
    assert circuit.needs == ("box-electronics",)
    assert "frame" not in circuit.places
    assert "throttle-track" not in lit(settle(loom, State(id="", words="", at={})))


def test_a_lamp_fed_by_a_module_needs_the_module_and_what_it_is_asked_by() -> None:
    loom = small_loom(BATTERY, SENSORS)
    assert "bulb" not in lit(settle(loom, ON))
    asked = settle(loom, ON.moved({"lights": "on"}))
    circuit = main_circuit(asked, "bulb")
    assert circuit is not None
    assert set(circuit.needs) == {"box-electronics", "box-lamp-input"}


def test_a_contact_that_rests_closed_opens_with_its_coil_and_a_buzzer_never_settles() -> None:
    text = """
    [place.{foot}]
    words = "foot"
    zone = "seat"
    kind = "blade"
    [device.{name}]
    words = "coil"
    kind = "coil"
    from = "{feed}"
    to = "frame"
    ohm = 80
    works = ["off"]
    """
    coil = text.format(foot="foot", name="coil", feed="battery:live")
    contact = """
    [device.contact]
    words = "contact"
    kind = "contact"
    rest = "closed"
    driven_by = "coil"
    from = "battery:live"
    to = "foot"
    [device.lamp]
    words = "lamp"
    kind = "filament"
    from = "foot"
    to = "frame"
    watts = 5
    works = ["off"]
    """
    assert lit(settle(small_loom(BATTERY, coil, contact), ON)) == {"coil"}
    buzzer = text.format(foot="foot", name="coil", feed="foot")
    assert settle(small_loom(BATTERY, buzzer, contact), ON).unsettled


def test_a_closed_loop_of_earths_is_sound() -> None:
    loop = """
    [body.lamp]
    words = "lamp"
    zone = "tail"
    kind = "lamp holder"
    joint = "holder"
    ways = { feed = "feed", earth = "earth" }
    [device.bulb]
    words = "lamp"
    kind = "filament"
    from = "lamp:feed"
    to = "lamp:earth"
    watts = 5
    works = ["off"]
    [wire]
    feed = { from = "battery:live", to = "lamp:feed", mm = 500, mm2 = 1, main = "red" }
    earth-1 = { from = "lamp:earth", to = "frame", mm = 500, mm2 = 1, main = "black" }
    earth-2 = { from = "lamp:earth", to = "battery:earthed", mm = 900, mm2 = 0.5, main = "black" }
    """
    found = circuits(small_loom(BATTERY, loop), "bulb", ON)
    assert [("wire", "earth-1") in circuit.elements for circuit in found] == [True, False]
    assert ("wire", "earth-2") in found[1].elements, "the way of more ohms comes second"


def test_a_bike_cannot_be_in_a_state_it_has_no_part_for() -> None:
    assert "hazard" in standard(bike("twin"))
    assert "hazard" not in standard(bike("single"))
    assert "start-in-gear" not in standard(bike("trail"))


def test_the_control_unit_switches_the_earth_of_each_injector_and_each_coil() -> None:
    running = state(bike("four"), "idle")
    for number in (1, 2, 3, 4):
        for load, switch, way in (
            (f"injector-winding-{number}", f"ecu-injector-driver-{number}", f"ecu:injector-{number}"),
            (f"coil-{number}", f"ecu-coil-driver-{number}", f"ecu:coil-{number}"),
        ):
            circuit = main_circuit(running, load)
            assert circuit is not None, load
            assert ("device", switch) in circuit.elements
            at = circuit.places.index
            assert at("ignition-joint") < at(way) < at("ecu:earth"), load
            assert "ecu-electronics" in circuit.needs
    assert not {"injector-winding-1", "coil-1"} & lit(state(bike("four"), "key-on"))


def test_no_injector_and_no_coil_works_on_a_bike_on_its_side() -> None:
    four = bike("four")
    assert {"injection-relay-coil", "ecu-electronics"} <= lit(state(four, "key-on"))
    assert not {"injection-relay-coil", "ecu-electronics", "coil-1"} & lit(state(four, "fallen"))
    running = State(id="", words="", at={"key": "on", "engine": "idle", "bike": "fallen"}, rpm=1200)
    assert not {"coil-1", "injector-winding-1", "fuel-pump"} & lit(settle(four, running))


def test_sensors_share_five_volts_and_sensor_earth_and_their_signal_is_a_wire_of_its_own() -> None:
    on = state(bike("four"), "key-on")
    circuit = main_circuit(on, "ecu-throttle-input")
    assert circuit is not None
    assert circuit.source == "ecu-five"
    at = circuit.places.index
    assert at("sensor-five-joint") < at("throttle-sensor:signal") < at("ecu:throttle")
    for sensor in (
        "throttle-track",
        "pressure-sensing",
        "air-thermistor",
        "coolant-thermistor",
        "gear-track",
    ):
        found = main_circuit(on, sensor)
        assert found is not None, sensor
        assert found.places[-1] == "ecu:sensor-earth"
        assert "battery:live" not in found.places
        assert found.needs == ("ecu-electronics",)


def test_a_body_module_of_the_pattern_feeds_the_indicators_and_the_switch_only_asks() -> None:
    modular = build(load_pattern(), {**FOUR, "body-module": "yes"})
    assert "flasher" not in modular.bodies
    left = state(modular, "turn-left")
    circuit = main_circuit(left, "turn-front-left")
    assert circuit is not None
    assert "body-module:left" in circuit.places
    assert "left-switch:left" not in circuit.places
    assert set(circuit.needs) == {"body-electronics", "body-ask-left"}
    assert "turn-front-right" not in lit(left)
    assert {"turn-front-right", "turn-rear-left"} <= lit(state(modular, "hazard"))


def test_grips_of_the_pattern_are_in_series_when_low_and_side_by_side_when_high() -> None:
    full = fullest(load_pattern())
    low, high = (main_circuit(state(full, f"grips-{how}"), "grip-left") for how in ("low", "high"))
    assert low is not None
    assert high is not None
    assert (low.through, low.share) == (("grip-right",), 0.5)
    assert (high.through, high.share) == ((), 1.0)


def test_six_volts_are_what_lamps_coils_and_charging_of_a_6_volt_bike_are_made_for() -> None:
    six = bike("old six")
    solved = solve_loom(six, six.known.states["head-low"])
    assert solved.loads["low-beam"].word == "works"
    assert abs(solved.network.solution.volts["battery:live@in"]) < 7
    riding = solve_loom(six, six.known.states["riding"])
    assert riding.loads["coil-1"].word == "works"
    assert 6.3 < abs(riding.network.solution.volts["battery:live@in"]) < 7.3


def test_a_zener_diode_holds_the_charging_volts_and_shorted_it_takes_the_fuse() -> None:
    from tracker.loom.network_effects import effects
    from tracker.loom.network_faults import single_faults

    loom = build(load_pattern(), {**SCOOTER, "regulation": "zener"})
    riding = loom.known.states["riding"].moved({"lights": "off"})

    def live_v(*gone: str) -> float:
        devices = {id_: one for id_, one in loom.devices.items() if id_ not in gone}
        now = solve_loom(dataclasses.replace(loom, devices=devices), riding)
        volts = now.network.solution.volts
        return volts["live-joint@in"] - volts["engine"]

    assert 13.5 < live_v("battery-cells") < 14.8, "without a battery to hold them the diode does"
    assert live_v("battery-cells", "zener-diode") > 15
    faults = single_faults(loom, riding)
    seen = effects(loom, riding, faults)
    at = [fault.id for fault in faults].index
    assert seen.blows[at("device zener-diode shorted")] == ("main-fuse-link",)
    assert not seen.blows[at("device zener-diode open")]


def test_a_ballast_takes_its_part_of_the_coils_volts() -> None:
    loom = build(load_pattern(), {**TWIN, "ignition": "points", "coil-ballast": "yes"})
    solved = solve_loom(loom, loom.known.states["idle"])
    assert solved.loads["coil-1"].word == "works"
    volts = solved.network.solution.volts
    assert volts["coil-ballast:in@out"] - volts["coil-ballast:out@in"] > 2
