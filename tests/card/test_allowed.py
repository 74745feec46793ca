"""What is refused: to start what is not agreed, to bill past what was. And how much is left of it."""

from datetime import timedelta
from decimal import Decimal

import pytest

from tests.card.build import Bench, agreed_card, mended_card
from tracker.card.allowed import agreed_limit, left_of_go_ahead, refusals_to_bill, refusals_to_start
from tracker.card.limits import spent_minor
from tracker.records.card import CardKind, EndKind, Need, Tolerance
from tracker.records.document import DocumentKind
from tracker.records.stock import WantedState
from tracker.records.work import TimeKind


class TestStart:
    def test_what_is_not_agreed(self) -> None:
        bench = Bench()
        repair = bench.repair()
        bench.estimate(repair)
        (problem,) = refusals_to_start(bench.facts, repair)
        assert (problem.field, problem.sentence) == (
            "repair",
            "There is no go-ahead for “new regulator plug”.",
        )
        bench.go_ahead(repair)
        assert refusals_to_start(bench.facts, repair) == ()

    def test_leave_to_look_is_no_leave_to_mend(self) -> None:
        bench = Bench()
        bench.leave()
        repair = bench.repair()
        (problem,) = refusals_to_start(bench.facts, repair)
        assert problem.sentence.startswith("There is no go-ahead")

    def test_a_repair_of_another_card(self) -> None:
        (problem,) = refusals_to_start(Bench().facts, 99)
        assert (problem.sentence, problem.given) == ("There is no such repair on this card.", "99")

    def test_a_dropped_repair_without_go_ahead_has_both_mistakes(self) -> None:
        bench = Bench()
        repair = bench.repair(dropped="another way")
        assert len(refusals_to_start(bench.facts, repair)) == 2

    def test_the_agreed_one_while_a_second_is_being_agreed(self) -> None:
        bench, (first,) = agreed_card()
        second = bench.repair(bench.finding("bullets"))
        bench.estimate(first, second, total_minor=99900)
        assert refusals_to_start(bench.facts, first) == ()
        assert "no go-ahead" in refusals_to_start(bench.facts, second)[0].sentence

    def test_nothing_is_left_of_the_go_ahead(self) -> None:
        bench, (one, two) = agreed_card("plug", "bullets")
        bench.go_ahead(one, two, limit_min=60)
        bench.start(one)
        bench.time(TimeKind.REPAIR, None, repair=one)
        bench.now += timedelta(minutes=61)
        assert refusals_to_start(bench.facts, two) == ()
        (problem,) = refusals_to_start(bench.facts, two, bench.now)
        assert problem.sentence == "The go-ahead is used up (60 min agreed, 61 used)."

    @pytest.mark.parametrize("head", [{"kind": CardKind.PROJECT}, {"comeback_charged": False}])
    def test_where_nothing_is_charged_nobody_is_asked(self, head: dict[str, object]) -> None:
        bench = Bench.of(**head)
        repair = bench.repair()
        assert refusals_to_start(bench.facts, repair) == ()


