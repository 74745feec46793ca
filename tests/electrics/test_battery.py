"""Batteries: standing volts by kind, acid, load, cranking, drain."""

import doctest

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.electrics import battery as standing
from tracker.electrics import battery_acid, battery_load, battery_use
from tracker.electrics.battery import battery
from tracker.electrics.battery_acid import corrected_gravity, hydrometer, self_discharge
from tracker.electrics.battery_load import load_limit, load_test
from tracker.electrics.battery_use import cranking, drain
from tracker.records.limits import Word
from tracker.records.problem import Mistakes
from tracker.seedfiles.limits import load_limits

LIMITS = load_limits()


@pytest.mark.parametrize("module", [standing, battery_acid, battery_load, battery_use])
def test_the_examples_in_the_docstrings_hold(module: object) -> None:
    result = doctest.testmod(module)  # type: ignore[arg-type]
    assert result.attempted > 2
    assert result.failed == 0


def test_a_flooded_battery_between_two_points() -> None:
    answer = battery(standing_v=12.3, kind="flooded", surface_charge_removed=True, limits=LIMITS)
    assert answer.percent == pytest.approx(62.5)
    assert (answer.low_percent, answer.high_percent) == (50, 75)
    assert answer.confidence == "good"
    assert answer.valid is True


@pytest.mark.parametrize(("volts", "percent"), [(10.0, 0), (11.69, 0), (12.61, 100), (13.4, 100)])
def test_a_flooded_battery_is_held_at_the_ends(volts: float, percent: float) -> None:
    assert battery(standing_v=volts, kind="flooded", limits=LIMITS).percent == percent


def test_an_agm_battery_below_its_table_is_left_open() -> None:
    answer = battery(standing_v=11.2, kind="agm", rest_h=5, limits=LIMITS)
    assert answer.percent is None
    assert (answer.low_percent, answer.high_percent, answer.charge_first) == (0, 25, True)


def test_an_agm_battery_over_its_full_band_was_just_charged() -> None:
    answer = battery(standing_v=13.3, kind="agm", rest_h=8, limits=LIMITS)
    assert answer.valid is False
    assert any("Let it rest" in sentence for sentence in answer.why)


def test_gel_is_marked_low_confidence() -> None:
    answer = battery(standing_v=12.6, kind="gel", rest_h=8, limits=LIMITS)
    assert (answer.percent, answer.confidence) == (75, "low")
    assert any("Low confidence" in sentence for sentence in answer.why)


@pytest.mark.parametrize(
    ("volts", "band", "charge_first", "may_boost"),
    [
        (9.9, (0, 0), False, False), (10.0, (0, 0), False, False), (11.0, (0, 20), True, True),
        (12.8, (20, 40), True, True),
        (13.2, (40, 90), None, True), (13.39, (40, 90), None, True), (13.4, (90, 100), False, True),
    ],
)  # fmt: skip
def test_lithium_comes_in_bands(
    volts: float, band: tuple[float, float], charge_first: bool | None, may_boost: bool
) -> None:
    answer = battery(standing_v=volts, kind="lithium", limits=LIMITS)
    assert answer.percent is None
    assert (answer.low_percent, answer.high_percent) == band
    assert answer.charge_first is charge_first
    assert answer.may_boost is may_boost
    assert answer.confidence == "bands"


def test_six_volts_and_unknown_kinds_have_no_table() -> None:
    for answer in (
        battery(standing_v=6.1, kind="flooded", system_v=6, limits=LIMITS),
        battery(standing_v=12.6, kind="don't know", limits=LIMITS),
    ):
        assert answer.percent is None
        assert answer.confidence == "none"
        assert answer.charge_first is None
    assert not battery(standing_v=9.8, kind="don't know", limits=LIMITS).may_boost


def test_standing_volts_alone_pass_nothing() -> None:
    full = battery(standing_v=12.7, kind="flooded", surface_charge_removed=True, limits=LIMITS)
    assert full.why[-1] == "Standing volts alone never pass a battery: load test it."


@given(st.sampled_from(["flooded", "agm", "gel", "lithium"]), st.floats(0, 20), st.floats(0, 20))
def test_more_volts_never_mean_less_charge(kind: str, one: float, other: float) -> None:
    low, high = (battery(standing_v=volts, kind=kind, limits=LIMITS) for volts in sorted((one, other)))
    assert low.low_percent <= high.low_percent
    assert low.high_percent <= high.high_percent
    if low.percent is not None and high.percent is not None:
        assert low.percent <= high.percent
    assert 0 <= high.low_percent <= high.high_percent <= 100


def test_every_bad_argument_is_named() -> None:
    with pytest.raises(Mistakes) as caught:
        battery(standing_v=-1, kind="nickel", system_v=24, rest_h=-2, limits=LIMITS)
    assert [problem.field for problem in caught.value.problems] == [
        "standing_v",
        "kind",
        "system_v",
        "rest_h",
    ]
    assert "from 0 to 20 V" in caught.value.problems[0].sentence


