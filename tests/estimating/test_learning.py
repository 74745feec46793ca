"""What past cards teach: against shops whose truth is known, and on a few cards by hand."""

from dataclasses import replace
from math import exp, log, sqrt
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.estimating.making import BIKE, SIZES, asked
from tests.estimating.shops import errors, held, simulated
from tracker.estimating.card_total import CardAsked, estimate_card
from tracker.estimating.learning import learn, spreads_of
from tracker.records.estimating import Factor
from tracker.records.learning import PastJob

SHOPS = 40


def job(number: int, rule: str, took: float, book: float = 30, mechanic: int | None = None) -> PastJob:
    """A past job."""
    return PastJob(repair=number, rule=rule, took_min=took, book_min=book, mechanic=mechanic)


@pytest.mark.parametrize("cards", [50, 200])
@pytest.mark.parametrize("mean_one", [True, False])
def test_it_errs_hardly_more_than_who_knows_the_spreads(cards: int, mean_one: bool) -> None:
    random = Random(11 + cards)
    pairs = [
        (shop, learn(shop.jobs))
        for shop in (simulated(random, cards, mean_one=mean_one) for _ in range(SHOPS))
    ]
    ours, best = errors(pairs)
    assert ours <= 1.1 * best
    assert ours < 0.25  # before any card it is 0.37 and more


@pytest.mark.parametrize("cards", [50, 200])
def test_the_band_holds_eight_in_ten_of_the_cards_that_follow(cards: int) -> None:
    random = Random(17 + cards)
    inside = 0
    for _ in range(SHOPS):
        shop = simulated(random, cards, mean_one=True)
        inside += held(shop, learn(shop.jobs), random, 10)
    assert 0.75 <= inside / SHOPS / 10 <= 0.85


def test_without_past_cards_nothing_changes() -> None:
    learned = learn(())
    assert learned.of("splice-butt") == learned.unseen == Factor()
    one = asked("splice-butt", "under-tank", joints="3")
    book = estimate_card(CardAsked(repairs=(one,)), BIKE, SIZES)
    assert (
        estimate_card(CardAsked(repairs=(one,), factors=learned.rules, unseen=learned.unseen), BIKE, SIZES)
        == book
    )


def test_a_few_cards_go_part_of_the_way() -> None:
    # n = 5 of one rule, too few to tell how far cards lie apart: k = 5, half of ln 1.5.
    learned = learn([job(n, "earth", 45) for n in range(5)])
    found = learned.of("earth")
    assert (found.n, found.spread) == (5, 0.0)
    assert found.raw == pytest.approx(1.5)
    assert found.times == pytest.approx(sqrt(1.5))
    assert learned.of("wire") == Factor()


def test_the_two_spreads_by_hand() -> None:
    # Five rules about ln 0.4 and -0.4, three cards each 0.1 under, on and over: 0.02 / 2 within each.
    groups = [[at - 0.1, at, at + 0.1] for at in (0.4, -0.4, 0.4, -0.4, 0.4)]
    found = spreads_of(groups)
    assert found.cards == pytest.approx(0.1)
    # The means are likeliest with 0.16 = 0.01 (1 / k + 1 / 3): k = 0.0638, below the least that is tried.
    assert found.worth == pytest.approx(0.1)


def test_cards_that_differ_as_much_as_rules_leave_the_book_its_worth() -> None:
    groups = [[-0.3, 0.3, 0.1], [0.2, -0.2, 0.1], [0.3, -0.4, 0.0], [0.1, -0.1, 0.1], [-0.2, 0.3, -0.1]]
    assert spreads_of(groups).worth > 5


@pytest.mark.parametrize("groups", [[], [[0.1]], [[0.1, 0.2]] * 4, [[0.0] * 9]])
def test_too_few_cards_tell_no_spread(groups: list[list[float]]) -> None:
    found = spreads_of(groups)
    assert (found.cards, found.rules, found.worth) == (None, None, 5)


def test_one_rule_with_many_cards_tells_how_far_they_lie_apart_but_not_the_rules() -> None:
    found = spreads_of([[0.1, -0.1] * 6])
    assert found.cards == pytest.approx(0.1 * sqrt(12 / 11))
    assert (found.rules, found.worth) == (None, 5)


