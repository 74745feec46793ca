"""What no plan can beat: a lower bound on the expected minutes from a set of classes on."""

from functools import reduce
from heapq import heapify, heappop, heapreplace

from tracker.trace.planner_board import Board, Check


def binary_steps(outcomes: int) -> float:
    """How many two-way splits, on average at most, replace one split into `outcomes` parts (2 or more).

    The best binary tree over the parts costs the least of linear functions of their weights: concave, and
    alike in all parts, so it is dearest where all weigh the same.

    >>> binary_steps(2), binary_steps(4)
    (1.0, 2.0)
    >>> round(binary_steps(3), 6)
    1.666667
    """
    whole = outcomes.bit_length() - 1
    return whole + 2 * (1 - (1 << whole) / outcomes)


class Bound:
    """Lower bounds by (mask of classes, accesses open). Sound, as minutes are counted in two heaps apart:

    *Own minutes.* A check of `c` minutes and `k` outcomes counts as two-way splits of `c / binary_steps(k)`
    minutes each, its price. For a price `p`, call classes together that no check below `p` tells apart.
    Within such a group a plan is a binary tree all of whose branchings are splits of price `p` or more; a
    Huffman tree has the fewest on average. So the expected number of splits of at least `p` is at least the
    sum of the groups' Huffman sums, and expected minutes are the area under that number over all `p`.

    *Accesses.* Where only checks behind an access tell two classes apart, both stand at the node that parts
    them, so both have paid for it.
    """

    def __init__(self, board: Board) -> None:
        self._weights = board.weights
        self._weight: dict[int, float] = {0: 0.0}
        self._huffman: dict[int, float] = {}
        self._known: dict[tuple[int, int], float] = {}
        self._levels = _levels(board)
        self._behind = [
            (
                1 << bit,
                minutes,
                _groups(board.whole, [check for check in board.checks if not check.needs >> bit & 1]),
            )
            for bit, minutes in enumerate(board.opening)
        ]
        self._own: dict[int, float] = {}

    def weight(self, mask: int) -> float:
        """Share of a set of classes."""
        found = self._weight.get(mask)
        if found is None:
            found = self._weight[mask] = sum(self._weights[bit] for bit in bits(mask))
        return found

    def huffman(self, mask: int) -> float:
        """Fewest two-way splits, each times the share that meets it, that leave every class alone."""
        found = self._huffman.get(mask)
        if found is None:
            found = self._huffman[mask] = _huffman([self._weights[bit] for bit in bits(mask)])
        return found

    def own_minutes(self, mask: int) -> float:
        """The part of the bound that is checks' own minutes."""
        found = self._own.get(mask)
        if found is None:
            found = 0.0
            for step, groups in self._levels:
                for group in groups:
                    inside = mask & group
                    if inside & (inside - 1):
                        found += step * self.huffman(inside)
            self._own[mask] = found
        return found

    def __call__(self, mask: int, opened: int) -> float:
        """No plan for `mask` with the accesses `opened` takes less, times the share of `mask`."""
        key = (mask, opened)
        found = self._known.get(key)
        if found is None:
            found = self.own_minutes(mask)
            for bit, minutes, groups in self._behind:
                if not opened & bit:
                    for group in groups:
                        inside = mask & group
                        if inside & (inside - 1):
                            found += minutes * self.weight(inside)
            self._known[key] = found
        return found


def bits(mask: int) -> list[int]:
    """The classes of a mask."""
    found = []
    while mask:
        low = mask & -mask
        found.append(low.bit_length() - 1)
        mask ^= low
    return found


def _huffman(weights: list[float]) -> float:
    heapify(weights)
    total = 0.0
    while len(weights) > 1:
        pair = heappop(weights) + weights[0]
        heapreplace(weights, pair)
        total += pair
    return total


def _levels(board: Board) -> list[tuple[float, list[int]]]:
    """Steps of price, and the groups that checks below each step leave together."""
    priced = [(check.minutes / binary_steps(len(check.blocks)), check) for check in board.checks]
    levels: list[tuple[float, list[int]]] = []
    groups, below = [board.whole], 0.0
    for price, check in sorted(priced, key=lambda pair: pair[0]):
        if price > below:
            levels.append((price - below, groups))
            below = price
        groups = _refine(groups, check)
    return levels


def _groups(whole: int, checks: list[Check]) -> list[int]:
    return reduce(_refine, checks, [whole])


def _refine(groups: list[int], check: Check) -> list[int]:
    """The groups of two and more that are left together."""
    parts = (group & block for group in groups for block in check.blocks)
    return [part for part in parts if part & (part - 1)]
