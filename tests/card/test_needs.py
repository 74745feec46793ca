"""Needs that are not there: set aside with a reason, spared by a free comeback or by a project."""

import pytest

from tests.card.asking import step_and_deed, words
from tests.card.build import Bench, agreed_card, billed_card, mended_card
from tracker.card.allowed import refusals_to_start
from tracker.card.standing import Deed, Reach, Step
from tracker.records.card import CardKind, Need
from tracker.records.document import DocumentKind
from tracker.records.work import TimeKind


class TestWaivers:
    def test_no_estimate_wanted(self) -> None:
        bench = Bench()
        bench.waive(Need.ESTIMATE)
        bench.repair(bench.finding())
        assert step_and_deed(bench) == (Step.AGREE, Deed.AGREE)
        assert words(bench) == "ring for the go-ahead"
        assert bench.stands().reach(Step.PRICE) is Reach.PASSED_OVER

    def test_leave_to_look_set_aside_lifts_its_limit(self) -> None:
        bench = Bench()
        bench.leave(limit_min=10)
        bench.time(TimeKind.LOOKING, 60)
        bench.waive(Need.LEAVE_TO_LOOK)
        assert step_and_deed(bench) == (Step.LOOK, Deed.FINDING)

    def test_no_go_ahead_wanted(self) -> None:
        bench = Bench()
        repair = bench.repair(bench.finding())
        bench.estimate(repair)
        bench.waive(Need.GO_AHEAD)
        assert step_and_deed(bench) == (Step.FIX, Deed.START)
        assert refusals_to_start(bench.facts, repair) == ()

    def test_a_test_that_is_not_possible(self) -> None:
        bench, (repair,) = agreed_card()
        bench.change("repairs", repair, proves=("charging_volts",))
        bench.done(repair)
        bench.waive(Need.TESTS)
        stands = bench.stands()
        assert (stands.step, stands.reach(Step.TEST)) == (Step.BILL, Reach.PASSED_OVER)

    def test_no_bill_no_money(self) -> None:
        bench = mended_card()
        bench.waive(Need.INVOICE)
        assert bench.stands().step is Step.COLLECTED
        assert bench.stands().reach(Step.PAID) is Reach.PASSED_OVER

    def test_a_bill_already_out_is_owed_whatever_is_waived(self) -> None:
        bench, _ = billed_card()
        bench.waive(Need.INVOICE)
        assert bench.stands().step is Step.PAID

    def test_a_deposit_kept_in_place_of_a_bill_is_paid(self) -> None:
        bench = mended_card()
        bench.pay(bench.document(DocumentKind.DEPOSIT, 5000), 5000)
        bench.waive(Need.INVOICE)
        stands = bench.stands()
        assert (stands.step, stands.reach(Step.PAID)) == (Step.COLLECTED, Reach.DONE)

    def test_payment_not_waited_for(self) -> None:
        bench, _ = billed_card()
        bench.waive(Need.PAYMENT)
        stands = bench.stands()
        assert (stands.step, stands.reach(Step.PAID)) == (Step.COLLECTED, Reach.PASSED_OVER)
        bench.collect()
        assert bench.stands().over

    def test_repairs_set_aside_are_not_priced_nor_agreed(self) -> None:
        bench = Bench()
        bench.leave()
        bench.repair(bench.finding())
        bench.waive(Need.REPAIRS)
        assert (bench.stands().step, words(bench)) == (Step.BILL, "bill the looking")

    def test_only_planned_and_then_set_aside_there_is_nothing_to_bill(self) -> None:
        bench = Bench()
        bench.repair(words="fit grips")
        bench.waive(Need.REPAIRS)
        assert bench.stands().step is Step.COLLECTED

    def test_repairs_set_aside_do_not_go_on_meanwhile(self) -> None:
        bench, _ = agreed_card()
        bench.done(bench.repair(words="earth cleaned"))
        assert [thing.deed for thing in bench.stands().also] == [Deed.START]
        bench.waive(Need.REPAIRS)
        assert (bench.stands().step, bench.stands().also) == (Step.PRICE, ())

    def test_a_repair_done_though_set_aside_is_priced(self) -> None:
        bench = Bench()
        repair = bench.repair()
        bench.waive(Need.REPAIRS)
        bench.done(repair)
        assert step_and_deed(bench) == (Step.PRICE, Deed.ESTIMATE)

    def test_repairs_set_aside_leave_the_findings_be(self) -> None:
        bench = Bench()
        bench.finding()
        bench.waive(Need.REPAIRS)
        assert step_and_deed(bench) == (Step.COLLECTED, Deed.COLLECT)

    def test_nothing_to_find_and_nothing_planned_nothing_to_bill(self) -> None:
        bench = Bench()
        bench.waive(Need.FINDINGS)
        assert bench.stands().step is Step.COLLECTED
        bench.repair()
        assert bench.stands().step is Step.PRICE

    def test_collection_and_recheck(self) -> None:
        bench, invoice = billed_card()
        bench.pay(invoice)
        bench.recheck()
        bench.waive(Need.COLLECTION)
        assert bench.stands().step is Step.RECHECK
        bench.waive(Need.RECHECK)
        assert bench.stands().over

    @pytest.mark.parametrize("need", Need)
    def test_all_others_set_aside_each_need_still_holds_or_is_passed(self, need: Need) -> None:
        bench = Bench()
        bench.repair(bench.finding(), proves=("charging_volts",))
        for other in Need:
            if other is not need:
                bench.waive(other)
        following = bench.stands().next
        assert following is None or following.needs is need


