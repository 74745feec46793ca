"""A change to a solved network, as the few extra amps it draws from the network's tangent."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from tracker.electrics.network_graph import bridges, islands
from tracker.electrics.network_laws import METER_S, Compiled, straight
from tracker.electrics.network_newton import Settled, node_matrix
from tracker.records.network import Change, Circuit, Diode

if TYPE_CHECKING:
    from tracker.electrics.network_laws import Floats, Ints

STEEP = 0.3
"""Least power by which the tangent of a lamp or load rises: a flat one leaves nothing to hold a part by."""


@dataclass(frozen=True, slots=True)
class Tangent:
    """A solved network as straight lines through where it settled.

    `slope` is each element's siemens; `inverse` is ohms between nodes, with zeros for the reference; `cut`
    are the elements that alone hold a part, each with a node of that part. `parted` remembers how the
    network falls apart without some elements.
    """

    net: Compiled
    settled: Settled
    slope: "Floats"
    inverse: "Floats"
    cut: dict[int, int]
    parted: dict[frozenset[int], list[int]] = field(default_factory=dict)

    def islands(self, gone: frozenset[int]) -> list[int]:
        """For each node the lowest number in its island, without the elements of the rows `gone`."""
        boss = self.parted.get(gone)
        if boss is None:
            net = self.net
            edges = [
                (int(net.a[row]), int(net.b[row]))
                for row, element in enumerate(net.circuit.elements)
                if row not in gone and not isinstance(element, Diode)
            ]
            boss = self.parted[gone] = islands(len(net.nodes), edges)
        return boss

    def between(self, a: "Ints", b: "Ints", c: "Ints", d: "Ints") -> "Floats":
        """Volts from `a` to `b` per amp driven in at `c` and out at `d`."""
        h = self.inverse
        return h[a, c] - h[a, d] - h[b, c] + h[b, d]


def tangent_of(net: Compiled, settled: Settled) -> Tangent:
    """The tangent of `net` where it settled."""
    import numpy as np

    slope = settled.slope.copy()
    u = settled.v[net.a[net.bent]] - settled.v[net.b[net.bent]]
    steep = STEEP * np.abs(settled.current[net.bent]) / np.maximum(np.abs(u), 1e-3)
    slope[net.bent] = np.where(net.laws.is_diode, slope[net.bent], np.maximum(slope[net.bent], steep))
    count = len(net.nodes)
    inverse = np.zeros((count, count))
    inverse[:-1, :-1] = np.linalg.inv(node_matrix(net, slope))
    rows = [number for number, element in enumerate(net.circuit.elements) if not isinstance(element, Diode)]
    edges = [(int(net.a[row]), int(net.b[row])) for row in rows]
    roots = [net.reference, *(int(node) for node in net.anchors)]
    cut = {rows[edge]: node for edge, node in bridges(count, edges, roots).items()}
    return Tangent(net, settled, slope, inverse, cut)


@dataclass(frozen=True, slots=True)
class Ports:
    """The straight part of one change: ports from a to b through which g u + j amps more flow.

    `out` are the rows taken out; a lamp or diode among them obeys its law no longer.
    """

    a: list[int]
    b: list[int]
    g: list[float]
    j: list[float]
    out: list[int]


def ports_of(tangent: Tangent, change: Change) -> Ports | None:
    """What `change` adds to the tangent; None where the network has to be solved afresh."""
    net, settled = tangent.net, tangent.settled
    found: dict[tuple[int, int], list[float]] = {}
    out = [net.row[name] for name in change.out]
    for row in out:
        a, b, slope = int(net.a[row]), int(net.b[row]), float(tangent.slope[row])
        u0 = float(settled.v[a] - settled.v[b])
        _add(found, a, b, -slope, slope * u0 - float(settled.current[row]))
    for element in change.put_in:
        line = straight(element)
        if line is None or element.a not in net.index or element.b not in net.index:
            return None
        _add(found, net.index[element.a], net.index[element.b], line[0], -line[1])
    for node in _cut_off(tangent, change, out):
        _add(found, node, net.reference, METER_S, 0.0)
    for node in _joined(tangent, change, out):
        _add(found, node, net.reference, -METER_S, 0.0)
    ends, more = list(found), list(found.values())
    return Ports([a for a, _ in ends], [b for _, b in ends], [g for g, _ in more], [j for _, j in more], out)


def _add(found: dict[tuple[int, int], list[float]], a: int, b: int, g: float, j: float) -> None:
    """Adds g u + j from a to b; the same two nodes are one port, whichever way round they are named."""
    if (b, a) in found:
        a, b, j = b, a, -j
    more = found.setdefault((a, b), [0.0, 0.0])
    more[0] += g
    more[1] += j


def _cut_off(tangent: Tangent, change: Change, out: Sequence[int]) -> Iterator[int]:
    """One node of every part that `change` leaves without a way to the reference."""
    net, gone = tangent.net, _gone(tangent, change, out)
    if len(gone) < 2 and not any(row in tangent.cut for row in gone):
        return
    if len(gone) == 1 and not change.put_in:
        yield tangent.cut[gone[0]]
        return
    boss = _parts(tangent, change, out)
    held = {boss[net.reference], *(boss[int(node)] for node in net.anchors)}
    yield from sorted(set(boss) - held)


def _joined(tangent: Tangent, change: Change, out: Sequence[int]) -> Iterator[int]:
    """The nodes that a meter held and that `change` gives another hold: it draws nothing there any more."""
    net = tangent.net
    if not change.put_in or not len(net.anchors):
        return
    boss = _parts(tangent, change, out)
    held = {boss[net.reference]}
    for node in map(int, net.anchors):
        if boss[node] in held:
            yield node
        held.add(boss[node])


def _gone(tangent: Tangent, change: Change, out: Sequence[int]) -> list[int]:
    """Of the rows taken out, those between whose ends nothing is put instead."""
    net = tangent.net
    tied = {frozenset((net.index[one.a], net.index[one.b])) for one in change.put_in}
    return [row for row in out if frozenset((int(net.a[row]), int(net.b[row]))) not in tied]


def _parts(tangent: Tangent, change: Change, out: Sequence[int]) -> list[int]:
    """For each node, one that stands for its part once `change` is made; diodes hold nothing together."""
    boss = tangent.islands(frozenset(_gone(tangent, change, out)))
    if not change.put_in:
        return boss
    index = tangent.net.index
    ties = [(boss[index[one.a]], boss[index[one.b]]) for one in change.put_in]
    if all(a == b for a, b in ties):  # most of what is put in stands where something stood already
        return boss
    joined = islands(len(boss), ties)
    return [joined[node] for node in boss]


def changed_circuit(circuit: Circuit, change: Change) -> Circuit:
    """`circuit` with `change` made, replaced elements in their old places."""
    new = {element.name: element for element in change.put_in}
    kept = []
    for element in circuit.elements:
        if element.name not in change.out:
            kept.append(element)
        elif element.name in new:
            kept.append(new.pop(element.name))
    return Circuit(circuit.reference, (*kept, *new.values()))
