"""What a stator's AC volts and winding ohms say: dead, unbalanced, low, flat, or as they should be."""

from collections.abc import Sequence
from itertools import combinations
from typing import Protocol

from tracker.electrics.alternator import rise
from tracker.electrics.taken import of_the_field, plug, rev_min
from tracker.electrics.winding import WORTH_V, balance
from tracker.records.bike import UNKNOWN
from tracker.records.card import Reading
from tracker.records.charging import AC_PAIRS, ChargingBike
from tracker.records.limits import Limits, Verdict, Word

THREE_LEADS = ("three-phase", "excited-field", UNKNOWN)
FLAT_PERCENT = 25.0
"""Volts for every 1000 rev/min that differ by more than this do not rise as magnets make them (ours)."""
APART_RATIO = 1.5
"""Two speeds nearer to each other than this do not show a rise (ours)."""


class Judged(Protocol):
    """A reading with its verdict."""

    @property
    def reading(self) -> Reading:
        """The reading."""
        ...

    @property
    def verdict(self) -> Verdict:
        """What it says by itself."""
        ...


def ac_sign(judged: Sequence[Judged], bike: ChargingBike, limits: Limits) -> tuple[str, tuple[Verdict, ...]]:
    """The word for AC volts pair by pair, and the verdicts behind it.

    Formula: none over 5 V is dead; three pairs of one speed by their balance; each by the bike's own figure
        for 1000 rev/min; one pair at two speeds by its rise. The worst counts; else no limits.
    Range: readings of the pairs in any order, the newest of a pair at a speed counting; of one plug.
    """
    if not judged:
        return "unread", ()
    volts = [one.reading.value for one in judged if one.reading.value is not None]
    if not volts:
        return "no limits", ()
    if max(volts) < WORTH_V:
        return "dead", (Verdict(Word.LOOK, (f"At most {max(volts):g} V on any pair that was read.",)),)
    balanced, even = _balance(judged, bike, limits)
    own = [one.verdict for one in judged if one.verdict.limit is not None and one.verdict.limit.own]
    rising, rises = _rise(judged, bike)
    if balanced == "unbalanced":
        return balanced, even
    if any(one.word is Word.FAULT for one in own):
        return "low", tuple(one for one in own if one.word is Word.FAULT)
    if rising == "flat":
        return rising, rises
    if balanced == "uneven":
        return balanced, even
    if own:
        return "right", tuple(own)
    if balanced:
        return balanced, even
    return (rising, rises) if rising else ("no limits", ())


def pairs_judged(readings: Sequence[Reading], bike: ChargingBike, limits: Limits) -> dict[int, Verdict]:
    """AC volts of three pairs held against each other, by reading.

    Formula: the balance of the three pairs of one phase, one speed and one way of the plug.
    Range: three-phase and excited-field alternators; pairs of which one is missing are left out.
    """
    if bike.alternator not in THREE_LEADS:
        return {}
    sets: dict[tuple[object, ...], dict[str, Reading]] = {}
    for one in readings:
        if one.kind in AC_PAIRS and one.value is not None and 0 <= one.value <= 400:
            sets.setdefault((one.phase, rev_min(one), plug(one)), {})[one.kind] = one
    found: dict[int, Verdict] = {}
    for pairs in sets.values():
        if len(pairs) == len(AC_PAIRS):
            answer = balance(pairs=tuple(pairs[kind].value or 0.0 for kind in AC_PAIRS), limits=limits)
            said = Verdict(answer.word, answer.why, limits.rows["phase-balance-pct"])
            found |= {one.id: said for one in pairs.values()}
    return found


def _balance(judged: Sequence[Judged], bike: ChargingBike, limits: Limits) -> tuple[str, tuple[Verdict, ...]]:
    if bike.alternator not in THREE_LEADS:
        return "", ()
    by_speed: dict[float | None, dict[str, float]] = {}
    for one in judged:
        if one.reading.value is not None and 0 <= one.reading.value <= 400:
            by_speed.setdefault(rev_min(one.reading), {})[one.reading.kind] = one.reading.value
    whole = [pairs for pairs in by_speed.values() if len(pairs) == 3]
    if not whole:
        return "", ()
    pairs = max(whole, key=lambda one: sum(one.values()))
    found = balance(pairs=tuple(pairs[kind] for kind in sorted(pairs)), limits=limits)
    words = {Word.GOOD: "balanced", Word.LOOK: "uneven", Word.FAULT: "unbalanced", Word.NO_LIMITS: ""}
    used = limits.rows["phase-balance-pct"]
    return words[found.word], (Verdict(found.word, found.why, used),)


def _rise(judged: Sequence[Judged], bike: ChargingBike) -> tuple[str, tuple[Verdict, ...]]:
    if bike.alternator == "excited-field":
        return "", ()
    found = ""
    said: tuple[Verdict, ...] = ()
    for kind in sorted({one.reading.kind for one in judged}):
        points = {
            speed: one.reading.value
            for one in judged
            if one.reading.kind == kind
            and one.reading.value is not None
            and 0 <= one.reading.value <= 400
            and plug(one.reading) != "loaded"
            and 0 < (speed := rev_min(one.reading) or 0) <= 20_000
        }
        if not any(max(two) >= APART_RATIO * min(two) for two in combinations(points, 2)) or len(points) > 20:
            continue
        answer = rise(points=sorted(points.items()))
        falls = answer.per_1000[-1] < answer.per_1000[0]
        if answer.spread_percent > FLAT_PERCENT and falls:
            return "flat", (Verdict(Word.LOOK, answer.why[:2]),)
        found, said = "rises", (Verdict(Word.GOOD, answer.why[:2]),)
    return found, said


def ohms_sign(judged: Sequence[Judged], limits: Limits) -> tuple[str, tuple[Verdict, ...]]:
    """The word for winding ohms: apart where pairs disagree or the bike's own figure is missed.

    Formula: three pairs by their balance; each by the bike's own figure. They never clear a stator, so the
        best they come to is “nothing”.
    Range: readings at places of their own (a-b, b-c, c-a); those of a field are left out.
    """
    stator = [one for one in judged if not of_the_field(one.reading)]
    if not stator:
        return "unread", ()
    own = tuple(one.verdict for one in stator if one.verdict.word is Word.FAULT)
    pairs = {one.reading.place: one.reading.value for one in stator if one.reading.value is not None}
    if own:
        return "apart", own
    if len(pairs) == 3 and all(0 <= ohm <= 100_000 for ohm in pairs.values()):
        found = balance(pairs=tuple(pairs.values()), limits=limits, measured="ohms")
        if found.word is Word.LOOK:
            used = limits.rows["winding-balance-pct"]
            return "apart", (Verdict(found.word, found.why, used),)
    return "nothing", ()
