"""A slide is said only where it is one: by three visits and more, out of its scatter, towards a limit."""

import random
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.electrics.trend import LOOK_AHEAD_DAYS, Trend, student_t, trend

DAY = date(2026, 1, 1)


def visits(*points: tuple[int, float]) -> list[tuple[date, float]]:
    return [(DAY + timedelta(days=days), value) for days, value in points]


def found(*points: tuple[int, float], low: float | None = 13.5, high: float | None = 14.7) -> Trend | None:
    return trend(visits(*points), low=low, high=high, least_scatter=0.05)


SLIDING = ((0, 14.5), (90, 14.2), (180, 13.95), (270, 13.7))


@pytest.mark.parametrize(
    ("degrees", "t"),
    [
        (1, 6.3138),
        (2, 2.9200),
        (3, 2.3534),
        (4, 2.1318),
        (5, 2.0150),
        (9, 1.8331),
        (10, 1.8125),
        (30, 1.6973),
    ],
)
def test_students_t_is_that_of_the_printed_table(degrees: int, t: float) -> None:
    """A table of Student's t, 0.95 on one side: in every book of statistics; from memory."""
    assert student_t(degrees) == pytest.approx(t, abs=5e-5)


def test_a_slide_says_when_and_how_sure() -> None:
    slide = found(*SLIDING)
    assert slide is not None
    assert (slide.visits, slide.side, slide.limit) == (4, "under", 13.5)
    assert slide.per_day == pytest.approx(-0.00294, abs=1e-4)
    assert slide.least_per_day < slide.per_day < slide.most_per_day < 0
    assert slide.until < slide.earliest < slide.out_on < slide.latest
    assert slide.out_on == date(2026, 12, 2)


def test_a_rise_goes_for_the_upper_limit() -> None:
    slide = found((0, 2.0), (100, 2.6), (200, 3.3), (300, 3.9), low=None, high=5)
    assert slide is not None
    assert (slide.side, slide.limit) == ("over", 5)


def test_never_with_fewer_than_three_visits() -> None:
    assert found() is None
    assert found(SLIDING[0]) is None
    assert found(*SLIDING[:2]) is None
    assert found((0, 14.5), (0, 14.4), (90, 14.0)) is None  # two of one day are one visit
    assert found((0, 14.5), (1, 14.1), (2, 13.7)) is not None


def test_not_where_it_is_out_already_or_away_from_a_limit() -> None:
    assert found((0, 14.0), (90, 13.7), (180, 13.4)) is None
    assert found((0, 2.0), (90, 1.0), (180, 0.1), low=None, high=5) is None
    assert found(*SLIDING, low=None) is None


def test_not_out_of_mere_scatter() -> None:
    assert found((0, 14.3), (90, 14.0), (180, 14.2)) is None
    assert found((0, 14.2), (90, 14.2), (180, 14.2)) is None


def test_a_meters_own_scatter_is_never_undercut() -> None:
    smooth = visits((0, 14.20), (90, 14.18), (180, 14.16))
    assert trend(smooth, low=13.5, high=14.7, least_scatter=0.05) is None
    assert trend(visits((0, 14.2), (90, 14.0), (180, 13.8)), low=13.5, high=None, least_scatter=0.3) is None


def test_not_further_ahead_than_two_years() -> None:
    slow = [(days, 14.6 - days * 0.0004) for days in range(0, 1500, 100)]
    assert found(*slow) is None
    assert LOOK_AHEAD_DAYS == 730


def test_where_the_line_has_passed_the_limit_it_may_be_any_day() -> None:
    slide = found((0, 15.6), (30, 14.9), (60, 14.2), (90, 13.55), high=None)
    assert slide is not None
    assert slide.earliest == slide.until


def test_bikes_that_do_not_slide_are_seldom_flagged() -> None:
    """Scatter alone, limits near on both sides: 1 in 20 to each side at most, as the rule promises."""
    chance = random.Random(7)
    flagged = 0
    for _ in range(2000):
        points = visits(*((30 * n, 14.1 + chance.gauss(0, 0.1)) for n in range(chance.randint(3, 6))))
        slide = trend(points, low=13.0, high=15.2, least_scatter=1e-6)
        flagged += slide is not None
    assert 0.02 < flagged / 2000 < 0.115


def test_the_range_holds_nine_times_in_ten() -> None:
    """A true slide with scatter of a meter: the day it really leaves its limits lies in the range."""
    chance = random.Random(11)
    said = held = 0
    for _ in range(800):
        points = visits(*((60 * n, 14.5 - 0.12 * n + chance.gauss(0, 0.06)) for n in range(5)))
        slide = trend(points, low=13.5, high=None, least_scatter=1e-6)
        if slide is None:
            continue
        truly = DAY + timedelta(days=60 * 1.0 / 0.12)
        said += 1
        held += slide.earliest <= truly <= slide.latest
    assert said > 600
    assert 0.86 < held / said < 0.96


@settings(max_examples=100, deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, 3000), st.floats(-100, 100)), max_size=8),
    st.none() | st.floats(-100, 0),
    st.none() | st.floats(0, 100),
)
def test_whatever_was_read_the_range_is_in_order(
    points: list[tuple[int, float]], low: float | None, high: float | None
) -> None:
    slide = trend(visits(*points), low=low, high=high, least_scatter=0.05)
    if slide is None:
        return
    assert slide.visits == len({day for day, _ in points}) >= 3
    assert slide.until <= slide.earliest <= slide.out_on <= slide.latest
    assert slide.limit == (low if slide.side == "under" else high)
    assert (slide.per_day < 0) == (slide.side == "under")
    assert slide.least_per_day * slide.most_per_day > 0
