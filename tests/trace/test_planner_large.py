"""The planner on puzzles too large for every plan to be tried: what it promises is kept."""

from dataclasses import replace
from random import Random

import pytest

from tests.bench.trace import anything, branched, row, there_and_back
from tracker.trace.baselines import front_to_back, halving, information_per_minute
from tracker.trace.planner import DEEP, Puzzle, Test, best_plan
from tracker.trace.planner_board import board
from tracker.trace.planner_bound import Bound
from tracker.trace.planner_exact import Exact
from tracker.trace.planner_policy import Moves

LARGE = {
    "branched": branched(Random("branched"), 40, 80),
    "anything": anything(Random("anything"), 30, 60),
    "there and back": there_and_back(Random("there and back"), 40),
    "scattered": row(Random("scattered"), 40, scattered=True),
}


def spent(puzzle: Puzzle, nodes: int) -> float:
    """Expected minutes of following the planner, which plans afresh after every outcome."""
    plan = best_plan(puzzle, exact_up_to=0, nodes=nodes)
    if plan.test is None:
        return 0.0
    made = puzzle.tests[plan.test]
    minutes = made.minutes + sum(puzzle.access_minutes[access] for access in made.needs - puzzle.opened)
    for shown in set(made.outcomes):
        left = [place for place, outcome in enumerate(made.outcomes) if outcome == shown]
        share = sum(puzzle.shares[place] for place in left)
        rest = Puzzle(
            tuple(puzzle.shares[place] / share for place in left),
            tuple(
                replace(test, outcomes=tuple(test.outcomes[place] for place in left)) for test in puzzle.tests
            ),
            puzzle.access_minutes,
            puzzle.opened | made.needs,
        )
        minutes += share * spent(rest, nodes)
    return minutes


@pytest.mark.parametrize("nodes", [0, 40, 2000])
@pytest.mark.parametrize("number", range(6))
def test_planning_afresh_keeps_what_was_promised(number: int, nodes: int) -> None:
    random = Random(number)
    puzzle = branched(random, 20, 40) if number % 2 else anything(random, 14, 30)
    promised = best_plan(puzzle, exact_up_to=0, nodes=nodes)
    took = spent(puzzle, nodes)
    assert took <= promised.expected_minutes + 1e-9
    assert took >= promised.lower_bound_minutes - 1e-9


@pytest.mark.parametrize("name", LARGE)
def test_large_puzzles_are_never_above_a_rule_of_thumb(name: str) -> None:
    puzzle = LARGE[name]
    plan = best_plan(puzzle)
    assert 0 < plan.lower_bound_minutes <= plan.expected_minutes
    for rule in (front_to_back, halving, information_per_minute):
        assert plan.expected_minutes <= rule(puzzle) + 1e-9


def test_more_looking_never_makes_it_worse() -> None:
    plans = [best_plan(LARGE["branched"], nodes=nodes) for nodes in (500, 2_000, 8_000)]
    minutes = [plan.expected_minutes for plan in plans]
    assert minutes == sorted(minutes, reverse=True)
    assert all(plan.lower_bound_minutes <= minutes[-1] + 1e-9 for plan in plans)


def test_the_same_puzzle_gets_the_same_plan() -> None:
    assert best_plan(LARGE["branched"]) == best_plan(LARGE["branched"])


@pytest.mark.parametrize("name", ["there and back", "scattered"])
def test_long_rows_are_solved(name: str) -> None:
    plan = best_plan(LARGE[name])
    assert plan.proved_best
    made = board(LARGE[name])
    moves = Moves(made)
    least = Exact(moves, Bound(made)).best(1e6, moves.of(made.whole, made.whole)[0])[0]
    assert plan.expected_minutes == pytest.approx(least, abs=1e-7)


def test_the_work_is_counted_not_timed() -> None:
    made = board(LARGE["anything"])
    moves = Moves(made)
    search = Exact(moves, Bound(made), 300)
    _, low, _ = search.best(1e6, moves.of(made.whole, made.whole)[0])
    assert -2 * len(made.checks) < search.left <= 0
    assert 0 < low < 1e6


def test_hundreds_of_classes_are_no_crash() -> None:
    count = DEEP + 60
    looks = tuple(
        Test(f"look {k}", 1, frozenset(), tuple(int(place == k) for place in range(count)))
        for k in range(count)
    )
    plan = best_plan(Puzzle((1 / count,) * count, looks, {}))
    assert plan.expected_minutes == pytest.approx((count + 1) / 2 - 1 / count)
    assert 0 < plan.lower_bound_minutes <= plan.expected_minutes