class TestComebacks:
    def test_a_free_one_asks_for_no_money_and_no_word(self) -> None:
        bench = Bench.of(comeback_of=7, comeback_charged=False)
        assert step_and_deed(bench) == (Step.LOOK, Deed.READ)
        repair = bench.repair(bench.finding())
        assert step_and_deed(bench) == (Step.FIX, Deed.START)
        assert refusals_to_start(bench.facts, repair) == ()
        bench.done(repair)
        stands = bench.stands()
        assert stands.step is Step.COLLECTED
        passed = [step for step, reach in stands.reached if reach is Reach.PASSED_OVER]
        assert passed == [Step.PRICE, Step.AGREE, Step.TEST, Step.BILL, Step.PAID]
        bench.collect()
        assert bench.stands().over

    def test_a_charged_one_is_a_card_like_any_other(self) -> None:
        bench = Bench.of(comeback_of=7)
        bench.repair(bench.finding())
        assert step_and_deed(bench) == (Step.PRICE, Deed.ESTIMATE)


class TestProjects:
    def test_only_the_work_counts(self) -> None:
        bench = Bench.of(kind=CardKind.PROJECT, customer=None)
        assert step_and_deed(bench) == (Step.LOOK, Deed.READ)
        never = [step for step, reach in bench.stands().reached if reach is Reach.PASSED_OVER]
        assert never == [Step.AGREE, Step.BILL, Step.PAID, Step.COLLECTED]
        finding = bench.finding("no spark")
        assert step_and_deed(bench) == (Step.PRICE, Deed.ESTIMATE)
        repair = bench.repair(finding, proves=("continuity",))
        assert step_and_deed(bench) == (Step.FIX, Deed.START)
        bench.start(repair)
        bench.done(repair)
        assert step_and_deed(bench) == (Step.TEST, Deed.TEST)
        bench.after("continuity")
        stands = bench.stands()
        assert (stands.over, stands.step) == (True, Step.TEST)

    def test_it_may_have_a_recheck(self) -> None:
        bench = Bench.of(kind=CardKind.PROJECT)
        bench.done(bench.repair())
        bench.recheck()
        assert bench.stands().step is Step.RECHECK


def test_a_deposit_is_offered_beside_the_work_and_stops_nothing() -> None:
    bench, _ = agreed_card()
    deposit = bench.document(DocumentKind.DEPOSIT, 5000)
    stands = bench.stands()
    assert stands.step is Step.FIX
    assert [(thing.deed, thing.words, thing.about) for thing in stands.also] == [
        (Deed.PAY, "take the deposit, 50.00", (deposit,))
    ]
    other = Bench(bench.now, bench.facts, bench.count)
    other.waive(Need.PAYMENT)
    assert other.stands().also == ()
    bench.pay(deposit, 5000)
    assert bench.stands().also == ()


def test_with_the_bill_out_the_deposit_is_part_of_what_is_owed() -> None:
    bench = mended_card()
    bench.document(DocumentKind.DEPOSIT, 5000)
    bench.invoice(13640)
    stands = bench.stands()
    assert words(bench) == "take 186.40 (2 documents)"
    assert stands.also == ()
