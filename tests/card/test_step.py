"""An ordinary life, step by step from an empty card; what each step asks, and what it waits for."""

from dataclasses import replace
from datetime import timedelta

import pytest

from tests.card.build import MONDAY, Bench, agreed_card, billed_card, mended_card
from tracker.card.standing import Deed, Reach, Step, StopKind
from tracker.records.bike import UNKNOWN
from tracker.records.card import CallOutcome, CardKind, Need, Opened, Tolerance
from tracker.records.recheck import RecheckState
from tracker.records.stock import WantedState
from tracker.records.work import TimeKind


def step_and_deed(bench: Bench) -> tuple[Step, Deed | None]:
    stands = bench.stands()
    return stands.step, stands.next.deed if stands.next else None


def words(bench: Bench) -> str:
    following = bench.stands().next
    assert following is not None
    return following.words


def test_an_ordinary_life_goes_through_all_ten_steps() -> None:
    bench = Bench()
    seen = [step_and_deed(bench)]

    def then() -> None:
        seen.append(step_and_deed(bench))

    bench.leave(limit_min=90)
    then()
    bench.reading()
    then()
    finding = bench.finding()
    then()
    repair = bench.repair(finding, proves=("charging_volts", "standing_drain"))
    then()
    estimate = bench.estimate(repair)
    then()
    bench.go_ahead(repair, estimate=estimate, limit_minor=18640)
    then()
    bench.start(repair)
    then()
    bench.done(repair)
    then()
    bench.after("charging_volts")
    bench.after("standing_drain", repair=repair)
    then()
    invoice = bench.invoice()
    then()
    bench.pay(invoice)
    then()
    bench.collect()
    recheck = bench.recheck()
    then()
    bench.now += timedelta(days=40)
    bench.change("rechecks", recheck, state=RecheckState.DONE)
    then()
    assert seen == [
        (Step.LOOK, Deed.LOOK),
        (Step.LOOK, Deed.READ),
        (Step.LOOK, Deed.FINDING),
        (Step.PRICE, Deed.ESTIMATE),
        (Step.PRICE, Deed.ESTIMATE),
        (Step.AGREE, Deed.AGREE),
        (Step.FIX, Deed.START),
        (Step.FIX, Deed.FIX),
        (Step.TEST, Deed.TEST),
        (Step.BILL, Deed.BILL),
        (Step.PAID, Deed.PAY),
        (Step.COLLECTED, Deed.COLLECT),
        (Step.RECHECK, Deed.RECHECK),
        (Step.RECHECK, None),
    ]
    stands = bench.stands()
    assert stands.over
    assert {reach for _, reach in stands.reached} == {Reach.DONE}
    assert [step for step, _ in stands.reached] == list(Step)


def test_the_life_line_is_solid_up_to_here_and_open_ahead() -> None:
    bench, _ = agreed_card()
    assert [reach for _, reach in bench.stands().reached] == [Reach.DONE] * 4 + [Reach.HERE] + [
        Reach.AHEAD
    ] * 5


def test_a_card_written_at_the_phone_call_waits_for_the_bike() -> None:
    bench = Bench.of(came_at=MONDAY + timedelta(days=3))
    stands = bench.stands()
    assert (stands.step, words(bench)) == (Step.IN, "book it in when it comes (Thursday)")
    assert stands.stops[0].kind is StopKind.BIKE
    assert stands.stops[0].on == (MONDAY + timedelta(days=3)).date()
    bench.now += timedelta(days=3)
    assert bench.stands().step is Step.LOOK


def test_a_bike_that_came_early_is_looked_at_all_the_same() -> None:
    bench = Bench.of(came_at=MONDAY + timedelta(days=3))
    bench.leave()
    assert bench.stands().step is Step.IN
    bench.reading()
    assert bench.stands().step is Step.LOOK


@pytest.mark.parametrize("deed", ["finding", "end", "collect", "reading"])
def test_anything_done_to_the_bike_shows_that_it_is_here(deed: str) -> None:
    bench = Bench.of(came_at=MONDAY + timedelta(days=3))
    getattr(bench, deed)()
    assert bench.stands().step is not Step.IN