def test_an_overnight_clock_is_asked_about_and_not_used() -> None:
    usual = [job(n, "earth", 30 * exp((n % 3 - 1) / 10)) for n in range(9)]
    night = job(99, "earth", 900)
    learned, without = learn([*usual, night]), learn(usual)
    (doubt,) = learned.doubts
    assert doubt.job is night
    assert not doubt.counted
    assert doubt.why.startswith("It took 30 times the book, 900 min for 30;")
    assert learned.of("earth").times == without.of("earth").times


def test_a_night_that_the_clock_shows_is_not_used_whatever_it_comes_to() -> None:
    doubted = PastJob(repair=1, rule="earth", took_min=31, book_min=30, doubt="A clock ran 9 h.")
    learned = learn([doubted, job(2, "earth", 33)])
    assert [doubt.why for doubt in learned.doubts] == ["A clock ran 9 h."]
    assert learned.jobs == 1


def test_a_strange_time_that_was_meant_counts_only_as_far_as_it_would_be_believed() -> None:
    usual = [job(n, "earth", 30 * exp((n % 3 - 1) / 10)) for n in range(9)]
    meant = PastJob(repair=99, rule="earth", took_min=300, book_min=30, meant=True)
    learned = learn([*usual, meant])
    (doubt,) = learned.doubts
    assert doubt.counted
    assert learned.jobs == 10
    # Ten cards, one of them at the end of what is believed, which is under ln 10.
    assert 0 < log(learned.of("earth").raw) < log(10) / 10


def test_a_clock_stopped_at_once_is_asked_about_too() -> None:
    usual = [job(n, "earth", 30 * exp((n % 3 - 1) / 10)) for n in range(9)]
    assert len(learn([*usual, job(99, "earth", 0.5)]).doubts) == 1


def test_a_rule_whose_book_is_far_off_is_believed_once_its_cards_agree() -> None:
    usual = [job(n, f"rule {n % 6}", 30 * exp((n % 3 - 1) / 10)) for n in range(36)]
    odd = [job(100 + n, "odd", 150 * exp((n % 3 - 1) / 10)) for n in range(6)]
    learned = learn([*usual, *odd])
    assert learned.doubts == ()
    assert learned.of("odd").raw == pytest.approx(5, rel=0.1)


def test_mechanics_are_told_apart_where_both_have_cards_enough() -> None:
    quick = [job(n, f"rule {n % 4}", 24 * exp((n % 5 - 2) / 20), mechanic=1) for n in range(20)]
    slow = [job(100 + n, f"rule {n % 4}", 36 * exp((n % 5 - 2) / 20), mechanic=2) for n in range(20)]
    learned = learn([*quick, *slow])
    assert set(learned.mechanics) == {1, 2}
    by_quick, either, by_slow = (learned.of("rule 0", who).times for who in (1, None, 2))
    assert by_quick < either < by_slow
    assert learned.of("rule 0", 3) == learned.of("rule 0")
    assert learn(quick).mechanics == {}
    assert learn([*quick, *slow[:9]]).mechanics == {}


def told_apart(random: Random, cards: int) -> list[PastJob]:
    """Jobs by two mechanics in two zones on two models, each off by a factor of its own, mixed at random."""
    slow, deep, odd = {1: 0.0, 2: 0.3}, {"seat": 0.0, "under-tank": 0.4}, {"Halden": 0.0, "Orrin": -0.3}
    jobs = []
    for n in range(cards):
        who, model = random.choice([1, 2]), random.choice(list(odd))
        # Who is slow works under the tank more often: neither may be blamed for the other.
        zone = "under-tank" if random.random() < (0.7 if who == 2 else 0.3) else "seat"
        by = slow[who] + deep[zone] + odd[model] + random.gauss(0, 0.2)
        jobs.append(replace(job(n, f"rule {n % 5}", 30 * exp(by)), mechanic=who, zone=zone, model=model))
    return jobs


