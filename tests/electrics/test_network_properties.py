"""What holds of every network, tried on made-up ones."""

from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.electrics.network import solve
from tracker.electrics.network_changes import changed_circuit
from tracker.electrics.network_graph import bridges, islands
from tracker.electrics.network_laws import METER_S
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

NODES = tuple("abcdefgh")
OHMS = st.sampled_from([0.001, 0.02, 0.5, 3.0, 47.0, 1e3])


@st.composite
def elements(draw: st.DrawFn, number: int, *, straight: bool = False) -> Element:
    name = f"e{number}"
    a, b = draw(st.permutations(NODES))[:2]
    match draw(st.integers(0, 3 if straight else 6)):
        case 0:
            return Resistor(name, a, b, draw(OHMS))
        case 1:
            return Joint(name, a, b, draw(OHMS))
        case 2:
            return WireElement(name, a, b, draw(st.integers(10, 3000)), 24.7)
        case 3:
            return VoltageSource(name, a, b, draw(st.sampled_from([6.0, 12.6, 14.4])), draw(OHMS))
        case 4:
            return Filament(name, a, b, draw(st.sampled_from([1.2, 5, 21, 55])), 12)
        case 5:
            return Diode(name, a, b, draw(st.sampled_from([0.3, 0.7, 6.0])), draw(OHMS))
        case _:
            return CurrentLoad(name, a, b, draw(st.sampled_from([0.01, 0.4, 5.0])))


@st.composite
def circuits(draw: st.DrawFn, *, straight: bool = False) -> Circuit:
    count = draw(st.integers(1, 16))
    parts = tuple(draw(elements(number, straight=straight)) for number in range(count))
    return Circuit(parts[0].a, parts)


@settings(max_examples=120, deadline=None)
@given(circuits())
def test_every_network_has_an_answer_and_it_obeys_the_current_law(circuit: Circuit) -> None:
    found = solve(circuit).solution
    assert found.converged
    assert found.residual_a < 1e-6
    assert found.volts[circuit.reference] == 0
    assert circuit.reference not in found.floating


@settings(max_examples=120, deadline=None)
@given(circuits())
def test_no_node_lies_beyond_the_sources_put_end_to_end(circuit: Circuit) -> None:
    found = solve(circuit).solution
    most = sum(abs(part.volts) for part in circuit.elements if isinstance(part, VoltageSource))
    assert all(abs(volts) <= most + 1e-4 for node, volts in found.volts.items() if node not in found.floating)


@settings(max_examples=60, deadline=None)
@given(circuits())
def test_what_sources_give_is_what_the_rest_burns(circuit: Circuit) -> None:
    found = solve(circuit).solution
    given_w = burnt_w = 0.0
    for part in circuit.elements:
        watts = found.across(part.a, part.b) * found.current[part.name]
        if isinstance(part, VoltageSource):
            given_w += watts
        else:
            assert watts >= -1e-9
            burnt_w += watts
    # A place that nothing else holds is tied down by a meter of 10 Mohm, which burns a few microwatts too.
    meters_w = sum(METER_S * volts**2 for volts in found.volts.values())
    slack_w = 1e-6 * max(1.0, burnt_w)
    assert -slack_w <= given_w - burnt_w <= meters_w + slack_w


@settings(max_examples=60, deadline=None)
@given(circuits(straight=True))
def test_straight_networks_add_up_source_by_source(circuit: Circuit) -> None:
    whole = solve(circuit).solution
    sources = [part.name for part in circuit.elements if isinstance(part, VoltageSource)]
    alone = [
        solve(
            Circuit(
                circuit.reference,
                tuple(
                    Resistor(part.name, part.a, part.b, part.inner_ohm)
                    if isinstance(part, VoltageSource) and part.name != source
                    else part
                    for part in circuit.elements
                ),
            )
        ).solution
        for source in sources
    ]
    for node, volts in whole.volts.items():
        if node not in whole.floating:
            assert abs(volts - sum(one.volts[node] for one in alone)) < 1e-6


