"""Moves from a set of classes, and what a rule of thumb takes when it is followed to the end."""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from tracker.trace.planner_board import Board, Check
from tracker.trace.planner_bound import Bound


class Move(NamedTuple):
    """A check made on a set of classes, and the sets it leaves."""

    check: Check
    children: tuple[int, ...]


class Moves:
    """The moves from each set, each split once: the quicker check, or both where the quicker opens more."""

    def __init__(self, board: Board) -> None:
        self.board = board
        self._known: dict[int, list[Move]] = {
            board.whole: [Move(check, check.blocks) for check in board.checks],
        }
        self._opening = {0: 0.0}
        self._wanted: dict[int, int] = {}
        self._behind = [
            (1 << bit, _alike(board, [check for check in board.checks if check.needs >> bit & 1]))
            for bit in range(len(board.opening))
        ]

    def of(self, mask: int, parent: int) -> list[Move]:
        """The moves of `mask`, a part of `parent` whose moves are known."""
        found = self._known.get(mask)
        if found is None:
            found = self._known[mask] = _splitting(mask, self._known[parent])
        return found

    def wanted(self, mask: int) -> int:
        """The accesses that any move of `mask` needs."""
        found = self._wanted.get(mask)
        if found is None:
            found = 0
            lowest = (mask & -mask).bit_length() - 1
            for bit, alike in self._behind:
                if mask & ~alike[lowest]:
                    found |= bit
            self._wanted[mask] = found
        return found

    def minutes(self, check: Check, opened: int) -> float:
        """Minutes of a check with what must still be opened for it."""
        needs = check.needs & ~opened
        found = self._opening.get(needs)
        if found is None:
            found = self._opening[needs] = self.board.opening_minutes(needs)
        return check.minutes + found


def _splitting(mask: int, above: Sequence[Move]) -> list[Move]:
    alike: dict[int | tuple[int, ...], list[Move]] = {}
    for check, parts in above:
        children = tuple([child for part in parts if (child := part & mask)])
        if len(children) == 2:
            key: int | tuple[int, ...] = children[0] if children[0] < children[1] else children[1]
        elif children[1:]:
            key = tuple(sorted(children))
        else:
            continue
        rivals = alike.get(key)
        if rivals is None:
            alike[key] = [Move(check, children)]
        elif not any(_covers(rival.check, check) for rival in rivals):
            rivals.append(Move(check, children))
    return [move for rivals in alike.values() for move in rivals]


def _covers(one: Check, other: Check) -> bool:
    return one.minutes <= other.minutes and not one.needs & ~other.needs


def _alike(board: Board, checks: list[Check]) -> list[int]:
    """For each class, those that none of the checks tells from it."""
    alike = [board.whole] * len(board.weights)
    for check in checks:
        for block in check.blocks:
            for bit in range(len(alike)):
                if block >> bit & 1:
                    alike[bit] &= block
    return alike


Choice = Callable[[Moves, Bound, list[Move], int, int], Move]
"""(moves, bound, those of the set left, the set, accesses open) -> the move a rule of thumb makes."""


def followed(moves: Moves, bound: Bound, choose: Choice) -> tuple[float, Move | None]:
    """Expected minutes of a rule of thumb followed to the end from the whole, and its first move."""
    whole = moves.board.whole
    first: Move | None = None
    total = 0.0
    ahead = [(whole, 0, whole)] if moves.board.mixed(whole) else []
    while ahead:
        mask, opened, parent = ahead.pop()
        offered = moves.of(mask, parent)
        if not offered:
            continue
        move = choose(moves, bound, offered, mask, opened)
        if mask == whole:
            first = move
        total += bound.weight(mask) * moves.minutes(move.check, opened)
        ahead += [
            (child, opened | move.check.needs, mask) for child in move.children if moves.board.mixed(child)
        ]
    return total, first
