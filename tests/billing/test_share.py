"""Whole cents out of fractions."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.billing.share import round_to_sum, share


@given(st.integers(-10_000, 10_000), st.lists(st.integers(0, 5_000), min_size=1, max_size=8))
@settings(max_examples=60, deadline=None)
def test_shares_add_up_and_none_is_a_unit_away_from_its_part(total: int, weights: list[int]) -> None:
    if sum(weights) == 0:
        weights[0] = 1
    shares = share(total, weights)
    assert sum(shares) == total
    for part, weight in zip(shares, weights, strict=True):
        assert abs(part - Fraction(total * weight, sum(weights))) < 1


def test_nothing_to_share_by() -> None:
    assert share(0, [0, 0]) == (0, 0)
    with pytest.raises(ValueError, match="nothing to share by"):
        share(1, [0, 0])


def test_a_sum_out_of_reach_is_refused() -> None:
    with pytest.raises(ValueError, match="cannot be reached"):
        round_to_sum([Fraction(1, 2), Fraction(2)], 5)
