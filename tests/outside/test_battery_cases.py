"""Batteries against published figures: tests/outside/data/battery_cases.csv, each row with its source.

A row whose status is “computed” is arithmetic without an outside figure.
"""

from collections.abc import Callable

import pytest

from tests.outside.charge_cases import Case, cases
from tracker.electrics.battery import BatterySum, battery
from tracker.electrics.battery_acid import corrected_gravity, hydrometer, self_discharge
from tracker.electrics.battery_load import load_test
from tracker.electrics.battery_use import drain
from tracker.electrics.judge import judge
from tracker.records.limits import Conditions, Word
from tracker.seedfiles.limits import load_limits

LIMITS = load_limits()
CASES = cases("battery_cases.csv")


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def flooded(volts: float) -> BatterySum:
    return battery(standing_v=volts, kind="flooded", surface_charge_removed=True, limits=LIMITS)


def gravity(reading: float, fahrenheit: float) -> float:
    return corrected_gravity(reading, celsius(fahrenheit), LIMITS)


def agm(volts: float, rest_h: float) -> BatterySum:
    return battery(standing_v=volts, kind="agm", rest_h=rest_h, limits=LIMITS)


def cells_apart() -> bool:
    answer = hydrometer(
        cells=(1.270, 1.268, 1.265, 1.270, 1.262, 1.244),
        temperature_c=celsius(80),
        charged=True,
        limits=LIMITS,
    )
    return answer.spread == 0.026 and answer.serviceable is False


def overcharged() -> bool:
    def word(volts: float) -> Word:
        return judge("regulated_volts", volts, "V", Conditions(volts=12, battery="lithium"), LIMITS).word

    return (word(15.0), word(14.99)) == (Word.FAULT, Word.LOOK)


def boost(volts: float) -> bool:
    return battery(standing_v=volts, kind="lithium", limits=LIMITS).may_boost


CHECKS: dict[str, Callable[[Case], bool]] = {
    "BAT-OCV-1": lambda case: case.meets(flooded(11.7).percent),
    "BAT-OCV-2": lambda case: case.meets(flooded(12.0).percent),
    "BAT-OCV-4": lambda case: case.meets(flooded(12.4).percent),
    "BAT-OCV-5": lambda case: case.meets(flooded(12.6).percent),
    "BAT-OCV-7": lambda _: flooded(12.39).load_test_advised and not flooded(12.4).load_test_advised,
    "BAT-AGM-1": lambda _: agm(12.85, 8).percent == 100 and agm(12.85, 8).valid is True,
    "BAT-AGM-2": lambda _: agm(12.85, 2).valid is False and agm(12.85, 3).valid is True,
    "BAT-LOAD-1": lambda _: load_test(end_v=9.6, temperature_c=21, limits=LIMITS).word == Word.GOOD,
    "BAT-LOAD-2": lambda _: load_test(end_v=9.59, temperature_c=21, limits=LIMITS).word == Word.FAULT,
    "BAT-SG-1": lambda case: case.meets(gravity(1.240, 100)),
    "BAT-SG-3": lambda case: case.meets(gravity(1.250, 70)),
    "BAT-SG-4": lambda _: cells_apart(),
    "BAT-SELF-1": lambda _: (
        abs(
            self_discharge(gravity=1.265, days=10, temperature_c=celsius(80), limits=LIMITS).gravity_after
            - 1.255
        )
        <= 0.0005
    ),
    "BAT-DRAIN-1": lambda case: case.meets(drain(drain_ma=20, battery_ah=12, limits=LIMITS).ah_per_day),
    "BAT-DRAIN-2": lambda case: case.meets(drain(drain_ma=30, battery_ah=12, limits=LIMITS).days),
    "BAT-LFP-1": lambda _: overcharged(),
    "BAT-LFP-2": lambda _: not boost(9.9) and not boost(10.0) and boost(10.1),
}


def test_every_case_has_a_check() -> None:
    assert [case.id for case in CASES] == list(CHECKS)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.id)
def test_case(case: Case) -> None:
    assert CHECKS[case.id](case), f"{case.input}: {case.expected} ({case.source})"


@pytest.mark.parametrize(
    ("volts", "temperature_c"),
    [(9.6, 20), (9.5, 16), (9.4, 10), (9.3, 4), (9.1, -1), (8.9, -7), (8.7, -12), (8.5, -18)],
)
def test_the_load_test_at_other_temperatures(volts: float, temperature_c: float) -> None:
    """Source: the same table in two car makers' service pages (brands withheld), read in stored copies."""
    assert load_test(end_v=volts, temperature_c=temperature_c, limits=LIMITS).word == Word.GOOD
    assert load_test(end_v=volts - 0.01, temperature_c=temperature_c, limits=LIMITS).word == Word.FAULT


@pytest.mark.parametrize(("fahrenheit", "a_day"), [(50, 0.0003), (80, 0.001), (100, 0.0025)])
def test_self_discharge_at_three_temperatures(fahrenheit: float, a_day: float) -> None:
    """Source: TM 9-6140-200-14 para 4-7."""
    answer = self_discharge(
        gravity=1.265, days=1, temperature_c=min(37.78, celsius(fahrenheit)), limits=LIMITS
    )
    assert answer.per_day == pytest.approx(a_day, rel=0.01)
