"""Cash rounding."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.billing.making import line
from tracker.billing.bill import draw_up
from tracker.billing.cash import cash_difference
from tracker.records.billing import RoundingPart, Why


@pytest.mark.parametrize(
    ("due", "step", "asked"),
    [(1232, 5, 1230), (1233, 5, 1235), (1235, 10, 1240), (-1235, 10, -1240), (80178, 100, 80200), (7, 1, 7)],
)
def test_to_the_nearest_coin(due: int, step: int, asked: int) -> None:
    assert due + cash_difference(due, step) == asked


@given(st.integers(-100_000, 100_000), st.sampled_from([1, 5, 10, 100]))
@settings(max_examples=60, deadline=None)
def test_never_further_than_half_a_coin(due: int, step: int) -> None:
    moved = cash_difference(due, step)
    assert (due + moved) % step == 0
    assert abs(moved) * 2 <= step
    assert cash_difference(-due, step) == -moved


def test_it_goes_into_the_rounding_amount_and_leaves_the_tax() -> None:
    plain = draw_up([line(1, "10.11")], currency="EUR").totals
    bill = draw_up([line(1, "10.11")], currency="EUR", cash_step=5)
    assert (plain.payable, bill.totals.payable) == (1213, 1215)
    assert bill.totals.groups == plain.groups
    assert bill.rounding == (RoundingPart(Why.CASH, 2),)


def test_no_coin_under_one() -> None:
    with pytest.raises(ValueError, match="1 minor unit"):
        cash_difference(100, 0)
