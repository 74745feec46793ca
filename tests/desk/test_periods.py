"""Periods as people type them: years, quarters, months, from day to day; both ends counted."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.desk.periods import Period, period, period_given
from tracker.records.problem import Mistakes, Problem

TODAY = date(2026, 3, 2)


@pytest.mark.parametrize(
    ("typed", "first", "last"),
    [
        ("2026", date(2026, 1, 1), date(2026, 12, 31)),
        ("2026-q1", date(2026, 1, 1), date(2026, 3, 31)),
        ("2026Q4", date(2026, 10, 1), date(2026, 12, 31)),
        ("2028-02", date(2028, 2, 1), date(2028, 2, 29)),
        ("2026-2", date(2026, 2, 1), date(2026, 2, 28)),
        ("2099-12", date(2099, 12, 1), date(2099, 12, 31)),
    ],
)
def test_a_year_a_quarter_a_month(typed: str, first: date, last: date) -> None:
    assert period("period", typed) == Period(first, last)


@pytest.mark.parametrize(
    "typed", ["", "26", "2026-13", "2026-00", "2026-q5", "1999", "2026-03-02", "２０２６"]
)
def test_what_is_no_period_is_said(typed: str) -> None:
    assert isinstance(period("period", typed), Problem)


@given(st.integers(2000, 2099), st.dates(date(1999, 1, 1), date(2100, 12, 31)))
def test_twelve_months_and_four_quarters_hold_each_day_of_a_year_once(year: int, on: date) -> None:
    months = [period("period", f"{year}-{month:02}") for month in range(1, 13)]
    quarters = [period("period", f"{year}-q{quarter}") for quarter in range(1, 5)]
    for parts in (months, quarters):
        assert sum(isinstance(one, Period) and one.holds(on) for one in parts) == (on.year == year)


def test_from_day_to_day_or_without_an_end() -> None:
    assert period_given("", "2026-01-05", "", TODAY).holds(date(2090, 1, 1))
    assert not period_given("", "", "yesterday", TODAY).holds(TODAY)
    assert period_given("", "today", "today", TODAY) == Period(TODAY, TODAY)
    assert period_given("", "", "", TODAY).holds(TODAY + timedelta(days=9))


@pytest.mark.parametrize(
    ("given_", "fields"),
    [
        (("x", "", ""), ["period"]),
        (("x", "y", "z"), ["period", "since", "until", "period"]),
        (("2026", "today", ""), ["period"]),
        (("", "today", "yesterday"), ["until"]),
    ],
)
def test_every_mistake_is_said_at_once(given_: tuple[str, str, str], fields: list[str]) -> None:
    with pytest.raises(Mistakes) as caught:
        period_given(*given_, TODAY)
    assert [problem.field for problem in caught.value.problems] == fields
