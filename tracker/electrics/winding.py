"""A stator's winding: ohms at a temperature, pair against pair, and the way to earth."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from tracker.electrics.arguments import Arguments, shown
from tracker.electrics.conductor import temperature_factor
from tracker.electrics.judge import judge
from tracker.records.bike import UNKNOWN
from tracker.records.electrics import Sum
from tracker.records.limits import Conditions, Limits, Verdict, Word

NEVER_CLEARS = (
    "Ohms never clear a stator: a shorted turn hardly shows. AC volts pair by pair at speed decide."
)

ABOUT_22_V = (18.0, 26.0)
"""Mean volts between which the span of 1 V is asked for (printed for about 22 V; the ends are ours)."""

WORTH_V = 5.0
"""Under so many mean volts a span says nothing (ours)."""

Earthed = Literal["isolated", "earthed by design", "don't know"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WindingSum(Sum):
    """Ohms of the winding alone, at the temperature it has and at the one asked for.

    `doubtful` says that the leads have as many ohms as the winding: the difference is then mostly error.
    """

    ohm: float
    ohm_then: float
    doubtful: bool


def winding_ohm(ohm: float, from_c: float, to_c: float) -> float:
    """Ohms of a copper winding at another temperature.

    Formula: R x (1 + 0.00393 (T2 - 20)) / (1 + 0.00393 (T1 - 20)).
    Range: -40 to 200 °C.
    Example:
        >>> round(winding_ohm(1.21, 20, 75), 3)
        1.472

    Source: [1] IEC 60028.
    """
    return ohm * temperature_factor(to_c) / temperature_factor(from_c)


def winding(
    *, reading_ohm: float, temperature_c: float, lead_ohm: float = 0, wanted_c: float = 20
) -> WindingSum:
    """A winding's ohms, the meter leads' taken off, brought to the temperature its figure is printed for.

    Formula: (reading - leads) x (1 + 0.00393 (wanted - 20)) / (1 + 0.00393 (T - 20)).
    Range: 0 to 100 000 ohm; leads 0 to 10 ohm, not more than the reading; -40 to 200 °C.
    Example:
        >>> answer = winding(reading_ohm=0.45, lead_ohm=0.2, temperature_c=60)
        >>> round(answer.ohm, 3), round(answer.ohm_then, 3), answer.doubtful
        (0.25, 0.216, False)

    Source: [1] IEC 60028.
    """
    arguments = Arguments()
    arguments.number("reading_ohm", reading_ohm, 0, 100_000, "ohm")
    arguments.number("lead_ohm", lead_ohm, 0, 10, "ohm")
    arguments.number("temperature_c", temperature_c, -40, 200, "°C")
    arguments.number("wanted_c", wanted_c, -40, 200, "°C")
    if not arguments.problems and lead_ohm > reading_ohm:
        words = (
            f"“lead_ohm” is {shown(lead_ohm)} ohm, more than the whole reading of {shown(reading_ohm)} ohm."
        )
        arguments.wrong("lead_ohm", shown(lead_ohm), words, "Touch the probes together and read again.")
    arguments.settle()
    ohm = reading_ohm - lead_ohm
    then = winding_ohm(ohm, temperature_c, wanted_c)
    doubtful = lead_ohm >= ohm
    why = [
        f"{shown(reading_ohm)} ohm less {shown(lead_ohm)} ohm of leads: {ohm:.3g} ohm.",
        f"That is at {shown(temperature_c)} °C; at {shown(wanted_c)} °C it would be {then:.3g} ohm.",
    ]
    if doubtful:
        why.append("The leads have as many ohms as it: use a four-wire meter, or volts at a known current.")
    why.append(NEVER_CLEARS)
    return WindingSum(
        ohm=ohm,
        ohm_then=then,
        doubtful=doubtful,
        why=tuple(why),
        source=("IEC 60028: copper, 0.00393 per K from 20 °C",),
        cautions=("Engine stopped, plug apart.",),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class BalanceSum(Sum):
    """Three pairs against each other; `worst_pair` (1 to 3) is the one furthest from the mean."""

    word: Word
    mean: float
    span: float
    deviation_percent: float
    worst_pair: int


def balance(
    *,
    pairs: Sequence[float],
    limits: Limits,
    measured: Literal["volts", "ohms"] = "volts",
    lead_ohm: float = 0,
) -> BalanceSum:
    """AC volts or ohms of a three-phase stator, pair by pair, at one speed.

    Formula: span = most - least; deviation = the furthest from the mean, in per cent of it.
    Range: three pairs; 0 to 400 V, or 0 to 100 000 ohm with leads of 0 to 10 ohm. Volts are judged at 10 %,
        and at a span of 1 V where they are about 22 V; ohms over 10 % are worth a look, never more.
    Example:
        >>> from tracker.seedfiles.limits import load_limits
        >>> answer = balance(pairs=(62, 60, 31), limits=load_limits())
        >>> round(answer.deviation_percent, 1), answer.worst_pair, answer.word.value
        (39.2, 3, 'fault')

    Source: [1] TM 5-3825-213-20 (1 V at about 22 V, our reading). [2] common practice: 10 %.
    """
    arguments = Arguments()
    arguments.whole("pairs", len(pairs), 3, 3)
    arguments.choice("measured", measured, ("volts", "ohms"))
    most, unit = (400, "V") if measured == "volts" else (100_000, "ohm")
    for number, value in enumerate(pairs, 1):
        arguments.number(f"pairs {number}", value, 0, most, unit)
    arguments.number("lead_ohm", lead_ohm, 0, 10, "ohm")
    if measured == "ohms" and not arguments.problems and min(pairs) < lead_ohm:
        arguments.wrong("lead_ohm", shown(lead_ohm), "“lead_ohm” is more than a whole reading.")
    arguments.settle()
    values = [value - lead_ohm for value in pairs] if measured == "ohms" else list(pairs)
    mean = sum(values) / 3
    away = [abs(value - mean) for value in values]
    span = round(max(values) - min(values), 9)
    deviation = round(100 * max(away) / mean, 9) if mean else 0.0
    verdicts = (
        _volts(mean, span, deviation, limits)
        if measured == "volts"
        else [judge("winding_pair_deviation", deviation, "%", Conditions(), limits)]
    )
    order = (Word.NO_LIMITS, Word.GOOD, Word.LOOK, Word.FAULT)
    verdict = max(verdicts, key=lambda one: order.index(one.word))
    listed = ", ".join(shown(round(value, 4)) for value in values)
    why = [
        f"{listed} {unit}: mean {mean:.3g}, span {span:.3g}, furthest off {deviation:.1f} %.",
        *verdict.why,
        *([NEVER_CLEARS] if measured == "ohms" else []),
    ]
    return BalanceSum(
        word=verdict.word,
        mean=mean,
        span=span,
        deviation_percent=deviation,
        worst_pair=away.index(max(away)) + 1,
        why=tuple(why),
        source=tuple(dict.fromkeys(one.limit.cited for one in verdicts if one.limit)),
        cautions=("A bare stator plug at speed bites: up to about 100 V AC. Pacemaker: keep off.",)
        if measured == "volts"
        else ("Engine stopped, plug apart.",),
    )


def _volts(mean: float, span: float, deviation: float, limits: Limits) -> list[Verdict]:
    if mean < WORTH_V:
        words = f"{mean:.2g} V on all pairs: no magnetism, no drive, or the meter is on DC."
        return [Verdict(Word.LOOK, (words,))]
    near = frozenset({"about 22 V AC"}) if ABOUT_22_V[0] <= mean <= ABOUT_22_V[1] else frozenset()
    conditions = Conditions(alternator="three-phase", facts=near)
    found = [judge("ac_pair_deviation", deviation, "%", conditions, limits)]
    return found + ([judge("ac_pair_span", span, "V", conditions, limits)] if near else [])


def insulation(
    *,
    reading_ohm: float,
    kind: Earthed = "don't know",
    limits: Limits,
    tester_500v: bool = False,
    electronics_unplugged: bool = False,
) -> Verdict:
    """A winding's ohms to the engine case; infinite is OL.

    Formula: OL on a meter's top ohms range; 1 Mohm and more with a 500 V tester.
    Range: 0 ohm to OL; a winding that is earthed nowhere by design. One that is, or of which nobody knows, is
        never condemned. The 500 V tester only with every electronic part unplugged.
    Example:
        >>> from tracker.seedfiles.limits import load_limits
        >>> shop = load_limits()
        >>> insulation(reading_ohm=math.inf, kind="isolated", limits=shop).word.value
        'good'
        >>> insulation(reading_ohm=0.4, kind="earthed by design", limits=shop).word.value
        'no limits for this'

    Source: [1] common practice for OL. [2] Army text Tr06564 p. 114 for 1 Mohm at 500 V.
    """
    arguments = Arguments()
    if reading_ohm != math.inf:
        arguments.number("reading_ohm", reading_ohm, 0, 1e12, "ohm")
    arguments.choice("kind", kind, ("isolated", "earthed by design", UNKNOWN))
    if tester_500v and not electronics_unplugged:
        arguments.wrong(
            "electronics_unplugged",
            "no",
            "A 500 V tester kills electronic parts: every one of them must be unplugged first.",
            "Unplug regulator/rectifier, ignition and every module, or use the meter's top ohms range.",
        )
    arguments.settle()
    if kind != "isolated":
        words = (
            "One end of this winding is earthed by design: ohms to the case say nothing."
            if kind == "earthed by design"
            else "Nobody has said whether one end is earthed by design: this condemns nothing."
        )
        return Verdict(Word.NO_LIMITS, (words, "Judge it by AC volts and by what it gives under load."))
    facts = {"isolated winding"} | ({"electronics unplugged"} if tester_500v else set())
    reading = "insulation_500v_ohms" if tester_500v else "insulation_ohms"
    return judge(reading, reading_ohm, "ohm", Conditions(facts=frozenset(facts)), limits)
