"""From clocked time to billed time."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.billing.making import S20
from tracker.billing.labour import HOUR, MINUTE, billed_minutes, labour_line
from tracker.billing.totals import line_net
from tracker.records.document import LineKind
from tracker.records.shop import Rounding


@pytest.mark.parametrize(
    ("clocked_s", "step_min", "way", "billed"),
    [
        (52 * 60, 6, Rounding.NEAREST, 54),
        (50 * 60, 6, Rounding.NEAREST, 48),
        (51 * 60, 6, Rounding.NEAREST, 54),
        (49 * 60, 6, Rounding.UP, 54),
        (48 * 60, 6, Rounding.UP, 48),
        (48 * 60 + 1, 6, Rounding.UP, 54),
        (52 * 60, 15, Rounding.NEAREST, 45),
        (52 * 60 + 30, 15, Rounding.NEAREST, 60),
        (46 * 60, 15, Rounding.UP, 60),
    ],
)
def test_by_the_shops_rule(clocked_s: int, step_min: int, way: Rounding, billed: int) -> None:
    assert billed_minutes(clocked_s, step_min=step_min, way=way) == billed


def test_a_minimum_is_for_work_that_was_begun() -> None:
    assert billed_minutes(120, least_min=30) == 30
    assert billed_minutes(0, least_min=30) == 0
    assert billed_minutes(45 * 60, least_min=30, way=Rounding.UP) == 48


@given(st.integers(0, 400_000), st.sampled_from([6, 15]), st.sampled_from(list(Rounding)))
@settings(max_examples=60, deadline=None)
def test_whole_steps_and_never_a_step_away(clocked_s: int, step_min: int, way: Rounding) -> None:
    billed = billed_minutes(clocked_s, step_min=step_min, way=way)
    assert billed % step_min == 0
    away_s = billed * 60 - clocked_s
    assert 0 <= away_s < step_min * 60 if way is Rounding.UP else abs(away_s) * 2 <= step_min * 60


@pytest.mark.parametrize(("clocked_s", "step_min"), [(-1, 6), (60, 0)])
def test_time_does_not_run_backwards(clocked_s: int, step_min: int) -> None:
    with pytest.raises(ValueError, match="a step is a minute"):
        billed_minutes(clocked_s, step_min=step_min)


def test_hours_where_two_decimals_hold_them_else_minutes() -> None:
    hours = labour_line("Branch rebuilt", 54, Decimal(72), S20)
    minutes = labour_line("Look", 50, Decimal(72), S20, LineKind.DIAGNOSIS)
    assert (str(hours.qty), hours.unit, minutes.unit, minutes.kind) == (
        "0.9",
        HOUR,
        MINUTE,
        LineKind.DIAGNOSIS,
    )
    assert [line_net(each, "EUR") for each in (hours, minutes)] == [6480, 6000]
