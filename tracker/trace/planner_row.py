"""The best plan for an ordered row, where every check says on which side of a point the fault is."""

from functools import reduce
from itertools import accumulate, pairwise
from math import inf
from operator import and_, or_

from tracker.trace.planner_board import Board, Check

TIE = 1e-9
"""Minutes within which two plans take the same."""


Points = list[tuple[int, list[Check]]]
"""The points of a row in order: the mask of the classes ahead of each, and the checks made there."""


def row_order(board: Board) -> Points | None:
    """The points of a row, None if it is none.

    The smallest side of all checks lies at an end of the row, if there is one; every point then has one side
    that takes it in, and those sides lie inside one another.
    """
    if not board.mixed(board.whole) or any(len(check.blocks) != 2 for check in board.checks):
        return None
    sides = [block for check in board.checks for block in check.blocks]
    end = min(sides, key=lambda block: (block.bit_count(), block))
    points: dict[int, list[Check]] = {}
    for check in board.checks:
        ahead = next((block for block in check.blocks if not end & ~block), None)
        if ahead is None:
            return None
        points.setdefault(ahead, []).append(check)
    row = sorted(points.items(), key=lambda point: point[0].bit_count())
    return None if any(one & ~other for (one, _), (other, _) in pairwise(row)) else row


class Row:
    """`C(i,j,open) = min over k of minutes(k,open) * P(i..j) + C(i,k,open+k) + C(k,j,open+k)`.

    i..j is what lies between two points, P its share; the open set is cut to the accesses that the points
    inside need.
    """

    def __init__(self, board: Board, row: Points) -> None:
        masks = [0, *(ahead for ahead, _ in row), board.whole]
        shares = (
            sum(weight for bit, weight in enumerate(board.weights) if (after & ~ahead) >> bit & 1)
            for ahead, after in pairwise(masks)
        )
        self._board = board
        self._masks = masks
        self._before = [0.0, *accumulate(shares)]
        self._checks: list[list[Check]] = [[], *(at_point for _, at_point in row), []]
        self._opening = {0: 0.0}
        wanted = [reduce(or_, (check.needs for check in checks), 0) for checks in self._checks]
        self._wanted = {
            (i, j): between
            for i in range(len(wanted))
            for j, between in zip(
                range(i, len(wanted)), [0, *accumulate(wanted[i + 1 :], or_, initial=0)], strict=False
            )
        }
        self._known: dict[tuple[int, int, int], float] = {}

    def work(self) -> int:
        """At most so many checks are weighed: those inside each interval, for each open set it may have.

        What the points at its ends need is open; what is needed inside and beyond them may be open or not.
        """
        last = len(self._checks) - 1
        at_end = [reduce(and_, (check.needs for check in checks), -1) for checks in self._checks]
        at_end[0] = at_end[last] = 0
        total = 0
        for (i, j), inside in self._wanted.items():
            doubtful = inside & (self._wanted[0, i] | self._wanted[j, last]) & ~(at_end[i] | at_end[j])
            total += sum(map(len, self._checks[i + 1 : j])) << doubtful.bit_count()
        return total

    def best(self) -> tuple[float, Check]:
        """The least minutes of the whole row and the check that begins them; a tie goes to the free look."""
        last = len(self._checks) - 1
        least = self._least(0, last, 0)
        found = [
            (self._begun((0, last), k, check, 0), not check.free, check.index, check)
            for k in range(1, last)
            for check in self._checks[k]
        ]
        return least, min((each for each in found if each[0] <= least + TIE), key=lambda each: each[1:3])[3]

    def _least(self, i: int, j: int, opened: int) -> float:
        if j - i < 2 or not self._board.mixed(self._masks[j] & ~self._masks[i]):
            return 0.0
        opened &= self._wanted[i, j]
        key = (i, j, opened)
        least = self._known.get(key)
        if least is None:
            least = inf
            for k in range(i + 1, j):
                for check in self._checks[k]:
                    least = min(least, self._begun((i, j), k, check, opened, least))
            self._known[key] = least
        return least

    def _begun(self, ends: tuple[int, int], k: int, check: Check, opened: int, limit: float = inf) -> float:
        """The least minutes of an interval that begins with a check at k, if below `limit`."""
        i, j = ends
        needs = check.needs & ~opened
        opening = self._opening.get(needs)
        if opening is None:
            opening = self._opening[needs] = self._board.opening_minutes(needs)
        total = (check.minutes + opening) * (self._before[j] - self._before[i])
        if total < limit:
            total += self._least(i, k, opened | needs)
        if total < limit:
            total += self._least(k, j, opened | needs)
        return total
