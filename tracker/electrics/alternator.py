"""An alternator's AC: what a rectifier makes of it, how fast it alternates, how it rises with speed."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from tracker.electrics.arguments import Arguments, shown
from tracker.records.electrics import Sum

Arrangement = Literal["three-phase", "single-phase", "half-wave"]

_SHAPES: dict[str, tuple[float, float, int, int, str]] = {
    "three-phase": (6 / math.pi, math.pi / 6, 2, 6, "three-phase bridge, volts between two leads"),
    "single-phase": (2 / math.pi, math.pi / 2, 2, 2, "single-phase bridge"),
    "half-wave": (1 / math.pi, math.pi / 2, 1, 1, "one diode, half wave"),
}
"""Factor, half the angle that each pulse lasts, diodes in the way, pulses a cycle, words."""

BITES = "A bare stator plug at speed bites: up to about 100 V AC. Pacemaker: keep off."


@dataclass(frozen=True, slots=True, kw_only=True)
class BridgeSum(Sum):
    """Mean DC volts behind a rectifier, with a resistor as load.

    `ideal_v` is without diode drops, `less_drops_v` the textbook's ideal less the drops in the way (current
    that never stops). `ac_hz` and `ripple_hz` are None unless poles and speed were given.
    """

    mean_v: float
    ideal_v: float
    less_drops_v: float
    peak_v: float
    ac_hz: float | None
    ripple_hz: float | None


def frequency_hz(poles: int, rev_min: float) -> float:
    """How often an alternator's volts go round in a second.

    Formula: f = poles / 2 x rev/min / 60.
    Range: an even number of poles from 2 to 60; speed 0 to 20 000 rev/min of the rotor.
    Example:
        >>> frequency_hz(12, 5000)
        500.0

    Source: [1] arithmetic.
    """
    return poles / 2 * rev_min / 60


def bridge_mean_v(ac_v: float, arrangement: Arrangement, diode_drop_v: float = 0.0) -> float:
    """Mean DC volts of a rectifier into a resistor.

    Formula: k (Vm sin a - Vd a), Vm = sqrt(2) x rms, Vd the drops of the diodes in the way, a the angle at
        which Vm cos a = Vd (at most 30 degrees for three phases). Without drops: 3 sqrt(2)/pi, 2 sqrt(2)/pi
        and sqrt(2)/pi times the rms volts for three-phase, single-phase and half wave.
    Range: AC volts 0 to 400 rms, sine; drop 0 to 3 V a diode. Three-phase volts are between two leads.
    Example:
        >>> [round(bridge_mean_v(12, "three-phase", drop), 2) for drop in (0, 0.7)]
        [16.21, 14.81]
        >>> round(bridge_mean_v(20, "half-wave"), 2)
        9.0

    Source: [1] textbook identities; diode drops by the angle that is left: derived. Checked against ngspice.
    """
    factor, half_angle, diodes, _, _ = _SHAPES[arrangement]
    peak, drop = math.sqrt(2) * ac_v, diodes * diode_drop_v
    if peak <= drop:
        return 0.0
    angle = min(half_angle, math.acos(drop / peak))
    return factor * (peak * math.sin(angle) - drop * angle)


def bridge(
    *,
    ac_v: float,
    arrangement: Arrangement = "three-phase",
    diode_drop_v: float = 0.7,
    poles: int | None = None,
    rev_min: float | None = None,
) -> BridgeSum:
    """The DC that a rectifier makes of AC volts, and how often both go round where poles and speed are given.

    Formula: as `bridge_mean_v`; f = poles / 2 x rev/min / 60; ripple 6 f, 2 f or f.
    Range: 0 to 400 V rms; drop 0 to 3 V a diode; 2 to 60 poles, even; 0 to 20 000 rev/min.
    Example:
        >>> answer = bridge(ac_v=12, poles=12, rev_min=5000)
        >>> round(answer.mean_v, 2), answer.ac_hz, answer.ripple_hz
        (14.81, 500.0, 3000.0)

    Source: [1] textbook identities. [2] arithmetic for the frequencies. Checked against ngspice.
    """
    arguments = Arguments()
    arguments.number("ac_v", ac_v, 0, 400, "V")
    arguments.choice("arrangement", arrangement, _SHAPES)
    arguments.number("diode_drop_v", diode_drop_v, 0, 3, "V")
    if poles is not None:
        check_poles(arguments, poles)
    if rev_min is not None:
        arguments.number("rev_min", rev_min, 0, 20_000, "rev/min")
    arguments.settle()
    _, _, diodes, pulses, words = _SHAPES[arrangement]
    mean, ideal = bridge_mean_v(ac_v, arrangement, diode_drop_v), bridge_mean_v(ac_v, arrangement)
    less = max(0.0, ideal - diodes * diode_drop_v)
    ac_hz = frequency_hz(poles, rev_min) if poles is not None and rev_min is not None else None
    why = [
        f"{shown(ac_v)} V rms, {words}: {ideal:.2f} V mean without drops.",
        f"Less {diodes} x {shown(diode_drop_v)} V: {mean:.2f} V into a resistor"
        + (f", {less:.2f} V where the current never stops." if abs(less - mean) > 0.005 else "."),
        "With the plug apart this says little of what the alternator gives under load.",
    ]
    if ac_hz is not None:
        why.append(f"{ac_hz:.0f} Hz; the ripple behind the rectifier has {pulses * ac_hz:.0f} Hz.")
    return BridgeSum(
        mean_v=mean,
        ideal_v=ideal,
        less_drops_v=less,
        peak_v=math.sqrt(2) * ac_v,
        ac_hz=ac_hz,
        ripple_hz=None if ac_hz is None else pulses * ac_hz,
        why=tuple(why),
        source=("textbook identities of rectified sines", "0.7 V a silicon diode: general electronics page"),
        cautions=(BITES,),
    )


def check_poles(arguments: Arguments, poles: int) -> None:
    """Notes what is wrong with a number of poles.

    Formula: none.
    Range: an even number from 2 to 60.
    Example:
        >>> looked_over = Arguments()
        >>> check_poles(looked_over, 7)
        >>> looked_over.problems[0].field
        'poles'

    Source: none: a check of arguments.
    """
    arguments.whole("poles", poles, 2, 60)
    if isinstance(poles, int) and poles % 2:
        arguments.wrong("poles", str(poles), f"“poles” is {poles}; poles come in pairs, from 2 to 60.")


@dataclass(frozen=True, slots=True, kw_only=True)
class RiseSum(Sum):
    """AC volts for every 1000 rev/min at each speed, and how far those differ, in per cent of their mean."""

    per_1000: tuple[float, ...]
    spread_percent: float


def rise(*, points: Sequence[tuple[float, float]]) -> RiseSum:
    """Whether AC volts rise with speed as magnets make them: (rev/min, volts) of one pair, plug apart.

    Formula: volts x 1000 / rev/min, the same at every speed; spread = (most - least) / mean x 100 %.
    Range: 2 to 20 points; over 0 to 20 000 rev/min; 0 to 400 V. How much is right: the bike's own figure.
    Example:
        >>> answer = rise(points=[(1500, 18), (3000, 36), (5000, 60)])
        >>> answer.per_1000, answer.spread_percent
        ((12.0, 12.0, 12.0), 0.0)

    Source: [1] induction: volts in proportion to speed; derived.
    """
    arguments = Arguments()
    arguments.whole("points", len(points), 2, 20)
    for number, (rev_min, volts) in enumerate(points, 1):
        arguments.number(f"points {number} rev_min", rev_min, 0, 20_000, "rev/min", over=True)
        arguments.number(f"points {number} volts", volts, 0, 400, "V")
    arguments.settle()
    per_1000 = tuple(volts * 1000 / rev_min for rev_min, volts in points)
    mean = sum(per_1000) / len(per_1000)
    spread = 100 * (max(per_1000) - min(per_1000)) / mean if mean else 0.0
    listed = ", ".join(f"{value:.3g}" for value in per_1000)
    return RiseSum(
        per_1000=per_1000,
        spread_percent=spread,
        why=(
            f"For every 1000 rev/min: {listed} V.",
            f"They differ by {spread:.0f} % of their mean; magnets give the same at every speed.",
            "How many volts it should be is the bike's own figure; there is none for all.",
        ),
        source=("induction: volts in proportion to speed (derived)",),
        cautions=(BITES,),
    )
