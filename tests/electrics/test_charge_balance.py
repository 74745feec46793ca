"""The alternator against the loads that are on."""

import doctest
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.electrics import charge_balance
from tracker.electrics.charge_balance import OnLoad, Output, Spare, charge_budget, load_current_a, output_a
from tracker.records.electrics import Load
from tracker.records.problem import Mistakes

MEASURED = Output(points=((1200, 6), (3000, 16), (5000, 20)))
LOADS = (
    OnLoad("low beam", Load("power", 56)),
    OnLoad("tail lamp", Load("power", 7)),
    OnLoad("ignition", Load("current", 2.5)),
)


def test_the_examples_in_the_docstrings_hold() -> None:
    result = doctest.testmod(charge_balance)
    assert result.attempted > 4
    assert result.failed == 0


def test_hand_worked() -> None:
    answer = charge_budget(loads=LOADS, output=MEASURED, idle_rev_min=1200, cruise_rev_min=4000)
    idle, cruise = answer.now
    assert (idle.gives_a, idle.takes_a, idle.spare_a, idle.word) == (6, 7, -1, Spare.SHORT)
    assert (cruise.gives_a, cruise.spare_a, cruise.word) == (18, 11, Spare.SPARE)
    assert answer.break_even_rev_min == pytest.approx(1380, abs=1)
    assert answer.after == ()


def test_led_for_bulb_takes_its_place_and_grips_come_on_top() -> None:
    answer = charge_budget(
        loads=LOADS,
        output=MEASURED,
        what_if=[OnLoad("tail lamp", Load("power", 1.4)), OnLoad("heated grips", Load("resistance", 4))],
    )
    assert answer.after[0].takes_a == pytest.approx(4 + 0.1 + 2.5 + 3.5)
    assert answer.break_even_after_rev_min is not None
    assert answer.break_even_rev_min is not None
    assert answer.break_even_after_rev_min > answer.break_even_rev_min


def test_a_load_taken_out() -> None:
    answer = charge_budget(loads=LOADS, output=MEASURED, what_if=[OnLoad("low beam", None)])
    assert answer.after[0].takes_a == pytest.approx(3)


def test_no_speed_is_enough() -> None:
    answer = charge_budget(loads=[OnLoad("pump", Load("current", 30))], output=MEASURED)
    assert answer.break_even_rev_min is None
    assert "No speed is enough." in answer.why


def test_loads_of_every_kind() -> None:
    assert load_current_a(OnLoad("coil", Load("resistance", 3.5)), 14) == 4
    assert load_current_a(OnLoad("lamp", Load("filament", 21, 13.5)), 13.5) == pytest.approx(21 / 13.5)
    assert load_current_a(OnLoad("indicators", Load("power", 42), 0.5), 14) == 1.5


def test_rated_watts_are_met_at_their_speed_and_nothing_is_given_below_the_cut_in() -> None:
    rated = Output(rated_w=280, rated_rev_min=5000, rated_v=14, cut_in_rev_min=900)
    assert output_a(rated, 5000) == pytest.approx(20)
    assert output_a(rated, 900) == 0
    assert output_a(rated, 15_000) < 20.5


@given(st.floats(0, 20_000), st.floats(0, 20_000), st.sampled_from([MEASURED, Output(rated_w=280)]))
def test_more_speed_never_gives_less(one: float, other: float, output: Output) -> None:
    low, high = sorted((one, other))
    assert output_a(output, low) <= output_a(output, high) + 1e-9


@given(st.floats(0.1, 25), st.sampled_from([MEASURED, Output(rated_w=280)]))
def test_the_break_even_speed_is_where_it_says(amps: float, output: Output) -> None:
    found = charge_budget(loads=[OnLoad("load", Load("current", amps))], output=output).break_even_rev_min
    if found is None:
        assert output_a(output, 15_000) < amps
    else:
        assert output_a(output, found) >= amps
        assert output_a(output, max(0.0, found - 2)) <= amps


def test_every_mistake_is_named() -> None:
    with pytest.raises(Mistakes) as caught:
        charge_budget(
            loads=[OnLoad("lamp", Load("filament", -5, 900), 2), *LOADS, LOADS[0]],
            output=replace(MEASURED, rated_w=200),
            idle_rev_min=50,
            volts=99,
        )
    fields = {problem.field for problem in caught.value.problems}
    assert fields == {
        "loads lamp share", "loads lamp", "loads lamp rated_v", "loads low beam",
        "output", "volts", "idle_rev_min",
    }  # fmt: skip
