"""A loom's circuit with what lies in a row taken as one: wires and joints from branch to branch.

Nine places in ten are a pin between two wires: nothing branches there, so their volts lie on the straight
line between the branches at either end. What hangs on one end only carries nothing and has the volts of where
it hangs. What is left, a fifth of the nodes, is solved; the rest follows exactly.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from tracker.records.network import Circuit, Node, Solution

Volts: TypeAlias = Callable[[Node], float]


@dataclass(frozen=True, slots=True)
class Chain:
    """Ohms in a row from `a` to `b`: the names in order, whether each runs that way, the ohms before each."""

    name: str
    a: Node
    b: Node
    names: tuple[str, ...]
    along: tuple[bool, ...]
    before: tuple[float, ...]
    ohm: float


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a node lies: at a branch `a`; or in `chain` behind `number` of its parts and `before` ohms.

    `twig_ohm` lie between that and a node that hangs on one end only. `a` is "" for what hangs on nothing.
    """

    a: Node
    chain: Chain | None = None
    number: int = 0
    before: float = 0.0
    twig_ohm: float = 0.0

    def volts(self, volts: Volts) -> float:
        """Volts there, from those at the branches."""
        if self.chain is None:
            return volts(self.a) if self.a else 0.0
        a, b = volts(self.chain.a), volts(self.chain.b)
        return a + (b - a) * self.before / self.chain.ohm


@dataclass(frozen=True, slots=True)
class Chained:
    """A circuit in short; `spots` has every node of the whole one, `chain_of` every part of a chain.

    `twigs` are parts that carry nothing; `hangs` says on what a node of them hangs, by which part and ohms.
    """

    whole: Circuit
    circuit: Circuit
    spots: Mapping[Node, Spot]
    chain_of: Mapping[str, Chain]
    twigs: frozenset[str]
    hangs: Mapping[Node, tuple[Node, str, float]]

    def way(self, node: Node) -> Iterator[tuple[Node, str, float]]:
        """From a node that hangs to what it hangs on: the node, the part to the next, its ohms."""
        while node in self.hangs:
            other, name, ohm = self.hangs[node]
            yield node, name, ohm
            node = other

    def loose(self, node: Node) -> bool:
        """Whether a node hangs on nothing but twigs."""
        spot = self.spots.get(node)
        return spot is not None and spot.chain is None and not spot.a

    def last(self, node: Node) -> Node:
        """What all that a node hangs on hangs on in the end."""
        while node in self.hangs:
            node = self.hangs[node][0]
        return node

    def twig(self, node: Node) -> dict[Node, float]:
        """Ohms from where it hangs to each node on the way to `node`."""
        steps = list(self.way(node))
        ohms: dict[Node, float] = {}
        total = 0.0
        for here, _, ohm in reversed(steps):
            total += ohm
            ohms[here] = total
        return ohms

    def expand(self, solution: Solution) -> Solution:
        """The solution of the short circuit as that of the whole one."""
        branch = solution.volts.__getitem__
        volts = {node: spot.volts(branch) for node, spot in self.spots.items()}
        current: dict[str, float] = {}
        for element in self.whole.elements:
            name = element.name
            if name in self.twigs:
                current[name] = 0.0
            elif name in self.chain_of:
                chain = self.chain_of[name]
                amps = solution.current[chain.name]
                current[name] = amps if chain.along[chain.names.index(name)] else -amps
            else:
                current[name] = solution.current[name]
        floating = frozenset(
            node for node, spot in self.spots.items() if self.floats(spot, solution.floating)
        )
        return Solution(
            volts, current, floating, solution.converged, solution.iterations, solution.residual_a
        )

    def floats(self, spot: Spot, floating: frozenset[Node]) -> bool:
        """Whether a spot hangs on nothing, where the branches `floating` do."""
        if spot.chain is not None:
            return spot.chain.a in floating
        return not spot.a or spot.a in floating
