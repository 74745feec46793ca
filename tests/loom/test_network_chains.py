"""Rows of parts taken as one: rings, twigs, wires side by side, and what a change does within a row."""

from itertools import pairwise

import pytest

from tracker.electrics.network import solve
from tracker.electrics.network_changes import changed_circuit
from tracker.loom.network_chains import Chained
from tracker.loom.network_shorten import chained
from tracker.loom.network_table import Table
from tracker.loom.network_touched import shorten
from tracker.records.network import Change, Circuit, Element, Filament, Joint, Resistor, VoltageSource

BATTERY = VoltageSource("battery", "+", "-", 12.6, 0.02)


def row(name: str, *nodes: str, ohm: float = 0.1) -> list[Element]:
    return [Joint(f"{name} {number}", a, b, ohm * number) for number, (a, b) in enumerate(pairwise(nodes), 1)]


def lamp_loom(*more: Element) -> Circuit:
    """Battery, five joints to a lamp, three back."""
    return Circuit(
        "-",
        (
            BATTERY,
            *row("feed", "+", "f1", "f2", "f3", "f4", "lamp"),
            Filament("lamp", "lamp", "foot", 21, 12),
            *row("earth", "foot", "e1", "e2", "-"),
            *more,
        ),
    )


def same(circuit: Circuit, short: Chained) -> None:
    """The short circuit says of every node and part what the whole one does."""
    whole, found = solve(circuit).solution, short.expand(solve(short.circuit).solution)
    assert found.volts.keys() == whole.volts.keys()
    for node, volts in whole.volts.items():
        if node not in whole.floating:
            assert found.volts[node] == pytest.approx(volts, abs=1e-7), node
    for name, amps in whole.current.items():
        assert found.current[name] == pytest.approx(amps, abs=1e-6), name
    assert found.floating == whole.floating


def test_a_row_is_one_part() -> None:
    short = chained(lamp_loom())
    assert len(short.circuit.elements) == 4
    assert set(solve(short.circuit).solution.volts) == {"+", "-", "lamp", "foot"}
    same(lamp_loom(), short)


def test_what_hangs_on_one_end_has_the_volts_of_where_it_hangs() -> None:
    circuit = lamp_loom(*row("twig", "f2", "t1", "t2"), *row("fork", "t1", "t3"))
    short = chained(circuit)
    assert short.twigs == {"twig 1", "twig 2", "fork 1"}
    assert len(short.circuit.elements) == 4
    same(circuit, short)


def test_a_ring_and_wires_side_by_side() -> None:
    ring = row("ring", "f2", "r1", "r2", "r3", "f2")
    beside = row("beside", "f1", "b1", "f3")
    same(lamp_loom(*ring), chained(lamp_loom(*ring)))
    same(lamp_loom(*beside), chained(lamp_loom(*beside)))
    same(lamp_loom(Joint("double", "f1", "f2", 0.3)), chained(lamp_loom(Joint("double", "f1", "f2", 0.3))))


def test_what_hangs_on_nothing_floats() -> None:
    loose = row("loose", "x1", "x2", "x3")
    ring = row("round", "y1", "y2", "y3", "y1")
    for more in (loose, ring):
        found = chained(lamp_loom(*more))
        assert found.expand(solve(found.circuit).solution).floating >= {more[0].a, more[0].b}


def test_a_node_that_is_kept_stays_a_branch() -> None:
    assert "f2" in solve(chained(lamp_loom(), ["f2"]).circuit).solution.volts


CHANGES = {
    "open": Change("", ("feed 3",)),
    "two open in one row": Change("", ("feed 2", "feed 4")),
    "poor": Change("", ("feed 3",), (Joint("feed 3", "f2", "f3", 2.0),)),
    "poor and open": Change("", ("feed 3", "feed 5"), (Joint("feed 3", "f2", "f3", 2.0),)),
    "to the frame in the middle": Change("", (), (Joint("chafe", "f2", "-", 0.05),)),
    "to the frame behind an open joint": Change("", ("feed 2",), (Joint("chafe", "f3", "-", 0.05),)),
    "to the frame ahead of an open joint": Change("", ("feed 4",), (Joint("chafe", "f3", "-", 0.05),)),
    "to the frame between open joints": Change("", ("feed 2", "feed 5"), (Joint("chafe", "f3", "-", 0.05),)),
    "to the frame behind a poor joint": Change(
        "", ("feed 2",), (Joint("feed 2", "f1", "f2", 1.0), Joint("chafe", "f3", "-", 0.05))
    ),
    "to its own end": Change("", (), (Joint("bridge", "f2", "+", 0.05),)),
    "from a twig": Change("", (), (Joint("chafe", "t2", "-", 0.05),)),
    "from a twig that is off": Change("", ("twig 1",), (Joint("chafe", "t2", "-", 0.05),)),
    "a twig that is off": Change("", ("twig 2",)),
    "something loose tied on": Change("", (), (Joint("tie", "x1", "f2", 0.05),)),
    "two loose things together": Change("", (), (Joint("tie", "x1", "x3", 0.05),)),
    "the lamp out": Change("", ("lamp",)),
    "another lamp in": Change("", ("lamp",), (Resistor("lamp", "lamp", "foot", 5.0),)),
    "from row to row": Change("", (), (Joint("cross", "f2", "e1", 0.5),)),
}  # fmt: skip


@pytest.mark.parametrize("name", CHANGES)
def test_a_change_in_short_is_the_change_of_the_whole(name: str) -> None:
    circuit = lamp_loom(*row("twig", "f2", "t1", "t2"), *row("loose", "x1", "x2", "x3"))
    short = chained(circuit)
    table = Table(short, solve(short.circuit), [Change(""), CHANGES[name]])
    afresh = solve(changed_circuit(circuit, CHANGES[name])).solution
    for node, volts in afresh.volts.items():
        if node not in afresh.floating:
            assert table.volts(node)[1] == pytest.approx(volts, abs=1e-5), node


def test_only_what_ties_two_rows_is_solved_afresh() -> None:
    circuit = lamp_loom(*row("twig", "f2", "t1", "t2"), *row("loose", "x1", "x2", "x3"))
    afresh = {name for name, change in CHANGES.items() if shorten(chained(circuit), change).change is None}
    assert afresh == {"from row to row"}
