"""Least, likely and most: their mean, how they add up, and the band that holds 8 cases in 10."""

from decimal import Decimal
from math import exp, log, sqrt
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.estimating.spread import (
    CORRELATION,
    WIDEST,
    add,
    band,
    certain,
    deviation,
    half_widths,
    mean,
    times,
    together,
    total,
    whole,
)
from tracker.records.estimating import Minutes
from tracker.records.repair_rule import Spread


def spread(least: float, likely: float, most: float) -> Spread:
    return Spread(Decimal(str(least)), Decimal(str(likely)), Decimal(str(most)))


@st.composite
def spreads(draw: st.DrawFn) -> Spread:
    """Any spread that a rule may hold: rising, and its most at most ten times its likely."""
    likely = draw(st.integers(1, 2000))
    least = draw(st.integers(0, likely))
    most = draw(st.integers(likely, WIDEST * likely))
    return Spread(Decimal(least) / 10, Decimal(likely) / 10, Decimal(most) / 10)


def test_the_mean_leans_to_the_likely_one() -> None:
    assert mean(spread(4, 6, 14)) == 7
    assert deviation(spread(4, 6, 14)) == pytest.approx(10 / 6)


def test_whole_minutes_go_outward() -> None:
    assert whole(spread(2.9, 3.5, 9.1)) == Minutes(2, 4, 10, 4)


def test_what_is_known_has_no_range() -> None:
    assert half_widths(certain(20)) == (0, 0)
    found = band([certain(20), certain(5)])
    assert (found.low, found.high) == (25, 25)


def test_half_widths_of_one_line_by_hand() -> None:
    # 30-45-120: mean 55, sd 15; v = ln(1 + 225 / 3025) = 0.07175; √v = 0.26786; x 1.2816 = 0.34329.
    # 55 x exp(-0.03587 - 0.34329) = 37.64; 55 x exp(-0.03587 + 0.34329) = 74.79.
    below, above = half_widths(spread(30, 45, 120))
    assert below == pytest.approx(55 - 37.64, abs=0.01)
    assert above == pytest.approx(74.79 - 55, abs=0.01)


def test_widths_go_together_between_root_and_sum() -> None:
    assert together([3.0, 4.0], 0) == pytest.approx(5)
    assert together([3.0, 4.0], 1) == pytest.approx(7)
    # (1 - 0.3) x 25 + 0.3 x 49 = 32.2.
    assert together([3.0, 4.0], 0.3) == pytest.approx(sqrt(32.2))


def test_nothing_is_nothing() -> None:
    assert whole(add([])) == Minutes(0, 0, 0, 0)
    assert (band([]).low, band([]).high) == (0, 0)


@given(st.lists(spreads(), min_size=1, max_size=8))
@settings(max_examples=80, deadline=None)
def test_the_band_lies_between_all_least_and_all_most(lines: list[Spread]) -> None:
    found, sums = band(lines), total(whole(line) for line in lines)
    assert sums.least <= found.low <= found.high <= sums.most


@given(st.lists(spreads(), max_size=6), spreads())
@settings(max_examples=80, deadline=None)
def test_one_line_more_moves_neither_end_down(lines: list[Spread], more: Spread) -> None:
    before, after = band(lines), band([*lines, more])
    assert after.low >= before.low
    assert after.high >= before.high


@given(spreads(), spreads(), st.integers(0, 12), st.lists(spreads(), max_size=3))
@settings(max_examples=80, deadline=None)
def test_one_joint_more_moves_neither_end_down(
    once: Spread, joint: Spread, count: int, others: list[Spread]
) -> None:
    fewer = add([once, times(joint, Decimal(count))])
    more = add([once, times(joint, Decimal(count + 1))])
    before, after = band([fewer, *others]), band([more, *others])
    assert after.low >= before.low
    assert after.high >= before.high


@given(st.lists(spreads(), max_size=5), st.lists(spreads(), max_size=5), st.lists(spreads(), max_size=2))
@settings(max_examples=80, deadline=None)
def test_together_reaches_no_higher_than_apart(
    one: list[Spread], other: list[Spread], shared: list[Spread]
) -> None:
    both = band([*shared, *one, *other])
    assert both.high <= band([*shared, *one]).high + band([*shared, *other]).high


@given(st.lists(spreads(), max_size=6), st.randoms(use_true_random=False))
@settings(max_examples=40, deadline=None)
def test_the_order_of_lines_does_not_matter(lines: list[Spread], random: Random) -> None:
    shuffled = list(lines)
    random.shuffle(shuffled)
    assert band(shuffled) == band(lines)


@pytest.mark.parametrize(
    "lines",
    [
        [(4, 6, 10)],
        [(2.4, 3, 6), (16, 20, 40), (6, 10, 18)],
        [(30, 45, 120), (5, 8, 30), (20, 28, 60), (3, 4, 12)],
        [(10, 14, 28)] * 8,
    ],
    ids=["one line", "a splice under the tank", "four of all sizes", "eight alike"],
)
def test_the_band_holds_eight_in_ten_of_its_own_model(lines: list[tuple[float, float, float]]) -> None:
    """Log-normal lines with the stated correlation, drawn 20 000 times; the band is not rounded outward."""
    random, shapes = Random(412), []
    for line in (spread(*figures) for figures in lines):
        middle, variance = float(mean(line)), log(1 + (deviation(line) / float(mean(line))) ** 2)
        shapes.append((log(middle) - variance / 2, sqrt(variance)))
    scaled = [times(spread(*figures), Decimal(100)) for figures in lines]  # so that rounding weighs nothing
    found, held, draws = band(scaled), 0, 20_000
    for _ in range(draws):
        shared = random.gauss(0, 1) * sqrt(CORRELATION)
        time = sum(
            100 * exp(mu + sd * (shared + random.gauss(0, 1) * sqrt(1 - CORRELATION))) for mu, sd in shapes
        )
        held += found.low <= time <= found.high
    assert held / draws == pytest.approx(0.8, abs=0.02)
