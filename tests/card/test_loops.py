"""The line loops: a second fault, a dearer revision, a limit used up, a credit note, money that went back."""

from datetime import timedelta

from tests.card.asking import step_and_deed, words
from tests.card.build import Bench, agreed_card, billed_card, mended_card
from tracker.card.standing import Deed, Reach, Step, StopKind
from tracker.records.card import Need, Tolerance
from tracker.records.stock import WantedState
from tracker.records.work import TimeKind


def test_a_second_fault_is_priced_and_agreed_while_the_agreed_part_goes_on() -> None:
    bench, (first,) = agreed_card()
    bench.start(first)
    finding = bench.finding("left rear bullets corroded")
    stands = bench.stands()
    assert stands.step is Step.PRICE
    assert {stands.reach(step) for step in (Step.AGREE, Step.FIX, Step.BILL)} == {Reach.AHEAD}
    assert [(thing.deed, thing.about) for thing in stands.also] == [(Deed.FIX, (first,))]

    second = bench.repair(finding, "bullets")
    assert step_and_deed(bench) == (Step.PRICE, Deed.ESTIMATE)
    revision = bench.estimate(first, second, total_minor=24000)
    stands = bench.stands()
    assert stands.step is Step.AGREE
    assert words(bench) == "ring for the further go-ahead for “bullets” (estimate 240.00, made today)"
    assert [(thing.deed, thing.about) for thing in stands.also] == [(Deed.FIX, (first,))]

    bench.done(first)
    assert bench.stands().also == ()
    bench.go_ahead(second, estimate=revision)
    stands = bench.stands()
    assert stands.next is not None
    assert (stands.step, stands.next.deed, stands.next.about) == (Step.FIX, Deed.START, (second,))


def test_meanwhile_readings_are_taken_and_parts_ordered_for_what_is_agreed() -> None:
    bench, (first, second) = agreed_card("plug", "stator")
    bench.change("repairs", first, proves=("charging_volts",))
    bench.done(first)
    part = bench.part("stator", repair=second)
    bench.finding("bullets corroded")
    also = [(thing.deed, thing.about) for thing in bench.stands().also]
    assert also == [(Deed.PART, (part,)), (Deed.TEST, (first,))]


def test_a_second_fault_found_after_billing_goes_all_the_way_again() -> None:
    bench, invoice = billed_card()
    bench.pay(invoice)
    second = bench.repair(bench.finding("bullets corroded"), "bullets")
    assert bench.stands().step is Step.PRICE
    first = bench.facts.repairs[0].id
    bench.go_ahead(second, estimate=bench.estimate(first, second))
    bench.start(second)
    bench.done(second)
    stands = bench.stands()
    assert stands.next is not None
    assert (stands.step, stands.next.about) == (Step.BILL, (second,))
    assert words(bench) == f"bill what was done since INV-26-{invoice:04}"
    bench.pay(bench.invoice(5000), 5000)
    assert bench.stands().step is Step.COLLECTED


def test_a_second_fault_that_is_left_changes_nothing() -> None:
    bench = mended_card()
    bench.finding("rear tyre worn", left="not ours", told_unsafe=True)
    assert bench.stands().step is Step.BILL


