"""Changes to a solved network give what solving the changed network gives."""

import pytest

from tests.bench.network import loom, single_faults
from tracker.electrics.network import Solved, solve
from tracker.electrics.network_changes import changed_circuit
from tracker.records.network import (
    Change,
    Circuit,
    Diode,
    Filament,
    Joint,
    Resistor,
    Solution,
    VoltageSource,
    WireElement,
)
from tracker.records.problem import Mistakes


def rear_end() -> Circuit:
    """Tail, brake and left indicator on one rear earth; tail and brake on, indicators off."""
    return Circuit(
        "battery -",
        (
            VoltageSource("battery", "battery +", "battery -", 12.6, 0.03),
            Joint("main earth", "battery -", "frame", 0.005),
            WireElement("tail feed", "battery +", "tail", 1800, 24.7),
            WireElement("brake feed", "battery +", "brake", 1800, 24.7),
            WireElement("left feed", "left front", "left rear", 1700, 24.7),
            Filament("tail lamp", "tail", "rear earth", 5, 13.5),
            Filament("brake lamp", "brake", "rear earth", 21, 13.5),
            Filament("left rear lamp", "left rear", "rear earth", 21, 13.5),
            Filament("left front lamp", "left front", "frame", 21, 13.5),
            Filament("pilot", "tail", "frame", 5, 13.5),
            Joint("rear earth", "rear earth", "frame", 0.01),
        ),
    )


def afresh(circuit: Circuit, change: Change) -> Solution:
    return solve(changed_circuit(circuit, change)).solution


def assert_same(cheap: Solution, full: Solution) -> None:
    assert cheap.converged
    assert full.converged
    held = full.volts.keys() - full.floating
    assert {node: cheap.volts[node] for node in held} == pytest.approx(
        {node: full.volts[node] for node in held}, abs=1e-4
    )
    assert dict(cheap.current) == pytest.approx(dict(full.current), abs=1e-4)
    assert cheap.floating & full.volts.keys() == full.floating


def test_a_lost_rear_earth_feeds_the_lamps_through_each_other() -> None:
    circuit = rear_end()
    solved = solve(circuit)
    lost = solved.changed(Change("rear earth open", ("rear earth",)))
    assert_same(lost, afresh(circuit, Change("rear earth open", ("rear earth",))))
    assert solved.solution.current["left rear lamp"] == pytest.approx(0, abs=0.02)
    assert lost.current["left rear lamp"] < -0.5
    assert lost.current["left front lamp"] == pytest.approx(-lost.current["left rear lamp"], abs=1e-6)
    assert abs(lost.current["brake lamp"]) < solved.solution.current["brake lamp"]


def test_every_single_fault_of_a_whole_loom_equals_a_solve_from_scratch() -> None:
    circuit = loom(6)
    faults = single_faults(circuit)
    table = solve(circuit).faults(faults)
    assert len(table) == len(faults) > 200
    assert table.solved_afresh == 0
    for change, cheap in zip(faults, table, strict=True):
        assert_same(cheap, afresh(circuit, change))


def test_columns_say_what_the_solutions_say() -> None:
    circuit = rear_end()
    faults = single_faults(circuit)
    table = solve(circuit).faults(faults)
    for name in ("battery", "tail lamp", "rear earth"):
        assert table.current(name) == pytest.approx([one.current.get(name, 0.0) for one in table], abs=1e-9)
    assert table.volts("brake") == pytest.approx([one.volts["brake"] for one in table], abs=1e-9)
    assert table.labels[0] == "battery open"
    assert table[-1].volts == table[len(table) - 1].volts
    assert len(table[2:5]) == 3
    with pytest.raises(IndexError):
        table[len(table)]


@pytest.mark.parametrize(
    "change",
    [
        Change("plug full of water", ("tail feed", "brake feed", "left feed")),
        Change("brake lamp out", ("brake lamp",)),
        Change("another bulb", ("brake lamp",), (Filament("brake lamp", "brake", "rear earth", 5, 13.5),)),
        Change(
            "spliced",
            ("brake feed",),
            (
                WireElement("brake feed", "battery +", "splice", 900, 24.7),
                Joint("splice", "splice", "brake", 0.3),
            ),
        ),
        Change("second source", put_in=(VoltageSource("charger", "battery +", "frame", 14.4, 0.2),)),
        Change("turned round", ("rear earth",), (Joint("rear earth", "frame", "rear earth", 2.0),)),
        Change(
            "a diode in the tail feed", ("tail feed",), (Diode("tail feed", "battery +", "tail", 0.7, 0.05),)
        ),
        Change("battery out", ("battery",)),
        Change("dead end", put_in=(Joint("stray wire", "battery +", "nowhere", 0.01),)),
    ],
    ids=lambda change: change.label,
)
def test_changes_of_every_kind(change: Change) -> None:
    circuit = rear_end()
    assert_same(solve(circuit).changed(change), afresh(circuit, change))


def test_a_part_cut_off_floats_and_nothing_else_moves() -> None:
    circuit = Circuit(
        "frame",
        (
            VoltageSource("battery", "+", "frame", 12.6, 0.03),
            Resistor("load", "+", "frame", 6),
            WireElement("branch", "+", "switch in", 800, 24.7),
            WireElement("stub", "switch in", "end", 800, 24.7),
        ),
    )
    solved = solve(circuit)
    cut = solved.changed(Change("branch open", ("branch",)))
    assert cut.floating == {"switch in", "end"}
    assert cut.current["load"] == pytest.approx(solved.solution.current["load"])
    assert (
        solved.changed(Change("two wires side by side", put_in=(Joint("x", "+", "end", 0.1),))).floating
        == set()
    )


def test_a_diode_opened_or_shorted() -> None:
    circuit = Circuit(
        "frame",
        (
            VoltageSource("battery", "+", "frame", 12.6, 0.03),
            Resistor("relay coil", "+", "interlock", 90),
            Diode("diode", "interlock", "neutral", 0.7, 0.3),
            Filament("neutral lamp", "+", "neutral", 3, 12),
            Joint("clutch switch", "interlock", "frame", 0.05),
        ),
    )
    solved = solve(circuit)
    open_diode = Change("diode open", ("diode",))
    shorted = Change("diode shorted", ("diode",), (Joint("diode", "interlock", "neutral", 0.01),))
    table = solved.faults((open_diode, shorted))
    assert solved.solution.current["neutral lamp"] == pytest.approx(0, abs=1e-6)
    assert table.current("neutral lamp")[1] == pytest.approx(0.25, rel=0.05)
    for change, found in zip((open_diode, shorted), table, strict=True):
        assert_same(found, afresh(circuit, change))


def test_what_is_not_there_cannot_be_taken_out() -> None:
    solved = solve(rear_end())
    with pytest.raises(Mistakes) as caught:
        solved.faults(
            (
                Change("gone", ("horn",)),
                Change("twice", put_in=(Joint("rear earth", "tail", "frame", 1),)),
                Change("no ohms", put_in=(Joint("chafe", "tail", "frame", -1),)),
            )
        )
    assert [problem.field for problem in caught.value.problems] == ["gone.out", "twice.put_in", "chafe.ohm"]


def test_no_changes_give_an_empty_table() -> None:
    table = solve(rear_end()).faults(())
    assert len(table) == 0
    assert isinstance(solve(rear_end()), Solved)
