"""Sizes as the trade writes them, and copper's resistance."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.electrics.conductor import (
    awg_conductor,
    conductor_diameter_mm,
    families,
    find_conductor,
    wire_ohm,
)
from tracker.records.electrics import Conductor
from tracker.records.problem import Problem
from tracker.seedfiles.tables import electric_tables

WIRES = electric_tables().conductors


def found(text: str) -> Conductor:
    wire = find_conductor(text, WIRES)
    assert isinstance(wire, Conductor), wire
    return wire


def refused(text: str) -> Problem:
    problem = find_conductor(text, WIRES, "wire")
    assert isinstance(problem, Problem), problem
    return problem


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("0.75 mm2 thin wall", "0.75 mm2 thin wall"),
        ("0,75 mm²", "0.75 mm2 thin wall"),
        ("thin wall 0.75", "0.75 mm2 thin wall"),
        ("FLRY-B 0.75", "0.75 mm2 thin wall"),
        ("FLRY-A 0.22", "0.22 mm2 thin wall A"),
        ("1.5 mm2 thick wall", "1.5 mm2 thick wall"),
        ("10 mm2", "10 mm2 thick wall"),
        ("AWG 18", "AWG 18"),
        ("18awg", "AWG 18"),
        ("#18", "AWG 18"),
        ("2/0 AWG", "AWG 2/0"),
        ("JIS 0.85", "JIS 0.85"),
        ("0.85", "JIS 0.85"),
        ("AVSS 0.5f", "AVSS 0.5f"),
        ("jaso d611 avssh 0.75f", "AVSSH 0.75f"),
        ("AVSS 2", "AVSS 2f"),
        ("IEC 60228 class 5 2.5 mm2", "IEC 2.5 mm2"),
    ],
)
def test_a_size_is_found_as_it_is_written(written: str, name: str) -> None:
    assert found(written).name == name


def test_every_size_is_found_by_its_own_name() -> None:
    assert [found(wire.name) for wire in WIRES] == list(WIRES)


def test_a_jis_half_is_not_half_a_square() -> None:
    assert found("JIS 0.5").area_mm2 == 0.563
    assert found("JIS 2").area_mm2 == 2.091
    assert found("0.5 mm2").area_mm2 < 0.51


def test_an_outside_diameter_is_no_size() -> None:
    problem = refused("3 mm")
    assert "outside diameter" in problem.sentence
    assert "1.13 mm2" in problem.hint
    assert problem.given == "3 mm"


@pytest.mark.parametrize(
    "text", ["", "wire", "JIS 0.4", "7 mm2", "AWG 41", "5/0 AWG", "-1", "0.75 mm3", "1e3"]
)
def test_what_is_no_size_says_what_is(text: str) -> None:
    problem = refused(text)
    assert problem.field == "wire"
    assert problem.sentence
    assert problem.hint


@given(st.text(max_size=30) | st.from_regex(r"(awg|jis|avs|iec)? ?[0-9./]{1,8} ?(mm2|mm|f)?", fullmatch=True))
@settings(max_examples=150, deadline=None)
def test_any_text_is_found_or_explained(text: str) -> None:
    assert isinstance(find_conductor(text, WIRES), Conductor | Problem)


@given(
    st.integers(-3, 39), st.floats(1, 10_000), st.floats(1.001, 3), st.floats(-40, 190), st.floats(0.1, 10)
)
@settings(max_examples=60, deadline=None)
def test_ohms_rise_with_gauge_length_and_heat(
    awg: int, length_mm: float, longer: float, temperature_c: float, hotter: float
) -> None:
    wire, thinner = awg_conductor(awg), awg_conductor(awg + 1)
    ohm = wire_ohm(wire, length_mm, temperature_c)
    assert wire_ohm(wire, length_mm * longer, temperature_c) > ohm
    assert wire_ohm(wire, length_mm, temperature_c + hotter) > ohm
    assert wire_ohm(thinner, length_mm, temperature_c) > ohm
    assert wire_ohm(wire, 2 * length_mm, temperature_c) == pytest.approx(2 * ohm)


def test_thicker_copper_is_thicker_stranded() -> None:
    assert conductor_diameter_mm(found("2 mm2")) > conductor_diameter_mm(found("0.75 mm2"))


def test_the_kinds_of_wire() -> None:
    assert set(families(WIRES)) == {
        "thin wall A",
        "thin wall",
        "thick wall",
        "AVS",
        "AVSS",
        "AVSSH",
        "JIS",
        "AWG",
        "IEC",
    }
