"""Rechecks: moved, nobody there, booked, done like with like, not wanted, new owners, wrong clocks."""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from freezegun import freeze_time
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.desk.conftest import Bench
from tracker.clock import Clock, zone_named
from tracker.desk.day import due
from tracker.desk.desk import open_desk
from tracker.desk.last_time import compared, last_time
from tracker.errors import WrongUseError
from tracker.records.card import Call, CallOutcome, Card, Phase, Reading
from tracker.records.problem import Mistakes
from tracker.records.recheck import Recheck, RecheckState

SPEED = "5000 rev/min, lamps off"


def mended(bench: Bench, **more: object) -> str:
    """A charging repair, read before and after, ready to be collected."""
    given = {"volts": "12", "battery_kind": "agm", "odometer": "1000", "look_limit": "60"}
    card = str(bench.booked(**{**given, **more}).number)
    bench("read", card=card, kind="regulated_volts", value="12.6", state=SPEED)
    bench("finding", card=card, words="regulator")
    bench("estimate", card=card, repair=["regulator:zone=left-panel"])
    bench("agree", card=card, limit="900")
    bench("fix", card=card, minutes="30")
    bench("test", card=card, kind="standing_volts", value="12.8", conditions={"hours_standing": "12"})
    bench("test", card=card, kind="regulated_volts", value="14.3", state=SPEED)
    bench("waive", card=card, need="tests", reason="enough read")
    bench("bill", card=card)
    bench("pay", on=card)
    return card


def collected(bench: Bench, **more: object) -> str:
    card = mended(bench, **more)
    bench("collect", card=card, odometer="1010")
    return card


def rechecks(bench: Bench) -> tuple[Recheck, ...]:
    return bench.desk.read(lambda reader: reader.all(Recheck))


def notes(bench: Bench) -> str:
    return " ".join(bench.desk.notes)


class TestMoved:
    def test_it_keeps_its_reason_and_its_anchor(self, bench: Bench) -> None:
        collected(bench)
        moved = bench("recheck", card="1", to="+40")
        assert (moved.due_on, moved.anchor_on) == (date(2026, 4, 11), date(2026, 3, 2))
        assert due(bench.desk, date(2026, 4, 10)) == ()

    def test_a_day_that_is_past_is_refused(self, bench: Bench) -> None:
        collected(bench)
        with pytest.raises(Mistakes, match="past"):
            bench("recheck", card="1", to="2026-03-01")
        assert bench("recheck", card="1", to="today").due_on == bench.desk.today

    def test_nobody_there_is_a_call_and_another_day(self, bench: Bench) -> None:
        collected(bench)
        bench.later(days=28)
        moved = bench("recheck", card="1", no_answer="yes")
        assert moved.due_on == date(2026, 4, 2)
        again = bench("recheck", card="1", no_answer="yes", to="+10", outcome="left word")
        assert again.due_on == date(2026, 4, 9)
        calls = bench.desk.read(lambda reader: reader.all(Call, card=1))
        assert [(call.who, call.outcome, call.words) for call in calls] == [
            ("Oona Mirek", CallOutcome.NO_ANSWER, "recheck (charging)"),
            ("Oona Mirek", CallOutcome.NO_ANSWER, "left word"),
        ]


