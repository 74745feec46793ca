"""Alternators, rectifiers, starter drops against published figures; bridges and windings against ngspice.

The figures are in tests/outside/data/alternator_cases.csv, each row with its source; rows whose status is
“computed” are arithmetic, “from memory” says so. ngspice runs as in `tests/outside/spice.py`.
"""

import math
from collections.abc import Callable
from datetime import UTC, datetime

import pytest

from tests.outside.charge_cases import Case, cases
from tests.outside.spice import run
from tracker.electrics.alternator import Arrangement, bridge, bridge_mean_v
from tracker.electrics.judge import judge, spread_limits
from tracker.electrics.rectifier import diode_ohms
from tracker.electrics.winding import balance, insulation, winding_ohm
from tracker.records.bike import OwnFigure
from tracker.records.limits import Conditions, Word
from tracker.seedfiles.limits import load_limits

LIMITS = load_limits()
CASES = cases("alternator_cases.csv")


def against(kind: str, reading: float, unit: str, least: float | None, most: float | None) -> Word:
    """A reading against a figure that somebody entered for the bike."""
    figure = OwnFigure(
        kind=kind, least=least, most=most, unit=unit, source="the case", at=datetime(2026, 1, 1, tzinfo=UTC)
    )
    return judge(kind, reading, unit, Conditions(own=(figure,)), LIMITS).word


def band(case: Case, nominal: float, percent: float, low: float, high: float) -> bool:
    """Whether a figure with its per cent gives the band the case names."""
    found = spread_limits(nominal, percent)
    return str(case.expected).count(f"{low:g}") == 1 and found == pytest.approx((low, high))


def ripple() -> tuple[float | None, float | None]:
    answer = bridge(ac_v=20, poles=12, rev_min=5000)
    return answer.ac_hz, answer.ripple_hz


def diode(forward: float, reverse: float) -> str:
    verdict = diode_ohms(forward_ohm=forward, reverse_ohm=reverse, meter="moving coil", limits=LIMITS)
    return f"{verdict.word}: {verdict.why[0]}"


def crank_drop(kind: str, volts: float) -> Word:
    facts = frozenset({"cranking", "current flowing"})
    return judge(kind, volts, "V", Conditions(volts=12, facts=facts), LIMITS).word


def low_insulation(megohm: float) -> Word:
    return insulation(
        reading_ohm=megohm * 1e6, kind="isolated", tester_500v=True, electronics_unplugged=True, limits=LIMITS
    ).word


CHECKS: dict[str, Callable[[Case], bool]] = {
    "CHG-BR-1": lambda case: case.meets(bridge_mean_v(12.0, "three-phase")),
    "CHG-BR-2": lambda case: case.meets(bridge_mean_v(12.0, "three-phase", 0.7)),
    "CHG-BR-4": lambda case: case.meets(bridge_mean_v(20.0, "half-wave")),
    "CHG-RIP-1": lambda case: ripple() == (case.number, 3000),
    "CHG-BAL-1": lambda _: (
        balance(pairs=(21.8, 22.0, 22.5), limits=LIMITS).word == Word.GOOD
        and balance(pairs=(21.8, 22.0, 22.81), limits=LIMITS).word == Word.LOOK
    ),
    "CHG-BAL-3": lambda _: (
        abs(balance(pairs=(62, 60, 31), limits=LIMITS).deviation_percent - 39.2) <= 0.1
        and balance(pairs=(62, 60, 31), limits=LIMITS).word == Word.FAULT
    ),
    "CHG-AC-1": lambda case: (
        band(case, 64, 25, 48, 80) and against("ac_volts_ab", 45, "V", 48, 80) == Word.FAULT
    ),
    "CHG-OHM-1": lambda case: (
        band(case, 0.13, 15, 0.1105, 0.1495)
        and against("winding_ohms", 0.15, "ohm", *spread_limits(0.13, 15)) == Word.FAULT
    ),
    "CHG-OHM-2": lambda _: (
        against("winding_ohms", 1.1, "ohm", None, 1.0) == Word.FAULT
        and against("winding_ohms", 1.0, "ohm", None, 1.0) == Word.GOOD
    ),
    "CHG-EARTH-1": lambda _: low_insulation(0.4) == Word.LOOK and low_insulation(1.0) == Word.GOOD,
    "CHG-DIO-1": lambda _: (
        diode(20, 150).startswith("fault: Reverse over forward")
        and "7.5" in diode(20, 150)
        and diode(20, 200).startswith("good")
    ),
    "CHG-DIO-2": lambda _: "shorted" in diode(0, 0) and "open" in diode(math.inf, math.inf),
    "CHG-CU-1": lambda case: case.meets(winding_ohm(1.21, 20, 75)),
    "VD-1": lambda _: (
        crank_drop("drop_start_total", 0.45) == Word.FAULT
        and crank_drop("drop_start_total", 0.4) == Word.GOOD
    ),
    "VD-2": lambda _: (
        crank_drop("drop_start_cable", 0.2)
        == crank_drop("drop_start_switch", 0.1)
        == crank_drop("drop_start_connector", 0.0)
        == Word.GOOD
    ),
    "VD-3": lambda _: crank_drop("drop_start_connector", 0.05) == Word.FAULT,
    "VD-5": lambda _: (
        crank_drop("drop_start_sides", 0.5 + 0.3) == Word.GOOD
        and crank_drop("drop_start_sides", 0.81) == Word.FAULT
    ),
}


