"""Fix and test: what is done first, which parts and which readings are waited for."""

from datetime import timedelta

import pytest

from tests.card.asking import step_and_deed, words
from tests.card.build import Bench, agreed_card
from tracker.card.standing import Deed, Step, StopKind
from tracker.records.stock import WantedState
from tracker.records.work import TimeKind


class TestFix:
    def test_begun_work_is_finished_before_other_work_is_begun(self) -> None:
        bench, (one, two) = agreed_card("plug", "bullets")
        bench.start(two)
        stands = bench.stands()
        assert stands.next is not None
        assert (stands.next.deed, stands.next.about) == (Deed.FIX, (two,))
        assert [(thing.deed, thing.about) for thing in stands.also] == [
            (Deed.START, (one,)),
            (Deed.CLOCK, (two,)),
        ]

    def test_nobody_is_asked_to_clock_on_while_a_clock_runs(self) -> None:
        bench, (repair,) = agreed_card()
        bench.start(repair)
        bench.time(TimeKind.REPAIR, None, repair=repair)
        assert bench.stands().also == ()

    def test_a_part_to_order_comes_first_and_one_on_order_stops_its_repair(self) -> None:
        bench, (one, two) = agreed_card("plug", "bullets")
        part = bench.part("plug", repair=one)
        assert words(bench) == "take or order “plug”"
        on = bench.today + timedelta(days=3)
        bench.change("wanted", part, state=WantedState.ORDERED, expected_on=on)
        stands = bench.stands()
        assert stands.next is not None
        assert (stands.next.deed, stands.next.about) == (Deed.START, (two,))
        assert [(stop.kind, stop.on, stop.about) for stop in stands.stops] == [(StopKind.PARTS, on, (part,))]
        bench.done(two)
        assert words(bench) == "take in “plug” when it comes (expected Thursday)"
        bench.change("wanted", part, state=WantedState.HERE)
        assert step_and_deed(bench) == (Step.FIX, Deed.START)
        assert bench.stands().stops == ()

    @pytest.mark.parametrize(
        ("state", "asked"),
        [
            (WantedState.WRONG, "the wrong “fuse box” came: order it again"),
            (WantedState.ORDERED, "take in “fuse box” when it comes"),
        ],
    )
    def test_a_part_for_no_repair_in_particular_may_be_for_any(self, state: WantedState, asked: str) -> None:
        bench, (repair,) = agreed_card()
        bench.part("fuse box", state=state)
        assert words(bench) == asked
        assert [(thing.deed, thing.about) for thing in bench.stands().also] == [(Deed.START, (repair,))]

    def test_a_part_for_no_repair_of_this_card_holds_no_second_fault(self) -> None:
        bench = Bench()
        bench.part("fuse box")
        bench.finding()
        assert bench.stands().also == ()

    def test_a_part_expected_today_is_not_late(self) -> None:
        bench, (repair,) = agreed_card()
        bench.part("plug", repair=repair, state=WantedState.ORDERED, expected_on=bench.today)
        assert words(bench) == "take in “plug” when it comes (expected today)"

    def test_a_late_part_is_asked_after(self) -> None:
        bench, (repair,) = agreed_card()
        on = bench.today
        bench.part("plug", repair=repair, state=WantedState.ORDERED, expected_on=on)
        bench.now += timedelta(days=2)
        assert words(bench) == "ask after “plug”, expected 2 days ago"

    @pytest.mark.parametrize("state", [WantedState.HERE, WantedState.FITTED, WantedState.DROPPED])
    def test_parts_that_are_here_or_not_wanted_stop_nothing(self, state: WantedState) -> None:
        bench, (repair,) = agreed_card()
        bench.part(repair=repair, state=state)
        assert step_and_deed(bench) == (Step.FIX, Deed.START)
        assert bench.stands().stops == ()

    def test_a_customers_own_part_is_waited_for(self) -> None:
        bench, (repair,) = agreed_card()
        bench.part("lamp", repair=repair, customers_own=True)
        assert words(bench) == "wait for the customer's own “lamp”"

    def test_work_with_others_is_named(self) -> None:
        bench, (repair,) = agreed_card("stator rewound")
        bench.change("repairs", repair, sent_out_to="Brandvik Winding")
        stands = bench.stands()
        assert [(stop.kind, stop.words) for stop in stands.stops] == [
            (StopKind.SENT_OUT, "“stator rewound” is with “Brandvik Winding”")
        ]
        assert step_and_deed(bench) == (Step.FIX, Deed.FIX)


class TestTest:
    def test_asks_for_the_kinds_still_missing(self) -> None:
        bench, (repair,) = agreed_card()
        bench.change("repairs", repair, proves=("charging_volts", "standing_drain"))
        bench.done(repair)
        bench.after("charging_volts")
        stands = bench.stands()
        assert stands.next is not None
        assert stands.next.readings == ("standing_drain",)
        assert stands.next.words == "take the readings after: standing drain"
        assert [stop.kind for stop in stands.stops] == [StopKind.READING]

    def test_it_waits_since_the_repair_that_wants_a_reading_was_done(self) -> None:
        bench, (one, two) = agreed_card("plug", "bullets")
        bench.change("repairs", one, proves=("charging_volts",))
        bench.done(one)
        since = bench.now
        bench.done(two)
        assert (bench.stands().step, bench.stands().since) == (Step.TEST, since)

    def test_a_reading_taken_as_it_was_done_counts(self) -> None:
        bench, (repair,) = agreed_card()
        bench.change("repairs", repair, proves=("charging_volts",))
        bench.done(repair)
        bench.after("charging_volts", at=bench.now)
        assert bench.stands().step is Step.BILL

    def test_a_reading_before_anything_is_done_proves_nothing_yet(self) -> None:
        bench, (repair,) = agreed_card()
        bench.change("repairs", repair, proves=("charging_volts",))
        bench.after("charging_volts")
        stands = bench.stands()
        assert (stands.step, stands.also) == (Step.FIX, ())

    def test_readings_before_the_repair_or_for_another_prove_nothing(self) -> None:
        bench, (one, two) = agreed_card("plug", "bullets")
        for repair in (one, two):
            bench.change("repairs", repair, proves=("charging_volts",))
        bench.after("charging_volts")
        bench.done(one)
        bench.done(two)
        bench.reading("charging_volts")
        bench.after("charging_volts", repair=two)
        stands = bench.stands()
        assert stands.next is not None
        assert (stands.step, stands.next.about) == (Step.TEST, (one,))
        bench.after("charging_volts")
        assert bench.stands().step is Step.BILL

    def test_a_reading_over_the_range_is_a_reading(self) -> None:
        bench, (repair,) = agreed_card()
        bench.change("repairs", repair, proves=("continuity",))
        bench.done(repair)
        bench.after("continuity", value=None, words="OL")
        assert bench.stands().step is Step.BILL

    def test_a_repair_done_over_again_is_tested_again(self) -> None:
        bench, (repair,) = agreed_card()
        bench.change("repairs", repair, proves=("charging_volts",))
        bench.done(repair)
        bench.after("charging_volts")
        bench.done(repair)
        assert bench.stands().step is Step.TEST