class TestBooked:
    def test_it_opens_a_card_with_what_to_read_again(self, bench: Bench) -> None:
        collected(bench)
        recheck = bench("recheck", card="1", book="yes", to="+7")
        assert (recheck.state, recheck.due_on) == (RecheckState.BOOKED, date(2026, 3, 9))
        card = bench.desk.read(lambda reader: reader.get(Card, recheck.booked_card))
        assert (card.number, card.bike, card.customer) == ("26-0002", 1, 1)
        assert card.complaint == "Recheck (charging) of card 26-0001"
        assert card.promised_on == date(2026, 3, 9)
        assert "Standing volts: 12.8 V last time (hours standing 12)" in card.notes
        assert f"14.3 V last time ({SPEED})" in card.notes
        assert "12.6" not in card.notes
        assert "To repeat: Standing volts: 12.8 V last time" in notes(bench)

    def test_done_beside_last_times_readings_with_a_verdict(self, bench: Bench) -> None:
        collected(bench)
        bench("recheck", card="1", book="yes")
        bench.later(days=28)
        bench("read", card="2", kind="standing_volts", value="12.7", conditions={"hours_standing": "12"})
        bench("read", card="2", kind="regulated_volts", value="12.7", state=SPEED)
        done = bench("recheck", card="1", done="yes")
        assert done.state is RecheckState.DONE
        assert "Standing volts 12.7 V, 12.8 V last time." in done.outcome
        assert "12.7 V, 14.3 V last time" in done.outcome
        assert "Verdict: not enough (confidence low)" in done.outcome
        assert "not taken alike" not in done.outcome
        assert bench.stands(done).over

    def test_what_was_not_taken_alike_is_said(self, bench: Bench) -> None:
        collected(bench)
        bench.later(days=28)
        bench("test", card="1", kind="standing_volts", value="12.9", conditions={"hours_standing": "1"})
        bench("test", card="1", kind="regulated_volts", value="14.0", state="3000 rev/min, lamps on")
        bench("recheck", card="1", done="yes", outcome="14.0 V, good")
        assert rechecks(bench)[0].outcome == "14.0 V, good"
        assert "not taken alike: after 1 h, 12 h last time" in notes(bench)
        assert "3000 rev/min, 5000 last time; lamps on in one of the two only" in notes(bench)

    def test_nothing_read_and_nothing_said_is_said(self, bench: Bench) -> None:
        collected(bench)
        bench.later(days=28)
        assert bench("recheck", card="1", done="yes").outcome == ""
        assert "Nothing was read" in notes(bench)


class TestNeverTwo:
    def test_one_open_for_one_reason_whichever_card_it_is_from(self, bench: Bench) -> None:
        collected(bench)
        bench("book-in", bike="1", complaint="again", look_limit="30")
        with pytest.raises(WrongUseError, match="already"):
            bench("recheck", card="2")
        bench("recheck", card="1", done="yes", outcome="good")
        assert bench("recheck", card="2").state is RecheckState.OPEN
        assert sum(one.state is RecheckState.OPEN for one in rechecks(bench)) == 1

    def test_one_not_wanted_does_not_come_back_beside_an_open_one(self, bench: Bench) -> None:
        collected(bench)
        bench("recheck", card="1", not_wanted="yes", outcome="has a meter")
        bench("book-in", bike="1", complaint="again", look_limit="30")
        bench("recheck", card="2")
        with pytest.raises(WrongUseError, match="already"):
            bench("recheck", card="1", to="+7")

    @pytest.mark.parametrize("both", [{"done": "yes", "not_wanted": "yes"}, {"to": "+3", "booked": "1"}])
    def test_only_one_thing_at_a_time(self, bench: Bench, both: dict[str, str]) -> None:
        collected(bench)
        with pytest.raises(WrongUseError, match="only one"):
            bench("recheck", card="1", **both)

    @pytest.mark.parametrize("way", ["done", "not_wanted", "book", "no_answer"])
    def test_what_is_not_open_cannot_be_ended(self, bench: Bench, way: str) -> None:
        bench.booked(look_limit="30")
        with pytest.raises(WrongUseError, match="no open recheck"):
            bench("recheck", card="1", **{way: "yes"})


class TestNoReminders:
    def wants_none(self, bench: Bench) -> str:
        card = mended(bench)
        bench("customer change", customer="1", reminders="no")
        bench("collect", card=card, odometer="1010")
        return card

    def test_none_is_open_and_that_is_said_with_the_reason(self, bench: Bench) -> None:
        self.wants_none(bench)
        assert "Oona Mirek wants no reminders: no recheck (charging) is kept open." in notes(bench)
        assert "is due on" not in notes(bench)
        (recheck,) = rechecks(bench)
        assert (recheck.state, recheck.outcome) == (RecheckState.NOT_WANTED, "wants no reminders")
        bench.later(days=400)
        assert due(bench.desk, bench.desk.today) == ()
        assert bench.stands(recheck).over

    def test_set_by_hand_it_is_not_open_either_unless_they_asked(self, bench: Bench) -> None:
        bench.booked(look_limit="30")
        bench("customer change", customer="1", reminders="no")
        assert bench("recheck", card="1").state is RecheckState.NOT_WANTED
        assert bench("recheck", card="1", asked="yes").state is RecheckState.OPEN

    def test_who_comes_all_the_same_is_booked_and_done(self, bench: Bench) -> None:
        self.wants_none(bench)
        assert bench("recheck", card="1", book="yes").state is RecheckState.BOOKED
        assert bench("recheck", card="1", done="yes", outcome="14.2 V").state is RecheckState.DONE


