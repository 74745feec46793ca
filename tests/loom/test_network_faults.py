"""Every single fault: what it does to the loads, and that the quick sums agree with solving afresh."""

import dataclasses
from functools import cache

import pytest

from tests.loom.making import bike
from tracker.electrics.network import solve
from tracker.electrics.network_changes import changed_circuit
from tracker.loom.network import LoomNetwork, network
from tracker.loom.network_effects import Effect, Effects, effects, effects_of
from tracker.loom.network_faults import faults_of, single_faults
from tracker.loom.network_follows import with_follows
from tracker.loom.network_shorten import chained
from tracker.loom.network_table import Table
from tracker.loom.states import powered
from tracker.records.network import Change, Joint, Solution

STATES = [
    ("twin", "position"), ("twin", "turn-left"), ("twin", "start-neutral"), ("four", "riding"),
    ("four", "start-clutch"), ("trail", "idle"), ("trail", "killed"), ("old six", "riding"),
    ("single", "idle"), ("scooter", "hot"),
]  # fmt: skip


@cache
def solved(name: str, state: str) -> tuple[LoomNetwork, Effects]:
    loom = bike(name)
    net = network(loom, powered(loom, loom.known.states[state]))
    return net, effects_of(net, faults_of(net))


def effect(name: str, state: str, fault: str) -> Effect:
    _, all_of_them = solved(name, state)
    number = next(n for n, one in enumerate(all_of_them.faults) if one.id == fault)
    return all_of_them[number]


def afresh(net: LoomNetwork, change: Change, *, whole: bool) -> Solution:
    """The circuit with a change made, solved from the beginning, in short or as it stands."""
    circuit = changed_circuit(net.circuit, change)
    if whole:
        return solve(circuit).solution
    short = chained(circuit)
    return short.expand(solve(short.circuit).solution)


@pytest.mark.parametrize(("name", "state"), STATES)
def test_volts_by_small_changes_are_those_of_solving_afresh(name: str, state: str) -> None:
    net, seen = solved(name, state)
    changes = [with_follows(net, fault, seen.follows[number]) for number, fault in enumerate(seen.faults)]
    table = Table(net.short, net.solved, changes)
    columns = {node: table.volts(node) for node in net.solution.volts}
    for number in range(STATES.index((name, state)), len(changes), 7):
        solution = afresh(net, changes[number], whole=number % 10 == 0 and name in {"trail", "old six"})
        if not solution.converged:
            continue
        for node, volts in solution.volts.items():
            if node in columns and node not in solution.floating:
                assert abs(columns[node][number] - volts) < 2e-4, (seen.faults[number].id, node)


@pytest.mark.parametrize(("name", "state"), STATES)
def test_few_faults_take_a_whole_solve(name: str, state: str) -> None:
    _, seen = solved(name, state)
    assert seen.solved_afresh <= 0.05 * len(seen)


def test_every_part_of_a_circuit_has_its_faults() -> None:
    net, seen = solved("twin", "position")
    kinds = {(fault.part, fault.kind) for fault in seen.faults}
    assert (("wire", "tail-run"), "open") in kinds
    assert (("wire", "tail-run"), "to frame") in kinds
    assert (("place", "rear-plug:tail"), "weak") in kinds
    assert (("place", "rear-plug:tail"), "open") in kinds
    assert (("device", "lights-tail"), "stuck open") in kinds
    assert (("device", "dip-high"), "stuck closed") in kinds
    assert (("device", "interlock-diode"), "shorted") in kinds
    assert (("device", "tail-light"), "bulb") in kinds
    assert (("device", "battery-cells"), "flat") in kinds
    assert (("device", "fuse-tail"), "blown") in kinds
    assert len({fault.id for fault in seen.faults}) == len(seen.faults)
    assert all(fault.words and fault.part[0] in {"wire", "place", "device"} for fault in seen.faults)
    assert {fault.part for fault in seen.faults if net.elements.get(fault.part)} >= {
        part for part, names in net.elements.items() if names and part[0] != "device"
    }


def test_an_open_wire_darkens_its_own_lamp_only() -> None:
    one = effect("twin", "position", "wire tail-run open")
    assert one.loads["tail-light"] == "dead"
    assert one.loads["position-light"] == "works"
    assert not one.blows


def test_a_poor_joint_makes_a_headlamp_weak_and_hardly_touches_a_small_lamp() -> None:
    assert effect("twin", "head-low", "place headlamp:low weak").loads["low-beam"] == "weak"
    assert effect("twin", "position", "place tail-lamp:tail weak").loads["tail-light"] in {"works", "weak"}
    assert effect("twin", "key-on", "place instruments:neutral weak").loads["neutral-lamp"] == "works"


def test_a_lost_rear_earth_leaves_the_tail_lamp_aglow_and_the_brake_lamp_dull() -> None:
    one = effect("twin", "position", "wire tail-earth-run open")
    assert one.loads["tail-light"] in {"weak", "works"}, "it comes home through cold indicator filaments"
    _, seen = solved("twin", "position")
    number = [fault.id for fault in seen.faults].index(one.fault.id)
    assert seen.volts("tail-earth:joint@in")[number] > 1


