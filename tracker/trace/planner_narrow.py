"""A good plan quickly: only the few most telling checks are tried from each set."""

from math import inf

from tracker.trace.baselines import telling
from tracker.trace.planner_bound import Bound
from tracker.trace.planner_policy import Move, Moves

WIDTH = 3
"""Moves tried from each state: those with the most bits a minute."""


class Narrow:
    """Memoised search over the `WIDTH` most telling moves of each state, exact within them.

    The most telling of all is among them, so the plan never takes longer than that rule of thumb. Once
    `left`, which counts down the moves weighed, has run out, it is the only one tried.
    """

    def __init__(self, moves: Moves, bound: Bound, nodes: float) -> None:
        self.left = nodes
        self._moves = moves
        self._bound = bound
        self._known: dict[tuple[int, int], tuple[float, Move | None]] = {}

    def best(self, mask: int, opened: int, parent: int) -> tuple[float, Move | None]:
        """Minutes of the plan for `mask` times its share, and its first move; None if nothing splits."""
        key = (mask, opened & self._moves.wanted(mask))
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = self._tried(mask, opened, parent)
        return found

    def _tried(self, mask: int, opened: int, parent: int) -> tuple[float, Move | None]:
        offered = self._moves.of(mask, parent)
        rank = telling(self._moves, self._bound, mask, opened)
        self.left -= len(offered)
        ranked = sorted(offered, key=rank, reverse=True)
        least, best = (inf, None) if offered else (0.0, None)
        weight = self._bound.weight(mask)
        for move in ranked[: WIDTH if self.left > 0 else 1]:
            minutes = weight * self._moves.minutes(move.check, opened)
            for child in move.children:
                if minutes >= least:
                    break
                if child & (child - 1):
                    minutes += self.best(child, opened | move.check.needs, mask)[0]
            if minutes < least:
                least, best = minutes, move
        return least, best
