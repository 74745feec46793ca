"""Rules of thumb to measure the planner against, each followed to the end of the puzzle.

The planner never promises more minutes than any of them: it tries them first.
"""

from collections.abc import Callable
from math import inf, log2

from tracker.trace.planner_board import board
from tracker.trace.planner_bound import Bound
from tracker.trace.planner_policy import Choice, Move, Moves, followed
from tracker.trace.puzzle import Puzzle


def front_to_back(puzzle: Puzzle) -> float:
    """Expected minutes of the checks in the order offered, each that still tells something."""
    return _minutes(puzzle, in_order)


def halving(puzzle: Puzzle) -> float:
    """Expected minutes of always making the check that splits most evenly, at whatever cost."""
    return _minutes(puzzle, most_even)


def information_per_minute(puzzle: Puzzle) -> float:
    """Expected minutes of always making the check with the most bits a minute, what it opens included."""
    return _minutes(puzzle, most_telling)


def in_order(_moves: Moves, _bound: Bound, offered: list[Move], _mask: int, _opened: int) -> Move:
    """The first check offered."""
    return min(offered, key=lambda move: move.check.index)


def most_even(_moves: Moves, bound: Bound, offered: list[Move], _mask: int, _opened: int) -> Move:
    """The check that leaves the least when it tells least."""
    return min(
        offered,
        key=lambda move: (max(map(bound.weight, move.children)), move.check.minutes, move.check.index),
    )


def most_telling(moves: Moves, bound: Bound, offered: list[Move], mask: int, opened: int) -> Move:
    """The check with the most bits a minute; of two alike, the one that tells more."""
    return max(offered, key=telling(moves, bound, mask, opened))


def telling(moves: Moves, bound: Bound, mask: int, opened: int) -> Callable[[Move], tuple[float, float, int]]:
    """What to sort moves by, the most telling last: bits a minute, then bits, then the order offered."""
    whole = bound.weight(mask)

    def rank(move: Move) -> tuple[float, float, int]:
        bits = sum(-share * log2(share / whole) for share in map(bound.weight, move.children) if share > 0)
        minutes = moves.minutes(move.check, opened)
        return (bits / minutes if minutes else inf, bits, -move.check.index)

    return rank


def _minutes(puzzle: Puzzle, rule: Choice) -> float:
    made = board(puzzle)
    return followed(Moves(made), Bound(made), rule)[0]
