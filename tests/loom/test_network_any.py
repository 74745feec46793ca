"""Any loom in any state: every answer to the pattern's questions, every control anywhere, wires missing."""

import dataclasses

from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.electrics.network import solve
from tracker.electrics.network_changes import changed_circuit
from tracker.loom.network import solution_of, solve_loom
from tracker.loom.network_effects import effects_of
from tracker.loom.network_faults import faults_of
from tracker.loom.network_follows import with_follows
from tracker.loom.network_shorten import chained
from tracker.loom.network_table import Table
from tracker.loom.pattern import build, suppose
from tracker.records.loom_made import Loom
from tracker.records.loom_pattern import State
from tracker.seedfiles.loom import load_pattern

RPM = {"stopped": 0, "cranking": 300, "idle": 1200, "riding": 5000}


@st.composite
def looms(draw: st.DrawFn) -> Loom:
    """A loom that the pattern allows, perhaps with some of its wires gone."""
    features = load_pattern().known.features
    answers = {name: draw(st.sampled_from([None, *feature.values])) for name, feature in features.items()}
    loom = suppose(build(load_pattern(), answers))
    gone = draw(st.sets(st.sampled_from(sorted(loom.wires)), max_size=3))
    return dataclasses.replace(loom, wires={id_: one for id_, one in loom.wires.items() if id_ not in gone})


@st.composite
def states(draw: st.DrawFn) -> State:
    """Every control in any of its positions, the key rather on than off."""
    controls = load_pattern().known.controls.values()
    at = {control.id: draw(st.sampled_from(control.positions)) for control in controls}
    at["key"] = draw(st.sampled_from(["on", "on", "on", at["key"]]))
    return State(id="any", words="any", at=at, rpm=RPM[at["engine"]])


@given(loom=looms(), state=states())
@settings(max_examples=25, deadline=None)
def test_it_comes_to_an_answer_that_adds_up(loom: Loom, state: State) -> None:
    seen = solve_loom(loom, state)
    assert seen.converged
    assert seen.network.solution.residual_a < 1e-5
    assert set(seen.loads) == {device.id for device in loom.devices.values() if device.is_load}
    assert all(it.share >= 0 and it.word in {"works", "weak", "dead"} for it in seen.loads.values())
    assert solution_of(seen.network) == seen


@given(loom=looms(), state=states(), data=st.data())
@settings(max_examples=6, deadline=None)
def test_every_fault_has_its_effect_and_a_few_are_solved_afresh_to_the_same(
    loom: Loom, state: State, data: st.DataObject
) -> None:
    net = solve_loom(loom, state).network
    faults = faults_of(net)
    seen = effects_of(net, faults)
    assert all(len(seen.words(load)) == len(faults) for load in seen.loads)
    for number in data.draw(st.sets(st.integers(0, len(faults) - 1), max_size=5)):
        change = with_follows(net, faults[number], seen.follows[number])
        short = chained(changed_circuit(net.circuit, change))
        solution = short.expand(solve(short.circuit).solution)
        table = Table(net.short, net.solved, [change])
        for node, volts in solution.volts.items():
            if solution.converged and node in net.solution.volts and node not in solution.floating:
                assert abs(table.volts(node)[0] - volts) < 5e-4, (faults[number].id, node)