def test_every_case_has_a_check() -> None:
    assert [case.id for case in CASES] == list(CHECKS)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.id)
def test_case(case: Case) -> None:
    assert CHECKS[case.id](case), f"{case.input}: {case.expected} ({case.source})"


def rectified(arrangement: Arrangement, ac_v: float, drop: float) -> float:
    """Mean volts across 100 ohm behind the rectifier, by ngspice: valves, each with `drop` in line."""
    peak = ac_v * math.sqrt(2)
    lines = ["rload plus minus 100"]

    def diode(name: str, a: str, b: str) -> list[str]:
        valve = f"b{name} {a} m{name} i = v({a},m{name}) > 0 ? 100*v({a},m{name}) : 1e-9*v({a},m{name})"
        return [valve, f"v{name} m{name} {b} {drop!r}"]

    match arrangement:
        case "three-phase":
            for phase, turn in enumerate((0, 120, 240)):
                lines.append(f"vs{phase} l{phase} star sin(0 {peak / math.sqrt(3)!r} 100 0 0 {-turn})")
                lines += [*diode(f"u{phase}", f"l{phase}", "plus"), *diode(f"d{phase}", "minus", f"l{phase}")]
            lines.append("rstar star 0 1e6")
            lines.append("rminus minus 0 1e6")
        case "single-phase":
            lines.append(f"vs l1 l2 sin(0 {peak!r} 100)")
            for lead in ("l1", "l2"):
                lines += [*diode(f"u{lead}", lead, "plus"), *diode(f"d{lead}", "minus", lead)]
            lines.append("rminus minus 0 1e-3")
        case _:
            lines += [f"vs l1 0 sin(0 {peak!r} 100)", *diode("u", "l1", "plus"), "rminus minus 0 1e-6"]
    control = ["tran 10u 40m 0 10u", "let out = v(plus) - v(minus)"]
    control += ["meas tran mean avg out from=20m to=40m", "print mean"]
    values = run(lines, control, "reltol=1e-4 abstol=1e-9 vntol=1e-6")
    return values["mean"]


@pytest.mark.parametrize("arrangement", ["three-phase", "single-phase", "half-wave"])
@pytest.mark.parametrize(("ac_v", "drop"), [(12.0, 0.0), (12.0, 0.7), (45.0, 0.7), (3.0, 0.7)])
def test_a_bridge_gives_what_ngspice_gives(arrangement: Arrangement, ac_v: float, drop: float) -> None:
    """Within 5 mV and 0.05 % of the peak: valves of 10 milliohm, steps of 10 us."""
    outside = rectified(arrangement, ac_v, drop)
    assert abs(bridge_mean_v(ac_v, arrangement, drop) - outside) < 0.0005 * ac_v * math.sqrt(2) + 0.005


@pytest.mark.parametrize(("ohm", "from_c", "to_c"), [(1.21, 20, 75), (0.4, 20, -10), (0.4, 20, 150)])
def test_a_winding_warms_as_ngspices_copper_does(ohm: float, from_c: float, to_c: float) -> None:
    """A resistor with tc1 = 0.00393 from 20 C, one amp through it."""
    values = run(
        ["i1 0 a 1", f"r1 a 0 {ohm!r} tc1=0.00393", f".options tnom={from_c} temp={to_c}"],
        ["op", "print v(a)"],
    )
    assert winding_ohm(ohm, from_c, to_c) == pytest.approx(values["v(a)"], rel=1e-6)