class TestLook:
    def test_at_first_nothing_is_passed_over(self) -> None:
        assert [reach for _, reach in Bench().stands().reached] == [
            Reach.DONE,
            Reach.HERE,
            *[Reach.AHEAD] * 8,
        ]

    def test_something_taken_off_is_looking(self) -> None:
        bench = Bench()
        bench.leave()
        bench.add("opened", Opened(id=1, card=1, access="seat", at=bench.now))
        assert step_and_deed(bench) == (Step.LOOK, Deed.FINDING)

    def test_leave_to_mend_is_leave_to_look(self) -> None:
        bench, (repair,) = agreed_card()
        bench.facts = replace(bench.facts, findings=(), go_aheads=bench.facts.go_aheads[1:])
        bench.change("repairs", repair, dropped="it was something else")
        assert step_and_deed(bench) == (Step.LOOK, Deed.READ)

    def test_a_card_planned_without_looking_passes_it_over(self) -> None:
        bench = Bench()
        bench.repair(words="fit grips")
        assert bench.stands().reach(Step.LOOK) is Reach.PASSED_OVER
        bench.reading()
        assert bench.stands().reach(Step.LOOK) is Reach.DONE

    def test_leave_alone_shows_that_it_was_come_to(self) -> None:
        bench = Bench()
        bench.leave()
        bench.repair(words="fit grips")
        assert bench.stands().reach(Step.LOOK) is Reach.DONE

    def test_waits_for_leave_first(self) -> None:
        stands = Bench().stands()
        assert stands.next is not None
        assert stands.next.needs is Need.LEAVE_TO_LOOK
        assert [stop.kind for stop in stands.stops] == [StopKind.WORD]
        assert stands.since == MONDAY

    def test_a_limit_in_minutes_stops_it_when_used_up(self) -> None:
        bench = Bench()
        bench.leave(limit_min=90)
        bench.time(TimeKind.LOOKING, 89)
        assert step_and_deed(bench) == (Step.LOOK, Deed.FINDING)
        bench.time(TimeKind.LOOKING, 1)
        assert words(bench) == "ring: the leave to look is used up (90 min agreed, 90 used)"
        assert [thing.deed for thing in bench.stands().also] == [Deed.FINDING]

    def test_a_running_clock_uses_it_up_too(self) -> None:
        bench = Bench()
        bench.leave(limit_min=60)
        bench.time(TimeKind.LOOKING, None)
        assert step_and_deed(bench) == (Step.LOOK, Deed.FINDING)
        bench.now += timedelta(hours=1)
        assert step_and_deed(bench) == (Step.LOOK, Deed.LOOK)

    def test_a_limit_in_money_counts_tax(self) -> None:
        bench = Bench()
        bench.leave(limit_minor=12000)
        bench.time(TimeKind.LOOKING, 99)
        assert step_and_deed(bench) == (Step.LOOK, Deed.FINDING)
        bench.time(TimeKind.LOOKING, 1)
        assert words(bench) == "ring: the leave to look is used up (120.00 agreed, 120.00 used)"

    def test_the_tolerance_is_for_the_bill_and_not_for_looking_on(self) -> None:
        bench = Bench()
        bench.leave(limit_min=60, limit_minor=7200, tolerance=Tolerance.PERCENT, tolerance_percent=50)
        bench.time(TimeKind.LOOKING, 60)
        assert step_and_deed(bench) == (Step.LOOK, Deed.LOOK)

    def test_with_the_tolerance_off_looking_goes_on(self) -> None:
        bench = Bench()
        bench.leave(limit_min=60, limit_minor=7200, tolerance=Tolerance.OFF)
        bench.time(TimeKind.LOOKING, 600)
        assert step_and_deed(bench) == (Step.LOOK, Deed.FINDING)

    def test_further_leave_leads_on(self) -> None:
        bench = Bench()
        bench.leave(limit_min=30)
        bench.time(TimeKind.LOOKING, 45)
        bench.leave(limit_min=120)
        assert step_and_deed(bench) == (Step.LOOK, Deed.FINDING)

    def test_a_finding_ends_it_with_or_without_leave(self) -> None:
        bench = Bench()
        bench.finding()
        assert bench.stands().step is Step.PRICE

    def test_travel_is_not_looking(self) -> None:
        bench = Bench()
        bench.leave(limit_min=30)
        bench.time(TimeKind.TRAVEL, 300)
        assert step_and_deed(bench) == (Step.LOOK, Deed.READ)


