"""Wire against sources that share nothing with the program: another library, another maker, other tables."""

import math

import pytest
from fluids.piping import t_from_gauge

from tests.outside.electrics_cases import rows
from tracker.electrics.ampacity import ambient_factor
from tracker.electrics.conductor import awg_area_mm2, awg_diameter_mm, find_conductor, temperature_factor
from tracker.electrics.crimp import crimp
from tracker.electrics.lamp import filament_current_a
from tracker.records.electrics import Conductor
from tracker.seedfiles.tables import electric_tables

T = electric_tables()


@pytest.mark.parametrize("awg", range(25))
def test_gauge_diameters_of_the_fluids_library(awg: int) -> None:
    """Source: fluids.piping, AWG schedule (its table is printed to 0.1 mil)."""
    assert awg_diameter_mm(awg) == pytest.approx(1000 * t_from_gauge(awg, schedule="AWG"), rel=2e-3)


@pytest.mark.parametrize("row", rows("awg_hyperphysics.csv"), ids=lambda row: row["awg"])
def test_gauge_resistance_of_a_university_table(row: dict[str, str]) -> None:
    """Source: HyperPhysics wire gauge table, ohm per 1000 ft at 20 °C, four figures."""
    wire = find_conductor(f"AWG {row['awg']}", T.conductors)
    assert isinstance(wire, Conductor)
    assert wire.ohm_per_km * 0.3048 == pytest.approx(float(row["ohm_per_kft_20c"]), rel=1e-3)


@pytest.mark.parametrize("row", rows("jis_second_source.csv"), ids=lambda row: row["size"])
def test_jis_wire_of_a_second_maker(row: dict[str, str]) -> None:
    """Source: JIS C 3406 AV in a second maker's sheet; its 0.85 is 11 strands of 0.32, ours 16 of 0.26."""
    wire = find_conductor(f"JIS {row['size']}", T.conductors)
    assert isinstance(wire, Conductor)
    slack = 0.06 if row["size"] == "0.85" else 1e-3
    assert wire.ohm_per_km == pytest.approx(float(row["r_max_mohm_per_m_20c"]), rel=slack)
    assert wire.area_mm2 == pytest.approx(float(row["area_mm2"]), rel=slack)
    if row["amps_published"]:
        assert wire.amps_a == pytest.approx(float(row["amps_published"]), abs=2)


@pytest.mark.parametrize("temperature_c", [-20, 0, 20, 60, 75, 105])
def test_both_forms_of_coppers_temperature_law_agree(temperature_c: float) -> None:
    """Source: AC 43.13-1B p. 11-22 (constants 234.5 and 254.5)."""
    assert temperature_factor(temperature_c) == pytest.approx((234.5 + temperature_c) / 254.5, rel=2e-4)


NEC_40 = {
    60: {45: 0.87, 50: 0.71, 55: 0.50},
    75: {45: 0.93, 50: 0.85, 55: 0.76, 60: 0.65, 65: 0.53, 70: 0.38},
    90: {45: 0.95, 50: 0.89, 55: 0.84, 60: 0.77, 65: 0.71, 70: 0.63, 75: 0.55, 80: 0.45},
    150: {60: 0.90, 80: 0.80, 100: 0.67, 120: 0.52},
    200: {60: 0.94, 80: 0.87, 100: 0.79, 160: 0.50},
}


@pytest.mark.parametrize("insulation_c", NEC_40)
def test_correction_for_hot_air_against_the_published_table(insulation_c: int) -> None:
    """Source: NEC table 310.15(B)(2)(b), base 40 °C, upper end of each band, as printed by a cable seller."""
    base = ambient_factor(40, insulation_c)
    for ambient_c, factor in NEC_40[insulation_c].items():
        assert ambient_factor(ambient_c, insulation_c) / base == pytest.approx(factor, abs=0.011)


def test_correction_for_an_engine_space() -> None:
    """Source: 33 CFR 183.425 table 5 note 1 as printed by a marine seller: 105 °C wire at 50 °C, 0.85."""
    assert ambient_factor(50, 105) == pytest.approx(0.85, abs=0.01)


def test_a_nominal_lamp_carried_to_its_test_volts() -> None:
    """Source: Directive 97/24/EC sheet P21/5W: the 21 W filament takes 25 W at 13.5 V, the 5 W one 6 W.

    The directive knows nothing of the exponent that carries 12 V to 13.5 V here.
    """
    assert filament_current_a(21, 12, 13.5) * 13.5 == pytest.approx(25, rel=0.06)
    assert filament_current_a(5, 12, 13.5) * 13.5 == pytest.approx(6, rel=0.10)


def test_strand_bundles_are_as_thick_as_the_standards_wire_allows() -> None:
    """Common practice, no source: bare strands take 1.155 sqrt(n) diameters, within the insulation."""
    for wire in T.conductors:
        if wire.od_mm is not None:
            assert 1.155 * math.sqrt(4 * wire.area_mm2 / math.pi) < wire.od_mm, wire.name


@pytest.mark.parametrize(
    ("rule", "wire", "newton"),
    [("commercial", "AWG 22", 35.6), ("commercial", "AWG 16", 133.5), ("military", "AWG 14", 311.5),
     ("machined contact", "AWG 18", 142)],
)  # fmt: skip
def test_crimp_pulls_as_published(rule: str, wire: str, newton: float) -> None:
    """Sources: UL 486A, MIL-T-7928 class 2, IPC/WHMA-A-620B table 19-12; pounds and newtons agree in each."""
    assert crimp(wire=wire, rule=rule, tables=T).least_n == newton


def test_metric_pulls_lie_between_the_gauges() -> None:
    """Arithmetic on UL 486A: 0.75 mm2 lies between AWG 20 and AWG 18, a quarter down from AWG 18."""
    answer = crimp(wire="0.75 mm2 thin wall", tables=T)
    part = (0.75 - awg_area_mm2(20)) / (awg_area_mm2(18) - awg_area_mm2(20))
    assert answer.least_n == pytest.approx(57.9 + part * (89.0 - 57.9))
    assert answer.derived
