"""Small networks whose answers can be worked by hand."""

import doctest
import math

import pytest

from tracker.electrics import network, network_newton
from tracker.electrics.network import cold, solve
from tracker.records.network import (
    Circuit,
    CurrentLoad,
    Diode,
    Element,
    Filament,
    Joint,
    Resistor,
    Solution,
    VoltageSource,
    WireElement,
)
from tracker.records.problem import Mistakes

BATTERY = VoltageSource("battery", "+", "frame", 12.0, 0.1)


def solution(*elements: Element, reference: str = "frame") -> Solution:
    found = solve(Circuit(reference, elements)).solution
    assert found.converged
    return found


def test_the_examples_in_the_docstrings_hold() -> None:
    result = doctest.testmod(network)
    assert result.attempted > 5
    assert result.failed == 0


def test_a_divider() -> None:
    found = solution(BATTERY, Joint("plug", "+", "load", 0.9), Resistor("load", "load", "frame", 5))
    assert found.current["load"] == pytest.approx(2.0)
    assert found.volts["load"] == pytest.approx(10.0)
    assert found.across("+", "load") == pytest.approx(1.8)
    assert found.residual_a < 1e-9


def test_a_battery_that_discharges_counts_positive_and_one_that_is_charged_negative() -> None:
    charging = VoltageSource("charging output", "+", "frame", 14.4, 0.1)
    found = solution(BATTERY, charging)
    assert found.volts["+"] == pytest.approx(13.2)
    assert found.current == {"battery": pytest.approx(-12.0), "charging output": pytest.approx(12.0)}


def test_a_wire_by_length_and_table() -> None:
    wire = WireElement("wire", "+", "load", 3000, 24.7)
    found = solution(
        VoltageSource("battery", "+", "frame", 12, 1e-6), wire, Resistor("load", "load", "frame", 6)
    )
    assert wire.ohm == pytest.approx(0.0741)
    assert found.across("+", "load") == pytest.approx(12 * 0.0741 / 6.0741, rel=1e-6)


def test_a_filament_draws_its_rated_current_at_its_rated_volts_and_follows_its_law_below() -> None:
    def amps(volts: float) -> float:
        return solution(
            VoltageSource("battery", "+", "frame", volts, 1e-6), Filament("lamp", "+", "frame", 21, 13.5)
        ).current["lamp"]

    assert amps(13.5) == pytest.approx(21 / 13.5, rel=1e-4)
    assert amps(6.75) == pytest.approx(21 / 13.5 * 0.5**0.55, rel=1e-4)
    assert amps(-13.5) == pytest.approx(-21 / 13.5, rel=1e-4)
    assert amps(0.01) == pytest.approx(0.01 / Filament("lamp", "+", "frame", 21, 13.5).cold_ohm, rel=1e-4)


def test_two_equal_lamps_in_series_share_the_volts() -> None:
    found = solution(
        VoltageSource("battery", "+", "frame", 12, 1e-6),
        Filament("one", "+", "mid", 10, 6),
        Filament("other", "mid", "frame", 10, 6),
    )
    assert found.volts["mid"] == pytest.approx(6, rel=1e-5)
    assert found.current["one"] == pytest.approx(10 / 6, rel=1e-5)


def test_a_small_lamp_before_a_big_one_takes_nearly_all_the_volts() -> None:
    found = solution(
        VoltageSource("battery", "+", "frame", 12, 0.01),
        Filament("warning lamp", "+", "mid", 3, 12),
        Filament("indicator", "mid", "frame", 21, 12),
    )
    assert found.across("+", "mid") == pytest.approx(12 / (1 + (3 / 21) ** (1 / 0.55)), rel=1e-3)
    assert found.current["warning lamp"] == pytest.approx(found.current["indicator"])


def test_a_diode_conducts_one_way() -> None:
    forward = solution(BATTERY, Diode("diode", "+", "coil", 0.7, 0.1), Resistor("coil", "coil", "frame", 100))
    assert forward.volts["coil"] == pytest.approx((12 - 0.7) * 100 / 100.2, rel=1e-4)
    back = solution(BATTERY, Diode("diode", "coil", "+", 0.7, 0.1), Resistor("coil", "coil", "frame", 100))
    assert abs(back.volts["coil"]) < 1e-6
    assert abs(back.current["diode"]) < 1e-8


