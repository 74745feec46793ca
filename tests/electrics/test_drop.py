"""The drop of whole circuits, worked by hand, and how it moves."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.electrics.drop import DropSum, drop, operating_current_a
from tracker.electrics.lamp import filament_current_a
from tracker.records.electrics import Load
from tracker.records.problem import Mistakes
from tracker.seedfiles.tables import electric_tables

T = electric_tables()


def of(**asked: object) -> DropSum:
    return drop(**{"wire": "0.75 mm2 thin wall", "length_mm": 2000, "tables": T, **asked})  # type: ignore[arg-type]


def test_ten_amps_over_two_metres_back_by_the_frame() -> None:
    answer = of(current_a=10)
    assert answer.drop_v == pytest.approx(10 * 0.0247 * 2)
    assert answer.load_v == pytest.approx(12.8 - 0.494)
    assert answer.load_w == pytest.approx(123.06)
    assert answer.surge_a is None


def test_joints_and_a_return_wire_add_up() -> None:
    answer = of(current_a=10, returns="wire", return_length_mm=1000, joints=3, joint_ohm=0.01)
    assert (answer.wire_v, answer.joints_v, answer.return_v) == pytest.approx((0.494, 0.3, 0.247))
    assert answer.drop_v == pytest.approx(1.041)
    assert of(current_a=10, returns="wire").return_v == pytest.approx(0.494), "as long as the way out"


def test_a_joint_without_a_figure_is_a_sound_one_and_says_so() -> None:
    answer = of(current_a=10, joints=2)
    assert answer.joints_ohm == pytest.approx(0.01)
    assert any("common practice" in source for source in answer.source)


def test_steady_watts_draw_more_from_less() -> None:
    answer = of(power_w=120, frame_ohm=0.1)
    assert answer.load_w == pytest.approx(120)
    assert answer.current_a > 120 / 12.8


def test_watts_that_no_such_wire_can_bring() -> None:
    with pytest.raises(Mistakes) as caught:
        of(wire="0.35 mm2", length_mm=50_000, power_w=200)
    assert "cannot be had" in caught.value.problems[0].sentence


def test_a_lamp_draws_as_the_volts_left_let_it_and_more_when_cold() -> None:
    answer = of(lamp_w=55, rated_v=12, frame_ohm=0.05)
    assert answer.current_a == pytest.approx(filament_current_a(55, 12, answer.load_v))
    assert answer.surge_a is not None
    assert answer.surge_a > 6 * answer.current_a


def test_a_limit_is_judged() -> None:
    assert of(current_a=10, limit_v=0.5).within is True
    answer = of(current_a=10, limit_v=0.4)
    assert answer.within is False
    assert answer.why[-1] == "That is over the limit of 0.4 V."


def test_gauge_ohms_are_said_to_be_solid() -> None:
    assert any("solid" in sentence for sentence in of(wire="AWG 18", current_a=5).why)
    assert not any("solid" in sentence for sentence in of(current_a=5).why)


def test_every_mistake_at_once_with_its_limits() -> None:
    with pytest.raises(Mistakes) as caught:
        of(wire="3 mm", length_mm=-5, supply_v=100, returns="sea", current_a=1, power_w=5, temperature_c=900)
    problems = {problem.field: problem for problem in caught.value.problems}
    assert set(problems) == {"wire", "power_w", "length_mm", "supply_v", "returns", "temperature_c"}
    assert problems["length_mm"].sentence == "“length_mm” is -5 mm; it must be over 0 to 200000 mm."
    assert problems["supply_v"].given == "100"


def test_a_load_must_be_given() -> None:
    with pytest.raises(Mistakes) as caught:
        of()
    assert "One of" in caught.value.problems[0].sentence


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0, 0.0, 1e9])
def test_numbers_that_are_none(bad: float) -> None:
    with pytest.raises(Mistakes):
        of(current_a=bad)


amounts = st.floats(0.1, 20)


@given(amounts, st.floats(100, 5000), st.floats(-40, 150), st.floats(1.01, 2))
@settings(max_examples=60, deadline=None)
def test_the_drop_rises_with_current_length_and_heat(
    a: float, mm: float, temperature_c: float, more: float
) -> None:
    asked = {"wire": "6 mm2 thin wall", "current_a": a, "length_mm": mm, "temperature_c": temperature_c}
    first = of(**asked).drop_v
    assert of(**asked | {"current_a": a * more}).drop_v > first
    assert of(**asked | {"length_mm": mm * more}).drop_v > first
    assert of(**asked | {"temperature_c": temperature_c + more}).drop_v > first


@given(st.sampled_from(["resistance", "power", "filament", "current"]), st.floats(1, 100), st.floats(0, 0.2))
@settings(max_examples=80, deadline=None)
def test_the_circuit_balances(kind: str, size: float, ohm: float) -> None:
    load = Load(kind, size, 12.0)  # type: ignore[arg-type]
    current = operating_current_a(load, 13.0, ohm)
    if current is None:
        assert kind in {"power", "current"}
        return
    left = 13.0 - current * ohm
    drawn = {
        "current": size,
        "resistance": left / size,
        "power": size / left,
        "filament": filament_current_a(size, 12, left),
    }
    assert current == pytest.approx(drawn[kind], rel=1e-6)
    assert left > 0
