"""Whole bikes as networks: what is lit, what a meter reads, and that circuits and volts say the same."""

import dataclasses

import pytest

from tests.loom.making import BIKES, TWIN, bike
from tracker.loom.circuits import lit
from tracker.loom.network import LoomSolution, network, solve_loom
from tracker.loom.network_ports import FADES, HALF
from tracker.loom.pattern import build
from tracker.loom.settle import settle
from tracker.loom.states import powered, standard
from tracker.records.loom_made import Loom
from tracker.seedfiles.loom import load_pattern


def solved(loom: Loom, name: str) -> LoomSolution:
    return solve_loom(loom, powered(loom, loom.known.states[name]))


def without(loom: Loom, *wires: str) -> Loom:
    return dataclasses.replace(loom, wires={id_: one for id_, one in loom.wires.items() if id_ not in wires})


DIM_BY_DESIGN = {"cranking", "idle"}
"""Engine states in which a lamp is dull though all is in order: the starter drags the volts down, or a
lighting coil turns slowly."""


@pytest.mark.parametrize("name", BIKES)
def test_what_has_a_circuit_works_and_what_has_none_is_dead_in_every_standard_state(name: str) -> None:
    loom = bike(name)
    for state in standard(loom).values():
        seen = solve_loom(loom, powered(loom, state))
        assert seen.converged
        assert not seen.network.oscillating
        assert not seen.blows
        found = lit(seen.network.settled)
        for load, it in seen.loads.items():
            if load not in found:
                assert it.word == "dead", f"{load} has no circuit with {state.words}, yet {it}"
            elif state.at.get("engine") in DIM_BY_DESIGN and loom.devices[load].kind in FADES | {"regulator"}:
                assert it.share > HALF, f"{load}, {state.words}: {it}"
            else:
                assert it.word == "works", f"{load}, {state.words}: {it}"


@pytest.mark.parametrize("name", BIKES)
def test_amps_add_up_at_every_node(name: str) -> None:
    loom = bike(name)
    for state in ("position", "idle", "riding"):
        assert solved(loom, state).network.solution.residual_a < 1e-6


def test_volts_fall_from_the_battery_to_the_lamp_and_rise_again_at_its_earth() -> None:
    seen = solved(bike(), "head-low")
    way = [
        "battery:live@in",
        "main-fuse:out@out",
        "fuse-box:lights@out",
        "left-switch:low@in",
        "headlamp:low@out",
    ]
    volts = [seen.volts(end) for end in way]
    assert volts == sorted(volts, reverse=True)
    assert 12.3 < volts[0] < 12.6
    assert 11.3 < volts[-1] < 12.2
    assert 0 < seen.volts("headlamp:earth@in") < 0.3
    assert seen.between("headlamp:low@out", "headlamp:earth@in") == pytest.approx(
        seen.loads["low-beam"].volts_v
    )
    assert seen.current("wire", "head-run") == pytest.approx(seen.loads["low-beam"].current_a, rel=1e-6)


def test_an_open_switch_has_volts_ahead_of_it_and_its_lamp_none() -> None:
    seen = solved(bike(), "key-on")
    assert seen.volts("right-switch:lights-in@out") > 12
    assert seen.volts("right-switch:head@in") == pytest.approx(0, abs=0.05)
    assert seen.loads["low-beam"].word == "dead"


def test_a_switched_earth_leaves_the_idle_horn_at_battery_volts_on_both_sides() -> None:
    still, pressed = solved(bike(), "key-on"), solved(bike(), "horn")
    assert still.volts("horn:out@out") == pytest.approx(still.volts("horn:feed@out"), abs=1e-3)
    assert still.volts("left-switch:horn@out") > 12
    assert pressed.volts("left-switch:horn@out") < 0.5
    assert pressed.loads["horn-winding"].word == "works"


def test_the_bar_earth_carries_the_horn_and_a_poor_one_weakens_it() -> None:
    loom = bike()
    assert solved(loom, "horn").current("place", "bar-earth:bearings") == pytest.approx(
        solved(loom, "horn").loads["horn-winding"].current_a, rel=1e-3
    )
    greased = dataclasses.replace(loom.places["bar-earth:bearings"], joint_ohm=3.0)
    seen = solved(dataclasses.replace(loom, places={**loom.places, "bar-earth:bearings": greased}), "horn")
    assert seen.loads["horn-winding"].word == "weak"
    assert seen.volts("left-switch:bar@in") > 3, "the handlebar itself is above earth"


