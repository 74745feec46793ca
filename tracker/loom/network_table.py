"""Many changes of one loom network side by side: volts at any node after each, as columns."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from tracker.electrics.network import Solved, solve
from tracker.electrics.network_changes import changed_circuit
from tracker.loom.network_chains import Chained
from tracker.loom.network_shorten import chained
from tracker.loom.network_touched import shorten
from tracker.records.network import Change, Circuit, Node, Solution

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


class Table:
    """What each of `changes` makes of a circuit that is solved in short; `afresh` had to be solved anew.

    Wherever a row of parts is open, the branches feel the same: what is alike in short is solved once.
    """

    def __init__(self, chain: Chained, solved: Solved, changes: Sequence[Change]) -> None:
        self.chain = chain
        self.changes = changes
        short = [shorten(chain, change) for change in changes]
        alike: dict[tuple[object, ...], int] = {}
        asked: list[Change] = []
        self._alike: list[int] = []
        for one in short:
            change = one.change or Change("")
            number = alike.setdefault((change.out, change.put_in), len(asked))
            if number == len(asked):
                asked.append(change)
            self._alike.append(number)
        self._faults = solved.faults(asked)
        self._short = short
        self.afresh: dict[int, Solution] = {
            number: _solve(chain.whole, changes[number])
            for number, one in enumerate(short)
            if one.change is None
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
        import numpy as np

        short = self.chain
        spot = short.spots.get(node)
        special: set[int] = set(self.afresh)
        if spot is None or short.loose(node):
            column = np.zeros(len(self.changes))
            special.update(self._lifted.get(short.last(node), ()))
        elif spot.chain is None:
            column = self._branch(spot.a).copy()
        else:
            a, b = self._branch(spot.chain.a), self._branch(spot.chain.b)
            column = a + (b - a) * (spot.before / spot.chain.ohm)
            special.update(self._rows.get(spot.chain.name, ()))
        for _, name, _ in short.way(node):
            special.update(self._off.get(name, ()))
        if spot is not None and spot.twig_ohm:
            special.update(self._twigs)
        for number in special:
            column[number] = self._at(number, node)
        return column

    def _at(self, number: int, node: Node) -> float:
        """Volts at one node after one change that concerns it.

        What hangs on one end only may be cut off, tied to something else, or carry something now.
        """
        if number in self.afresh:
            return self.afresh[number].volts.get(node, 0.0)
        change, short = self._short[number], self.chain
        spot = short.spots.get(node)
        if spot is None or short.loose(node):
            other = dict(change.lifted).get(short.last(node))
            return self._at(number, other) if other is not None else 0.0
        way = list(short.way(node))
        cut = next((name for _, name, _ in way if name in change.off), None)
        if cut is not None:
            other = dict(change.tied).get(cut)
            return self._at(number, other) if other is not None else 0.0
        if spot.chain is not None and spot.chain.name in change.touched:
            volts = change.touched[spot.chain.name].volts(spot.number, self._branch_at(number))
        else:
            volts = spot.volts(self._branch_at(number))
        for twig in change.twigs:
            ohm = next((twig.ohms[here] for here, _, _ in way if here in twig.ohms), None)
            if ohm is not None:
                volts += (float(self._branch(twig.other)[number]) - volts) * ohm / twig.ohm
        return volts

    def _branch_at(self, number: int) -> Callable[[Node], float]:
        return lambda node: float(self._branch(node)[number])


def _solve(circuit: Circuit, change: Change) -> Solution:
    """The whole circuit with a change made, solved from the beginning."""
    short = chained(changed_circuit(circuit, change))
    return short.expand(solve(short.circuit).solution)
