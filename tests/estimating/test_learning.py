"""What past cards teach: against shops whose truth is known, and on a few cards by hand."""

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