class TestBill:
    def test_up_to_the_limit_and_not_a_cent_past_it(self) -> None:
        bench = mended_card()
        bench.go_ahead(bench.facts.repairs[0].id, limit_minor=20000)
        assert refusals_to_bill(bench.facts, 20000) == ()
        (problem,) = refusals_to_bill(bench.facts, 20001)
        assert problem.field == "total"
        assert problem.sentence == "200.01 in all is past what may be billed, 200.00."
        assert problem.given == "200.01"

    def test_a_tolerance_in_percent_is_rounded_down(self) -> None:
        bench = mended_card()
        bench.go_ahead(limit_minor=9999, tolerance=Tolerance.PERCENT, tolerance_percent=10)
        assert refusals_to_bill(bench.facts, 10998) == ()
        assert refusals_to_bill(bench.facts, 10999)

    def test_a_percentage_means_nothing_where_there_is_no_tolerance(self) -> None:
        bench = mended_card()
        bench.go_ahead(limit_minor=10000, tolerance_percent=10)
        assert refusals_to_bill(bench.facts, 10001)

    def test_a_free_comeback_is_not_judged(self) -> None:
        assert refusals_to_bill(Bench.of(comeback_charged=False).facts, 10000) == ()

    def test_leave_to_look_set_aside_lifts_no_limit_on_the_work(self) -> None:
        bench = mended_card()
        bench.go_ahead(limit_minor=20000)
        bench.waive(Need.LEAVE_TO_LOOK)
        assert refusals_to_bill(bench.facts, 20001)

    def test_nor_is_a_leave_to_look_that_was_given_lifted_by_anything_else(self) -> None:
        bench = Bench()
        bench.leave(limit_minor=6000)
        bench.end()
        bench.waive(Need.TESTS)
        assert refusals_to_bill(bench.facts, 6001)
        bench.waive(Need.LEAVE_TO_LOOK)
        assert refusals_to_bill(bench.facts, 6001) == ()

    def test_tolerance_off_and_no_limit_named(self) -> None:
        bench = mended_card()
        assert refusals_to_bill(bench.facts, 10**9) == ()
        bench.go_ahead(limit_minor=1, limit_min=1, tolerance=Tolerance.OFF)
        assert refusals_to_bill(bench.facts, 10**9, bench_min=10**6) == ()

    def test_the_latest_go_ahead_to_work_is_in_force(self) -> None:
        bench = mended_card()
        bench.go_ahead(limit_minor=30000)
        bench.go_ahead(limit_minor=25000)
        bench.leave(limit_minor=10**6)
        limit = agreed_limit(bench.facts)
        assert limit is not None
        assert (limit.minor, limit.most_minor) == (25000, 25000)

    def test_what_was_billed_already_counts(self) -> None:
        bench = mended_card()
        bench.go_ahead(limit_minor=20000)
        bench.document(DocumentKind.DEPOSIT, 5000)
        assert refusals_to_bill(bench.facts, 15000) == ()
        assert refusals_to_bill(bench.facts, 15001)

    def test_a_credit_note_makes_room_again(self) -> None:
        bench = mended_card()
        bench.go_ahead(limit_minor=20000)
        invoice = bench.invoice(20000)
        assert refusals_to_bill(bench.facts, 1)
        bench.credit(invoice, 20000)
        assert refusals_to_bill(bench.facts, 20000) == ()

    def test_minutes_are_judged_beside_money(self) -> None:
        bench = mended_card()
        bench.go_ahead(limit_minor=100, limit_min=60)
        assert [p.field for p in refusals_to_bill(bench.facts, 200, bench_min=61)] == ["total", "minutes"]
        assert [p.field for p in refusals_to_bill(bench.facts, 200, bench_min=60)] == ["total"]
        assert [p.field for p in refusals_to_bill(bench.facts, 200)] == ["total"]

    def test_without_any_leave_nothing(self) -> None:
        bench = Bench()
        bench.time(TimeKind.LOOKING, 30)
        bench.end(EndKind.DECLINED)
        assert "Nobody has given leave" in refusals_to_bill(bench.facts, 1)[0].sentence
        assert refusals_to_bill(bench.facts, 0) == ()
        bench.waive(Need.LEAVE_TO_LOOK)
        assert refusals_to_bill(bench.facts, 10**6) == ()

    def test_an_ended_card_is_billed_within_its_leave_to_look(self) -> None:
        bench, _ = agreed_card()
        bench.leave(limit_minor=6000)
        bench.go_ahead(limit_minor=50000)
        assert refusals_to_bill(bench.facts, 6001) == ()
        bench.end(EndKind.NOT_WORTH_IT)
        assert refusals_to_bill(bench.facts, 6000) == ()
        assert refusals_to_bill(bench.facts, 6001)

    def test_ended_with_some_of_it_done_the_go_ahead_to_work_decides(self) -> None:
        bench = mended_card()
        bench.leave(limit_minor=6000)
        bench.end(EndKind.CANT_MAKE_IT)
        assert refusals_to_bill(bench.facts, 18640) == ()

    def test_ended_without_leave_to_look_the_go_ahead_to_work_decides(self) -> None:
        bench = Bench()
        bench.go_ahead(bench.repair(), limit_minor=6000)
        bench.end(EndKind.NOTHING_FOUND)
        assert refusals_to_bill(bench.facts, 6000) == ()
        assert refusals_to_bill(bench.facts, 6001)

    def test_less_than_a_fixed_price_may_be_agreed_to(self) -> None:
        bench = Bench()
        repair = bench.repair()
        estimate = bench.estimate(repair, fixed_price=True, total_minor=18640)
        bench.go_ahead(repair, estimate=estimate, limit_minor=15000)
        assert refusals_to_bill(bench.facts, 15001)

    def test_an_estimate_is_no_limit_by_itself(self) -> None:
        bench = mended_card()
        assert refusals_to_bill(bench.facts, bench.facts.estimates[0].total_minor + 1) == ()

    def test_a_fixed_price_is_its_own_limit(self) -> None:
        bench = Bench()
        repair = bench.repair()
        bench.go_ahead(repair, estimate=bench.estimate(repair, fixed_price=True, total_minor=18640))
        assert refusals_to_bill(bench.facts, 18640) == ()
        assert refusals_to_bill(bench.facts, 18641)

    def test_set_aside_with_a_reason_there_is_no_limit(self) -> None:
        bench = mended_card()
        bench.go_ahead(limit_minor=1)
        bench.waive(Need.GO_AHEAD)
        assert refusals_to_bill(bench.facts, 10**6) == ()


