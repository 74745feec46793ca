"""The best plan of all, by memoised search over (classes left, accesses open) with branch and bound."""

from math import inf
from operator import attrgetter

from tracker.trace.planner_bound import Bound
from tracker.trace.planner_policy import Move, Moves

TIE = 1e-9
"""Minutes within which two plans take the same."""

STEP = 0.1
"""How much of the gap between what is proved and what is known each round of the search asks for."""


class Option:
    """A move from a set with accesses open: `now` are its minutes times the share of the set, `after` the
    accesses open after it, `ahead` the sets it leaves and their keys, `low` what it takes at least in all."""

    __slots__ = ("after", "ahead", "low", "move", "now")

    def __init__(self, move: Move, now: float, after: int, ahead: list[tuple[int, int]], low: float) -> None:
        self.move, self.now, self.after, self.ahead, self.low = move, now, after, ahead, low


class Exact:
    """Fewest expected minutes, each times the share of the classes that spend them.

    A state is a set of classes with the accesses open that its moves still need, so that states meet. The
    search asks in rounds whether there is a plan below a limit, and looks into a move only while its minutes
    and the bounds of what it leaves stay below it; what a look cut short did prove is kept as a better bound.

    `left` counts down the moves weighed; where it runs out, the bounds proved so far still hold.
    """

    def __init__(self, moves: Moves, bound: Bound, nodes: float = inf) -> None:
        self.left = nodes
        self._moves = moves
        self._bound = bound
        self._shift = len(moves.board.weights)
        self._options: dict[int, list[Option]] = {}
        self._low: dict[int, float] = {}
        self._least: dict[int, float] = {}

    def best(self, known: float, first: Move) -> tuple[float, float, Move]:
        """The least minutes from the whole, a lower bound on them, and the move that begins such a plan.

        `known` are the minutes of a plan that begins with `first`. The two meet unless `left` runs out.
        """
        whole = self._moves.board.whole
        key = self._state(whole, 0)
        low = self._low[key]
        while low < known - TIE and self.left > 0:
            limit = min(known, low + max(STEP * (known - low), TIE))
            low = max(low, self.least(whole, 0, key, whole, limit))
            if self.left > 0 and key in self._least:
                known = low
        if low < known - TIE:
            return known, low, first
        return known, known, self._tied(whole, known) or first

    def least(self, mask: int, opened: int, key: int, parent: int, limit: float) -> float:
        """The least minutes of `mask`, if at most `limit`; else anything above `limit` and up to them.

        Once `left` has run out: what is proved so far.
        """
        if key in self._least:
            return self._least[key]
        low = self._low[key]
        if low > limit or self.left <= 0:
            return low
        options = self._weighed(mask, opened, key, parent)
        self.left -= 1
        least = inf
        for option in options:
            if option.low >= least:
                break
            if option.low > limit:
                least = option.low
                break
            option.low = self._taken(option, mask, min(limit, least))
            least = min(least, option.low)
        options.sort(key=attrgetter("low"))
        if self.left <= 0:
            least = options[0].low
        elif least <= limit:
            self._least[key] = least
        self._low[key] = least = max(low, least)
        return least

    def _taken(self, option: Option, mask: int, limit: float) -> float:
        """As `least`, with the first move made."""
        low = self._low
        total = option.now + sum(low[key] for _, key in option.ahead)
        for child, key in option.ahead:
            if total > limit:
                break
            was = low[key]
            total += self.least(child, option.after, key, mask, limit - total + was) - was
        return max(total, option.low)

    def _weighed(self, mask: int, opened: int, key: int, parent: int) -> list[Option]:
        """The moves of a state, most promising first."""
        found = self._options.get(key)
        if found is None:
            weight = self._bound.weight(mask)
            mixed = self._moves.board.mixed
            found = []
            for move in self._moves.of(mask, parent):
                now = weight * self._moves.minutes(move.check, opened)
                after = opened | move.check.needs
                ahead = [(child, self._state(child, after)) for child in move.children if mixed(child)]
                ahead.sort(reverse=True)
                low = now + sum(self._low[key] for _, key in ahead)
                found.append(Option(move, now, after, ahead, low))
            found.sort(key=attrgetter("low"))
            self.left -= len(found)
            self._options[key] = found
        return found

    def _state(self, mask: int, opened: int) -> int:
        """The key of a state, whose bound is known from then on."""
        key = (opened & self._moves.wanted(mask)) << self._shift | mask
        if key not in self._low:
            self._low[key] = self._bound(mask, opened)
        return key

    def _tied(self, whole: int, least: float) -> Move | None:
        """The move that begins a plan of `least` minutes: a free look, if one does."""
        limit = least + TIE
        options = self._weighed(whole, 0, self._state(whole, 0), whole)
        for option in sorted(options, key=lambda option: not option.move.check.free):
            if max(option.low, self._taken(option, whole, limit)) <= limit and self.left > 0:
                return option.move
        return None
