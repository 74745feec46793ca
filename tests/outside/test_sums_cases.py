"""Published cases asked of `loomcard sums NAME ...`; sources in the data files beside the tests.

Each case is typed as a person would type it. Those that no sum answers are named at the end with where they
are checked. Cases of status “from memory” say so in their file; the aircraft bundle at altitude (paragraph
11-69 of AC 43.13-1B) is one and is left out, since the program knows no altitude.
"""

import json
from collections.abc import Callable
from typing import Any

import pytest

from tests.outside.charge_cases import Case, cases
from tests.outside.electrics_cases import rows
from tracker.cli.main import run

FOOT_MM = 304.8
INCH_MM = 25.4


class Asked:
    """Asks the command line; answers are JSON."""

    def __init__(self, capsys: pytest.CaptureFixture[str]) -> None:
        self.capsys = capsys

    def __call__(self, name: str, *words: str, **given: object) -> Any:
        typed = [f"{key.replace('_', '-')}={value}" for key, value in given.items()]
        self.capsys.readouterr()
        code = run(["sums", name, "--json", *typed, *words])
        said = self.capsys.readouterr()
        assert code == 0, said
        return json.loads(said.out)


@pytest.fixture
def ask(capsys: pytest.CaptureFixture[str], tmp_path: Any, monkeypatch: pytest.MonkeyPatch) -> Asked:
    """The command line with no shop's file, in whatever place this runs."""
    monkeypatch.setenv("LOOMCARD_FILE", str(tmp_path / "none.loomcard"))
    monkeypatch.setenv("LOOMCARD_CONFIG", str(tmp_path))
    return Asked(capsys)


ALL = {
    case.id: case
    for case in (
        *(Case(**row) for row in rows("electrics_cases.csv")),
        *cases("battery_cases.csv"),
        *cases("alternator_cases.csv"),
        *cases("sums_cases.csv"),
    )
}

Figure = Callable[[Asked], float]


def along(ask: Asked, ohm_per_foot: float, feet: float, amps: float) -> float:
    """The volts along a wire known by its ohms per foot: as the return, behind next to no wire."""
    answer = ask(
        "drop", "wire=AWG 10", length_mm=0.001, current_a=amps, supply_v=28, frame_ohm=ohm_per_foot * feet
    )
    return float(answer["return_v"])


def wire_ohm(ask: Asked, wire: str, length_mm: float, temperature_c: float = 20) -> float:
    answer = ask("drop", f"wire={wire}", length_mm=length_mm, current_a=1, temperature_c=temperature_c)
    return float(answer["wire_ohm"])


def flooded(ask: Asked, standing_v: float) -> Any:
    return ask("battery", standing_v=standing_v, kind="flooded", surface_charge_removed="yes")


def first_cell(ask: Asked, reading: float, fahrenheit: float) -> float:
    answer = ask("hydrometer", cells_sg=reading, temperature_c=(fahrenheit - 32) / 1.8)
    return float(answer["corrected_sg"][0])


def lamp(ask: Asked, filament: str = "main") -> Any:
    return ask("lamp", volts=13.5, category="P21/5W", filament=filament)