def test_the_interlock_diode_holds_the_relay_in_neutral_and_blocks_in_gear() -> None:
    neutral, clutch = solved(bike(), "start-neutral"), solved(bike(), "start-clutch")
    assert 0.6 < neutral.between("diode-pack:in@out", "diode-pack:out@in") < 1.0
    assert neutral.current("device", "interlock-diode") == pytest.approx(
        neutral.loads["starter-relay-coil"].current_a, rel=1e-3
    )
    assert clutch.current("device", "interlock-diode") == pytest.approx(0, abs=1e-6)
    assert clutch.between("diode-pack:out@in", "diode-pack:in@out") > 5, (
        "the neutral lamp's feed stands against it"
    )
    assert clutch.loads["neutral-lamp"].word == "dead"


def test_a_contact_closes_by_the_volts_its_coil_gets_not_by_having_a_circuit() -> None:
    loom = bike()
    state = loom.known.states["start-neutral"]
    poor = dataclasses.replace(loom.places["starter-relay:coil-in"], joint_ohm=5.0)
    seen = solve_loom(dataclasses.replace(loom, places={**loom.places, poor.id: poor}), state)
    assert "starter-relay-coil" in lit(settle(loom, state)), "by search alone it has a circuit"
    assert seen.loads["starter-relay-coil"].word == "dead", "half the volts: it does not pull"
    assert seen.loads["starter"].word == "dead"
    assert seen.network.elements["device", "starter-relay-contact"] == ()


def test_a_relay_that_drops_out_under_its_own_load_is_said_to_click_for_ever() -> None:
    loom = bike()
    flat = dataclasses.replace(loom.devices["battery-cells"], volts=11.5, inner_ohm=0.12)
    tired = dataclasses.replace(loom, devices={**loom.devices, "battery-cells": flat})
    net = network(tired, loom.known.states["start-neutral"])
    assert "starter-relay-coil" in net.oscillating


def test_a_shared_warning_lamp_lights_through_the_other_sides_cold_bulbs() -> None:
    seen = solved(bike(), "turn-left")
    lamp, other = seen.loads["turn-lamp"], seen.loads["turn-front-right"]
    assert lamp.word == "works"
    assert other.word == "dead"
    assert 0 < seen.volts("indicator-front-right:feed@out") < 0.3
    both = seen.current("device", "turn-front-right") + seen.current("device", "turn-rear-right")
    assert both == pytest.approx(lamp.current_a, rel=1e-3)


def test_a_lost_tail_earth_lets_the_tail_lamp_glow_through_cold_filaments() -> None:
    loom = bike()
    sound, lost = (
        solved(loom, "position"),
        solved(without(loom, "rear-earth-run", "tail-earth-run"), "position"),
    )
    tail = lost.loads["tail-light"]
    assert sound.loads["tail-light"].word == "works"
    assert 0.3 < tail.share < sound.loads["tail-light"].share
    assert 1.0 < lost.volts("tail-lamp:earth@in") < 10, "its earth stands well above earth"
    assert lost.loads["brake-light"].word == "dead"
    back = lost.current("device", "brake-light")
    assert back < 0 or lost.current("device", "turn-rear-left") < 0, "some lamp carries it backward"
    braking = solved(without(loom, "rear-earth-run", "tail-earth-run"), "rear-brake")
    assert braking.loads["brake-light"].word == "weak", "it takes the same way, and dims"


def test_twin_filaments_with_a_common_way_share_its_poor_joint() -> None:
    loom = bike()
    poor = dataclasses.replace(loom.places["tail-lamp:earth"], joint_ohm=4.0)
    both = loom.known.states["position"].moved({"rear-brake": "on"})
    bad = dataclasses.replace(loom, places={**loom.places, poor.id: poor})
    alone, together = solved(bad, "position"), solve_loom(bad, both)
    assert together.loads["tail-light"].volts_v < alone.loads["tail-light"].volts_v - 2


def test_positive_earth_reads_mirrored() -> None:
    answers = {**TWIN, "alternator": "dynamo"}
    negative = build(load_pattern(), {**answers, "earth": "negative"})
    positive = build(load_pattern(), {**answers, "earth": "positive"})
    for name in ("head-low", "turn-left", "start-clutch", "riding"):
        one, other = solved(negative, name), solved(positive, name)
        for place in (
            "battery:live",
            "headlamp:low",
            "left-switch:left",
            "indicator-rear-right:feed",
            "frame",
        ):
            assert other.volts(f"{place}@in") == pytest.approx(-one.volts(f"{place}@in"), abs=1e-6)
        assert {id_: it.word for id_, it in one.loads.items()} == {
            id_: it.word for id_, it in other.loads.items()
        }


