"""An estimate as it is said to a customer."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.estimating.customer_words import fixed_words, for_customer
from tracker.records.money import Money


@pytest.mark.parametrize(
    ("expected", "high", "words"),
    [
        (17832, 21480, "About 180 EUR, and not past 220 EUR without a call."),
        (2340, 2910, "About 23 EUR, and not past 30 EUR without a call."),
        (84210, 102155, "About 850 EUR, and not past 1050 EUR without a call."),
        (420, 510, "About 4 EUR, and not past 6 EUR without a call."),
        (18000, 18000, "About 180 EUR, and not past it without a call."),
    ],
)
def test_round_figures(expected: int, high: int, words: str) -> None:
    assert for_customer(Money(expected, "EUR"), Money(high, "EUR")) == words


def test_what_was_agreed_is_said_exactly() -> None:
    words = for_customer(Money(17832, "EUR"), Money(21480, "EUR"), limit=Money(20050, "EUR"))
    assert words == "About 180 EUR, and not past 200.50 EUR without a call."


def test_past_what_was_agreed_it_needs_a_further_go_ahead() -> None:
    words = for_customer(Money(17832, "EUR"), Money(21480, "EUR"), limit=Money(15000, "EUR"))
    assert words == "About 180 EUR: more than the 150 EUR agreed, so it needs a further go-ahead."


def test_a_currency_without_cents() -> None:
    words = for_customer(Money(24310, "JPY"), Money(29100, "JPY"))
    assert words == "About 24000 JPY, and not past 30000 JPY without a call."


def test_a_fixed_price() -> None:
    assert fixed_words(Money(18050, "EUR")) == "180.50 EUR, fixed."


@given(st.integers(100, 10**8), st.integers(0, 10**7))
def test_not_past_is_never_below_the_high_end_nor_the_about(expected: int, more: int) -> None:
    words = for_customer(Money(expected, "EUR"), Money(expected + more, "EUR"))
    figures = [int(word) for word in words.split() if word.isdigit()]
    assert figures[0] == pytest.approx(expected / 100, rel=0.06, abs=0.5)
    assert figures[-1] * 100 >= expected + more
    assert figures[-1] >= figures[0]
    assert "%" not in words
