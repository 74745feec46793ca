"""The planner's parts apart: the row, the search, what it starts from, and what bounds it."""

from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.trace.puzzles import brute, general, rows
from tracker.trace.planner import Puzzle, Test, best_plan
from tracker.trace.planner_access import Accesses
from tracker.trace.planner_board import Check, board, undominated
from tracker.trace.planner_bound import Bound, binary_steps
from tracker.trace.planner_exact import Exact
from tracker.trace.planner_narrow import Narrow
from tracker.trace.planner_policy import Moves
from tracker.trace.planner_row import Row, row_order
from tracker.trace.planner_sums import Sums

ANY = st.one_of(general(), rows())


def searched(puzzle: Puzzle) -> float:
    """The least minutes by search alone, begun from any first move however long it takes."""
    made = board(puzzle)
    moves = Moves(made)
    first = moves.of(made.whole, made.whole)[0]
    return Exact(moves, Bound(made)).best(1e6, first)[0]


@settings(max_examples=120, deadline=None)
@given(rows())
def test_a_row_is_seen_as_one_in_any_order_and_its_recursion_is_exact(puzzle: Puzzle) -> None:
    made = board(puzzle)
    assume(made.mixed(made.whole))
    points = row_order(made)
    assert points is not None
    masks = [0, *(ahead for ahead, _ in points), made.whole]
    assert all(not one & ~other and one != other for one, other in pairwise(masks))
    row = Row(made, points)
    assert row.best()[0] == pytest.approx(brute(puzzle), abs=1e-7)


@settings(max_examples=30, deadline=None)
@given(rows(classes=16))
def test_recursion_and_search_agree_on_long_rows(puzzle: Puzzle) -> None:
    made = board(puzzle)
    assume(made.mixed(made.whole))
    points = row_order(made)
    assert points is not None
    assert Row(made, points).best()[0] == pytest.approx(searched(puzzle), abs=1e-7)


def test_what_branches_is_no_row() -> None:
    outcomes = [(0, 0, 1, 1, 1, 1), (1, 1, 0, 0, 1, 1), (1, 1, 1, 1, 0, 0)]
    tests = tuple(Test(str(place), 1, frozenset(), shown) for place, shown in enumerate(outcomes))
    assert row_order(board(Puzzle((1 / 6,) * 6, tests, {}))) is None


def test_three_outcomes_make_no_row() -> None:
    made = board(Puzzle((0.2, 0.3, 0.5), (Test("volts", 2, frozenset(), (0, 1, 2)),), {}))
    assert row_order(made) is None


@settings(max_examples=100, deadline=None)
@given(ANY)
def test_search_alone_is_exact(puzzle: Puzzle) -> None:
    if (made := board(puzzle)).mixed(made.whole):
        assert searched(puzzle) == pytest.approx(brute(puzzle), abs=1e-7)


@settings(max_examples=100, deadline=None)
@given(ANY, st.integers(0, 30))
def test_the_narrow_search_promises_what_its_first_move_can_keep(puzzle: Puzzle, nodes: int) -> None:
    made = board(puzzle)
    moves = Moves(made)
    minutes, first = Narrow(moves, Bound(made), nodes).best(made.whole, 0, made.whole)
    if first is None:
        assert minutes == brute(puzzle) == 0
    else:
        assert minutes >= brute(puzzle, first.check.index) - 1e-7


@settings(max_examples=150, deadline=None)
@given(ANY, st.data())
def test_the_bound_holds_for_any_set_with_anything_open(puzzle: Puzzle, data: st.DataObject) -> None:
    kept = data.draw(st.sets(st.integers(0, len(puzzle.shares) - 1), min_size=1))
    opened = data.draw(st.sets(st.sampled_from(sorted(puzzle.access_minutes))))
    rest = Puzzle(
        tuple(puzzle.shares[place] for place in sorted(kept)),
        tuple(
            Test(test.name, test.minutes, test.needs, tuple(test.outcomes[place] for place in sorted(kept)))
            for test in puzzle.tests
        ),
        puzzle.access_minutes,
        puzzle.opened | opened,
    )
    made = board(rest)
    assert Bound(made)(made.whole, 0) <= brute(rest) + 1e-7


@settings(max_examples=100, deadline=None)
@given(ANY)
def test_what_opening_takes_is_exact_where_checks_take_no_minutes(puzzle: Puzzle) -> None:
    quick = Puzzle(
        puzzle.shares,
        tuple(Test(test.name, 0, test.needs, test.outcomes) for test in puzzle.tests),
        puzzle.access_minutes,
        puzzle.opened,
    )
    made = board(quick)
    assert Accesses(made, Sums(made.weights)).least(made.whole, 0) == pytest.approx(brute(quick), abs=1e-7)


def test_the_bound_is_the_best_plan_where_halves_are_to_be_had() -> None:
    tests = tuple(
        Test(f"bit {bit}", 2, frozenset(), tuple(place >> bit & 1 for place in range(16))) for bit in range(4)
    )
    puzzle = Puzzle((1 / 16,) * 16, tests, {})
    made = board(puzzle)
    assert Bound(made)(made.whole, 0) == pytest.approx(8)
    assert best_plan(puzzle, exact_up_to=0).expected_minutes == pytest.approx(8)


@pytest.mark.parametrize(("outcomes", "steps"), [(2, 1), (3, 5 / 3), (4, 2), (5, 12 / 5), (8, 3)])
def test_two_way_splits_for_one_of_many(outcomes: int, steps: float) -> None:
    assert binary_steps(outcomes) == pytest.approx(steps)


def test_a_check_that_another_outdoes_is_left_out() -> None:
    fine = Check(0, 2, 0, (0b001, 0b010, 0b100))
    coarse = Check(1, 2, 0, (0b001, 0b110))
    quick = Check(2, 1, 0, (0b001, 0b110))
    behind = Check(3, 1, 0b1, (0b001, 0b110))
    free = Check(4, 2, 0, (0b001, 0b110), free=True)
    assert undominated([fine, coarse, quick, behind, free]) == [fine, quick]
    assert undominated([fine, coarse, behind, free]) == [fine, behind, free]


def test_weights_of_many_classes() -> None:
    weights = tuple(float(1 + place) for place in range(21))
    sums = Sums(weights)
    mask = 1 << 20 | 1 << 13 | 1 << 8 | 1 << 7 | 1
    assert sums.weights(mask) == [1, 8, 9, 14, 21]
    assert sums.weight(mask) == 53