def held_without_diodes(circuit: Circuit) -> list[str]:
    """Nodes that have a way to the reference through something else than diodes."""
    ends = {end for part in circuit.elements for end in (part.a, part.b)} | {circuit.reference}
    nodes = sorted(ends)
    number = {node: place for place, node in enumerate(nodes)}
    boss = islands(
        len(nodes),
        ((number[part.a], number[part.b]) for part in circuit.elements if not isinstance(part, Diode)),
    )
    return [node for node in nodes if boss[number[node]] == boss[number[circuit.reference]]]


@settings(max_examples=80, deadline=None)
@given(circuits(), st.data())
def test_a_change_gives_what_a_solve_from_scratch_gives(circuit: Circuit, data: st.DataObject) -> None:
    part = data.draw(st.sampled_from(circuit.elements))
    change = data.draw(
        st.sampled_from(
            [
                Change("weak", (part.name,), (Joint(part.name, part.a, part.b, 2.0),)),
                Change("chafed", put_in=(Joint("chafe", part.b, circuit.reference, 0.02),))
                if part.b != circuit.reference
                else Change("nothing"),
            ]
        )
    )
    cheap = solve(circuit).changed(change)
    full = solve(changed_circuit(circuit, change)).solution
    assert cheap.converged
    # Places held by nothing but diodes read what a meter pulls them to: their amps must agree, volts may not.
    held = held_without_diodes(changed_circuit(circuit, change))
    assert all(abs(full.volts[node] - cheap.volts[node]) < 1e-3 for node in held)
    most = max(1.0, *(abs(amps) for amps in full.current.values()))
    assert all(abs(amps - cheap.current[name]) < 1e-4 * most for name, amps in full.current.items())


def test_a_part_that_a_change_joins_on_needs_no_meter_to_hold_it() -> None:
    circuit = Circuit(
        "frame",
        (
            Resistor("strap", "frame", "case", 0.001),
            Diode("diode", "feed", "lead", 0.3, 0.001),
            Resistor("coil", "lead", "battery", 1000.0),
            VoltageSource("cell", "battery", "feed", 12.6, 0.001),
        ),
    )
    chafed = Change("chafed", put_in=(Joint("chafe", "lead", "frame", 0.02),))
    cheap = solve(circuit).changed(chafed)
    # Nothing flows: the diode is turned against it, so the coil drops nothing, not even a meter's amps.
    assert abs(cheap.volts["battery"]) < 1e-5
    assert abs(cheap.volts["feed"] + 12.6) < 1e-5


@settings(max_examples=60, deadline=None)
@given(st.sampled_from([5.0, 21.0, 55.0]), st.floats(0.001, 20), st.floats(1.01, 5))
def test_a_worse_joint_never_makes_a_lamp_brighter(watts: float, ohm: float, worse: float) -> None:
    def amps(joint_ohm: float) -> float:
        lamp = Filament("lamp", "lamp", "frame", watts, 12)
        circuit = Circuit(
            "frame",
            (
                VoltageSource("battery", "+", "frame", 12.6, 0.03),
                Joint("joint", "+", "lamp", joint_ohm),
                lamp,
            ),
        )
        return solve(circuit).solution.current["lamp"]

    assert amps(ohm * worse) < amps(ohm)


EDGES = st.lists(
    st.tuples(st.integers(0, 7), st.integers(0, 7)).filter(lambda edge: edge[0] != edge[1]), max_size=14
)


@settings(max_examples=150, deadline=None)
@given(EDGES)
def test_a_bridge_is_what_parts_an_island_when_it_goes(edges: list[tuple[int, int]]) -> None:
    boss = islands(8, edges)
    found = bridges(8, edges, sorted(set(boss)))
    for number, edge in enumerate(edges):
        without = islands(8, edges[:number] + edges[number + 1 :])
        assert (number in found) == (without[edge[0]] != without[edge[1]])
        if number in found:
            far = [node for node in range(8) if without[node] == without[found[number]]]
            assert found[number] == min(far)
            assert min(boss[node] for node in far) not in far
