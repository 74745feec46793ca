"""Volts along a circuit: rows that fall, drops that add up, readings beside what is expected."""

import dataclasses

import pytest

from tests.loom.making import BIKES, bike
from tracker.loom.circuits import lit, main_circuit
from tracker.loom.network import LoomSolution, solve_loom
from tracker.loom.states import powered
from tracker.loom.volts_along import AlongStep, along, volts_along
from tracker.loom.volts_text import WIDTH, volts_table
from tracker.records.loom_made import Loom
from tracker.records.problem import Mistakes


def solved(loom: Loom, state: str) -> LoomSolution:
    return solve_loom(loom, powered(loom, loom.known.states[state]))


def low_beam(ohm: float = 0.0, read: dict[str, float] | None = None) -> tuple[AlongStep, ...]:
    loom = bike()
    if ohm:
        poor = dataclasses.replace(loom.places["left-plug:low"], joint_ohm=ohm)
        loom = dataclasses.replace(loom, places={**loom.places, poor.id: poor})
    return along(loom, "low-beam", solved(loom, "head-low"), read)


def test_the_line_falls_from_the_battery_to_its_earthed_post() -> None:
    rows = low_beam()
    volts = [row.volts_v for row in rows]
    assert volts == sorted(volts, reverse=True)
    assert rows[0].end.place == "battery:live"
    assert volts[-1] == pytest.approx(0, abs=0.01)
    assert sum(row.drop_v for row in rows) == pytest.approx(volts[0] - volts[-1])
    (lamp,) = [row for row in rows if row.is_load]
    assert lamp.part == "low-beam"
    assert lamp.drop_v == max(row.drop_v for row in rows) > 11


def test_each_drop_is_its_parts_ohms_times_its_amps() -> None:
    loom = bike()
    seen = solved(loom, "head-low")
    for row in along(loom, "low-beam", seen):
        if row.kind == "wire" and loom.wires[row.part].size_mm2:
            wire = loom.wires[row.part]
            assert wire.size_mm2 is not None
            ohm = wire.length_mm / 1000 / (58 * wire.size_mm2)
            assert row.drop_v == pytest.approx(ohm * row.amps_a, rel=1e-6, abs=1e-9)


def test_a_poor_joint_stands_out() -> None:
    rows = low_beam(2.0)
    worst = max((row for row in rows if not row.is_load), key=lambda row: row.drop_v)
    assert (worst.kind, worst.part) == ("joint", "left-plug:low")
    assert worst.drop_v == pytest.approx(2.0 * worst.amps_a)
    assert 5 < worst.drop_v < 8


@pytest.mark.parametrize("name", BIKES)
def test_every_lit_load_of_every_bike_has_its_line(name: str) -> None:
    loom = bike(name)
    for state in ("head-low", "turn-left", "rear-brake", "riding"):
        seen = solved(loom, state)
        for load in lit(seen.network.settled):
            circuit = main_circuit(seen.network.settled, load)
            assert circuit is not None
            rows = volts_along(loom, circuit, seen)
            assert len(rows) == len(circuit.steps) + 1
            assert all(len(line) <= WIDTH for line in volts_table(rows))


def test_what_was_read_stands_beside_what_is_expected() -> None:
    rows = low_beam(read={"fuse-box:lights@out": 12.1, "headlamp:low": 9.2})
    fuse = next(row for row in rows if str(row.end) == "fuse-box:lights@out")
    lamp = [row for row in rows if row.end.place == "headlamp:low"]
    assert (fuse.measured_v, fuse.off) == (12.1, False)
    assert [row.off for row in lamp] == [True, True]
    assert lamp[0].measured_drop_v == pytest.approx(2.9)
    assert lamp[1].measured_drop_v == 0
    assert {row.measured_v for row in rows if row.end.place == "frame"} == {None}


def test_readings_that_cannot_be_are_refused_all_at_once() -> None:
    with pytest.raises(Mistakes) as refused:
        low_beam(read={"moon": 1.0, "headlamp:low": 400.0, "headlamp:low@up": 3.0})
    assert [problem.field for problem in refused.value.problems] == [
        "moon",
        "headlamp:low",
        "headlamp:low@up",
    ]


def test_a_load_without_a_circuit_has_no_line() -> None:
    loom = bike()
    assert along(loom, "low-beam", solved(loom, "key-on")) == ()


def test_the_table_of_a_poor_joint() -> None:
    lines = volts_table(low_beam(2.0, {"headlamp:low": 5.9, "fuse-box:lights@out": 11.4}))
    assert all(line.isascii() for line in lines)
    joint = next(line for line in lines if line.endswith("past left bar plug, low beam"))
    assert float(joint.split()[2]) > 5, "what it takes"
    read = next(line for line in lines if line.endswith("  headlamp, low beam"))
    assert " 5.90 " in read
    odd = next(line for line in lines if " 11.40 " in line)
    assert "! " in odd


def test_positive_earth_falls_below_nought() -> None:
    six = bike("old six")
    rows = along(six, "low-beam", solved(six, "head-low"))
    assert rows[0].end.place == "battery:earthed"
    assert min(row.volts_v for row in rows) == rows[-1].volts_v < -6
    assert float(volts_table(rows)[-1].split()[1]) < -6