FIGURES: dict[str, Figure] = {
    "W02": lambda ask: 10 * wire_ohm(ask, "AWG 18", 100 * FOOT_MM),
    "W03": lambda ask: 10 * wire_ohm(ask, "AWG 12", 100_000),
    "W04": lambda ask: wire_ohm(ask, "AWG 18", 10_000, 60) / wire_ohm(ask, "AWG 18", 10_000),
    "W05": lambda ask: ask(
        "drop", "wire=0.75 mm2 thin wall", length_mm=3000, resistance_ohm="8,678571", supply_v="12,8"
    )["drop_v"],
    "W07": lambda ask: along(ask, 0.00126, 19.5, 20),
    "W09": lambda ask: 39 * wire_ohm(ask, "AWG 10", 10_000) / wire_ohm(ask, "AWG 10", 10_000, 60),
    "W11": lambda ask: ask("fuse", "wire=AWG 16", current_a=10, insulation_c=105)["carries_a"],
    "W14": lambda ask: ask("bundle", "7 x 1.90 mm")["closest_mm"],
    "W15": lambda ask: ask("bundle", "10 x 1,90")["diameter_mm"],
    "W16": lambda ask: (
        ask("sleeve", widest_mm=20, narrowest_mm=13, covered_mm=15, kind="2:1")["tight_to_mm"] / INCH_MM
    ),
    "W17": lambda ask: ask("tape", bundle_mm=10, covered_mm=1000, tape_width_mm=19)["tape_mm"] / 1000,
    "W19": lambda ask: ask("splice", "left=AWG 18", "right=AWG 18", "method=open barrel")["barrel_awg"],
    "BAT-OCV-1": lambda ask: flooded(ask, 11.7)["percent"],
    "BAT-OCV-2": lambda ask: flooded(ask, 12.0)["percent"],
    "BAT-OCV-4": lambda ask: flooded(ask, 12.4)["percent"],
    "BAT-OCV-5": lambda ask: flooded(ask, 12.6)["percent"],
    "BAT-SG-1": lambda ask: first_cell(ask, 1.240, 100),
    "BAT-SG-3": lambda ask: first_cell(ask, 1.250, 70),
    "BAT-DRAIN-1": lambda ask: ask("drain", drain_ma=20, battery_ah=12)["ah_per_day"],
    "BAT-DRAIN-2": lambda ask: ask("drain", drain_ma=30, battery_ah=12, usable_percent=50)["days"],
    "CHG-BR-1": lambda ask: ask("bridge", ac_v=12, diode_drop_v=0)["mean_v"],
    "CHG-BR-2": lambda ask: ask("bridge", ac_v=12, diode_drop_v=0.7)["mean_v"],
    "CHG-BR-4": lambda ask: ask("bridge", ac_v=20, arrangement="half-wave", diode_drop_v=0)["mean_v"],
    "CHG-CU-1": lambda ask: ask("winding", reading_ohm=1.21, temperature_c=20, wanted_c=75)["then_ohm"],
    "VD-6": lambda ask: along(ask, 0.00126, 39, 20),
    "VD-7": lambda ask: along(ask, 0.00044, 107, 20),
    "VD-8": lambda ask: along(ask, 0.00126, 19.5, 20),
    "LMP-2": lambda ask: lamp(ask)["current_a"],
    "LED-1": lambda ask: ask("ballast", led_w=2, lamp_w=21)["ballast_ohm"],
    "LED-2": lambda ask: ask("drop", "wire=AWG 10", length_mm=0.001, resistance_ohm=6, supply_v=12)[
        "current_a"
    ],
}


@pytest.mark.parametrize("name", FIGURES)
def test_a_published_figure(ask: Asked, name: str) -> None:
    case = ALL[name]
    assert FIGURES[name](ask) == pytest.approx(case.number, abs=max(case.within, 1e-9)), case.source


def test_the_marine_rule_for_ten_amps_over_twenty_one_feet(ask: Asked) -> None:
    """W10: by nominal areas AWG 12 passes 3 %; at 10 % AWG 16 follows with either table of areas."""
    asked = {"current_a": 10, "length_mm": 21 * FOOT_MM, "supply_v": 12, "family": "AWG"}
    assert ask("wire", **asked, limit_percent=3)["smallest_for_drop"] == "AWG 12"
    assert ask("wire", **asked, limit_percent=10)["smallest_for_drop"] == "AWG 16"


def test_a_battery_below_three_quarters_is_load_tested(ask: Asked) -> None:
    """BAT-OCV-7."""
    assert flooded(ask, 12.39)["load_test_advised"] is True
    assert flooded(ask, 12.4)["load_test_advised"] is False


def test_an_agm_battery_that_has_rested_and_one_that_has_not(ask: Asked) -> None:
    """BAT-AGM-1, BAT-AGM-2."""
    rested = ask("battery", standing_v=12.85, kind="AGM", rest_h=8)
    assert (rested["percent"], rested["valid"]) == (100, True)
    assert ask("battery", standing_v=12.85, kind="AGM", rest_h=2)["valid"] is False


def test_a_load_test_at_its_limit(ask: Asked) -> None:
    """BAT-LOAD-1, BAT-LOAD-2; the manual's wording is read as end-of-load volts."""
    assert ask("load-test", end_v=9.6, temperature_c=21)["word"] == "good"
    assert ask("load-test", end_v=9.59, temperature_c=21)["word"] == "fault"


def test_cells_that_do_not_agree(ask: Asked) -> None:
    """BAT-SG-4: 0.026 is more than 0.025."""
    cells = "1.270 1.268 1.265 1.270 1.262 1.244"
    answer = ask("hydrometer", f"cells-sg={cells}", temperature_c=26.7, charged="yes")
    assert (answer["spread_sg"], answer["serviceable"]) == (0.026, False)


def test_ten_days_of_standing(ask: Asked) -> None:
    """BAT-SELF-1: at 80 °F 0.001 a day."""
    answer = ask("self-discharge", gravity_sg=1.265, days=10, temperature_c=(80 - 32) / 1.8)
    assert answer["gravity_after_sg"] == pytest.approx(1.255, abs=0.0005)


def test_no_boost_for_a_lithium_battery_that_is_flat(ask: Asked) -> None:
    """BAT-LFP-2: 10 V and less."""
    assert ask("battery", standing_v=9.9, kind="lithium")["may_boost"] is False
    assert ask("battery", standing_v=10, kind="lithium")["may_boost"] is False
    assert ask("battery", standing_v=10.1, kind="lithium")["may_boost"] is True


