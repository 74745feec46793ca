"""A good plan quickly: only the few most telling checks are tried from each set."""

from heapq import nlargest
from math import inf

from tracker.trace.baselines import telling
from tracker.trace.planner_bound import Bound
from tracker.trace.planner_policy import Move, Moves

EITHER = 2
"""Moves tried from each state for their bits a minute, and as many more for what those would be were
everything open: an access that serves the next checks too is worth more than the first of them shows."""

ALL_OPEN = -1
"""Every access."""


class Narrow:
    """Memoised search over the few moves of each state that tell most, exact within them.

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
        self.left -= len(offered)
        least, best = (inf, None) if offered else (0.0, None)
        weight = self._bound.weight(mask)
        for move in self._most_telling(offered, mask, opened):
            minutes = weight * self._moves.minutes(move.check, opened)
            for child in move.children:
                if minutes >= least:
                    break
                if self._moves.board.mixed(child):
                    minutes += self.best(child, opened | move.check.needs, mask)[0]
            if minutes < least:
                least, best = minutes, move
        return least, best

    def _most_telling(self, offered: list[Move], mask: int, opened: int) -> list[Move]:
        ranked = sorted(offered, key=telling(self._moves, self._bound, mask, opened), reverse=True)
        if self.left <= 0:
            return ranked[:1]
        rest = ranked[EITHER:]
        return ranked[:EITHER] + nlargest(EITHER, rest, telling(self._moves, self._bound, mask, ALL_OPEN))
