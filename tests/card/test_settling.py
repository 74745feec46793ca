"""Bill, paid, collected, recheck: what is due, who rings, when a card is over."""

from datetime import timedelta

from tests.card.asking import following, step_and_deed, words
from tests.card.build import billed_card, mended_card
from tracker.card.standing import Deed, Reach, Step, StopKind
from tracker.records.card import CallOutcome, CardKind
from tracker.records.recheck import RecheckState


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
        assert words(bench) == "ring about the recheck, due 2 days ago"

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
        thing = following(bench)
        assert (thing.about, thing.words) == (
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


def test_a_bike_that_was_not_written_down_may_have_one() -> None:
    bench = mended_card(bike=None)
    assert bench.stands().reach(Step.RECHECK) is Reach.AHEAD


def test_a_unit_of_a_known_bike_may_have_one() -> None:
    bench = mended_card(kind=CardKind.UNIT, unit="stator")
    bench.pay(bench.invoice())
    bench.collect()
    bench.recheck()
    assert bench.stands().step is Step.RECHECK