class TestFurtherGoAhead:
    def test_a_revision_past_the_limit_wants_one(self) -> None:
        bench, (repair,) = agreed_card()
        bench.go_ahead(repair, limit_minor=20000)
        bench.estimate(repair, total_minor=20000)
        assert bench.stands().step is Step.FIX
        bench.estimate(repair, total_minor=20001)
        assert step_and_deed(bench) == (Step.AGREE, Deed.AGREE)
        assert words(bench) == "ring for a further go-ahead (estimate 200.01, agreed 200.00)"
        bench.go_ahead(repair, limit_minor=21000)
        assert bench.stands().step is Step.FIX

    def test_a_revision_within_the_tolerance_wants_none(self) -> None:
        bench, (repair,) = agreed_card()
        bench.go_ahead(repair, limit_minor=20000, tolerance=Tolerance.PERCENT, tolerance_percent=10)
        bench.estimate(repair, total_minor=22000)
        assert bench.stands().step is Step.FIX
        bench.estimate(repair, total_minor=22001)
        assert bench.stands().step is Step.AGREE

    def test_with_the_tolerance_off_nothing_is_past(self) -> None:
        bench, (repair,) = agreed_card()
        bench.go_ahead(repair, limit_minor=20000, limit_min=1, tolerance=Tolerance.OFF)
        bench.time(TimeKind.REPAIR, 300, repair=repair)
        bench.estimate(repair, total_minor=99900)
        assert bench.stands().step is Step.FIX

    def test_who_agreed_to_less_than_the_estimate_has_answered_it(self) -> None:
        bench = Bench()
        one, two = bench.repair(words="plug"), bench.repair(words="bullets")
        estimate = bench.estimate(one, two, total_minor=30000)
        bench.go_ahead(one, estimate=estimate, limit_minor=15000)
        bench.change("repairs", two, dropped="the customer said no")
        assert bench.stands().step is Step.FIX

    def test_a_revision_that_still_prices_what_was_dropped_tells_nothing(self) -> None:
        bench, (one, two) = agreed_card("plug", "bullets")
        bench.go_ahead(one, two, limit_minor=20000)
        bench.estimate(one, two, total_minor=30000)
        bench.change("repairs", two, dropped="the customer said no")
        bench.change("findings", bench.facts.findings[1].id, left="the customer said no")
        assert bench.stands().step is Step.FIX

    def test_a_revision_of_repairs_set_aside_asks_nobody(self) -> None:
        bench, (repair,) = agreed_card()
        bench.go_ahead(repair, limit_minor=100)
        bench.estimate(repair)
        assert bench.stands().step is Step.AGREE
        bench.waive(Need.REPAIRS)
        assert bench.stands().step is Step.BILL

    def test_agreed_up_to_a_limit_with_no_estimate_wanted(self) -> None:
        bench = Bench()
        repair = bench.repair()
        bench.waive(Need.ESTIMATE)
        bench.go_ahead(repair, limit_minor=20000)
        assert bench.stands().step is Step.FIX

    def test_with_the_go_ahead_set_aside_nothing_is_used_up(self) -> None:
        bench, (repair,) = agreed_card()
        bench.go_ahead(repair, limit_min=10)
        bench.time(TimeKind.REPAIR, 60, repair=repair)
        assert bench.stands().step is Step.AGREE
        bench.waive(Need.GO_AHEAD)
        assert step_and_deed(bench) == (Step.FIX, Deed.START)

    def test_what_was_done_without_a_start_written_down_needs_no_more_of_it(self) -> None:
        bench, (repair,) = agreed_card()
        bench.go_ahead(repair, limit_min=10)
        bench.time(TimeKind.REPAIR, 60, repair=repair)
        bench.done(repair)
        assert bench.stands().step is Step.BILL

    def test_minutes_used_up_stop_what_was_not_begun(self) -> None:
        bench, (one, two) = agreed_card("plug", "bullets")
        bench.go_ahead(one, two, limit_min=120)
        bench.start(one)
        bench.time(TimeKind.REPAIR, 120, repair=one)
        stands = bench.stands()
        assert stands.step is Step.AGREE
        assert words(bench) == "ring for a further go-ahead (120 min agreed, 120 used)"
        assert [stop.kind for stop in stands.stops] == [StopKind.WORD]
        assert [(thing.deed, thing.about) for thing in stands.also] == [(Deed.FIX, (one,))]
        bench.go_ahead(one, two, limit_min=180)
        assert bench.stands().step is Step.FIX

    def test_minutes_used_up_stop_nothing_once_all_is_begun(self) -> None:
        bench, (repair,) = agreed_card()
        bench.go_ahead(repair, limit_min=60)
        bench.start(repair)
        bench.time(TimeKind.REPAIR, 90, repair=repair)
        assert step_and_deed(bench) == (Step.FIX, Deed.FIX)

    def test_parts_fitted_use_up_a_limit_in_money(self) -> None:
        bench, (one, two) = agreed_card("plug", "bullets")
        bench.go_ahead(one, two, limit_minor=12000)
        bench.done(one)
        bench.part(repair=one, state=WantedState.FITTED, unit_price=100)
        assert words(bench) == "ring for a further go-ahead (120.00 agreed, 120.00 used)"

    def test_a_fixed_price_is_used_up_by_nothing(self) -> None:
        bench = Bench()
        one, two = bench.repair(words="plug"), bench.repair(words="bullets")
        bench.go_ahead(one, two, estimate=bench.estimate(one, two, fixed_price=True))
        bench.start(one)
        bench.time(TimeKind.REPAIR, 600, repair=one)
        assert bench.stands().step is Step.FIX


class TestMoneyGoesBack:
    def test_an_invoice_credited_whole_is_billed_anew(self) -> None:
        bench, invoice = billed_card()
        bench.credit(invoice)
        stands = bench.stands()
        assert (stands.step, words(bench)) == (Step.BILL, f"bill it anew: INV-26-{invoice:04} was credited")
        assert stands.reach(Step.PAID) is Reach.AHEAD
        assert stands.since == bench.now

    def test_an_invoice_credited_in_part_stands(self) -> None:
        bench, invoice = billed_card()
        bench.credit(invoice, 8640)
        assert bench.stands().step is Step.PAID
        assert words(bench).startswith("take 100.00 ")

    def test_credited_after_it_was_paid_money_goes_back(self) -> None:
        bench, invoice = billed_card()
        bench.pay(invoice)
        credit_note = bench.credit(invoice, 8640)
        stands = bench.stands()
        assert stands.step is Step.COLLECTED
        assert [thing.words for thing in stands.also] == ["give back 86.40"]
        bench.pay(credit_note, -8640)
        assert bench.stands().also == ()

    def test_a_payment_that_bounced_is_owed_again(self) -> None:
        bench, invoice = billed_card()
        bench.pay(invoice)
        bench.collect()
        assert bench.stands().over
        bench.pay(invoice, -18640)
        stands = bench.stands()
        assert (stands.over, stands.step) == (False, Step.PAID)
        assert stands.reach(Step.COLLECTED) is Reach.DONE

    def test_a_recheck_that_falls_due_meanwhile_is_offered(self) -> None:
        bench, _ = billed_card()
        bench.collect(override="Ida")
        recheck = bench.recheck(28)
        assert bench.stands().also == ()
        bench.now += timedelta(days=28)
        assert [(thing.deed, thing.about) for thing in bench.stands().also] == [(Deed.RECHECK, (recheck,))]
