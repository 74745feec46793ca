"""The best plan of all, by memoised search over (classes left, accesses open) with branch and bound."""

from math import inf

from tracker.trace.planner_bound import Bound
from tracker.trace.planner_policy import Move, Moves

TIE = 1e-9
"""Minutes within which two plans take the same."""


class Exact:
    """Fewest expected minutes, each times the share of the classes that spend them.

    Open accesses that no remaining check needs are forgotten, so that states meet. A move is looked into only
    while its own minutes and the bounds of what it leaves stay below the best move known; what a look cut
    short did prove is kept as a better bound.
    """

    def __init__(self, moves: Moves, bound: Bound, nodes: float = inf) -> None:
        self.left = nodes
        self._moves = moves
        self._bound = bound
        self._least: dict[tuple[int, int], float] = {}
        self._at_least: dict[tuple[int, int], float] = {}

    def best(self, known: float = inf, first: Move | None = None) -> tuple[float, float, Move | None]:
        """The least minutes from the whole, a lower bound on them, and the move that begins such a plan.

        `known` minutes with their `first` move are to be beaten. A tie goes to the free look. The two meet
        unless `nodes` ran out.
        """
        whole = self._moves.board.whole
        least, best, lowest = known, first, known
        for at_least, _, move in self._ordered(whole, 0, whole):
            if self.left <= 0:
                lowest = min(lowest, at_least)
                continue
            ties = best is not None and move.check.free and not best.check.free
            limit = least + TIE if ties else least - TIE
            minutes = at_least if at_least > limit else self._after(move, whole, 0, limit)
            if self.left <= 0:
                lowest = min(lowest, at_least)
            elif minutes <= limit:
                least, best = min(least, minutes), move
        return least, min(least, lowest) if self.left <= 0 else least, best

    def least(self, mask: int, opened: int, parent: int, limit: float) -> float:
        """The least minutes of `mask`, if at most `limit`; else anything above `limit` and up to them."""
        offered = self._moves.of(mask, parent)
        if not offered:
            return 0.0
        opened &= self._moves.wanted(mask)
        key = (mask, opened)
        if key in self._least:
            return self._least[key]
        known = self._at_least.get(key, 0.0)
        if known > limit or self.left <= 0:
            return known
        self.left -= 1
        least = inf
        for at_least, _, move in self._ordered(mask, opened, parent):
            if at_least >= least:
                break
            if at_least > limit:
                least = at_least
                break
            least = min(least, self._after(move, mask, opened, min(limit, least)))
        if self.left <= 0:
            return known
        if least <= limit:
            self._least[key] = least
        else:
            self._at_least[key] = least
        return least

    def _after(self, move: Move, mask: int, opened: int, limit: float) -> float:
        """As `least`, with the first move given."""
        total = self._bound.weight(mask) * self._moves.minutes(move.check, opened)
        opened |= move.check.needs
        ahead = [(self._low(child, opened), child) for child in move.children if child & (child - 1)]
        total += sum(low for low, _ in ahead)
        for low, child in sorted(ahead, reverse=True):
            if total > limit:
                break
            total += self.least(child, opened, mask, limit - total + low) - low
        return total

    def _low(self, mask: int, opened: int) -> float:
        return self._bound(mask, opened)

    def _ordered(self, mask: int, opened: int, parent: int) -> list[tuple[float, int, Move]]:
        """The moves, most promising first."""
        weight = self._bound.weight(mask)
        found = []
        for place, move in enumerate(self._moves.of(mask, parent)):
            after = opened | move.check.needs
            low = weight * self._moves.minutes(move.check, opened)
            low += sum(self._low(child, after) for child in move.children if child & (child - 1))
            found.append((low, place, move))
        found.sort(key=lambda each: each[:2])
        return found