class TestNewOwner:
    def sold(self, bench: Bench) -> None:
        collected(bench)
        bench("customer add", name="Tavi Ro", phone="0155 0199 205")
        bench.later(days=10)
        bench("bike change", bike="1", owner="Tavi Ro")

    def test_it_stays_open_and_the_new_owner_is_to_be_asked(self, bench: Bench) -> None:
        self.sold(bench)
        assert rechecks(bench)[0].state is RecheckState.OPEN
        bench("recheck", card="1", to="+20")
        assert "This bike is Tavi Ro's now: ask whether they want it (0155 0199 205)" in notes(bench)

    def test_asked_once_it_is_not_asked_again(self, bench: Bench) -> None:
        self.sold(bench)
        bench("recheck", card="1", asked="yes")
        (call,) = bench.desk.read(lambda reader: reader.all(Call, card=1))
        assert (call.who, call.outcome, call.words) == (
            "Tavi Ro",
            CallOutcome.SPOKE,
            "wants the recheck (charging)",
        )
        bench("recheck", card="1", to="+20")
        assert notes(bench) == ""

    def test_the_card_booked_is_the_new_owners(self, bench: Bench) -> None:
        self.sold(bench)
        recheck = bench("recheck", card="1", book="yes", asked="yes")
        card = bench.desk.read(lambda reader: reader.get(Card, recheck.booked_card))
        assert card.customer == 2

    def test_a_rider_who_brought_it_is_no_new_owner(self, bench: Bench) -> None:
        collected(bench)
        bench("customer add", name="Tavi Ro")
        bench("book-in", bike="1", complaint="tail lamp", customer="Tavi Ro", look_limit="30")
        bench("recheck", card="1", done="yes", outcome="good")
        bench("recheck", card="2")
        bench("recheck", card="2", to="+20")
        assert "is Oona Mirek's now" not in notes(bench)


class TestWrongClock:
    def test_behind_the_cards_own_dates_it_counts_from_those_and_says_so(self, bench: Bench) -> None:
        card = mended(bench)
        bench.time.set(datetime(1970, 1, 1, tzinfo=UTC))
        bench("collect", card=card, odometer="1010")
        (recheck,) = rechecks(bench)
        assert (recheck.anchor_on, recheck.due_on) == (date(2026, 3, 2), date(2026, 3, 30))
        assert "The clock says 1970-01-01" in notes(bench)

    def test_far_ahead_it_is_said(self, bench: Bench) -> None:
        card = mended(bench)
        bench.later(days=4000)
        bench("collect", card=card, odometer="1010")
        assert "the last thing was written on 2026-03-02" in notes(bench)
        bench.time.set(datetime(2026, 3, 3, tzinfo=UTC))
        assert bench("recheck", card="1", to="+28").due_on == date(2026, 3, 31)

    @settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
    @given(st.datetimes(datetime(1970, 1, 2), datetime(2090, 1, 1)))
    def test_whatever_the_clock_says_it_is_due_after_the_repair(self, bench: Bench, wrong: datetime) -> None:
        bench.time.set(datetime(2026, 3, 2, 9, tzinfo=UTC))
        with bench.desk.store.one_transaction():
            card = bench.booked(look_limit="30", registration="")
            bench.time.set(wrong.replace(tzinfo=UTC))
            made = bench("recheck", card=card.number)
            assert made.anchor_on >= date(2026, 3, 2)
            assert made.due_on == made.anchor_on + timedelta(days=28)
            bench("recheck", card=card.number, done="yes", outcome="good")


ZONES = ("Europe/Dublin", "America/New_York", "Pacific/Auckland", "Pacific/Kiritimati", "UTC")