class TestPriceAndAgree:
    def test_each_finding_wants_a_repair_or_a_reason(self) -> None:
        bench = Bench()
        first, second = bench.finding("plug burnt"), bench.finding("bullets corroded")
        assert words(bench) == (
            "choose the repair for “plug burnt” and “bullets corroded”, or leave it with the reason"
        )
        bench.repair(first)
        following = bench.stands().next
        assert following is not None
        assert following.about == (second,)
        bench.change("findings", second, left="the customer will see to it")
        following = bench.stands().next
        assert following is not None
        assert following.needs is Need.ESTIMATE

    def test_a_dropped_repair_leaves_its_finding_open(self) -> None:
        bench, (repair,) = agreed_card()
        bench.change("repairs", repair, dropped="another way is better")
        assert bench.stands().step is Step.PRICE

    def test_only_the_latest_revision_counts(self) -> None:
        bench = Bench()
        one, two = bench.repair(words="plug"), bench.repair(words="bullets")
        bench.estimate(one, two)
        bench.estimate(one)
        stands = bench.stands()
        assert stands.next is not None
        assert (stands.step, stands.next.about) == (Step.PRICE, (two,))
        assert stands.next.words == "estimate anew: “bullets”"

    def test_agree_tells_the_sum_and_when_it_was_sent(self) -> None:
        bench = Bench()
        bench.estimate(bench.repair())
        assert words(bench) == "ring for the go-ahead (estimate 186.40, made today)"
        bench.call(CallOutcome.SENT)
        bench.now += timedelta(days=2)
        stands = bench.stands()
        assert words(bench) == "ring for the go-ahead (estimate 186.40, sent Monday)"
        assert [(stop.kind, stop.words) for stop in stands.stops] == [(StopKind.WORD, "the customer's word")]

    def test_a_call_without_an_answer_is_told(self) -> None:
        bench = Bench()
        bench.estimate(bench.repair())
        bench.call(CallOutcome.LEFT_WORD)
        bench.now += timedelta(days=1)
        assert bench.stands().stops[0].words == "the customer's word: left word yesterday"

    def test_only_what_was_sent_out_since_the_estimate_sent_it(self) -> None:
        bench = Bench()
        bench.call(CallOutcome.SENT)
        bench.estimate(bench.repair())
        bench.call(CallOutcome.SENT, inward=True)
        bench.call(CallOutcome.SPOKE)
        assert words(bench) == "ring for the go-ahead (estimate 186.40, made today)"

    def test_calls_of_before_and_calls_in_are_no_answer_to_it(self) -> None:
        bench = Bench()
        bench.call(CallOutcome.NO_ANSWER)
        bench.estimate(bench.repair())
        bench.call(CallOutcome.SPOKE, inward=True)
        assert bench.stands().stops[0].words == "the customer's word"
        bench.facts = replace(bench.facts, calls=(replace(bench.facts.calls[1], inward=False),))
        assert bench.stands().stops[0].words == "the customer's word: spoke today"

    def test_it_waits_since_the_estimate(self) -> None:
        bench = Bench()
        bench.estimate(bench.repair())
        since = bench.now
        bench.now += timedelta(days=5)
        assert bench.stands().since == since

    def test_agreed_in_part_the_rest_still_wants_the_word(self) -> None:
        bench = Bench()
        one, two = bench.repair(words="plug"), bench.repair(words="bullets")
        bench.estimate(one, two)
        bench.go_ahead(one)
        stands = bench.stands()
        assert stands.step is Step.AGREE
        assert words(bench).startswith("ring for the further go-ahead for “bullets” (")
        assert [(thing.deed, thing.about) for thing in stands.also] == [(Deed.START, (one,))]

    def test_a_go_ahead_that_names_only_its_estimate_covers_what_that_covers(self) -> None:
        bench = Bench()
        estimate = bench.estimate(bench.repair())
        bench.go_ahead(estimate=estimate)
        assert bench.stands().step is Step.FIX

    def test_a_go_ahead_that_names_nothing_covers_nothing(self) -> None:
        bench = Bench()
        bench.estimate(bench.repair())
        bench.go_ahead()
        assert bench.stands().step is Step.AGREE


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
        assert words(bench) == "ask after “plug”, expected Monday"

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


