"""Lamps, LED swaps, flashers and colours."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.electrics.ballast import HEAT, ROAD_LEGAL, BallastSum, ballast, part_ohm, worth
from tracker.electrics.colour import colour_letters
from tracker.electrics.flasher import flasher, timed_rate
from tracker.electrics.lamp import lamp
from tracker.records.problem import Mistakes
from tracker.seedfiles.tables import electric_tables

T = electric_tables()


def swap(**asked: object) -> BallastSum:
    return ballast(**{"led_w": 2, "tables": T, **asked})  # type: ignore[arg-type]


def test_a_lamp_at_its_test_volts_and_on_a_poor_feed() -> None:
    full, poor = lamp(volts=13.5, category="P21W", tables=T), lamp(volts=10.8, category="p21w", tables=T)
    assert full.power_w == pytest.approx(25)
    assert poor.current_a == pytest.approx(25 / 13.5 * 0.8**0.55)
    assert poor.light_percent == pytest.approx(100 * 0.8**3.4)
    assert poor.surge_a > 6 * poor.current_a
    assert any("from memory" in sentence for sentence in full.why)


def test_a_lamp_by_its_watts_and_several() -> None:
    answer = lamp(volts=12, watts=21, count=4, tables=T)
    assert answer.total_current_a == pytest.approx(7)
    assert answer.most_power_w is None
    assert lamp(volts=12, category="H4", filament="second", tables=T).power_w == pytest.approx(55)


def test_lamp_mistakes_together() -> None:
    with pytest.raises(Mistakes) as caught:
        lamp(volts=0, category="Q99", watts=5000, count=0, tables=T)
    assert [problem.field for problem in caught.value.problems] == [
        "volts",
        "count",
        "watts",
        "category",
        "watts",
    ]
    with pytest.raises(Mistakes):
        lamp(volts=12, category="P21W", filament="second", tables=T)


@given(st.floats(6, 16), st.floats(1.01, 1.3), st.floats(1, 100))
def test_more_volts_more_amps_but_less_than_in_proportion(volts: float, more: float, watts: float) -> None:
    low, high = lamp(volts=volts, watts=watts, tables=T), lamp(volts=volts * more, watts=watts, tables=T)
    assert low.current_a < high.current_a < low.current_a * more
    assert high.hot_ohm > low.hot_ohm > low.cold_ohm


def test_the_ballast_for_two_watts_in_place_of_twenty_one() -> None:
    answer = swap()
    assert answer.ballast_ohm == pytest.approx(144 / 19)
    assert answer.lit_power_w == pytest.approx(14.4**2 * 19 / 144)
    assert (answer.part_ohm, answer.part_rating_w, answer.ballasts, answer.diodes) == (7.5, 50, 4, 0)
    assert answer.cautions[:2] == (HEAT, ROAD_LEGAL)


def test_a_hot_place_takes_a_bigger_part_or_none() -> None:
    assert swap(ambient_c=60).part_rating_w == 100
    assert swap(ambient_c=60).part_worth_w == pytest.approx(80)
    none = swap(ambient_c=150)
    assert none.part_rating_w is None
    assert any("fixed-rate flasher" in sentence for sentence in none.why)


def test_one_turn_warning_lamp_needs_two_diodes() -> None:
    answer = swap(warning_lamps=1)
    assert answer.diodes == 2
    assert any("Two diodes" in sentence for sentence in answer.why)


def test_the_fuse_is_checked_with_all_lit() -> None:
    assert swap(fuse_a=10).fuse_fits is True
    assert swap(fuse_a=7.5).fuse_fits is False
    assert swap(fuse_a=10, fuse_other_a=5).fuse_fits is False
    assert swap().fuse_fits is None


def test_an_led_that_saves_nothing() -> None:
    with pytest.raises(Mistakes) as caught:
        swap(led_w=21)
    assert caught.value.problems[0].sentence == "“led_w” is 21 W; it must be less than the lamp's 21 W."


@given(st.floats(1, 30), st.floats(0.05, 0.95), st.floats(-20, 180))
@settings(max_examples=100, deadline=None)
def test_the_part_loads_at_least_as_the_lamp_and_lives(lamp_w: float, share: float, ambient_c: float) -> None:
    led_w = max(0.1, lamp_w * share)
    answer = swap(lamp_w=lamp_w, led_w=led_w, ambient_c=ambient_c)
    assert answer.part_ohm <= answer.ballast_ohm * (1 + 1e-6)
    assert answer.part_ohm >= 1.3 / 1.5 * answer.ballast_ohm * (1 - 1e-6), "the widest gap of the series"
    assert 12**2 / answer.part_ohm + led_w >= lamp_w * (1 - 1e-6)
    if answer.part_worth_w is not None:
        assert answer.part_worth_w >= 1.5 * answer.part_lit_power_w
    assert answer.hazard_current_a == pytest.approx(2 * answer.side_current_a)


def test_values_as_sold_and_what_heat_leaves() -> None:
    assert [part_ohm(ohm, T.ballasts) for ohm in (0.99, 1.0, 9.99, 10, 24.9)] == [0.91, 1.0, 9.1, 10, 24]
    derate = T.practice("ballast-derate")
    assert [worth(c, derate) for c in (-10, 25, 112.5, 200, 300)] == [1, 1, 0.5, 0, 0]


def test_flashes_are_timed_after_they_settle() -> None:
    steady = [0.4 * n for n in range(5)]
    times = [*steady, 2.0, 2.75, 3.5, 4.25]
    rate, cycles, settled = timed_rate(times, 5, 3)
    assert rate == pytest.approx(80)
    assert (cycles, settled) == (3, True)
    answer = flasher(times_s=times, tables=T)
    assert (answer.verdict, answer.settled) == ("within", True)
    short = flasher(times_s=times[:5], tables=T)
    assert short.settled is False
    assert any("Too few" in sentence for sentence in short.why)


@pytest.mark.parametrize(
    ("per_min", "load_w", "word"),
    [(140, 23, "lamp for lost"), (140, 42, "wrong flasher"), (40, 23, "thermal"), (40, 42, "low volts")],
)
def test_a_wrong_rate_is_explained_by_the_load(per_min: float, load_w: float, word: str) -> None:
    answer = flasher(per_min=per_min, load_w=load_w, made_for_w=42, tables=T)
    assert word in answer.why[-1]


def test_flasher_mistakes_together() -> None:
    with pytest.raises(Mistakes) as caught:
        flasher(flashes=2, seconds=0, times_s=[0, 1, float("nan"), 3], rule="sea", load_w=0, tables=T)
    fields = [problem.field for problem in caught.value.problems]
    assert fields == ["times_s", "rule", "flashes", "seconds", "times_s", "load_w"]
    with pytest.raises(Mistakes):
        flasher(flashes=20, tables=T)
    with pytest.raises(Mistakes):
        flasher(tables=T)


def test_colours_are_kept_as_words_because_letters_clash() -> None:
    assert colour_letters(["blue"], T, "Japanese") != colour_letters(["blue"], T, "British")
    assert colour_letters(["Purple", "white"], T, "British") == "P/W"
    assert colour_letters(["pink"], T, "Japanese") == "P"
    with pytest.raises(Mistakes) as caught:
        colour_letters(["mauve", "red"], T)
    assert caught.value.problems[0].given == "mauve"
    with pytest.raises(Mistakes):
        colour_letters(["red"], T, "Martian")