def test_six_volts_positive_earth_with_a_dynamo() -> None:
    six = bike("old six")
    seen = solved(six, "head-low")
    assert -6.3 < seen.volts("headlamp:low@out") < -5
    assert seen.loads["low-beam"].current_a == pytest.approx(25 / 6, rel=0.1)
    riding = solved(six, "riding")
    assert riding.charge_a["battery-cells"] > 0
    assert riding.current("device", "dynamo-armature") > riding.charge_a["battery-cells"]


def test_with_the_engine_running_the_charging_output_feeds_loads_and_battery() -> None:
    still, riding = solved(bike(), "head-low"), solved(bike(), "riding")
    assert still.charge_a["battery-cells"] == pytest.approx(-6.65, abs=0.5)
    assert riding.charge_a["battery-cells"] > 1
    output = riding.current("device", "regulator-output")
    assert riding.charge_a["battery-cells"] < output <= 20.8
    assert (
        still.volts("battery:live@in")
        < riding.volts("battery:live@in")
        < riding.volts("regulator:live@in")
        < 14.3
    )


def test_a_charging_output_gives_no_more_than_it_has() -> None:
    loom = bike()
    heavy = dataclasses.replace(loom.devices["low-beam"], watts=400.0)
    seen = solved(dataclasses.replace(loom, devices={**loom.devices, "low-beam": heavy}), "riding")
    assert seen.current("device", "regulator-output") < 22
    assert seen.charge_a["battery-cells"] < 0


def test_charging_stops_without_the_stator_and_limps_on_two_of_three() -> None:
    loom = bike()
    none, two = without(loom, *(f"stator-run-{way}" for way in "uvw")), without(loom, "stator-run-u")
    assert solved(none, "riding").charge_a["battery-cells"] < 0
    seen = solved(two, "riding")
    assert seen.charge_a["battery-cells"] > 0
    whole = solved(loom, "riding").loads
    assert seen.loads["regulator-leg-vw"].volts_v == pytest.approx(
        whole["regulator-leg-vw"].volts_v, rel=0.05
    )
    assert seen.loads["regulator-leg-uv"].volts_v < 0.6 * whole["regulator-leg-uv"].volts_v
    assert whole["regulator-leg-uv"].flow == "AC"


def test_three_windings_give_the_same_volts_pair_by_pair() -> None:
    loads = solved(bike(), "idle").loads
    legs = [loads[f"regulator-leg-{pair}"].volts_v for pair in ("uv", "vw", "wu")]
    assert legs == pytest.approx([legs[0]] * 3, rel=0.01)
    assert 10 < legs[0] < 14 * 1.2


def test_ac_lights_need_the_engine_and_are_held_down_at_speed() -> None:
    trail = bike("trail")
    still = solve_loom(trail, trail.known.states["head-low"])
    assert still.loads["low-beam"].word == "dead"
    riding = solved(trail, "riding")
    assert riding.network.reads_ac
    assert riding.loads["low-beam"].word == "works"
    assert 12 < riding.volts("lighting-coil:out@in") < 14
    unheld = {id_: one for id_, one in trail.devices.items() if id_ != "ac-regulator-shunt"}
    over = solved(dataclasses.replace(trail, devices=unheld), "riding")
    assert over.loads["low-beam"].volts_v > 15, "bulbs blow at speed"


def test_a_stop_switch_to_earth_shorts_the_source_coil() -> None:
    trail = bike("trail")
    running, killed = solved(trail, "idle"), solved(trail, "killed")
    assert running.loads["ignition-charge"].word == "works"
    assert running.loads["ignition-charge"].flow == "pulses"
    assert running.loads["coil-1"].word == "works"
    assert killed.loads["ignition-charge"].word == "dead"
    assert killed.loads["coil-1"].word == "dead"


def test_wires_warm_up() -> None:
    state = bike().known.states["head-low"]
    cold, hot = solve_loom(bike(), state), solve_loom(bike(), state, temperature_c=90)
    assert hot.loads["low-beam"].volts_v < cold.loads["low-beam"].volts_v


def test_parts_and_elements_name_each_other() -> None:
    net = solved(bike(), "riding").network
    assert net.elements["wire", "tail-run"] == ("wire tail-run",)
    assert net.elements["place", "rear-plug:tail"] == ("joint rear-plug:tail",)
    assert net.elements["place", "frame"] == ()
    for part, names in net.elements.items():
        assert all(net.part[name] == part for name in names)
    assert set(net.part) == {element.name for element in net.circuit.elements}


def test_an_empty_or_unfinished_loom_is_solved_too() -> None:
    loom = bike()
    empty = dataclasses.replace(loom, bodies={}, places={}, devices={}, wires={})
    assert solve_loom(empty, loom.known.states["key-on"]).loads == {}
    places = {id_: one for id_, one in loom.places.items() if id_ != "battery-earth:bolt"}
    assert solved(dataclasses.replace(loom, places=places), "head-low").converged