def test_a_hydrometer_reads_true_at_80_f() -> None:
    assert corrected_gravity(1.265, (80 - 32) / 1.8, LIMITS) == pytest.approx(1.265)


def test_only_a_charged_battery_is_judged_by_its_cells() -> None:
    answer = hydrometer(cells=(1.10, 1.20), temperature_c=20, limits=LIMITS)
    assert answer.serviceable is None
    assert answer.weakest_cell == 1


def test_cells_within_the_limit_are_serviceable() -> None:
    answer = hydrometer(cells=(1.270, 1.245), temperature_c=26.7, charged=True, limits=LIMITS)
    assert answer.spread == 0.025
    assert answer.serviceable is True


def test_self_discharge_grows_with_warmth() -> None:
    rates = [
        self_discharge(gravity=1.265, days=1, temperature_c=t, limits=LIMITS).per_day
        for t in (10, 20, 30, 37)
    ]
    assert rates == sorted(rates)
    assert rates[0] == pytest.approx(0.0003)
    with pytest.raises(Mistakes):
        self_discharge(gravity=1.265, days=1, temperature_c=50, limits=LIMITS)


@given(st.floats(-18, 60), st.floats(-18, 60))
def test_the_load_test_asks_no_more_of_a_colder_battery(one: float, other: float) -> None:
    cold, warm = sorted((one, other))
    cold_v, warm_v = load_limit(cold, LIMITS).fault_below, load_limit(warm, LIMITS).fault_below
    assert cold_v is not None
    assert warm_v is not None
    assert 8.5 <= cold_v <= warm_v <= 9.6


def test_the_load_of_a_load_test() -> None:
    assert load_test(end_v=10, temperature_c=20, cca_a=180, limits=LIMITS).load_a == 90
    assert load_test(end_v=10, temperature_c=20, battery_ah=10, limits=LIMITS).load_a == 30
    assert load_test(end_v=10, temperature_c=20, limits=LIMITS).load_a is None


def test_cranking_of_a_flat_battery_is_not_judged() -> None:
    assert cranking(cranking_v=7.5, kind="agm", charged=False, limits=LIMITS).word == Word.NO_LIMITS
    assert cranking(cranking_v=7.5, kind="agm", limits=LIMITS).word == Word.FAULT
    assert cranking(cranking_v=7.5, kind="lithium", limits=LIMITS).word == Word.NO_LIMITS


def test_a_drain_of_nothing_lasts_for_ever_and_self_discharge_does_not() -> None:
    assert drain(drain_ma=0, battery_ah=12, limits=LIMITS).days is None
    assert drain(drain_ma=0, battery_ah=12, self_discharge_percent=0.5, limits=LIMITS).days == pytest.approx(
        100
    )


@given(st.floats(0.1, 500), st.floats(1, 50), st.floats(1.01, 4))
def test_more_drain_is_fewer_days_and_more_ah_more(drain_ma: float, ah: float, more: float) -> None:
    def days(milliamps: float, battery_ah: float) -> float:
        found = drain(drain_ma=milliamps, battery_ah=battery_ah, limits=LIMITS).days
        assert found is not None
        return found

    assert days(drain_ma * more, ah) < days(drain_ma, ah) < days(drain_ma, ah * more)


class TestLithiumThatIsFlat:
    """A maker's word comes first; an ordinary charger never does."""

    @pytest.mark.parametrize("volts", [10.0, 9.0, 3.0])
    def test_below_its_floor_it_is_not_charged(self, volts: float) -> None:
        answer = battery(standing_v=volts, kind="lithium", limits=LIMITS)
        assert (answer.may_boost, answer.charge_first, answer.load_test_advised) == (False, False, False)
        assert not any("charge it first" in words for words in answer.why)
        assert any("its maker says" in words for words in answer.why)

    def test_above_it_only_with_a_charger_of_its_own(self) -> None:
        answer = battery(standing_v=12.5, kind="lithium", limits=LIMITS)
        assert (answer.may_boost, answer.charge_first) == (True, True)
        assert any("with a charger for lithium" in words for words in answer.why)

    @pytest.mark.parametrize(
        ("kind", "system_v", "volts", "may_boost"),
        [
            ("don't know", 12, 9.9, False), ("don't know", 12, 10.1, True),
            ("lithium", 6, 4.9, False), ("lithium", 6, 6.6, True), ("don't know", 6, 6.1, True),
            ("flooded", 6, 2.0, True),
        ],
    )  # fmt: skip
    def test_where_there_is_no_table(self, kind: str, system_v: int, volts: float, may_boost: bool) -> None:
        answer = battery(standing_v=volts, kind=kind, system_v=system_v, limits=LIMITS)
        assert answer.may_boost is may_boost
        assert answer.charge_first is (None if may_boost else False)
        assert answer.source


@pytest.mark.parametrize(
    ("kind", "words"), [("agm", "an AGM battery"), ("flooded", "a flooded battery"), ("gel", "a gel battery")]
)
def test_a_kind_is_said_with_its_article(kind: str, words: str) -> None:
    assert words in battery(standing_v=12.5, kind=kind, limits=LIMITS).why[0]