def test_a_current_load_keeps_its_amps_until_it_starves() -> None:
    fed = solution(BATTERY, Joint("plug", "+", "module", 1), CurrentLoad("module", "module", "frame", 2))
    assert fed.current["module"] == pytest.approx(2, rel=1e-4)
    assert fed.volts["module"] == pytest.approx(9.8, rel=1e-4)
    starved = solution(
        BATTERY, Joint("plug", "+", "module", 100), CurrentLoad("module", "module", "frame", 2)
    )
    assert starved.volts["module"] == pytest.approx(12 * 0.5 / 100.6, rel=1e-4)


def test_a_place_behind_an_open_switch_floats_and_the_rest_is_solved() -> None:
    found = solution(
        BATTERY, Resistor("load", "+", "frame", 6), WireElement("dead wire", "x", "y", 500, 24.7)
    )
    assert found.floating == {"x", "y"}
    assert found.current["load"] == pytest.approx(12 / 6.1)
    assert found.current["dead wire"] == 0
    assert found.volts["x"] == 0


def test_a_place_behind_a_diode_reads_the_volts_ahead_less_the_drop() -> None:
    found = solution(BATTERY, Resistor("load", "+", "frame", 1e3), Diode("diode", "+", "open end", 0.7, 0.1))
    assert found.floating == frozenset()
    assert found.volts["open end"] == pytest.approx(12 - 0.7, abs=0.01)


def test_a_place_behind_a_diode_the_wrong_way_floats() -> None:
    found = solution(BATTERY, Resistor("load", "+", "frame", 1e3), Diode("diode", "open end", "+", 0.7, 0.1))
    assert found.floating == {"open end"}


def test_a_circuit_with_a_source_of_its_own_that_hangs_on_nothing_has_its_amps() -> None:
    found = solution(
        BATTERY,
        Resistor("load", "+", "frame", 6),
        VoltageSource("bench supply", "red", "black", 5, 1),
        Resistor("bench load", "red", "black", 4),
    )
    assert found.current["bench load"] == pytest.approx(1)
    assert found.across("red", "black") == pytest.approx(4)
    assert found.floating == {"red", "black"}


def test_positive_earth_is_only_another_reference() -> None:
    elements = (
        VoltageSource("battery", "earth", "-", 6, 0.05),
        WireElement("feed", "-", "lamp", 1000, 24.7),
        Filament("lamp", "lamp", "earth", 18, 6),
    )
    found = solution(*elements, reference="earth")
    assert -6 < found.volts["lamp"] < -5.5
    assert found.current["lamp"] < 0
    assert found.current["battery"] == pytest.approx(-found.current["lamp"])


def test_cold_filaments_draw_their_surge() -> None:
    lamp = Filament("lamp", "+", "frame", 21, 13.5)
    circuit = Circuit("frame", (VoltageSource("battery", "+", "frame", 12, 1e-6), lamp))
    surge = solve(cold(circuit)).solution.current["lamp"]
    assert surge == pytest.approx(12 / lamp.cold_ohm, rel=1e-4)
    assert surge > 10 * solve(circuit).solution.current["lamp"]


def test_every_mistake_is_named_at_once() -> None:
    with pytest.raises(Mistakes) as caught:
        solve(
            Circuit(
                "nowhere",
                (
                    Resistor("load", "+", "+", 5),
                    Joint("plug", "+", "x", 0),
                    Joint("plug", "+", "x", math.nan),
                    Filament("lamp", "x", "frame", -5, 12),
                    WireElement("wire", "x", "y", 0, 24.7),
                ),
            )
        )
    fields = {problem.field for problem in caught.value.problems}
    assert fields == {"reference", "name", "load.b", "plug.ohm", "lamp.rated_w", "wire.length_mm"}
    plug = next(problem for problem in caught.value.problems if problem.field == "plug.ohm")
    assert plug.given == "0"
    assert "1e-06" in plug.sentence


def test_a_solve_cut_short_says_that_it_did_not_converge(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(network_newton, "MOST_STEPS", 1)
    found = solve(
        Circuit(
            "frame",
            (BATTERY, Filament("lamp", "+", "mid", 21, 13.5), Diode("diode", "mid", "frame", 0.7, 0.1)),
        )
    ).solution
    assert not found.converged
    assert found.residual_a > 1e-3
