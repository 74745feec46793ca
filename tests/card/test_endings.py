"""The other ends, what is waived, comebacks and projects: steps that are passed over."""

import pytest

from tests.card.build import Bench, agreed_card, billed_card, mended_card
from tests.card.test_step import step_and_deed, words
from tracker.card.allowed import refusals_to_start
from tracker.card.standing import Deed, Reach, Step
from tracker.records.card import CardKind, EndKind, Need
from tracker.records.document import DocumentKind
from tracker.records.stock import WantedState
from tracker.records.work import TimeKind

LEAVES_HERE = [kind for kind in EndKind if kind is not EndKind.COLLECTED_UNDONE]


class TestEndings:
    @pytest.mark.parametrize("kind", LEAVES_HERE)
    def test_the_looking_is_billed_paid_and_the_bike_collected(self, kind: EndKind) -> None:
        bench = Bench()
        bench.leave()
        bench.time(TimeKind.LOOKING, 45)
        bench.finding()
        bench.end(kind)
        stands = bench.stands()
        assert (stands.step, words(bench), stands.ended) == (Step.BILL, f"bill the looking ({kind})", kind)
        passed = [step for step, reach in stands.reached if reach is Reach.PASSED_OVER]
        assert passed == [Step.PRICE, Step.AGREE, Step.FIX, Step.TEST]
        bench.pay(bench.invoice(4500), 4500)
        assert bench.stands().step is Step.COLLECTED
        bench.collect()
        assert bench.stands().over

    @pytest.mark.parametrize("kind", LEAVES_HERE)
    def test_where_nobody_looked_nothing_is_billed(self, kind: EndKind) -> None:
        bench = Bench()
        bench.end(kind)
        assert step_and_deed(bench) == (Step.COLLECTED, Deed.COLLECT)
        bench.collect()
        stands = bench.stands()
        assert stands.over
        assert {stands.reach(Step.BILL), stands.reach(Step.PAID)} == {Reach.PASSED_OVER}

    @pytest.mark.parametrize(
        ("kind", "step"),
        [
            (TimeKind.LOOKING, Step.BILL),
            (TimeKind.REPAIR, Step.BILL),
            (TimeKind.TRAVEL, Step.BILL),
            (TimeKind.OTHER, Step.COLLECTED),
        ],
    )
    def test_time_without_leave_is_billed_too(self, kind: TimeKind, step: Step) -> None:
        bench = Bench()
        bench.time(kind, 20)
        bench.end()
        assert bench.stands().step is step

    @pytest.mark.parametrize(
        ("state", "own", "step"),
        [
            (WantedState.FITTED, False, Step.BILL),
            (WantedState.FITTED, True, Step.COLLECTED),
            (WantedState.HERE, False, Step.COLLECTED),
        ],
    )
    def test_so_is_a_part_fitted_unless_it_was_their_own(
        self, state: WantedState, own: bool, step: Step
    ) -> None:
        bench = Bench()
        bench.part(state=state, customers_own=own)
        bench.end()
        assert bench.stands().step is step

    def test_and_a_repair_done_without_time_for_it(self) -> None:
        bench = Bench()
        done = bench.repair()
        bench.end()
        assert bench.stands().step is Step.COLLECTED
        bench.done(done)
        assert bench.stands().step is Step.BILL

    def test_a_call_out_is_billed_though_nobody_looked(self) -> None:
        bench = Bench.of(call_out=True)
        bench.end(EndKind.DECLINED)
        assert bench.stands().step is Step.BILL

    def test_collected_undone_is_gone_already(self) -> None:
        bench, _ = agreed_card()
        bench.end(EndKind.COLLECTED_UNDONE)
        bench.pay(bench.invoice(4500), 4500)
        stands = bench.stands()
        assert (stands.over, stands.reach(Step.COLLECTED)) == (True, Reach.DONE)

    def test_what_is_said_after_it_was_taken_away_does_not_bring_it_back(self) -> None:
        bench = Bench()
        bench.end(EndKind.COLLECTED_UNDONE)
        bench.end(EndKind.NOT_WORTH_IT)
        assert bench.stands().over
        assert bench.stands().ended is EndKind.NOT_WORTH_IT

    def test_collected_undone_and_unpaid_is_asked_for(self) -> None:
        bench = Bench()
        bench.leave()
        bench.end(EndKind.COLLECTED_UNDONE)
        bench.invoice(4500)
        assert words(bench).startswith("ask for 45.00")

    def test_who_rings_back_and_agrees_takes_the_ending_back(self) -> None:
        bench = Bench()
        repair = bench.repair(bench.finding())
        estimate = bench.estimate(repair)
        bench.end(EndKind.DECLINED)
        assert refusals_to_start(bench.facts, repair)[0].sentence == "This card has ended: declined."
        bench.go_ahead(repair, estimate=estimate)
        assert (bench.stands().step, bench.stands().ended) == (Step.FIX, None)
        assert refusals_to_start(bench.facts, repair) == ()
        bench.done(repair)
        assert (bench.stands().step, bench.stands().ended) == (Step.BILL, None)

    def test_a_go_ahead_for_what_is_done_or_dropped_takes_no_ending_back(self) -> None:
        bench = mended_card()
        dropped = bench.repair(dropped="cannot be had")
        bench.end(EndKind.CANT_MAKE_IT)
        bench.go_ahead(bench.facts.repairs[0].id, dropped, limit_minor=30000)
        assert bench.stands().ended is EndKind.CANT_MAKE_IT

    def test_a_go_ahead_of_before_takes_no_ending_back(self) -> None:
        bench, _ = agreed_card()
        bench.end(EndKind.NOT_WORTH_IT)
        assert bench.stands().ended is EndKind.NOT_WORTH_IT

    def test_taken_back_it_may_end_again(self) -> None:
        bench = Bench()
        repair = bench.repair()
        bench.end(EndKind.COLLECTED_UNDONE)
        bench.go_ahead(repair)
        bench.end(EndKind.NOT_WORTH_IT)
        stands = bench.stands()
        assert (stands.step, stands.ended) == (Step.COLLECTED, EndKind.NOT_WORTH_IT)

    def test_a_further_leave_to_look_takes_no_ending_back(self) -> None:
        bench = Bench()
        bench.leave(limit_min=30)
        bench.end(EndKind.NOTHING_FOUND)
        bench.leave(limit_min=90)
        assert bench.stands().ended is EndKind.NOTHING_FOUND

    def test_ended_after_part_was_done_the_part_is_billed(self) -> None:
        bench = mended_card()
        bench.repair(bench.finding("cannot be had"), "stator")
        bench.end(EndKind.CANT_MAKE_IT)
        stands = bench.stands()
        assert stands.next is not None
        assert (stands.step, stands.next.about) == (Step.BILL, (bench.facts.repairs[0].id,))

    def test_all_left_is_an_end_without_a_word_for_it(self) -> None:
        bench = Bench()
        bench.leave()
        bench.finding(left="the customer sells it as it is")
        assert (bench.stands().step, words(bench)) == (Step.BILL, "bill the looking")
        assert bench.stands().reach(Step.FIX) is Reach.PASSED_OVER


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
