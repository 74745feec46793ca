"""An ordinary life from an empty card through all ten steps, and how the life line is drawn."""

from datetime import timedelta

from tests.card.asking import step_and_deed, words
from tests.card.build import Bench, agreed_card
from tracker.card.standing import Deed, Reach, Step
from tracker.records.bike import UNKNOWN
from tracker.records.recheck import RecheckState
from tracker.records.work import TimeKind


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
