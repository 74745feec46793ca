"""Bundles, tape and heat shrink."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.electrics.bundle import bundle, bundle_diameter_mm, smallest_circle_mm
from tracker.records.problem import Mistakes
from tracker.seedfiles.tables import electric_tables

T = electric_tables()
thick = st.floats(0.5, 8)


def test_up_to_four_wires_are_exact() -> None:
    assert bundle_diameter_mm([2]) == 2
    assert bundle_diameter_mm([2, 3]) == 5
    assert bundle_diameter_mm([2, 2, 2]) == pytest.approx(2 * (1 + 2 / math.sqrt(3)))
    assert bundle_diameter_mm([2, 2, 2, 2]) == pytest.approx(2 * (1 + math.sqrt(2)))


def test_a_thin_wire_hides_beside_two_thick_ones() -> None:
    """Beside two of 6 mm, 4 mm just fits in their circle (radii 3, 3: the gap takes 2)."""
    assert smallest_circle_mm([6, 6, 4]) == pytest.approx(12)
    assert smallest_circle_mm([6, 6, 4.1]) > 12.001
    assert smallest_circle_mm([6, 6, 6, 0.9]) == pytest.approx(smallest_circle_mm([6, 6, 6]))


def test_named_and_measured_wires_mix() -> None:
    answer = bundle(wires=["2 x AVS 0.85", "3.1 mm", "1,4"], tables=T)
    assert answer.wires == 4
    assert answer.exact
    assert answer.diameter_mm == bundle_diameter_mm([2.3, 2.3, 3.1, 1.4])


def test_a_rule_says_what_the_closest_would_be() -> None:
    answer = bundle(wires=["7 x 1.9"], tables=T)
    assert not answer.exact
    assert answer.closest_mm == pytest.approx(5.7)
    assert answer.diameter_mm == pytest.approx(1.2 * math.sqrt(7) * 1.9)
    assert bundle(wires=["5 x 1.9", "2 x 2.4"], tables=T).closest_mm is None


def test_wrong_entries_are_named_by_number() -> None:
    with pytest.raises(Mistakes) as caught:
        bundle(wires=["2 x 1.9", "AWG 18", "0 x 2", "40", "string"], tables=T)
    problems = caught.value.problems
    assert [problem.field for problem in problems] == ["wires 2", "wires 3", "wires 4", "wires 5"]
    assert "depends on the insulation" in problems[0].sentence
    with pytest.raises(Mistakes):
        bundle(wires=[], tables=T)
    with pytest.raises(Mistakes):
        bundle(wires=["150 x 1.9", "51 x 1.9"], tables=T)


@given(st.lists(thick, min_size=1, max_size=9), thick, st.randoms())
@settings(max_examples=80, deadline=None)
def test_one_more_wire_never_makes_it_thinner_and_order_does_not_matter(
    wires: list[float], more: float, chance: object
) -> None:
    before = bundle_diameter_mm(wires)
    shuffled = list(wires)
    chance.shuffle(shuffled)  # type: ignore[attr-defined]
    assert bundle_diameter_mm(shuffled) == pytest.approx(before)
    assert bundle_diameter_mm([*wires, more]) >= before * (1 - 1e-9)
    assert bundle_diameter_mm([2 * d for d in wires]) == pytest.approx(2 * before)


@given(st.lists(thick, min_size=1, max_size=4))
@settings(max_examples=80, deadline=None)
def test_the_smallest_circle_holds_all_the_copper_and_no_more_than_a_row(wires: list[float]) -> None:
    found = smallest_circle_mm(wires)
    assert found**2 >= sum(d * d for d in wires) * (1 - 1e-9)
    assert found <= sum(wires) * (1 + 1e-9)
