"""Published cases through a card's readings, as a person takes them; the fitted line against numpy.

The figures are those of tests/outside/data/*_cases.csv, each row with its source; here they go in as readings
with what stands beside them, and come out as verdicts of the charging check.
"""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.outside.charge_cases import cases
from tracker.electrics.charging import judge_all, verdict
from tracker.electrics.judge import spread_limits
from tracker.electrics.trend import trend
from tracker.records.bike import OwnFigure
from tracker.records.card import Reading
from tracker.records.charging import AC_PER_1000, ChargingBike, ChargingVerdict, ChargingWord
from tracker.records.limits import Word
from tracker.seedfiles.charging import load_charging
from tracker.seedfiles.limits import load_limits

NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)
LIMITS, TABLE = load_limits(), load_charging()
CASES = {case.id: case for name in ("battery", "alternator") for case in cases(f"{name}_cases.csv")}
AGM = ChargingBike(volts=12, battery="agm", alternator="three-phase")


def read(kind: str, value: float | None, unit: str = "V", state: str = "", **notes: str) -> Reading:
    words = "OL" if value is None else f"{value:g}"
    return Reading(
        card=1, kind=kind, value=value, unit=unit, words=words, state=state, conditions=notes, at=NOON
    )


def together(bike: ChargingBike, *readings: Reading) -> ChargingVerdict:
    return verdict([replace(one, id=at) for at, one in enumerate(readings, 1)], bike, TABLE, LIMITS)


def alone(bike: ChargingBike, reading: Reading) -> Word:
    return judge_all([reading], bike, LIMITS)[0].word


def pairs(*volts: float) -> list[Reading]:
    names = ("ac_volts_ab", "ac_volts_bc", "ac_volts_ca")
    return [read(name, value, state="plug apart") for name, value in zip(names, volts, strict=True)]


def test_a_rested_agm_battery_and_one_that_is_not() -> None:
    """BAT-AGM-1, BAT-AGM-2: 12.85 V after 8 h counts, after 2 h it does not."""
    assert CASES["BAT-AGM-2"].expected.startswith("reading not valid")
    assert alone(AGM, read("standing_volts", 12.85, hours_standing="8")) is Word.GOOD
    assert alone(AGM, read("standing_volts", 12.85, hours_standing="2")) is Word.NO_LIMITS
    assert together(AGM, read("standing_volts", 12.85, hours_standing="8")).signs["state"] == "charged"
    assert together(AGM, read("standing_volts", 12.85, hours_standing="2")).signs["state"] == "unsure"


def test_the_load_test_on_its_limit() -> None:
    """BAT-LOAD-1, BAT-LOAD-2: 9.6 V at the end passes, 9.59 V is defective; at about 21 C."""
    charged = read("state_of_charge", 100, "%")
    passed = together(AGM, charged, read("load_volts", 9.6, temperature="21 C"))
    failed = together(AGM, charged, read("load_volts", 9.59, temperature="21 C"))
    assert (passed.signs["load"], failed.word) == ("good", ChargingWord.BATTERY)


def test_lithium_at_15_volts_is_stopped() -> None:
    """BAT-LFP-1: running volts 15.0, stop."""
    lithium = replace(AGM, battery="lithium")
    assert "15.0" in CASES["BAT-LFP-1"].input
    found = together(lithium, read("regulated_volts", 15.0))
    assert (found.word, found.row) == (ChargingWord.OVER, "over-lithium-stop")


@pytest.mark.parametrize(
    ("case", "volts", "word"),
    [("CHG-BAL-1", (21.8, 22.0, 22.5), Word.GOOD), ("CHG-BAL-3", (62, 60, 31), Word.FAULT)],
)
def test_pairs_of_a_stator(case: str, volts: tuple[float, float, float], word: Word) -> None:
    assert case in CASES
    found = judge_all([replace(one, id=at) for at, one in enumerate(pairs(*volts))], AGM, LIMITS)
    assert {one.word for one in found.values()} == {word}
    said = together(AGM, *pairs(*volts))
    assert (said.word is ChargingWord.STATOR) == (word is Word.FAULT)


def test_ac_volts_by_the_bikes_own_figure() -> None:
    """CHG-AC-1: 64 V AC +/-25 % at 5000; 45 is low. Kept for every 1000 rev/min."""
    least, most = spread_limits(64 / 5, 25)
    figure = OwnFigure(kind=AC_PER_1000, least=least, most=most, unit="V", source="the case", at=NOON)
    bike = replace(AGM, own=(figure,))
    assert CASES["CHG-AC-1"].expected.startswith("low")
    assert alone(bike, read("ac_volts_ab", 45, state="5000 rev/min, plug apart")) is Word.FAULT
    assert alone(bike, read("ac_volts_ab", 48, state="5000 rev/min, plug apart")) is Word.GOOD


def test_pair_ohms_with_the_leads_taken_off() -> None:
    """CHG-OHM-1: spec 0.13 +/-15 %, reading 0.15 is high; subtract lead ohms first."""
    least, most = spread_limits(0.13, 15)
    figure = OwnFigure(kind="winding_ohms", least=least, most=most, unit="ohm", source="the case", at=NOON)
    bike = replace(AGM, own=(figure,))
    assert "lead ohms" in CASES["CHG-OHM-1"].note
    assert alone(bike, read("winding_ohms", 0.35, "ohm", lead_ohms="0.2", temperature="20")) is Word.FAULT
    assert alone(bike, read("winding_ohms", 0.33, "ohm", lead_ohms="0.2", temperature="20")) is Word.GOOD


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(1, 600), st.floats(-0.03, 0.03)),
        min_size=4,
        max_size=9,
        unique_by=lambda p: p[0],
    )
)
def test_the_fitted_line_is_numpys(visits: list[tuple[int, float]]) -> None:
    """numpy.polyfit of degree 1: the same rate, and the same day at which the line meets the limit."""
    first, longest = date(2026, 1, 1), max(day for day, _ in visits)
    points = [(day, 14.5 - 0.8 * day / longest + noise) for day, noise in visits]
    found = trend(
        [(first + timedelta(days=day), value) for day, value in points],
        low=13.5,
        high=14.7,
        least_scatter=1e-6,
    )
    assume(found is not None)
    assert found is not None
    slope, level = np.polyfit([day for day, _ in points], [value for _, value in points], 1)
    assert found.per_day == pytest.approx(slope, rel=1e-6)
    meets = (found.limit - level) / slope
    assert (found.out_on - first).days == pytest.approx(max(meets, longest), abs=1.01)