class TestSettling:
    def test_what_is_due_is_named_with_its_number(self) -> None:
        bench, invoice = billed_card()
        stands = bench.stands()
        assert words(bench) == f"take 186.40 (INV-26-{invoice:04})"
        assert [(stop.kind, stop.words, stop.about) for stop in stands.stops] == [
            (StopKind.MONEY, "186.40, due in 14 days", (invoice,))
        ]

    def test_part_of_it_leaves_the_rest(self) -> None:
        bench, invoice = billed_card()
        bench.pay(invoice, 10000)
        assert words(bench).startswith("take 86.40 ")
        bench.write_off(invoice, 8640)
        assert bench.stands().step is Step.COLLECTED

    def test_ring_then_hand_over(self) -> None:
        bench, invoice = billed_card()
        bench.pay(invoice)
        assert words(bench) == "ring that it is ready, then hand it over"
        bench.call(CallOutcome.NO_ANSWER)
        assert words(bench) == "ring that it is ready, then hand it over"
        bench.call(CallOutcome.SPOKE, inward=True)
        assert words(bench) == "ring that it is ready, then hand it over"
        bench.call(CallOutcome.SPOKE)
        assert words(bench) == "hand it over"

    def test_a_call_before_it_was_ready_said_nothing_of_that(self) -> None:
        bench = mended_card()
        bench.call(CallOutcome.SPOKE)
        bench.pay(bench.invoice())
        assert words(bench) == "ring that it is ready, then hand it over"

    def test_at_the_customers_gate_nobody_rings(self) -> None:
        bench = mended_card(call_out=True)
        bench.pay(bench.invoice())
        assert words(bench) == "hand it over"

    def test_the_bill_waits_since_the_work_was_proved(self) -> None:
        bench = mended_card()
        bench.after("charging_volts")
        since = bench.now
        bench.reading()
        assert (bench.stands().step, bench.stands().since) == (Step.BILL, since)

    def test_collected_unpaid_the_money_is_still_asked_for(self) -> None:
        bench, _ = billed_card()
        bench.collect(override="Ida, the owner")
        stands = bench.stands()
        assert step_and_deed(bench) == (Step.PAID, Deed.PAY)
        assert words(bench).startswith("ask for 186.40")
        assert stands.reach(Step.COLLECTED) is Reach.DONE

    def test_a_recheck_waits_for_its_date(self) -> None:
        bench, invoice = billed_card()
        bench.pay(invoice)
        bench.collect()
        bench.recheck()
        due_on = bench.facts.rechecks[0].due_on
        stands = bench.stands()
        assert [(stop.kind, stop.on) for stop in stands.stops] == [(StopKind.RECHECK, due_on)]
        assert stands.since == bench.facts.collections[0].at
        assert words(bench) == "ring about the recheck, due in 28 days"
        bench.now += timedelta(days=28)
        assert bench.stands().stops == ()
        assert words(bench) == "ring about the recheck, due today"
        bench.now += timedelta(days=2)
        stands = bench.stands()
        assert stands.stops == ()
        assert stands.since.date() == due_on
        assert words(bench) == "ring about the recheck, due Monday"

    def test_a_recheck_not_wanted_is_passed_over(self) -> None:
        bench, invoice = billed_card()
        bench.pay(invoice)
        bench.collect()
        bench.recheck(state=RecheckState.NOT_WANTED)
        stands = bench.stands()
        assert (stands.over, stands.reach(Step.RECHECK)) == (True, Reach.PASSED_OVER)

    def test_the_recheck_first_due_is_the_next(self) -> None:
        bench, invoice = billed_card()
        bench.pay(invoice)
        bench.collect()
        bench.recheck(40)
        soon = bench.recheck(10, RecheckState.BOOKED)
        following = bench.stands().next
        assert following is not None
        assert (following.about, following.words) == (
            (soon,),
            "write down how the recheck went (due in 10 days)",
        )

    def test_without_a_recheck_it_is_over_when_collected(self) -> None:
        bench, invoice = billed_card()
        bench.pay(invoice)
        bench.collect()
        stands = bench.stands()
        assert (stands.over, stands.step, stands.next) == (True, Step.COLLECTED, None)
        assert stands.reach(Step.RECHECK) is Reach.PASSED_OVER
        assert stands.since == bench.now


def test_a_unit_sent_in_is_named_and_has_no_recheck() -> None:
    bench = mended_card(kind=CardKind.UNIT, unit="stator", bike=None)
    assert bench.stands().reach(Step.RECHECK) is Reach.PASSED_OVER
    bench.pay(bench.invoice())
    assert words(bench) == "ring that “stator” is ready, then hand it over"
    bench.recheck()
    bench.collect()
    assert bench.stands().over


def test_a_unit_of_a_known_bike_may_have_one() -> None:
    bench = mended_card(kind=CardKind.UNIT, unit="stator")
    bench.pay(bench.invoice())
    bench.collect()
    bench.recheck()
    assert bench.stands().step is Step.RECHECK


def test_a_clock_left_running_is_asked_about_beside_the_next_thing() -> None:
    bench, (repair,) = agreed_card()
    entry = bench.time(TimeKind.REPAIR, None, repair=repair)
    bench.now += timedelta(hours=20)
    asked = [thing for thing in bench.stands().also if thing.deed is Deed.CLOCK]
    assert [thing.about for thing in asked] == [(entry,)]
    assert "Is that right?" in asked[0].words


def test_what_people_typed_is_quoted_on_one_line_and_cut() -> None:
    bench = Bench()
    bench.finding("[/] =cmd\n" + "x" * 500)
    assert words(bench).startswith("choose the repair for “[/] =cmd xxx")
    assert len(words(bench)) < 120


def test_a_repair_without_words_goes_by_its_rule() -> None:
    bench = Bench()
    bench.estimate(bench.repair(words="", rule="bullet_pair"))
    bench.go_ahead(estimate=bench.facts.estimates[0].id)
    assert words(bench) == "start “bullet pair”"


def test_not_knowing_is_no_obstacle() -> None:
    bench = Bench.of(odometer=None, customer=None)
    assert bench.facts.bike is not None
    assert bench.facts.bike.battery_kind == UNKNOWN
    assert bench.stands().step is Step.LOOK