def test_frequency_and_ripple(ask: Asked) -> None:
    """CHG-RIP-1."""
    answer = ask("bridge", ac_v=20, poles=12, rev_min=5000)
    assert (answer["ac_hz"], answer["ripple_hz"]) == (500, 3000)


def test_pairs_that_agree_and_pairs_that_do_not(ask: Asked) -> None:
    """CHG-BAL-1: a span of 0.7 V is within 1 V at about 22 V. CHG-BAL-3: 39.2 % off the mean."""
    assert ask("balance", "pairs-v=21.8 22.0 22.5")["word"] == "good"
    answer = ask("balance", "pairs-v=62 60 31")
    assert answer["word"] == "fault"
    assert answer["deviation_percent"] == pytest.approx(39.2, abs=0.1)


@pytest.mark.parametrize(
    ("per_min", "rule", "verdict"),
    [(60, "indicator", "within"), (120, "indicator", "within"), (59, "indicator", "slow"),
     (121, "indicator", "fast"), (85, "hazard US", "slow")],
)  # fmt: skip
def test_flash_rates(ask: Asked, per_min: int, rule: str, verdict: str) -> None:
    """FL-1, FL-2, FL-4."""
    assert ask("flasher", f"rule={rule}", per_min=per_min)["verdict"] == verdict


def test_the_watts_of_a_two_filament_lamp(ask: Asked) -> None:
    """LMP-1: at most 26.5 and 6.6 W. LMP-2, its second figure: 7.29 ohm hot."""
    assert lamp(ask)["most_power_w"] == pytest.approx(26.5, abs=0.05)
    assert lamp(ask, "second")["most_power_w"] == pytest.approx(6.6, abs=0.05)
    assert lamp(ask)["hot_ohm"] == pytest.approx(7.29, abs=0.005)


@pytest.mark.parametrize(
    ("name", "typed"),
    [("VIN-1", "1G4AH59H45G118341"), ("VIN-3", "1M8GDM9AXKP042788"), ("VIN-4", "11111111111111111")],
)
def test_right_frame_numbers(ask: Asked, name: str, typed: str) -> None:
    answer = ask("vin", typed)
    said = f"sum {answer['weighted_sum']}, check digit {answer['check_digit']}, {answer['verdict']}"
    assert said == ALL[name].expected


def test_wrong_frame_numbers(ask: Asked) -> None:
    """VIN-5: 4 is expected in place 9. VIN-6: I, O and Q anywhere."""
    answer = ask("vin", "1G4AH59H05G118341")
    assert f"{answer['verdict']} (expected {answer['check_digit']})" == ALL["VIN-5"].expected
    for letter in "IOQ":
        assert ask("vin", f"1111111111111111{letter}")["verdict"] == "rejected"


IN_WORDS = {
    "W10", "BAT-OCV-7", "BAT-AGM-1", "BAT-AGM-2", "BAT-LOAD-1", "BAT-LOAD-2", "BAT-SG-4", "BAT-SELF-1",
    "BAT-LFP-2", "CHG-RIP-1", "CHG-BAL-1", "CHG-BAL-3", "FL-1", "FL-2", "FL-4", "LMP-1", "VIN-1", "VIN-3",
    "VIN-4", "VIN-5", "VIN-6",
}  # fmt: skip

NO_SUM_BY_NAME = {
    "W01": "a gauge's diameter is a step inside other sums: test_electrics_cases",
    "W20": "colour codes: test_electrics_cases",
    "BAT-LFP-1": "charging volts are a reading: test_battery_cases",
    "CHG-AC-1": "a bike's own figure: test_alternator_cases",
    "CHG-OHM-1": "a bike's own figure: test_alternator_cases",
    "CHG-OHM-2": "a bike's own figure: test_alternator_cases",
    "CHG-EARTH-1": "insulation is a reading: test_alternator_cases",
    "CHG-DIO-1": "a diode's ohms are a reading: test_alternator_cases",
    "CHG-DIO-2": "a diode's ohms are a reading: test_alternator_cases",
    "VD-1": "a drop while cranking is a reading: test_alternator_cases",
    "VD-2": "a drop while cranking is a reading: test_alternator_cases",
    "VD-3": "a drop while cranking is a reading: test_alternator_cases",
    "VD-5": "a drop while cranking is a reading: test_alternator_cases",
}


def test_every_case_is_asked_or_said_to_be_no_sum() -> None:
    assert set(ALL) == set(FIGURES) | IN_WORDS | set(NO_SUM_BY_NAME)
    assert not set(FIGURES) & IN_WORDS
