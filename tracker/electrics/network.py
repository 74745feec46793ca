"""The loom as a network: volts at every place and amps in every load, and what every fault would do to them.

    solved = solve(circuit)
    solved.solution.volts["tail"], solved.solution.current["tail lamp"]
    for change, after in zip(changes, solved.faults(changes)): ...

Nodal analysis: Kirchhoff's current law at every node but the reference. Filaments and diodes are met by
Newton steps that always go downhill (`network_newton`); changes are low-rank updates (`network_changes` says
which, `network_update` makes them). A part that hangs on nothing is reported as floating.
"""

from collections.abc import Iterable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, overload

from tracker.electrics.network_changes import Ports, Tangent, changed_circuit, ports_of, tangent_of
from tracker.electrics.network_check import check_changes, check_circuit
from tracker.electrics.network_graph import islands
from tracker.electrics.network_laws import Compiled, compile_circuit
from tracker.electrics.network_newton import Settled, settle, settled_at, state
from tracker.electrics.network_update import update
from tracker.records.network import Change, Circuit, Diode, Filament, Node, Resistor, Solution, VoltageSource

if TYPE_CHECKING:
    from tracker.electrics.network_laws import Floats

HELD = 0.98
"""A diode this near to its full drop holds the place behind it: a meter there reads something."""


def solve(circuit: Circuit) -> "Solved":
    """Volts at every node and amps through every element of `circuit`.

    Formula: at every node but the reference the sum of i(u) over its elements is 0; i(u) is u/R for ohms,
        (u - E)/R for a source, I (u/V)^0.55 for a filament, (u - drop)/R above its drop for a diode.
    Range: 1e-6 ohm to 1e9 ohm, up to 1000 V; at least one element; the reference is an end of one.
        A few hundred nodes; every network of such elements has one answer. `solution.converged` is False
        where rounding kept it from being found.
    Example:
        A 21 W lamp on 12.8 V through 3 m of 0.75 mm2 wire:

        >>> from tracker.records.network import Circuit, Filament, VoltageSource, WireElement
        >>> solved = solve(Circuit("frame", (
        ...     VoltageSource("battery", "battery +", "frame", 12.8, 0.02),
        ...     WireElement("feed", "battery +", "lamp", 3000, 24.7),
        ...     Filament("lamp", "lamp", "frame", 21, 13.5),
        ... )))
        >>> round(solved.solution.volts["lamp"], 3), round(solved.solution.current["lamp"], 3)
        (12.659, 1.501)

    Source: Kirchhoff's laws; filament law as in `tracker.records.network`. Checked against ngspice.
    """
    check_circuit(circuit)
    net = compile_circuit(circuit)
    return Solved(net, settle(net))


def cold(circuit: Circuit) -> Circuit:
    """`circuit` at the moment of switching on: every filament a resistor of its cold ohms.

    Formula: R cold = cold ratio x V^2 / W.
    Range: any circuit; it lasts some tens of milliseconds.
    Example:
        >>> from tracker.records.network import Circuit, Filament
        >>> cold(Circuit("frame", (Filament("lamp", "lamp", "frame", 21, 13.5),))).elements[0].ohm
        0.7232142857142857

    Source: cold ratio as in `tracker.records.network`.
    """
    return Circuit(
        circuit.reference,
        tuple(
            Resistor(element.name, element.a, element.b, element.cold_ohm)
            if isinstance(element, Filament)
            else element
            for element in circuit.elements
        ),
    )


class Solved:
    """A solved circuit: its solution, and what it would become by changes.

    Made by `solve`. The inverse that changes need is made when the first one is asked for.
    """

    def __init__(self, net: Compiled, settled: Settled) -> None:
        self._net = net
        self._settled = settled

    @property
    def circuit(self) -> Circuit:
        """What was solved."""
        return self._net.circuit

    @cached_property
    def solution(self) -> Solution:
        """Volts and amps of the circuit as it is."""
        return _solution(self._net, self._settled)

    def changed(self, change: Change) -> Solution:
        """The solution with `change` made; raises Mistakes when it names what is not there."""
        return self.faults((change,))[0]

    def faults(self, changes: Iterable[Change]) -> "Faults":
        """The solution with each of `changes` made on its own.

        Formula: Woodbury: with H the tangent at the solution and P the ports of a change,
            u = (1 + Z G)^-1 (u0 - Z j), Z = P' H^-1 P; repeated for filaments and diodes that moved.
        Range: as `solve`; any number of changes. What it cannot settle cheaply it solves afresh.
        Example:
            >>> from tracker.records.network import Change, Circuit, Joint, Resistor, VoltageSource
            >>> solved = solve(Circuit("frame", (
            ...     VoltageSource("battery", "+", "frame", 12.6, 0.1),
            ...     Joint("plug", "+", "lamp", 0.01),
            ...     Resistor("lamp", "lamp", "frame", 6),
            ... )))
            >>> weak = Change("weak plug", ("plug",), (Joint("plug", "+", "lamp", 2.0),))
            >>> gone = Change("plug open", ("plug",))
            >>> table = solved.faults((weak, gone))
            >>> [round(volts, 2) for volts in table.volts("lamp")], sorted(table[1].floating)
            ([9.33, 0.0], [])

        Source: Woodbury's identity; every fault of the test circuits is compared with a solve from scratch.
        """
        asked = tuple(changes)
        check_changes(self.circuit, asked)
        return Faults(self._tangent, asked)

    @cached_property
    def _tangent(self) -> Tangent:
        return tangent_of(self._net, self._settled)