class TestLeft:
    def test_minutes_and_money(self) -> None:
        bench = Bench()
        bench.leave(limit_min=90, limit_minor=12000)
        bench.time(TimeKind.LOOKING, 30)
        left = left_of_go_ahead(bench.facts, bench.now)
        assert left is not None
        assert (left.minutes, left.minor) == (60, 12000 - 3600)

    def test_below_nothing_when_passed(self) -> None:
        bench = Bench()
        bench.leave(limit_min=10)
        bench.time(TimeKind.LOOKING, 30)
        left = left_of_go_ahead(bench.facts, bench.now)
        assert left is not None
        assert (left.minutes, left.minor) == (-20, None)

    def test_none_without_a_go_ahead_or_where_nothing_is_charged(self) -> None:
        bench = Bench()
        assert left_of_go_ahead(bench.facts, bench.now) is None
        free = Bench.of(comeback_charged=False)
        free.leave(limit_min=10)
        assert left_of_go_ahead(free.facts, free.now) is None

    def test_what_a_card_comes_to_so_far(self) -> None:
        bench = Bench.of(call_out=True, distance=12.5)
        bench.shop(call_out_charge=Decimal(30), distance_charge=Decimal("0.40"), looking_rate=Decimal(50))
        bench.time(TimeKind.LOOKING, 30)
        bench.time(TimeKind.REPAIR, 60)
        bench.time(TimeKind.TRAVEL, 45)
        bench.part(state=WantedState.FITTED, unit_price=Decimal("12.50"), tax_rate=Decimal(0))
        bench.part(state=WantedState.FITTED, unit_price=Decimal(99), customers_own=True)
        bench.part(state=WantedState.HERE, unit_price=Decimal(99))
        net = Decimal(25) + 60 + 30 + 10
        assert spent_minor(bench.facts, bench.now) == int(net * 120) + 1250
        for untaxed in ({"taxed": False}, {"taxed": True, "prices_with_tax": True}):
            bench.shop(**untaxed)
            assert spent_minor(bench.facts, bench.now) == int(net * 100) + 1250

    def test_in_a_currency_without_cents(self) -> None:
        bench = Bench()
        bench.shop(currency="JPY", looking_rate=Decimal(6000), taxed=False)
        bench.leave(limit_minor=3000)
        bench.time(TimeKind.LOOKING, 20)
        left = left_of_go_ahead(bench.facts, bench.now)
        assert left is not None
        assert left.minor == 1000
