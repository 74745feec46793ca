"""What past cards say of a rule, shrunk towards the book."""

from math import exp, log

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.estimating.factor import CARDS_WORTH_THE_BOOK, factor
from tracker.records.estimating import Factor

CARDS = st.lists(st.tuples(st.floats(1, 600), st.floats(1, 600)), max_size=30)


def test_no_cards_leave_the_book_alone() -> None:
    assert factor([]) == Factor(0, 1.0, 1.0)


def test_five_cards_go_half_way() -> None:
    # n = 5, k = 5: half of ln 1.5, no spread: √1.5.
    found = factor([(30, 20)] * 5)
    assert found.n == 5
    assert found.times == pytest.approx(1.5**0.5)
    assert found.expected_times == pytest.approx(1.5**0.5)


def test_the_expected_time_lies_above_the_middle() -> None:
    # ln 2 and ln 0.5: mean 0, variance 2 x 0.6931² / 1 = 0.9609; w = 2 / 7; exp(2 / 7 x 0.4805) = 1.147.
    found = factor([(40, 20), (10, 20)])
    assert found.times == pytest.approx(1.0)
    assert found.expected_times == pytest.approx(exp(2 / 7 * log(2) ** 2), rel=1e-9)
    assert found.expected_times == pytest.approx(1.147, abs=0.001)


def test_one_card_moves_it_a_sixth() -> None:
    assert factor([(40, 20)]).times == pytest.approx(2 ** (1 / 6))


@given(CARDS)
@settings(max_examples=60, deadline=None)
def test_it_lies_between_the_book_and_the_cards(cards: list[tuple[float, float]]) -> None:
    found = factor(cards)
    ratios = [took / book for took, book in cards] or [1.0]
    assert min(1.0, *ratios) <= found.times * (1 + 1e-9)
    assert found.times <= max(1.0, *ratios) * (1 + 1e-9)
    assert found.expected_times >= found.times * (1 - 1e-12)


def test_more_cards_of_the_same_trust_the_book_less() -> None:
    middles = [factor([(30, 20)] * n).times for n in (0, 1, 5, 20, 200)]
    assert middles == sorted(middles)
    assert middles[-1] == pytest.approx(1.5, rel=0.02)


@pytest.mark.parametrize("cards", [[(0, 20)], [(20, 0)], [(-1, 20)]])
def test_minutes_of_nothing_are_refused(cards: list[tuple[float, float]]) -> None:
    with pytest.raises(ValueError, match="above 0"):
        factor(cards)


def test_the_books_worth_is_above_nothing() -> None:
    assert CARDS_WORTH_THE_BOOK > 0
    with pytest.raises(ValueError, match="above 0"):
        factor([(1, 1)], 0)