class Faults(Sequence[Solution]):
    """What each change makes of a circuit, in the order asked: columns cheaply, solutions on demand."""

    def __init__(self, tangent: Tangent, changes: tuple[Change, ...]) -> None:
        self.changes = changes
        self.labels = tuple(change.label for change in changes)
        self._tangent = tangent
        self._net = tangent.net
        self._afresh: dict[int, Solved] = {}
        self._v, self.rounds = self._solve()

    def __len__(self) -> int:
        return len(self.changes)

    @overload
    def __getitem__(self, number: int) -> Solution: ...
    @overload
    def __getitem__(self, number: slice) -> tuple[Solution, ...]: ...
    def __getitem__(self, number: int | slice) -> Solution | tuple[Solution, ...]:
        if isinstance(number, slice):
            return tuple(self[one] for one in range(*number.indices(len(self))))
        number = range(len(self))[number]
        if number in self._afresh:
            return self._afresh[number].solution
        net = compile_circuit(changed_circuit(self._net.circuit, self.changes[number]), self._net.nodes)
        return _solution(net, settled_at(net, self._volts_for(net, number), True, self.rounds))

    def volts(self, node: Node) -> tuple[float, ...]:
        """Volts at `node` after each change; 0 where a change takes the node away."""
        column: list[float] = self._v[:, self._net.index[node]].tolist()
        for number, solved in self._afresh.items():
            column[number] = solved.solution.volts.get(node, 0.0)
        return tuple(column)

    def current(self, name: str) -> tuple[float, ...]:
        """Amps through the element `name` after each change; 0 where it was taken out."""

        net = self._net
        row = net.row[name]
        u = self._v[:, net.a[row]] - self._v[:, net.b[row]]
        column = _amps(net, row, u)
        for number, change in enumerate(self.changes):
            if number in self._afresh or name in change.out:
                column[number] = self._changed_amps(number, name)
        return tuple(column)

    def _changed_amps(self, number: int, name: str) -> float:
        """Amps through `name` after a change that takes it out, replaces it, or was solved afresh."""
        if number in self._afresh:
            return self._afresh[number].solution.current.get(name, 0.0)
        for element in self.changes[number].put_in:
            if element.name == name:
                return self[number].current[name]
        return 0.0

    @property
    def solved_afresh(self) -> int:
        """How many of the changes could not be had by an update and were solved from scratch."""
        return len(self._afresh)

    def _solve(self) -> "tuple[Floats, int]":
        import numpy as np

        ports = [ports_of(self._tangent, change) for change in self.changes]
        cheap = [
            number for number, one in enumerate(ports) if one is not None and self._tangent.settled.converged
        ]
        volts = np.zeros((len(ports), len(self._net.nodes)))
        given: list[Ports] = [one for one in ports if one is not None] if cheap else []
        batch = update(self._tangent, given)
        volts[cheap] = batch.v
        settled = {number for number, good in zip(cheap, batch.settled, strict=True) if good}
        for number in range(len(ports)):
            if number not in settled:
                net = compile_circuit(
                    changed_circuit(self._net.circuit, self.changes[number]), self._net.nodes
                )
                self._afresh[number] = Solved(net, settle(net))
        return volts, batch.rounds

    def _volts_for(self, net: Compiled, number: int) -> "Floats":
        return self._v[number, [self._net.index[node] for node in net.nodes]]


def _amps(net: Compiled, row: int, u: "Floats") -> list[float]:
    """Amps through one element at each of the volts `u`, counted as the person reads them."""
    import numpy as np

    where = np.flatnonzero(net.bent == row)
    if len(where):
        amps, _ = net.laws.at(where).current_and_slope(u)
    else:
        amps = net.g[row] * u - net.j[row]
    column: list[float] = (amps * _sign(net, row)).tolist()
    return column


def _sign(net: Compiled, row: int) -> float:
    """-1 for a source, whose amps count as they leave its plus end."""
    return -1.0 if isinstance(net.circuit.elements[row], VoltageSource) else 1.0


def _solution(net: Compiled, settled: Settled) -> Solution:
    u, current, _ = state(net, settled.v)
    signed = {
        element.name: float(amps) * _sign(net, row)
        for row, (element, amps) in enumerate(zip(net.circuit.elements, current, strict=True))
    }
    return Solution(
        volts=dict(zip(net.nodes, settled.v.tolist(), strict=True)),
        current=signed,
        floating=_floating(net, u),
        converged=settled.converged,
        iterations=settled.steps,
        residual_a=settled.residual_a,
    )


def _floating(net: Compiled, u: "Floats") -> frozenset[Node]:
    """Nodes without a way to the reference through anything that conducts."""
    if len(net.anchors) == 0:
        return frozenset()
    edges = [
        (int(net.a[row]), int(net.b[row]))
        for row, element in enumerate(net.circuit.elements)
        if not isinstance(element, Diode) or u[row] > HELD * element.drop_v
    ]
    boss = islands(len(net.nodes), edges)
    home = boss[net.reference]
    return frozenset(node for node, one in zip(net.nodes, boss, strict=True) if one != home)
