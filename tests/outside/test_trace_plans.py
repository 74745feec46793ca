"""The planner and the doubt of the trace against sums that anybody can make, and published examples."""

from dataclasses import replace

import numpy as np
import pytest

from tracker.trace.baselines import in_order, telling
from tracker.trace.planner import best_plan
from tracker.trace.planner_board import board
from tracker.trace.planner_bound import Bound, binary_steps
from tracker.trace.planner_policy import Moves
from tracker.trace.puzzle import Puzzle, Test
from tracker.trace.suspects import believed


def row(count: int) -> Puzzle:
    """Equally likely parts in a row; a check ahead of part k says whether it lies further on."""
    made = tuple(
        Test(f"ahead of {k}", 1.0, frozenset(), tuple(int(part >= k) for part in range(1, count + 1)))
        for k in range(2, count + 1)
    )
    return Puzzle((1 / count,) * count, made, {})


def one_by_one(count: int) -> Puzzle:
    """The same parts, each looked at by itself."""
    made = tuple(
        Test(f"part {k}", 1.0, frozenset(), tuple(int(part == k) for part in range(1, count + 1)))
        for k in range(1, count + 1)
    )
    return Puzzle((1 / count,) * count, made, {})


def left_after(puzzle: Puzzle, names: list[str], part: int) -> set[int]:
    """The parts that still can be it after some checks, where `part` is."""
    left = set(range(1, len(puzzle.shares) + 1))
    for test in puzzle.tests:
        if test.name in names:
            left = {one for one in left if test.outcomes[one - 1] == test.outcomes[part - 1]}
    return left


def best_steps(puzzle: Puzzle, part: int) -> int:
    """Checks that the best plan makes until one part is left, where `part` is the faulty one."""
    names: list[str] = []
    while len(left := sorted(left_after(puzzle, names, part))) > 1:
        rest = replace(
            puzzle,
            shares=(1 / len(left),) * len(left),
            tests=tuple(
                replace(one, outcomes=tuple(one.outcomes[each - 1] for each in left)) for one in puzzle.tests
            ),
        )
        number = best_plan(rest).test
        assert number is not None
        names.append(puzzle.tests[number].name)
    return len(names)


def test_eight_equally_likely_links_take_three_halvings() -> None:
    """DX-1. Source: arithmetic (no outside figure), ceil(log2 8)."""
    assert best_plan(row(8)).expected_minutes == pytest.approx(3)
    assert [best_steps(row(8), part) for part in range(1, 9)] == [3] * 8


def test_part_seven_of_ten_is_found_by_three_checks_against_seven_in_order() -> None:
    """DX-2. Source: spideltech.com/Troubleshooting.htm: test 5, then 8, then 7."""
    puzzle = row(10)
    assert left_after(puzzle, ["ahead of 5"], 7) == {5, 6, 7, 8, 9, 10}
    assert left_after(puzzle, ["ahead of 5", "ahead of 8"], 7) == {5, 6, 7}
    assert left_after(puzzle, ["ahead of 5", "ahead of 8", "ahead of 7"], 7) == {7}
    singly = one_by_one(10)
    looks = [f"part {k}" for k in range(1, 11)]
    made = next(n for n in range(1, 11) if left_after(singly, looks[:n], 7) == {7})
    assert made == 7
    moves = Moves(board(singly))
    first = in_order(moves, Bound(moves.board), moves.of(moves.board.whole, 0), moves.board.whole, 0)
    assert singly.tests[first.check.index].name == "part 1"
    assert max(best_steps(puzzle, part) for part in range(1, 11)) == 4, "ceil(log2 10)"


def test_a_million_parts_take_twenty_two_way_checks() -> None:
    """DX-3. Source: troubleshooters.com/ustep6.htm: 1048576 parts, 20 tests."""
    assert binary_steps(1048576) == 20
    assert best_plan(row(64)).expected_minutes == pytest.approx(binary_steps(64)) == 6


def test_a_test_that_is_right_nine_times_in_ten_makes_a_fifth_seven_tenths() -> None:
    """DX-5. Source: arithmetic (no outside figure): 0.2 * 0.9 / (0.2 * 0.9 + 0.8 * 0.1) = 0.692."""
    fault, sound = believed(np.array([0.2, 0.8]), [np.array([0.9, 0.1])]).tolist()
    assert fault == pytest.approx(0.692, abs=0.001)
    assert fault + sound == pytest.approx(1)


def test_a_half_and_two_quarters_are_one_and_a_half_bits() -> None:
    """DX-6. Source: arithmetic (no outside figure)."""
    made = board(Puzzle((0.5, 0.25, 0.25), (Test("which", 1.0, frozenset(), (0, 1, 2)),), {}))
    moves = Moves(made)
    (move,) = moves.of(made.whole, 0)
    _, bits, _ = telling(moves, Bound(made), made.whole, 0)(move)
    assert bits == pytest.approx(1.5, abs=0.001)
