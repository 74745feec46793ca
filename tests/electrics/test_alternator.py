"""Alternators: rectified volts, windings, insulation, diodes."""

import doctest
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.electrics import alternator, rectifier, winding
from tracker.electrics.alternator import Arrangement, bridge, bridge_mean_v, rise
from tracker.electrics.rectifier import diode_ohms, diode_range
from tracker.electrics.winding import balance, insulation, winding_ohm
from tracker.electrics.winding import winding as wound
from tracker.records.limits import Word
from tracker.records.problem import Mistakes
from tracker.seedfiles.limits import load_limits

LIMITS = load_limits()
ARRANGEMENTS: tuple[Arrangement, ...] = ("three-phase", "single-phase", "half-wave")


@pytest.mark.parametrize("module", [alternator, winding, rectifier])
def test_the_examples_in_the_docstrings_hold(module: object) -> None:
    result = doctest.testmod(module)  # type: ignore[arg-type]
    assert result.attempted > 2
    assert result.failed == 0


def _by_adding_up(ac_v: float, arrangement: Arrangement, drop: float) -> float:
    """The mean by going round the sine in small steps, lead by lead."""
    steps = 20_000
    total = 0.0
    for step in range(steps):
        angle = 2 * math.pi * step / steps
        if arrangement == "three-phase":
            leads = [
                ac_v / math.sqrt(3) * math.sqrt(2) * math.sin(angle - k * 2 * math.pi / 3) for k in range(3)
            ]
            volts = max(leads) - min(leads) - 2 * drop
        else:
            sine = ac_v * math.sqrt(2) * math.sin(angle)
            volts = abs(sine) - 2 * drop if arrangement == "single-phase" else sine - drop
        total += max(0.0, volts)
    return total / steps


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
@pytest.mark.parametrize(("ac_v", "drop"), [(12, 0), (12, 0.7), (3, 0.7), (1.1, 0.7), (0.5, 0.7)])
def test_the_mean_is_what_adding_up_gives(arrangement: Arrangement, ac_v: float, drop: float) -> None:
    assert bridge_mean_v(ac_v, arrangement, drop) == pytest.approx(
        _by_adding_up(ac_v, arrangement, drop), abs=2e-4
    )


@given(st.sampled_from(ARRANGEMENTS), st.floats(0, 200), st.floats(0, 2))
def test_drops_only_take_away(arrangement: Arrangement, ac_v: float, drop: float) -> None:
    answer = bridge(ac_v=ac_v, arrangement=arrangement, diode_drop_v=drop)
    assert answer.less_drops_v - 1e-9 <= answer.mean_v <= answer.ideal_v + 1e-9 <= answer.peak_v + 2e-9


def test_frequencies_by_arrangement() -> None:
    found = [bridge(ac_v=20, arrangement=one, poles=14, rev_min=6000).ripple_hz for one in ARRANGEMENTS]
    assert found == [4200, 1400, 700]
    assert bridge(ac_v=20).ac_hz is None


def test_poles_come_in_pairs() -> None:
    with pytest.raises(Mistakes) as caught:
        bridge(ac_v=-1, poles=13, rev_min=1e6)
    assert [problem.field for problem in caught.value.problems] == ["ac_v", "poles", "rev_min"]


def test_leads_come_off_and_are_doubted_where_they_are_as_much() -> None:
    assert wound(reading_ohm=0.5, lead_ohm=0.2, temperature_c=20).ohm == pytest.approx(0.3)
    assert wound(reading_ohm=0.3, lead_ohm=0.2, temperature_c=20).doubtful
    with pytest.raises(Mistakes) as caught:
        wound(reading_ohm=0.1, lead_ohm=0.2, temperature_c=20)
    assert caught.value.problems[0].field == "lead_ohm"


@given(st.floats(0.01, 1000), st.floats(-40, 200), st.floats(-40, 200))
def test_there_and_back_again(ohm: float, one: float, other: float) -> None:
    there = winding_ohm(ohm, one, other)
    assert winding_ohm(there, other, one) == pytest.approx(ohm)
    assert (there >= ohm) == (other >= one) or there == pytest.approx(ohm)


def test_the_span_is_only_asked_for_at_about_22_volts() -> None:
    assert balance(pairs=(22, 22, 23.2), limits=LIMITS).word == Word.LOOK
    assert balance(pairs=(62, 62, 63.2), limits=LIMITS).word == Word.GOOD


def test_no_volts_at_all_are_no_balance() -> None:
    dead = balance(pairs=(0.1, 0.1, 0.1), limits=LIMITS)
    assert dead.word == Word.LOOK
    assert any("no magnetism" in sentence for sentence in dead.why)


def test_ohms_never_clear_and_never_condemn_a_stator() -> None:
    level = balance(pairs=(0.5, 0.5, 0.5), measured="ohms", lead_ohm=0.2, limits=LIMITS)
    odd = balance(pairs=(0.5, 0.5, 0.9), measured="ohms", lead_ohm=0.2, limits=LIMITS)
    assert odd.word == Word.LOOK
    assert odd.deviation_percent == pytest.approx(100 * (0.7 - 1.3 / 3) / (1.3 / 3))
    assert any("never clear a stator" in sentence for sentence in level.why)


@pytest.mark.parametrize("reading", [0.0, 0.4, 1e5, math.inf])
@pytest.mark.parametrize("kind", ["earthed by design", "don't know"])
def test_a_winding_that_may_be_earthed_is_never_condemned(reading: float, kind: str) -> None:
    verdict = insulation(reading_ohm=reading, kind=kind, limits=LIMITS)  # type: ignore[arg-type]
    assert verdict.word == Word.NO_LIMITS


def test_an_isolated_winding_must_read_open() -> None:
    assert insulation(reading_ohm=math.inf, kind="isolated", limits=LIMITS).word == Word.GOOD
    assert insulation(reading_ohm=5e6, kind="isolated", limits=LIMITS).word == Word.FAULT


def test_500_volts_only_with_every_electronic_part_unplugged() -> None:
    with pytest.raises(Mistakes) as caught:
        insulation(reading_ohm=2e6, kind="isolated", tester_500v=True, limits=LIMITS)
    assert caught.value.problems[0].field == "electronics_unplugged"
    sound = insulation(
        reading_ohm=2e6, kind="isolated", tester_500v=True, electronics_unplugged=True, limits=LIMITS
    )
    assert sound.word == Word.GOOD


def test_a_digital_meter_on_ohms_condemns_no_diode() -> None:
    verdict = diode_ohms(forward_ohm=math.inf, reverse_ohm=math.inf, meter="digital", limits=LIMITS)
    assert verdict.word == Word.NO_LIMITS


def test_a_diode_both_ways_on_the_diode_range() -> None:
    def word(forward: float, reverse: float, plain: bool | None = True) -> Word:
        return diode_range(forward_v=forward, reverse_v=reverse, plain_diodes=plain, limits=LIMITS).word

    assert word(0.55, math.inf) == Word.GOOD
    assert word(0.28, math.inf) == Word.GOOD
    assert word(0.55, 0.55) == Word.FAULT
    assert word(math.inf, math.inf) == Word.LOOK
    assert word(0.0, math.inf) == Word.LOOK
    assert word(0.0, 0.0, plain=None) == Word.NO_LIMITS


def test_volts_that_do_not_keep_up_with_speed_are_seen() -> None:
    assert rise(points=[(1000, 12), (2000, 24), (4000, 48)]).spread_percent == pytest.approx(0)
    assert rise(points=[(1000, 12), (4000, 30)]).spread_percent > 40
    with pytest.raises(Mistakes):
        rise(points=[(0, 12)])
