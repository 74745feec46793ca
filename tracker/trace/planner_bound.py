"""What no plan can beat: a lower bound on the expected minutes from a set of classes on."""

from heapq import heapify, heappop, heapreplace
from math import log2

from tracker.trace.planner_access import Accesses
from tracker.trace.planner_board import Board, refine, together
from tracker.trace.planner_sums import Sums


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

    *Accesses.* See `Accesses`: own minutes forgiven.
    """

    def __init__(self, board: Board) -> None:
        self.sums = Sums(board.weights)
        self._board = board
        self._huffman: dict[int, float] = {}
        self._own: dict[int, float] = {}
        self._groups = _priced_groups(board)
        self._accesses = Accesses(board, self.sums)

    def weight(self, mask: int) -> float:
        """Share of a set of classes."""
        return self.sums.weight(mask)

    def __call__(self, mask: int, opened: int) -> float:
        """No plan for `mask` with the accesses `opened` takes less, times the share of `mask`."""
        own = self._own.get(mask)
        if own is None:
            own = self._own[mask] = self._own_minutes(mask)
        return own + self._accesses.least(mask, opened)

    def _own_minutes(self, mask: int) -> float:
        own = 0.0
        for group, minutes in self._groups:
            inside = mask & group
            if inside & (inside - 1) and self._board.mixed(inside):
                fewest = self._huffman.get(inside)
                if fewest is None:
                    fewest = self._huffman[inside] = self._fewest(inside)
                own += minutes * fewest
        return own

    def _fewest(self, inside: int) -> float:
        """Two-way splits, each times the share that meets it, until every label is alone.

        Where several classes have one label a tree may end on any set of them. It is no less than a Huffman
        tree over one class of each label, the others left out; nor than the bits that the labels hold.
        """
        shared = inside & self._board.shared
        if not shared:
            return _huffman(self.sums.weights(inside))
        heaviest = self.sums.weights(inside & ~shared)
        bits = [weight for weight in heaviest if weight]
        while shared:
            alike = shared & self._board.same[(shared & -shared).bit_length() - 1]
            some = self.sums.weights(alike)
            heaviest.append(max(some))
            bits.append(sum(some))
            shared &= ~alike
        whole = sum(bits)
        return max(_huffman(heaviest), sum(one * log2(whole / one) for one in bits if one))


def _huffman(weights: list[float]) -> float:
    """Fewest two-way splits, each times the share that meets it, that leave every class alone."""
    if len(weights) == 2:
        return weights[0] + weights[1]
    heapify(weights)
    total = 0.0
    while len(weights) > 1:
        pair = heappop(weights) + weights[0]
        heapreplace(weights, pair)
        total += pair
    return total


def _priced_groups(board: Board) -> list[tuple[int, float]]:
    """Groups of classes, each with the minutes that every two-way split within it takes on top.

    Those minutes are the step of price over which checks of a lower price leave the group together.
    """
    priced = [(check.minutes / binary_steps(len(check.blocks)), check) for check in board.checks]
    steps: dict[int, float] = {}
    groups, below = together(board, ()), 0.0
    for price, check in sorted(priced, key=lambda pair: pair[0]):
        if price > below:
            for group in groups:
                steps[group] = steps.get(group, 0.0) + price - below
            below = price
        groups = refine(board, groups, check)
    return list(steps.items())
