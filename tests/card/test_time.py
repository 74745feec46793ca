"""Clocked time, running clocks, and clocks left running overnight."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from tests.card.build import MONDAY, Bench
from tracker.card.time import clocked, on_the_clock, overlong, seconds_of
from tracker.records.work import TimeEntry, TimeKind


def test_seconds_by_kind_and_by_repair() -> None:
    bench = Bench()
    bench.time(TimeKind.LOOKING, 24)
    bench.time(TimeKind.REPAIR, 30, repair=5)
    bench.time(TimeKind.REPAIR, 15, repair=5)
    bench.time(TimeKind.REPAIR, 10, repair=6)
    bench.time(TimeKind.TRAVEL, 40)
    time = clocked(bench.facts, bench.now)
    assert time.by_kind == {
        TimeKind.LOOKING: 24 * 60,
        TimeKind.REPAIR: 55 * 60,
        TimeKind.TRAVEL: 40 * 60,
        TimeKind.OTHER: 0,
    }
    assert time.by_repair == {5: 45 * 60, 6: 10 * 60}
    assert time.bench_s == 79 * 60


def test_a_running_clock_counts_to_now() -> None:
    bench = Bench()
    entry = bench.time(TimeKind.REPAIR, None, repair=5)
    bench.now += timedelta(seconds=90)
    assert clocked(bench.facts, bench.now).by_repair == {5: 90}
    assert [each.id for each in on_the_clock(bench.facts)] == [entry]


def test_who_is_on_the_clock_longest_first() -> None:
    bench = Bench()
    bench.time(TimeKind.REPAIR, 10)
    first = bench.time(TimeKind.REPAIR, None)
    second = bench.time(TimeKind.LOOKING, None)
    bench.facts = replace(bench.facts, times=bench.facts.times[::-1])
    assert [each.id for each in on_the_clock(bench.facts)] == [first, second]


def test_a_clock_set_back_counts_nothing() -> None:
    entry = TimeEntry(card=1, mechanic=1, kind=TimeKind.OTHER, on_at=MONDAY)
    assert seconds_of(entry, MONDAY - timedelta(hours=1)) == 0


def test_the_hour_that_is_skipped_in_spring_was_not_worked() -> None:
    dublin = ZoneInfo("Europe/Dublin")
    entry = TimeEntry(
        card=1,
        mechanic=1,
        kind=TimeKind.OTHER,
        on_at=datetime(2026, 3, 29, 0, 30, tzinfo=dublin),
        off_at=datetime(2026, 3, 29, 2, 30, tzinfo=dublin),
    )
    assert seconds_of(entry, MONDAY) == 3600


class TestOverlong:
    def test_a_clock_left_running_overnight_is_a_question(self) -> None:
        bench = Bench()
        entry = bench.time(TimeKind.REPAIR, None, on_at=datetime(2026, 3, 2, 17, 0, tzinfo=UTC))
        (question,) = overlong(bench.facts, datetime(2026, 3, 3, 8, 30, tzinfo=UTC))
        assert (question.entry.id, question.seconds) == (entry, 15 * 3600 + 1800)
        assert question.sentence == "A clock started yesterday has run for 15.5 h. Is that right?"

    def test_so_is_one_stopped_the_next_morning_until_it_is_typed_right(self) -> None:
        bench = Bench()
        entry = bench.time(TimeKind.REPAIR, 15 * 60, on_at=datetime(2026, 3, 2, 17, 0, tzinfo=UTC))
        (question,) = overlong(bench.facts, bench.now)
        assert "ran for 15.0 h" in question.sentence
        bench.change("times", entry, typed=True)
        assert overlong(bench.facts, bench.now) == ()

    @pytest.mark.parametrize(("hours", "asked"), [(11, 0), (12, 0), (13, 1)])
    def test_within_one_day_only_what_no_working_day_holds(self, hours: int, asked: int) -> None:
        bench = Bench()
        bench.time(TimeKind.REPAIR, hours * 60, on_at=datetime(2026, 3, 2, 6, 0, tzinfo=UTC))
        assert len(overlong(bench.facts, bench.now)) == asked

    def test_a_long_day_is_no_night_when_it_is_looked_at_the_next(self) -> None:
        bench = Bench()
        bench.time(TimeKind.REPAIR, 10 * 60, on_at=datetime(2026, 3, 2, 8, 0, tzinfo=UTC))
        assert overlong(bench.facts, bench.now + timedelta(days=1)) == ()

    def test_late_work_past_midnight_is_work(self) -> None:
        bench = Bench()
        bench.time(TimeKind.REPAIR, 180, on_at=datetime(2026, 3, 2, 22, 0, tzinfo=UTC))
        assert overlong(bench.facts, bench.now) == ()

    def test_midnight_is_the_shops_own(self) -> None:
        bench = Bench()
        bench.time(TimeKind.REPAIR, 360, on_at=datetime(2026, 3, 2, 21, 0, tzinfo=UTC))
        assert len(overlong(bench.facts, bench.now)) == 1
        bench.shop(zone="America/Denver")
        assert overlong(bench.facts, bench.now) == ()
