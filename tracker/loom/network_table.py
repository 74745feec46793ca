"""Many changes of one loom network side by side: volts at any node after each, as columns."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from tracker.electrics.network import solve
from tracker.electrics.network_changes import changed_circuit
from tracker.loom.network_shorten import chained
from tracker.loom.network_touched import shorten
from tracker.records.network import Change, Node, Solution

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from tracker.loom.network import LoomNetwork

    Floats = NDArray[np.float64]


class Table:
    """What each of `changes` makes of a network; `afresh` are those that had to be solved anew.

    Wherever a row of parts is open, the branches feel the same: what is alike in short is solved once.
    """

    def __init__(self, net: "LoomNetwork", changes: Sequence[Change]) -> None:
        self.net = net
        self.changes = changes
        short = [shorten(net.short, change) for change in changes]
        alike: dict[tuple[object, ...], int] = {}
        asked: list[Change] = []
        self._alike: list[int] = []
        for one in short:
            change = one.change or Change("")
            number = alike.setdefault((change.out, change.put_in), len(asked))
            if number == len(asked):
                asked.append(change)
            self._alike.append(number)
        self._faults = net.solved.faults(asked)
        self._short = short
        self.afresh: dict[int, Solution] = {
            number: _solve(net, changes[number]) for number, one in enumerate(short) if one.change is None
        }
        self._rows: dict[str, list[int]] = {}
        self._off: dict[str, list[int]] = {}
        self._twigs: list[int] = []
        self._lifted: dict[Node, list[int]] = {}
        for number, one in enumerate(short):
            for row in one.touched:
                self._rows.setdefault(row, []).append(number)
            for name in one.off:
                self._off.setdefault(name, []).append(number)
            for last, _ in one.lifted:
                self._lifted.setdefault(last, []).append(number)
            if one.twigs:
                self._twigs.append(number)
        self._columns: dict[Node, Floats] = {}

    @property
    def solved_afresh(self) -> int:
        """How many changes took a whole solve."""
        return self._faults.solved_afresh + len(self.afresh)

    def _branch(self, node: Node) -> "Floats":
        import numpy as np

        if node not in self._columns:
            self._columns[node] = np.array(self._faults.volts(node))[self._alike]
        return self._columns[node]

    def volts(self, node: Node) -> "Floats":
        """Volts at a node of the whole circuit after each change; 0 where it hangs on nothing."""
        spot = self.net.short.spots.get(node)
        if spot is None or (spot.chain is None and not spot.a):
            return self._loose(node)
        if spot.chain is None:
            column = self._branch(spot.a).copy()
        else:
            a, b = self._branch(spot.chain.a), self._branch(spot.chain.b)
            column = a + (b - a) * (spot.before / spot.chain.ohm)
            for number in self._rows.get(spot.chain.name, ()):
                row = self._short[number].touched[spot.chain.name]
                column[number] = row.volts(spot.number, lambda at, n=number: float(self._branch(at)[n]))  # type: ignore[misc]
        if spot.twig_ohm:
            self._twig(node, column)
        for number, solution in self.afresh.items():
            column[number] = solution.volts.get(node, 0.0)
        return column

    def _twig(self, node: Node, column: "Floats") -> None:
        """What hangs on one end only may be cut off, or lead elsewhere and carry something now."""
        way = list(self.net.short.way(node))
        for _, name, _ in reversed(way):
            for number in self._off.get(name, ()):
                tied = dict(self._short[number].tied).get(name)
                column[number] = 0.0 if tied is None else self.volts(tied)[number]
        for number in self._twigs:
            for twig in self._short[number].twigs:
                ohm = next((twig.ohms[here] for here, _, _ in way if here in twig.ohms), None)
                if ohm is not None:
                    other = float(self._branch(twig.other)[number])
                    column[number] += (other - column[number]) * ohm / twig.ohm

    def _loose(self, node: Node) -> "Floats":
        """Volts where nothing holds a node but what a change ties it to."""
        import numpy as np

        column = np.zeros(len(self.changes))
        last = self.net.short.last(node)
        for number in self._lifted.get(last, ()):
            column[number] = self.volts(dict(self._short[number].lifted)[last])[number]
        for number, solution in self.afresh.items():
            column[number] = solution.volts.get(node, 0.0)
        return column


def _solve(net: "LoomNetwork", change: Change) -> Solution:
    """The whole circuit with a change made, solved from the beginning."""
    short = chained(changed_circuit(net.circuit, change))
    return short.expand(solve(short.circuit).solution)
