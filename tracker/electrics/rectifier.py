"""A rectifier's diodes, by ohms both ways on a moving-coil meter, or on a meter's diode range."""

import math
from typing import Literal

from tracker.electrics.arguments import Arguments
from tracker.electrics.judge import judge
from tracker.records.limits import Conditions, Limits, Verdict, Word

Meter = Literal["moving coil", "digital"]

SHORTED_OHM = 1.0
"""Both ways under this, a diode is shorted (ours: the manual says 0)."""


def diode_ohms(*, forward_ohm: float, reverse_ohm: float, meter: Meter, limits: Limits) -> Verdict:
    """A diode measured in ohms both ways; infinite is OL.

    Formula: reverse / forward at least 10; 0 both ways is shorted, OL both ways open.
    Range: 0 ohm to OL; a moving-coil meter on ohms: a digital one may read OL both ways on a sound diode.
    Example:
        >>> from tracker.seedfiles.limits import load_limits
        >>> diode_ohms(forward_ohm=20, reverse_ohm=150, meter="moving coil", limits=load_limits()).word.value
        'fault'

    Source: [1] STP 11-25R13-SM-TG app. N-2.
    """
    arguments = Arguments()
    arguments.choice("meter", meter, ("moving coil", "digital"))
    for name, value in (("forward_ohm", forward_ohm), ("reverse_ohm", reverse_ohm)):
        if value != math.inf:
            arguments.number(name, value, 0, 1e12, "ohm")
    arguments.settle()
    if meter == "digital":
        words = "A digital meter on ohms says nothing of a diode: use its diode range."
        return Verdict(Word.NO_LIMITS, (words,))
    limit = limits.rows["diode-ratio"]
    if forward_ohm == math.inf and reverse_ohm == math.inf:
        return Verdict(Word.FAULT, ("OL both ways: the diode is open.",), limit, (limit,))
    if max(forward_ohm, reverse_ohm) < SHORTED_OHM:
        return Verdict(Word.FAULT, ("No ohms both ways: the diode is shorted.",), limit, (limit,))
    ratio = reverse_ohm / forward_ohm if forward_ohm else math.inf
    conditions = Conditions(facts=frozenset({"moving-coil meter"}))
    return judge("diode_ratio", ratio, "ratio", conditions, limits)


def diode_range(*, forward_v: float, reverse_v: float, plain_diodes: bool | None, limits: Limits) -> Verdict:
    """A rectifier's diode on a meter's diode range, both ways; infinite is OL.

    Formula: forward 0.2 to 0.8 V (silicon about 0.7, Schottky 0.2 to 0.4), reverse OL.
    Range: 0 to 3 V or OL; only units that read as plain diodes: others get no verdict.
    Example:
        >>> from tracker.seedfiles.limits import load_limits
        >>> shop = load_limits()
        >>> diode_range(forward_v=0.52, reverse_v=math.inf, plain_diodes=True, limits=shop).word.value
        'good'
        >>> diode_range(forward_v=0.52, reverse_v=0.52, plain_diodes=None, limits=shop).word.value
        'no limits for this'

    Source: [1] general electronics page; 0.8 V at most: community practice.
    """
    arguments = Arguments()
    for name, value in (("forward_v", forward_v), ("reverse_v", reverse_v)):
        if value != math.inf:
            arguments.number(name, value, 0, 3, "V")
    arguments.settle()
    if not plain_diodes:
        words = "Only a unit that reads as plain diodes can be judged so; MOSFET and thyristor units cannot."
        return Verdict(Word.NO_LIMITS, (words,))
    conditions = Conditions(facts=frozenset({"plain diodes"}))
    back = judge("diode_reverse", reverse_v, "V", conditions, limits)
    ahead = judge("diode_forward", forward_v, "V", conditions, limits)
    return back if back.word == Word.FAULT else ahead