def test_a_chafed_feed_blows_its_fuse_and_takes_what_is_behind_it() -> None:
    one = effect("twin", "position", "wire tail-run to frame")
    assert one.blows == ("fuse-tail",)
    assert one.loads["tail-light"] == "dead"
    assert one.loads["instrument-light"] == "dead"
    assert one.loads["neutral-lamp"] == "works"


def test_a_chafed_switched_earth_sounds_the_horn_and_blows_nothing() -> None:
    one = effect("twin", "key-on", "wire horn-run to frame")
    assert one.loads["horn-winding"] == "works"
    assert one.blows == ()


def test_what_starves_a_coil_opens_its_contact() -> None:
    for fault in ("wire start-run open", "device interlock-diode open", "device neutral-contact stuck open"):
        one = effect("twin", "start-neutral", fault)
        assert one.loads["starter-relay-coil"] == "dead"
        assert one.loads["starter"] == "dead", fault
    assert effect("twin", "start-neutral", "device starter-relay-coil open").loads["starter"] == "dead"
    assert effect("four", "riding", "device ecu-electronics open").loads["fuel-pump"] == "dead"


def test_a_welded_starter_relay_cranks_by_itself() -> None:
    assert effect("twin", "key-on", "device starter-relay-contact stuck closed").loads["starter"] in {
        "works",
        "weak",
    }


def test_a_shorted_interlock_diode_lights_the_neutral_lamp_with_the_clutch_in() -> None:
    assert effect("twin", "clutch-in", "device interlock-diode shorted").loads["neutral-lamp"] == "works"
    assert effect("twin", "clutch-in", "device interlock-diode open").loads["neutral-lamp"] == "dead"


def test_a_flat_battery_dims_the_lamps_and_cranks_badly_or_makes_the_relay_click() -> None:
    dull = effect("twin", "head-low", "device battery-cells flat")
    assert dull.loads["low-beam"] == "weak"
    one = effect("twin", "start-neutral", "device battery-cells flat")
    assert one.oscillates or one.loads["starter"] in {"weak", "dead"}


def test_a_poor_battery_earth_spoils_cranking_and_leaves_the_lamps() -> None:
    fault = "place battery:earthed weak"
    cranking, lamps = effect("twin", "start-neutral", fault), effect("twin", "head-low", fault)
    assert cranking.oscillates or cranking.loads["starter"] in {"weak", "dead"}
    assert {lamps.loads[load] for load in ("low-beam", "tail-light")} == {"works"}


def test_a_lost_engine_earth_sends_the_starter_home_by_the_frame() -> None:
    _, seen = solved("twin", "start-neutral")
    number = [fault.id for fault in seen.faults].index("wire earth-cable open")
    assert seen.volts("battery-earth:bolt@in")[number] > 2 * seen.net.solution.volts["battery-earth:bolt@in"]


def test_a_lost_stator_wire_and_a_lost_regulator_earth() -> None:
    _, seen = solved("four", "riding")
    names = [fault.id for fault in seen.faults]
    charge = seen.charge_a("battery-cells")
    assert charge[names.index("wire charge-feed open")] < 0
    assert charge[names.index("device regulator-output open")] < 0
    assert charge[names.index("wire stator-run-u open")] > 0, "two of three still charge"
    assert charge[names.index("wire tail-run open")] > 0


def test_a_stop_wire_on_the_frame_kills_a_magneto() -> None:
    killing = [
        one.fault.part[1]
        for one in solved("trail", "idle")[1]
        if one.fault.kind == "to frame" and one.loads["coil-1"] == "dead"
    ]
    assert "source-coil-run" in killing or "source-coil-lead" in killing
    assert effect("trail", "idle", "device kill-earth stuck closed").loads["coil-1"] == "dead"
    assert effect("trail", "killed", "device kill-earth stuck open").loads["coil-1"] == "works", "it runs on"


def test_the_signature_of_loom_and_state() -> None:
    loom = bike()
    state = loom.known.states["horn"]
    faults = single_faults(loom, state)
    table = effects(loom, state, faults[:20])
    assert len(table) == 20
    assert [one.fault for one in table[2:4]] == list(faults[2:4])
    assert len(table.share("horn-winding")) == 20


def test_no_fault_asked_is_no_effect() -> None:
    net, _ = solved("twin", "horn")
    assert list(effects_of(net, ())) == []


def test_a_joint_of_any_ohms_can_be_tried() -> None:
    from tracker.loom.network_faults import weak_joint

    net, _ = solved("twin", "head-low")
    poor = weak_joint(net, "headlamp:low", 2.0)
    (one,) = effects_of(net, [poor])
    assert one.loads["low-beam"] == "weak"
    (put,) = poor.change.put_in
    assert isinstance(put, Joint)
    whole = {element.name: element for element in net.circuit.elements}[put.name]
    assert isinstance(whole, Joint)
    assert put.ohm == pytest.approx(whole.ohm + 2.0)


def test_faults_of_a_changed_loom() -> None:
    loom = bike()
    wires = {id_: one for id_, one in loom.wires.items() if id_ != "rear-earth-run"}
    broken = network(dataclasses.replace(loom, wires=wires), loom.known.states["position"])
    assert ("wire", "rear-earth-run") not in {fault.part for fault in faults_of(broken)}
