"""The other ends: looking billed, the bike collected, and ends that are taken back."""

import pytest

from tests.card.asking import step_and_deed, words
from tests.card.build import Bench, agreed_card, mended_card
from tracker.card.allowed import refusals_to_start
from tracker.card.standing import Deed, Reach, Step
from tracker.records.card import EndKind
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
