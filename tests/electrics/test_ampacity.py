"""What a wire carries, alone and in company, cool and hot."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.electrics.ampacity import (
    ambient_factor,
    ampacity,
    bundling_factor,
    carries,
    on_line,
    published_amps,
)
from tracker.electrics.conductor import awg_conductor
from tracker.records.problem import Mistakes
from tracker.seedfiles.tables import electric_tables

T = electric_tables()
BY_AREA = [
    sorted((w for w in T.conductors if w.family == f), key=lambda w: w.area_mm2) for f in ("thin wall", "AWG")
]


def amps(wire: str, **more: int) -> float:
    return ampacity(wire=wire, tables=T, **more).carries_a


def test_by_gauge_and_insulation_as_the_table_has_it() -> None:
    assert amps("AWG 18", insulation_c=60) == 10
    assert amps("AWG 10", insulation_c=200) == 70
    assert amps("AWG 16", insulation_c=100) == amps("AWG 16", insulation_c=90), (
        "a class between two counts as the lower"
    )


def test_thin_jis_wire_has_its_published_amps() -> None:
    answer = ampacity(wire="JIS 0.5", tables=T)
    assert (answer.carries_a, answer.derived) == (12, False)
    assert any("JIS C 3406" in source for source in answer.source)


def test_thin_iso_wire_has_the_amps_of_the_same_area_marked_derived() -> None:
    answer = ampacity(wire="0.75 mm2 thin wall", tables=T)
    assert answer.carries_a == pytest.approx(12 + (0.754 - 0.563) / (0.763 - 0.563) * 2)
    assert answer.derived
    assert "(derived)" in answer.why[0]


def test_no_wire_carries_more_than_its_own_sheet_says() -> None:
    for wire in T.conductors:
        if wire.amps_a is not None:
            assert carries(wire, T).carries_a <= wire.amps_a, wire.name


def test_unknown_insulation_is_taken_as_ordinary_and_said() -> None:
    answer = ampacity(wire="AWG 18", tables=T)
    assert answer.insulation_c == 80
    assert any("not known" in sentence for sentence in answer.why)


def test_better_insulation_claimed_for_a_wire_of_known_class_does_not_count() -> None:
    assert ampacity(wire="AVS 0.85", insulation_c=125, tables=T).insulation_c == 80


def test_company_and_heat() -> None:
    assert amps("AWG 12", insulation_c=105, together=4) == pytest.approx(45 * 0.8)
    assert amps("AWG 12", insulation_c=105, ambient_c=60) == pytest.approx(45 * math.sqrt(45 / 75))
    assert amps("AWG 12", insulation_c=105, ambient_c=10) == 45, "cold air is no licence"


def test_a_starter_cable_beyond_the_table_stands_at_its_largest() -> None:
    answer = ampacity(wire="1/0 AWG", insulation_c=105, tables=T)
    assert (answer.carries_a, answer.derived) == (160, True)


def test_every_wrong_argument_is_named_at_once() -> None:
    with pytest.raises(Mistakes) as caught:
        ampacity(wire="3 mm", together=0, ambient_c=200, insulation_c=40, tables=T)
    fields = [problem.field for problem in caught.value.problems]
    assert fields == ["wire", "together", "insulation_c", "ambient_c"]
    assert "from 1 to 200" in caught.value.problems[1].sentence


@given(st.sampled_from([60, 75, 80, 90, 105, 125, 200]), st.integers(1, 45), st.integers(-20, 54))
@settings(max_examples=60, deadline=None)
def test_thicker_never_carries_less_and_company_or_heat_never_more(
    class_c: int, together: int, air_c: int
) -> None:
    for wires in BY_AREA:
        found = [
            carries(w, T, together=together, ambient_c=air_c, insulation_c=class_c).carries_a for w in wires
        ]
        assert found == sorted(found)
        assert all(amps > 0 for amps in found)
        crowd = [
            carries(w, T, together=together + 1, ambient_c=air_c, insulation_c=class_c).carries_a
            for w in wires
        ]
        hot = [
            carries(w, T, together=together, ambient_c=air_c + 1, insulation_c=class_c).carries_a
            for w in wires
        ]
        assert all(b <= a for a, b in zip(found, crowd, strict=True))
        assert all(b <= a for a, b in zip(found, hot, strict=True))


@given(st.sampled_from([60, 75, 80, 90, 105, 125]))
def test_better_insulation_never_carries_less(class_c: int) -> None:
    for awg in range(28, 0, -1):
        wire = awg_conductor(awg)
        assert (
            carries(wire, T, insulation_c=class_c).carries_a
            <= carries(wire, T, insulation_c=class_c + 15).carries_a
        )


def test_factors() -> None:
    assert [bundling_factor(n, T.bundling) for n in (1, 3, 4, 9, 10, 20, 21, 31, 41, 99)] == [
        1, 1, 0.8, 0.7, 0.5, 0.5, 0.45, 0.4, 0.35, 0.35,
    ]  # fmt: skip
    assert ambient_factor(30, 80) == 1
    assert ambient_factor(75, 80) == pytest.approx(math.sqrt(0.1))


def test_published_amps_rise_with_area() -> None:
    points = published_amps(T.conductors)
    assert points == sorted(points)
    assert [amps for _, amps in points] == sorted(amps for _, amps in points)


def test_on_the_line_between_two_points() -> None:
    points = [(1.0, 10.0), (2.0, 20.0)]
    assert on_line(0.5, points) == (5, True)
    assert on_line(3, points) == (20, True)
