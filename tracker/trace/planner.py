"""The next check that makes the whole search shortest: fewest expected minutes, accesses shared."""

from math import inf

from tracker.trace.baselines import RULES
from tracker.trace.planner_board import board
from tracker.trace.planner_bound import Bound
from tracker.trace.planner_exact import TIE, Exact
from tracker.trace.planner_policy import Moves, followed
from tracker.trace.puzzle import Plan, Puzzle, Test

__all__ = ["NODES", "Plan", "Puzzle", "Test", "best_plan"]

NODES = 1500
"""Sets of suspects looked into before a large puzzle's search is cut short: counted, not timed, so that
every machine gives the same answer."""


def best_plan(puzzle: Puzzle, *, exact_up_to: int = 14, nodes: int = NODES) -> Plan:
    """The check to make next, and what the plan behind it takes.

    Puzzles of up to `exact_up_to` distinguishable classes are searched to the end. Larger ones too where
    `nodes` suffice; else the best plan found is given, with what no plan can beat. ValueError if the puzzle
    does not hold together.
    """
    made = board(puzzle)
    moves, bound = Moves(made), Bound(made)
    thumb, first = min((followed(moves, bound, rule) for rule in RULES), key=lambda found: found[0])
    if first is None:
        return Plan(None, 0.0, 0.0, True)
    small = len(made.weights) <= exact_up_to
    least, lowest, move = Exact(moves, bound, inf if small else nodes).best(thumb, first)
    assert move is not None
    proved = least - lowest <= TIE
    return Plan(move.check.index, least, least if proved else lowest, proved)
