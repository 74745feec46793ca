"""The next check that makes the whole search shortest: fewest expected minutes, accesses shared."""

from math import inf

from tracker.trace.baselines import in_order, most_even, most_telling
from tracker.trace.planner_board import Board, board
from tracker.trace.planner_bound import Bound
from tracker.trace.planner_exact import TIE, Exact
from tracker.trace.planner_narrow import Narrow
from tracker.trace.planner_policy import Move, Moves, followed
from tracker.trace.planner_row import Points, Row, row_order
from tracker.trace.puzzle import Plan, Puzzle, Test

__all__ = ["NODES", "Plan", "Puzzle", "Test", "best_plan"]

NODES = 6_000
"""Moves weighed before the proof for a large puzzle is cut short: counted, not timed, so that every machine
gives the same answer."""

ROW = 40_000
"""Checks weighed at most in the recursion over a row; where accesses are scattered the search is quicker."""

FOR_ROWS = 4
"""Times as many moves may be weighed for a row: few plans differ, so the proof is in reach."""

DEEP = 200
"""Distinguishable classes beyond which only rules of thumb are followed: a search may go as deep as that."""


def best_plan(puzzle: Puzzle, *, exact_up_to: int = 14, nodes: int = NODES) -> Plan:
    """The check to make next, and what the plan behind it takes.

    Puzzles of up to `exact_up_to` distinguishable classes are searched to the end, and so are rows unless
    both long and wildly scattered; others as far as `nodes` go. Where that is not to the end, the best plan
    found is given with what no plan can beat. It never takes longer than the rules of thumb in `baselines`;
    a tie goes to the free look where the best is proved. ValueError if the puzzle does not hold together.
    """
    made = board(puzzle)
    if not made.mixed(made.whole):
        return Plan(None, 0.0, 0.0, True)
    points = row_order(made)
    allowed = inf if len(made.weights) <= exact_up_to else nodes if points is None else FOR_ROWS * nodes
    return (_of_row(made, points) if points else None) or _searched(made, allowed)


def _of_row(made: Board, points: Points) -> Plan | None:
    """The best plan of a row, where the recursion stays short."""
    if len(points) > DEEP:
        return None
    row = Row(made, points)
    if row.work() > ROW:
        return None
    least, check = row.best()
    return Plan(check.index, least, least, True)


def _searched(made: Board, nodes: float) -> Plan:
    """The best plan found by search, with what is proved."""
    moves, bound = Moves(made), Bound(made)
    known, first = _good_plan(moves, bound, nodes)
    if len(made.weights) > DEEP:
        least, low, move = known, bound(made.whole, 0), first
    else:
        least, low, move = Exact(moves, bound, nodes).best(known, first)
    proved = least - low <= TIE
    return Plan(move.check.index, least, least if proved else low, proved)


def _good_plan(moves: Moves, bound: Bound, nodes: float) -> tuple[float, Move]:
    """The best of the rules of thumb and of the narrow search."""
    whole = moves.board.whole
    if len(moves.board.weights) > DEEP:
        narrow = followed(moves, bound, most_telling)
    else:
        narrow = Narrow(moves, bound, 4 * nodes).best(whole, 0, whole)
    plans = [narrow, followed(moves, bound, in_order), followed(moves, bound, most_even)]
    return min(((minutes, move) for minutes, move in plans if move), key=lambda plan: plan[0])
