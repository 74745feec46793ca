"""What opening alone must take: the puzzle with every check's own minutes forgiven."""

from math import inf

from tracker.trace.planner_board import Board, together
from tracker.trace.planner_sums import Sums


class Accesses:
    """The least expected minutes of opening, exact for a puzzle whose checks take no minutes of their own.

    There every check within reach is made at once. What stays together must open something, all of it pays,
    and the checks then within reach part it further: few states, one for each group and set of open accesses.
    Forgiving minutes makes no plan dearer, so no plan for the true puzzle spends less on opening.
    """

    def __init__(self, board: Board, sums: Sums) -> None:
        self._board = board
        self._sums = sums
        self._needs = sorted({check.needs for check in board.checks} - {0})
        self._groups: dict[int, list[int]] = {}
        self._known: dict[tuple[int, int], float] = {}

    def least(self, mask: int, opened: int) -> float:
        """For a set of classes with accesses open, times the share of the set."""
        total = 0.0
        for group in self._together(opened):
            inside = mask & group
            if self._board.mixed(inside):
                total += self._least(inside, opened)
        return total

    def _least(self, mask: int, opened: int) -> float:
        """For a set that no check within reach can part."""
        key = (mask, opened)
        found = self._known.get(key)
        if found is None:
            found = inf
            weight = self._sums.weight(mask)
            for needs in self._needs:
                if needs & ~opened:
                    minutes = weight * self._board.opening_minutes(needs & ~opened)
                    if minutes < found and (parts := self._parts(mask, opened | needs)) != [mask]:
                        minutes += sum(self._least(part, opened | needs) for part in parts)
                        found = min(found, minutes)
            self._known[key] = found
        return found

    def _parts(self, mask: int, opened: int) -> list[int]:
        """The parts that stay together with something still to tell apart."""
        groups = self._together(opened)
        return [part for group in groups if self._board.mixed(part := mask & group)]

    def _together(self, opened: int) -> list[int]:
        found = self._groups.get(opened)
        if found is None:
            within = [check for check in self._board.checks if not check.needs & ~opened]
            found = self._groups[opened] = together(self._board, within)
        return found
