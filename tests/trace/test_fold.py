"""Folding the unlikely away."""

import pytest

from tracker.trace.fold import fold
from tracker.trace.planner import Puzzle, Test, best_plan


def test_the_unlikely_go_and_the_rest_is_whole_again() -> None:
    looks = (Test("a", 2, frozenset(), (1, 0, 0, 0)), Test("b", 1, frozenset(), (0, 0, 1, 2)))
    puzzle, kept = fold(Puzzle((0.5, 0.0004, 0.4991, 0.0005), looks, {}))
    assert kept == (0, 2)
    assert sum(puzzle.shares) == pytest.approx(1)
    assert [test.outcomes for test in puzzle.tests] == [(1, 0), (0, 1)]
    assert best_plan(puzzle).test == 1


def test_one_is_always_kept() -> None:
    shares = (0.0002, 0.0003)
    assert fold(Puzzle(shares, (), {}))[1] == (1,)
    assert fold(Puzzle((0.0, 0.0), (), {}))[1] == (0, 1)
    assert fold(Puzzle((), (), {})) == (Puzzle((), (), {}), ())
