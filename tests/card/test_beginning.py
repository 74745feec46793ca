"""In, look, price, agree: what each asks for, and what it waits for."""

from dataclasses import replace
from datetime import timedelta

import pytest

from tests.card.asking import following, step_and_deed, words
from tests.card.build import MONDAY, Bench, agreed_card
from tracker.card.standing import Deed, Reach, Step, StopKind
from tracker.records.card import CallOutcome, Need, Opened, Tolerance
from tracker.records.work import TimeKind


def test_a_card_written_at_the_phone_call_waits_for_the_bike() -> None:
    bench = Bench.of(comes_on=MONDAY.date() + timedelta(days=3))
    stands = bench.stands()
    assert (stands.step, words(bench)) == (Step.IN, "book it in when it comes (Thursday)")
    assert stands.stops[0].kind is StopKind.BIKE
    assert stands.stops[0].on == (MONDAY + timedelta(days=3)).date()
    bench.now += timedelta(days=3)
    assert (bench.stands().step, words(bench)) == (Step.IN, "book it in when it comes (today)")
    bench.facts = replace(bench.facts, card=replace(bench.facts.card, comes_on=None))
    assert bench.stands().step is Step.LOOK


def test_a_bike_that_did_not_come_is_asked_after() -> None:
    bench = Bench.of(comes_on=MONDAY.date() - timedelta(days=3))
    assert (bench.stands().step, words(bench)) == (Step.IN, "ask after it: it was to come 3 days ago")
    assert bench.stands().stops[0].words == "the bike was to come 3 days ago"


def test_a_bike_that_came_early_is_looked_at_all_the_same() -> None:
    bench = Bench.of(comes_on=MONDAY.date() + timedelta(days=3))
    bench.leave()
    assert bench.stands().step is Step.IN
    bench.reading()
    assert bench.stands().step is Step.LOOK


@pytest.mark.parametrize("deed", ["finding", "end", "collect", "reading"])
def test_anything_done_to_the_bike_shows_that_it_is_here(deed: str) -> None:
    bench = Bench.of(comes_on=MONDAY.date() + timedelta(days=3))
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
    def test_a_fault_found_without_leave_or_time_is_to_be_billed_all_the_same(self) -> None:
        bench = Bench()
        finding = bench.finding()
        assert bench.stands().reach(Step.BILL) is Reach.AHEAD
        bench.repair(finding)
        assert bench.stands().reach(Step.BILL) is Reach.AHEAD

    def test_each_finding_wants_a_repair_or_a_reason(self) -> None:
        bench = Bench()
        first, second = bench.finding("plug burnt"), bench.finding("bullets corroded")
        assert words(bench) == (
            "choose the repair for “plug burnt” and “bullets corroded”, or leave it with the reason"
        )
        bench.repair(first)
        thing = following(bench)
        assert thing.about == (second,)
        bench.change("findings", second, left="the customer will see to it")
        thing = following(bench)
        assert thing.needs is Need.ESTIMATE

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
        assert stands.next.words == "price it anew with “bullets”"

    def test_agree_tells_the_sum_and_when_it_was_sent(self) -> None:
        bench = Bench()
        bench.estimate(bench.repair())
        assert words(bench) == "ring for the go-ahead (estimate 186.40, made today)"
        bench.call(CallOutcome.SENT)
        bench.now += timedelta(days=2)
        stands = bench.stands()
        assert words(bench) == "ring for the go-ahead (estimate 186.40, sent 2 days ago)"
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

    def test_a_go_ahead_that_names_less_than_its_estimate_covers_what_it_names(self) -> None:
        bench = Bench()
        one, two = bench.repair(words="plug"), bench.repair(words="bullets")
        bench.go_ahead(one, estimate=bench.estimate(one, two))
        assert following(bench).about == (two,)

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
