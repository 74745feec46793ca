"""Time enters in one place: instants in UTC to the second, dates where the shop is."""

from datetime import UTC, date, datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest
from freezegun import freeze_time
from hypothesis import given
from hypothesis import strategies as st

from tracker.clock import NOW_VARIABLE, Clock, MovableTime, clock_of_this_machine, zone_named
from tracker.errors import WrongUseError

DUBLIN = ZoneInfo("Europe/Dublin")
AUCKLAND = ZoneInfo("Pacific/Auckland")


def at(instant: datetime, zone: timezone | ZoneInfo = UTC) -> Clock:
    return Clock(zone, MovableTime(instant))


def test_the_machines_clock_is_asked_for_utc_to_the_second() -> None:
    with freeze_time("2026-03-09 09:30:15.987654"):
        assert Clock().now() == datetime(2026, 3, 9, 9, 30, 15, tzinfo=UTC)
        assert clock_of_this_machine().now() == Clock().now()


def test_the_same_instant_is_another_date_elsewhere() -> None:
    evening = datetime(2026, 3, 9, 23, 30, tzinfo=UTC)
    assert at(evening).today() == date(2026, 3, 9)
    assert at(evening, AUCKLAND).today() == date(2026, 3, 10)
    assert at(evening).in_zone(AUCKLAND).today() == date(2026, 3, 10)
    assert at(evening, AUCKLAND).now() == evening


def test_summer_time_moves_the_wall_clock_and_not_the_instant() -> None:
    clock = at(datetime(2026, 3, 29, 0, 59, tzinfo=UTC), DUBLIN)
    assert clock.local(clock.now()).strftime("%H:%M") == "00:59"
    assert clock.local(clock.now() + timedelta(minutes=1)).strftime("%H:%M") == "02:00"
    assert clock.date_of(datetime(2026, 7, 1, 23, 30, tzinfo=UTC)) == date(2026, 7, 2)


def test_movable_time_is_set_and_moved_both_ways() -> None:
    time = MovableTime(datetime(2026, 3, 9, 9, 0, tzinfo=UTC))
    clock = Clock(UTC, time)
    time.move(timedelta(days=1, minutes=5))
    assert clock.now() == datetime(2026, 3, 10, 9, 5, tzinfo=UTC)
    time.move(timedelta(days=-2))
    assert clock.today() == date(2026, 3, 8)
    time.set(datetime(2030, 1, 1, tzinfo=UTC))
    assert clock.today() == date(2030, 1, 1)


@given(st.datetimes(min_value=datetime(1900, 1, 1), timezones=st.sampled_from([UTC, DUBLIN, AUCKLAND])))
def test_now_is_always_utc_and_whole_seconds(instant: datetime) -> None:
    now = at(instant).now()
    assert now.tzinfo is UTC
    assert now.microsecond == 0
    assert timedelta(0) <= instant - now < timedelta(seconds=1)


def test_a_variable_stands_in_for_the_machines_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(NOW_VARIABLE, "2026-03-09T23:30:00+00:00")
    assert clock_of_this_machine(AUCKLAND).today() == date(2026, 3, 10)
    monkeypatch.setenv(NOW_VARIABLE, "2026-07-01T09:00")
    assert clock_of_this_machine(DUBLIN).now() == datetime(2026, 7, 1, 8, 0, tzinfo=UTC)
    monkeypatch.setenv(NOW_VARIABLE, "")
    assert clock_of_this_machine().now_source is Clock().now_source


@pytest.mark.parametrize("text", ["tomorrow", "2026-13-01", "09:30", "[/]"])
def test_a_variable_that_is_no_instant_is_said(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    monkeypatch.setenv(NOW_VARIABLE, text)
    with pytest.raises(WrongUseError, match="which is not an instant"):
        clock_of_this_machine()


def test_zones_have_the_names_of_the_iana() -> None:
    assert zone_named("UTC") is UTC
    assert zone_named("Europe/Dublin") == DUBLIN


@pytest.mark.parametrize(
    "name", ["", "Dublin", "Europe", "Europe/", "../UTC", "/etc/passwd", "a\x00b", "[/]", "x" * 5000]
)
def test_a_zone_that_is_none_is_said(name: str) -> None:
    with pytest.raises(WrongUseError, match="There is no time zone called") as caught:
        zone_named(name)
    assert "Europe/Dublin" in caught.value.hint
