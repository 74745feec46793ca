"""When a recheck is due: days on, or the distance by the bike's own riding, whichever comes first."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.card.recheck_due import propose

ANCHOR = date(2026, 3, 10)


class TestByDays:
    @pytest.mark.parametrize(
        ("anchor", "days", "due"),
        [
            (date(2026, 1, 31), 28, date(2026, 2, 28)),
            (date(2026, 2, 1), 28, date(2026, 3, 1)),
            (date(2028, 2, 1), 28, date(2028, 2, 29)),
            (date(2028, 2, 29), 365, date(2029, 2, 28)),
            (date(2027, 12, 31), 60, date(2028, 2, 29)),
            (date(2026, 12, 4), 28, date(2027, 1, 1)),
            (ANCHOR, 0, ANCHOR),
        ],
    )
    def test_months_end_and_leap_days_come(self, anchor: date, days: int, due: date) -> None:
        assert propose(anchor, days, 500, []).due_on == due

    def test_without_an_odometer_only_the_days_count(self) -> None:
        proposal = propose(ANCHOR, 28, 500, [])
        assert (proposal.due_odometer, proposal.words) == (None, "28 days on")

    def test_one_reading_gives_the_figure_but_no_date(self) -> None:
        proposal = propose(ANCHOR, 28, 500, [(ANCHOR, 41_230)])
        assert (proposal.due_on, proposal.due_odometer) == (ANCHOR + timedelta(days=28), 41_730)
        assert "one day only" in proposal.words

    def test_no_distance_no_figure(self) -> None:
        assert propose(ANCHOR, 28, 0, [(ANCHOR, 41_230)]).due_odometer is None

    def test_before_the_repair_or_past_the_end_of_time_is_refused(self) -> None:
        with pytest.raises(ValueError, match="before the repair"):
            propose(ANCHOR, -1, 500, [])
        with pytest.raises(ValueError, match="calendar's end"):
            propose(date(9999, 12, 20), 28, 500, [])


class TestByDistance:
    def test_a_bike_ridden_daily_comes_back_sooner(self) -> None:
        history = [(ANCHOR - timedelta(days=30), 40_000), (ANCHOR, 41_200)]
        proposal = propose(ANCHOR, 28, 500, history)
        assert (proposal.due_on, proposal.due_odometer) == (ANCHOR + timedelta(days=13), 41_700)
        assert proposal.words == "500 further, at 1200 in 30 days"

    def test_a_bike_ridden_seldom_comes_back_on_the_day(self) -> None:
        history = [(ANCHOR - timedelta(days=100), 41_000), (ANCHOR, 41_200)]
        assert propose(ANCHOR, 28, 500, history).due_on == ANCHOR + timedelta(days=28)

    def test_it_stood_here_since_it_came_in(self) -> None:
        came = ANCHOR - timedelta(days=10)
        proposal = propose(ANCHOR, 28, 500, [(came - timedelta(days=10), 40_000), (came, 40_500)])
        assert (proposal.due_on, proposal.due_odometer) == (ANCHOR + timedelta(days=10), 41_000)

    def test_only_the_last_years_riding_counts_where_there_is_any(self) -> None:
        history = [(date(2019, 5, 1), 10_000), (ANCHOR - timedelta(days=20), 40_000), (ANCHOR, 41_000)]
        assert propose(ANCHOR, 28, 500, history).due_on == ANCHOR + timedelta(days=10)

    def test_older_riding_counts_where_there_is_no_other(self) -> None:
        history = [(date(2019, 5, 1), 1_000), (ANCHOR - timedelta(days=800), 1_000), (ANCHOR, 81_000)]
        assert propose(ANCHOR, 28, 500, history).due_on == ANCHOR + timedelta(days=5)

    def test_a_reading_some_days_ago_does_not_hide_an_older_one(self) -> None:
        history = [
            (ANCHOR - timedelta(days=30), 40_000),
            (ANCHOR - timedelta(days=2), 41_190),
            (ANCHOR, 41_200),
        ]
        assert propose(ANCHOR, 28, 500, history).due_on == ANCHOR + timedelta(days=13)

    def test_the_highest_reading_of_a_day_stands_for_it(self) -> None:
        history = [(ANCHOR - timedelta(days=30), 40_000), (ANCHOR, 41_200), (ANCHOR, 41_195)]
        assert propose(ANCHOR, 28, 500, history).due_odometer == 41_700

    def test_a_history_that_goes_backwards_is_left_aside_and_said_so(self) -> None:
        history = [(ANCHOR - timedelta(days=30), 99_000), (ANCHOR, 1_200)]
        proposal = propose(ANCHOR, 28, 500, history)
        assert (proposal.due_on, proposal.due_odometer) == (ANCHOR + timedelta(days=28), 1_700)
        assert "go backwards" in proposal.words

    @pytest.mark.parametrize(("days_apart", "left_aside"), [(6, True), (7, False)])
    def test_a_history_under_a_week_is_left_aside_and_said_so(
        self, days_apart: int, left_aside: bool
    ) -> None:
        history = [(ANCHOR - timedelta(days=days_apart), 40_000), (ANCHOR, 41_200)]
        proposal = propose(ANCHOR, 28, 500, history)
        assert ("left aside" in proposal.words) is left_aside
        assert (proposal.due_on == ANCHOR + timedelta(days=28)) is left_aside

    def test_a_bike_that_stood_still_is_said_so(self) -> None:
        proposal = propose(ANCHOR, 28, 500, [(ANCHOR - timedelta(days=90), 40_000), (ANCHOR, 40_000)])
        assert "not ridden for 90 days" in proposal.words

    def test_readings_after_the_anchor_tell_the_riding_but_not_where_it_began(self) -> None:
        later = ANCHOR + timedelta(days=10)
        proposal = propose(ANCHOR, 28, 500, [(ANCHOR, 41_000), (later, 41_500)])
        assert (proposal.due_on, proposal.due_odometer) == (later, 41_500)


histories = st.lists(
    st.tuples(st.dates(date(2015, 1, 1), date(2027, 1, 1)), st.integers(0, 200_000)), max_size=6
)


@settings(deadline=None, max_examples=150)
@given(histories, st.integers(0, 400), st.integers(-10, 5_000), st.data())
def test_never_later_than_the_days_never_before_the_anchor_in_any_order(
    history: list[tuple[date, int]], days: int, distance: int, data: st.DataObject
) -> None:
    proposal = propose(ANCHOR, days, distance, history)
    assert ANCHOR <= proposal.due_on <= ANCHOR + timedelta(days=days)
    shuffled = data.draw(st.permutations(history))
    assert propose(ANCHOR, days, distance, shuffled) == proposal
    assert proposal.words


@settings(deadline=None, max_examples=100)
@given(st.integers(7, 366), st.integers(1, 50_000), st.integers(1, 5_000))
def test_on_the_due_day_the_distance_is_just_reached(span_days: int, ridden: int, distance: int) -> None:
    history = [(ANCHOR - timedelta(days=span_days), 1_000), (ANCHOR, 1_000 + ridden)]
    due_on = propose(ANCHOR, 300_000, distance, history).due_on
    days = (due_on - ANCHOR).days
    if due_on < ANCHOR + timedelta(days=300_000):
        assert ridden * days >= distance * span_days > ridden * (days - 1)
