"""Finding what lies in a row in a circuit, and what hangs on one end only."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from tracker.loom.network_chains import Chain, Chained, Spot
from tracker.records.network import Circuit, Element, Joint, Node, Resistor, WireElement

AIR_OHM = 1e8
"""What the reference hangs on where nothing else is left of a circuit."""


def chained(circuit: Circuit, keep: Iterable[Node] = ()) -> Chained:
    """`circuit` in short. Nodes of `keep` stay branches, or twigs of one."""
    return _Shortening(circuit, frozenset(keep)).done()


@dataclass(slots=True)
class _Shortening:
    circuit: Circuit
    keep: frozenset[Node]
    at: dict[Node, dict[str, Element]] = field(default_factory=dict)
    twigs: dict[Node, tuple[Node, str, float]] = field(default_factory=dict)
    dead: set[str] = field(default_factory=set)

    def done(self) -> Chained:
        for element in self.circuit.elements:
            self.at.setdefault(element.a, {})[element.name] = element
            self.at.setdefault(element.b, {})[element.name] = element
        self._prune()
        branches = self._branches()
        spots = {node: Spot(node) for node in branches}
        chain_of: dict[str, Chain] = {}
        short: list[Element] = []
        for element in self.circuit.elements:
            if element.name in self.dead or element.name in chain_of:
                continue
            if not _ohmic(element) or (element.a in branches and element.b in branches):
                short.append(element)
            elif element.a in branches or element.b in branches:
                chain = self._walk(element, branches, spots)
                chain_of |= dict.fromkeys(chain.names, chain)
                short.append(Joint(chain.name, chain.a, chain.b, chain.ohm))
        reference = self.circuit.reference
        if not any(reference in (element.a, element.b) for element in short):
            short.append(Resistor("row to air", reference, "air beside", AIR_OHM))
        self._hang(spots)
        return Chained(
            self.circuit, Circuit(reference, tuple(short)), spots, chain_of, frozenset(self.dead), self.twigs
        )

    def _prune(self) -> None:
        """Takes off what hangs on one end only, from its tips inward."""
        tips = [node for node, some in self.at.items() if len(some) == 1]
        while tips:
            node = tips.pop()
            if node == self.circuit.reference or len(self.at[node]) != 1:
                continue
            (element,) = self.at[node].values()
            if not isinstance(element, Joint | WireElement | Resistor):
                continue
            other = element.b if element.a == node else element.a
            self.twigs[node] = (other, element.name, element.ohm)
            self.dead.add(element.name)
            self.at[node] = {}
            del self.at[other][element.name]
            if len(self.at[other]) == 1:
                tips.append(other)

    def _branches(self) -> set[Node]:
        """Nodes where something branches or bends; a ring of nothing but chain gets two."""
        keep = {self._root(node) for node in self.keep if node in self.at} | {self.circuit.reference}
        branches = {
            node
            for node, some in self.at.items()
            if some
            and (len(some) != 2 or node in keep or not all(_ohmic(element) for element in some.values()))
        }
        branches |= {node for node in keep if self.at.get(node)}
        for start in list(self.at):
            if start in branches or not self.at[start]:
                continue
            ends, passed = self._ends(start, branches)
            if len(set(ends)) < 2:
                branches |= {start} if ends else {start, passed[len(passed) // 2]}
        return branches

    def _ends(self, start: Node, branches: set[Node]) -> tuple[list[Node], list[Node]]:
        """The branches that the chain through `start` ends at, and the nodes passed."""
        ends: list[Node] = []
        passed = [start]
        for first in self.at[start].values():
            element, node = first, start
            while True:
                node = element.b if element.a == node else element.a
                if node in branches:
                    ends.append(node)
                    break
                if node == start:
                    return [], passed
                passed.append(node)
                element = next(one for name, one in self.at[node].items() if name != element.name)
        return ends, passed

    def _root(self, node: Node) -> Node:
        while node in self.twigs:
            node = self.twigs[node][0]
        return node

    def _walk(self, first: Element, branches: set[Node], spots: dict[Node, Spot]) -> Chain:
        start = first.a if first.a in branches else first.b
        names: list[str] = []
        along: list[bool] = []
        before: list[float] = []
        inside: list[tuple[Node, int, float]] = []
        node, element, ohm = start, first, 0.0
        while True:
            assert isinstance(element, Joint | WireElement | Resistor)
            names.append(element.name)
            along.append(element.a == node)
            before.append(ohm)
            ohm += element.ohm
            node = element.b if element.a == node else element.a
            if node in branches:
                break
            inside.append((node, len(names), ohm))
            element = next(one for name, one in self.at[node].items() if name != names[-1])
        chain = Chain(f"row {names[0]}", start, node, tuple(names), tuple(along), tuple(before), ohm)
        spots |= {place: Spot("", chain, number, at) for place, number, at in inside}
        return chain

    def _hang(self, spots: dict[Node, Spot]) -> None:
        for node in self.at:
            if node in spots:
                continue
            root, ohm = node, 0.0
            while root in self.twigs:
                root, _, more = self.twigs[root]
                ohm += more
            it = spots.get(root)
            spots[node] = Spot(it.a, it.chain, it.number, it.before, ohm) if it else Spot("")


def _ohmic(element: Element) -> bool:
    return isinstance(element, Joint | WireElement | Resistor)
