"""The planner against every plan there is, and against the rules of thumb."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.trace.puzzles import brute, general, made, rows
from tracker.trace.baselines import front_to_back, halving, information_per_minute
from tracker.trace.planner import Plan, Puzzle, Test, best_plan
from tracker.trace.planner_board import board
from tracker.trace.planner_bound import Bound

ANY = st.one_of(general(), rows())


@settings(max_examples=250, deadline=None)
@given(ANY)
def test_no_plan_of_all_there_are_is_better(puzzle: Puzzle) -> None:
    plan = best_plan(puzzle)
    least = brute(puzzle)
    assert plan.expected_minutes == pytest.approx(least, abs=1e-7)
    assert plan.proved_best
    assert plan.lower_bound_minutes == plan.expected_minutes
    if plan.test is not None:
        assert brute(puzzle, plan.test) == pytest.approx(least, abs=1e-7)


@settings(max_examples=120, deadline=None)
@given(ANY, st.integers(0, 12))
def test_a_search_cut_short_says_what_it_knows(puzzle: Puzzle, nodes: int) -> None:
    plan = best_plan(puzzle, exact_up_to=0, nodes=nodes)
    least = brute(puzzle)
    assert plan.lower_bound_minutes <= least + 1e-7
    assert plan.expected_minutes >= least - 1e-7
    if plan.proved_best:
        assert plan.expected_minutes == pytest.approx(least, abs=1e-7)
    if plan.test is not None:
        assert brute(puzzle, plan.test) <= plan.expected_minutes + 1e-7


@settings(max_examples=150, deadline=None)
@given(ANY, st.integers(0, 12))
def test_never_above_a_rule_of_thumb(puzzle: Puzzle, nodes: int) -> None:
    found = best_plan(puzzle, exact_up_to=0, nodes=nodes).expected_minutes
    for rule in (front_to_back, halving, information_per_minute):
        assert found <= rule(puzzle) + 1e-9


@settings(max_examples=150, deadline=None)
@given(ANY)
def test_the_bound_is_one(puzzle: Puzzle) -> None:
    whole = board(puzzle)
    assert Bound(whole)(whole.whole, 0) <= brute(puzzle) + 1e-7


@settings(max_examples=120, deadline=None)
@given(ANY)
def test_a_tie_goes_to_the_free_look(puzzle: Puzzle) -> None:
    plan = best_plan(puzzle)
    if plan.test is None or puzzle.tests[plan.test].free:
        return
    for number, test in enumerate(puzzle.tests):
        if test.free and len(set(test.outcomes)) > 1:
            assert brute(puzzle, number) > plan.expected_minutes + 1e-10


@settings(max_examples=60, deadline=None)
@given(ANY)
def test_names_of_outcomes_and_order_of_tests_change_no_minutes(puzzle: Puzzle) -> None:
    turned = replace(
        puzzle,
        tests=tuple(
            replace(test, outcomes=tuple(7 - shown for shown in test.outcomes)) for test in puzzle.tests[::-1]
        ),
    )
    assert best_plan(turned).expected_minutes == pytest.approx(best_plan(puzzle).expected_minutes, abs=1e-7)


def test_one_class_takes_no_minutes() -> None:
    assert best_plan(made(["0"], [5])) == Plan(None, 0, 0, True)


def test_nothing_offered_tells_nothing() -> None:
    assert best_plan(Puzzle((0.5, 0.5), (), {})) == Plan(None, 0, 0, True)
    assert best_plan(Puzzle((), (), {})) == Plan(None, 0, 0, True)


def test_nothing_that_splits_tells_nothing() -> None:
    assert best_plan(made(["000", "111"], [1, 2])) == Plan(None, 0, 0, True)


def test_classes_no_check_tells_apart_are_one() -> None:
    plan = best_plan(made(["0011"], [4]))
    assert plan == Plan(0, 4, 4, True)


def test_the_free_look_wins_a_tie_and_only_a_tie() -> None:
    assert best_plan(made(["01", "01"], [3, 3], free=1)).test == 1
    assert best_plan(made(["01", "01"], [3, 3.5], free=1)).test == 0
    assert best_plan(made(["0011", "0101", "0110"], [2, 2, 2], free=2)).test == 2


def test_what_is_up_anyway_costs_nothing() -> None:
    tank = frozenset({"seat", "tank"})
    tests = (Test("under the tank", 2, tank, (0, 1)), Test("at the lamp", 6, frozenset(), (0, 1)))
    closed = Puzzle((0.5, 0.5), tests, {"seat": 3, "tank": 20})
    assert best_plan(closed) == Plan(1, 6, 6, True)
    assert best_plan(replace(closed, opened=frozenset({"seat"}))) == Plan(1, 6, 6, True)
    assert best_plan(replace(closed, opened=tank)) == Plan(0, 2, 2, True)


def test_an_access_is_paid_once() -> None:
    seat = frozenset({"seat"})
    tests = (Test("a", 1, seat, (0, 1, 1)), Test("b", 1, seat, (0, 0, 1)))
    plan = best_plan(Puzzle((0.2, 0.2, 0.6), tests, {"seat": 3}))
    assert plan.test == 1
    assert plan.expected_minutes == pytest.approx(3 + 1 + 0.4)


def test_the_likelier_suspect_first() -> None:
    tests = tuple(
        Test(f"look {place}", 2, frozenset(), tuple(int(i == place) for i in range(4))) for place in range(4)
    )
    plan = best_plan(Puzzle((0.1, 0.2, 0.4, 0.3), tests, {}))
    assert plan.test == 2
    assert plan.expected_minutes == pytest.approx(2 * (0.4 + 0.3 * 2 + 0.3 * 3))


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (Puzzle((0.5, 0.5), (Test("t", 1, frozenset(), (0,)),), {}), "1 outcomes for 2 classes"),
        (Puzzle((0.5, 0.5), (Test("t", -1, frozenset(), (0, 1)),), {}), "t: minutes are 0 or more"),
        (Puzzle((0.5, 0.5), (Test("t", 1, frozenset({"tank"}), (0, 1)),), {}), "nobody knows how long tank"),
        (Puzzle((0.5, 0.5), (), {"tank": float("nan")}), "minutes to open"),
        (Puzzle((1.5, -0.5), (), {}), "shares are 0 or more"),
    ],
)
def test_a_puzzle_that_does_not_hold_together(wrong: Puzzle, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        best_plan(wrong)