@pytest.mark.parametrize(
    ("instant", "zone", "anchor", "due_on"),
    [
        ("2026-01-31T12:00:00", "Europe/Dublin", date(2026, 1, 31), date(2026, 2, 28)),
        ("2028-02-01T12:00:00", "UTC", date(2028, 2, 1), date(2028, 2, 29)),
        ("2028-02-29T12:00:00", "UTC", date(2028, 2, 29), date(2028, 3, 28)),
        ("2026-03-29T00:30:00", "Europe/Dublin", date(2026, 3, 29), date(2026, 4, 26)),
        ("2026-03-28T23:59:59", "Europe/Dublin", date(2026, 3, 28), date(2026, 4, 25)),
        ("2026-10-24T23:30:00", "Europe/Dublin", date(2026, 10, 25), date(2026, 11, 22)),
        ("2026-11-01T05:30:00", "America/New_York", date(2026, 11, 1), date(2026, 11, 29)),
        ("2026-03-01T11:30:00", "Pacific/Auckland", date(2026, 3, 2), date(2026, 3, 30)),
        ("2026-12-31T10:30:00", "Pacific/Kiritimati", date(2027, 1, 1), date(2027, 1, 29)),
    ],
)
def test_days_are_the_shops_days(tmp_path: Path, instant: str, zone: str, anchor: date, due_on: date) -> None:
    with freeze_time(instant):
        desk = open_desk(tmp_path / "shop.loomcard", Clock(zone_named("UTC")), who="Ines", create=True)
        try:
            made = _booked_and_set(desk, zone)
            assert (made.anchor_on, made.due_on) == (anchor, due_on)
        finally:
            desk.close()


def _booked_and_set(desk: object, zone: str) -> Recheck:
    from tracker.desk.deeds import deed
    from tracker.desk.desk import Desk

    assert isinstance(desk, Desk)
    desk.given(deed("settings change"), {"zone": zone, "mechanic": ["Ines"]})
    desk.given(deed("book-in"), {"complaint": "flat", "customer": "Oona", "make": "Halden"})
    made = desk.given(deed("recheck"), {"card": "1"})
    assert isinstance(made, Recheck)
    return made


@settings(max_examples=60, deadline=None)
@given(st.datetimes(datetime(2000, 1, 1), datetime(2080, 1, 1)), st.sampled_from(ZONES), st.integers(1, 400))
def test_calendar_days_neither_stretch_nor_shrink_with_the_clock(at: datetime, zone: str, days: int) -> None:
    """Whatever the clocks do in between, at noon the day has come, and a day before it has not."""
    here = zone_named(zone)
    with freeze_time(at):
        today = Clock(here).today()
    due_on = today + timedelta(days=days)
    noon = datetime.combine(due_on, datetime.min.time(), here) + timedelta(hours=12)
    with freeze_time(noon.astimezone(UTC).replace(tzinfo=None)):
        assert Clock(here).today() == due_on
    with freeze_time((noon - timedelta(days=1)).astimezone(UTC).replace(tzinfo=None)):
        assert Clock(here).today() < due_on


def reading(
    number: int, kind: str, value: float | None, phase: Phase, *, state: str = "", place: str = ""
) -> Reading:
    return Reading(
        id=number, card=1, kind=kind, value=value, unit="V", words="", state=state, place=place,
        phase=phase, conditions={}, at=datetime(2026, 3, 2, tzinfo=UTC) + timedelta(minutes=number),
    )  # fmt: skip


def test_last_time_is_the_newest_after_the_repair() -> None:
    taken = [
        reading(1, "regulated_volts", 12.6, Phase.BEFORE),
        reading(2, "regulated_volts", 14.2, Phase.AFTER),
        reading(3, "regulated_volts", 12.9, Phase.BEFORE),
    ]
    assert [one.id for one in last_time(taken, ("standing_volts", "regulated_volts"))] == [2]


def test_plug_and_place_are_compared_too() -> None:
    then = reading(1, "ac_volts_ab", 60, Phase.AFTER, state="plug apart", place="stator plug")
    now = reading(2, "ac_volts_ab", 14, Phase.AFTER, state="loaded", place="regulator")
    (pair,) = compared([now], [then], ("ac_volts_ab",))
    assert pair.apart == "plug loaded, apart last time; at regulator, stator plug last time"