def test_zones_and_models_are_told_apart_where_cards_suffice() -> None:
    learned = learn(told_apart(Random(5), 400))
    assert (set(learned.zones), set(learned.models)) == ({"seat", "under-tank"}, {"Halden", "Orrin"})

    def apart(one: Factor, other: Factor) -> float:
        return log(other.times / one.times)

    assert apart(learned.zones["seat"], learned.zones["under-tank"]) == pytest.approx(0.4, abs=0.15)
    assert apart(learned.models["Halden"], learned.models["Orrin"]) == pytest.approx(-0.3, abs=0.1)
    # The whole comes out: slow, under the tank, on an Orrin, against quick, under the seat, on a Halden.
    dear = learned.of("rule 0", 2, "under-tank", "Orrin").expected_times
    cheap = learned.of("rule 0", 1, "seat", "Halden").expected_times
    assert log(dear / cheap) == pytest.approx(0.3 + 0.4 - 0.3, abs=0.15)
    few = learn(told_apart(Random(5), 12))
    assert (few.zones, few.models) == ({}, {})


def test_what_is_told_apart_errs_less_than_the_rule_alone() -> None:
    random = Random(9)
    learned = learn(told_apart(random, 200))
    with_all = without = 0.0
    for one in told_apart(random, 400):
        true = log(one.took_min / one.book_min)
        told = learned.of(one.rule, one.mechanic, one.zone, one.model)
        with_all += (log(told.times) - true) ** 2
        without += (log(learned.of(one.rule).times) - true) ** 2
    assert with_all < 0.6 * without


def test_zones_go_on_top_of_the_rule_in_an_estimate() -> None:
    one = asked("splice-butt", "under-tank", joints="3")
    twice = {"splice-butt": Factor(9, 2.0, 2.0)}
    asking = CardAsked(repairs=(one,), factors=twice, zones={"under-tank": Factor(12, 1.5, 1.5)})
    (line,) = [line for line in estimate_card(asking, BIKE, SIZES).lines if line.rule]
    assert line.minutes.likely == 3 * line.book.likely
    assert "Times 3.00 from 9 past cards and 12 by mechanic, zone or model." in line.why


@pytest.mark.parametrize("true", [0.0, 0.6])
def test_how_repairs_of_one_card_go_together_is_told_by_pairs_of_them(true: float) -> None:
    random = Random(3)
    jobs = []
    for card_ in range(150):
        shared = random.gauss(0, 0.3 * sqrt(true))
        for n in range(2):
            by = shared + random.gauss(0, 0.3 * sqrt(1 - true))
            jobs.append(replace(job(2 * card_ + n, f"rule {card_ % 5}", 30 * exp(by)), card=card_))
    learned = learn(jobs)
    assert 145 <= learned.pairs <= 150  # a time out of all proportion is left out, and its pair with it
    assert learned.together == pytest.approx(true, abs=0.15)
    assert learn(jobs[:18]).together is None  # nine pairs
    one = asked("splice-butt", "under-tank")
    asking = CardAsked(repairs=(one,), correlation=learned.together or 0.0, pairs=learned.pairs)
    assert (
        f"told by {learned.pairs} pairs of past repairs on one card"
        in estimate_card(asking, BIKE, SIZES).band.treatment
    )


@given(st.lists(st.tuples(st.sampled_from("abcdefgh"), st.floats(1, 900)), max_size=40), st.randoms())
@settings(max_examples=50, deadline=None)
def test_the_order_of_cards_does_not_matter_and_factors_lie_between_book_and_cards(
    cards: list[tuple[str, float]], random: Random
) -> None:
    jobs = [job(n, rule, took) for n, (rule, took) in enumerate(cards)]
    learned = learn(jobs)
    shuffled = list(jobs)
    random.shuffle(shuffled)
    again = learn(shuffled)
    assert {doubt.job.repair for doubt in learned.doubts} == {doubt.job.repair for doubt in again.doubts}
    for rule, factor in learned.rules.items():
        assert min(1.0, factor.raw) <= factor.times * (1 + 1e-9)
        assert factor.times <= max(1.0, factor.raw) * (1 + 1e-9)
        assert factor.expected_times >= factor.times
        assert again.of(rule).times == pytest.approx(factor.times)


def test_minutes_of_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="above 0"):
        learn([job(1, "earth", 0)])
