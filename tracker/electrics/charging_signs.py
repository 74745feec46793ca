"""The readings of a charging check brought to signs: a word for each thing that the table asks about.

Each sign keeps the limits it was judged by and what they said, so that a verdict can name them.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from tracker.electrics.charging_ac import ac_sign, ohms_sign
from tracker.electrics.judge import judge
from tracker.electrics.taken import (
    CHARGE,
    CHARGING_VOLTS,
    cranking,
    empty,
    flat,
    flat_at,
    judge_reading,
    plug,
    rested,
    rev_min,
    said_charged,
)
from tracker.records.bike import UNKNOWN
from tracker.records.card import Reading
from tracker.records.charging import ChargingBike
from tracker.records.limits import LEAD_KINDS, LITHIUM, Limit, Limits, Verdict, Word

STOP_NOW = ("reg-danger", "lfp-stop")
NOT_AT_ALL = ("reg-none",)
UP_TO_SPEED = 2500.0
"""From this many rev/min on a charge current that leaves the battery says something (ours)."""
TELLING_A = 0.2
"""Amps in or out under this are neither (ours: a clamp's own zero)."""


@dataclass(frozen=True, slots=True)
class Sign:
    """What one thing reads like, by which limits, what they said, and the ids of the readings that say so."""

    word: str
    limits: tuple[Limit, ...] = ()
    why: tuple[str, ...] = ()
    readings: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Judged:
    """A reading with its verdict."""

    reading: Reading
    verdict: Verdict

    def sign(self, word: str) -> Sign:
        """A sign of that word that stands on this reading."""
        limit = self.verdict.limit
        return Sign(word, (limit,) if limit else (), self.verdict.why[:2], (self.reading.id,))

    @property
    def side(self) -> str:
        """Where a reading stands to the limit that judged it: under, over, or in."""
        return side(self.reading.value, self.verdict.limit)


def side(value: float | None, limit: Limit | None) -> str:
    """Under, over, or in: where a value stands to a limit's bounds."""
    if limit is None or value is None:
        return "in"
    lower = [bound for bound in (limit.fault_below, limit.look_below) if bound is not None]
    upper = [bound for bound in (limit.look_above, limit.fault_above) if bound is not None]
    worse = limit.at_limit == "worse"
    if lower and (value < max(lower) or (worse and value == max(lower))):
        return "under"
    if upper and (value > min(upper) or (worse and value == min(upper))):
        return "over"
    return "in"


def signs_of(readings: Iterable[Reading], bike: ChargingBike, limits: Limits) -> Mapping[str, Sign]:
    """Every sign of one bike's readings; the newest of a kind counts, of drops the worst.

    Formula: each reading by its own limits; what they cannot judge is “no limits”, what nobody took “unread”.
    Range: readings of one phase, any kinds, in any order; others than of the charging side are passed over.
    """
    every = sorted(readings, key=lambda one: (one.at, one.id))
    charge = {one.id: flat_at(one, every, bike, limits) for one in every}
    judged = [Judged(one, judge_reading(one, bike, limits, is_flat=charge[one.id])) for one in every]
    newest: dict[str, Judged] = {one.reading.kind: one for one in judged}
    over = _over(judged)
    pairs = [one for one in judged if one.reading.kind.startswith("ac_volts")]
    ohms = [one for one in judged if one.reading.kind == "winding_ohms"]
    return {
        **_bike(bike),
        "over": over,
        "state": _state(every, bike, limits),
        "load": _by_word(
            newest.get("load_volts"), {Word.GOOD: "good", Word.LOOK: "good", Word.FAULT: "worn"}
        ),
        "crank": _by_word(
            newest.get("cranking_volts"), {Word.GOOD: "good", Word.LOOK: "near", Word.FAULT: "weak"}
        ),
        "charge": _charge(newest.get("regulated_volts"), charge),
        "lamps": _charge(newest.get("regulated_volts_lamps"), charge),
        "current": _current(newest.get("charge_current")),
        "ac": _of(ac_sign(pairs, bike, limits), pairs),
        "plug": _plug(judged),
        "ohms": _of(ohms_sign(ohms, limits), ohms),
        "earth": _by_word(
            newest.get("insulation_ohms"), {Word.GOOD: "clear", Word.LOOK: "touches", Word.FAULT: "touches"}
        ),
        "live": _drop([one for one in judged if one.reading.kind == "drop_positive"]),
        "ground": _drop([one for one in judged if one.reading.kind == "drop_earth"]),
        "sense": _sense(newest, over, bike, limits),
        "diode": _diode([one for one in judged if one.reading.kind == "diode_forward"]),
        "drain": _by_word(
            newest.get("drain"), {Word.GOOD: "good", Word.LOOK: "look", Word.FAULT: "high"}, none="unread"
        ),
        "twice": _twice(judged),
    }


def _of(found: tuple[str, Sequence[Verdict]], judged: Sequence[Judged]) -> Sign:
    word, verdicts = found
    limits = tuple(one.limit for one in verdicts if one.limit)
    ids = tuple(one.reading.id for one in judged)
    return Sign(word, tuple(dict.fromkeys(limits)), tuple(one.why[0] for one in verdicts), ids)


def _bike(bike: ChargingBike) -> dict[str, Sign]:
    battery = {LITHIUM: LITHIUM, "none": "none", UNKNOWN: "unknown"} | dict.fromkeys(LEAD_KINDS, "lead")
    alternator = {"excited-field": "field", "dynamo": "dynamo", "none": "none", UNKNOWN: "unknown"}
    volts = {6: "6", 12: "12", None: "unknown"}
    return {
        "volts": Sign(volts.get(bike.volts, "other")),
        "battery": Sign("none" if bike.volts == 0 else battery.get(bike.battery, "unknown")),
        "alternator": Sign(alternator.get(bike.alternator, "magnet")),
    }


def _by_word(judged: Judged | None, words: Mapping[Word, str], none: str = "no limits") -> Sign:
    if judged is None:
        return Sign("unread")
    return judged.sign(words.get(judged.verdict.word, none))


def _over(judged: Sequence[Judged]) -> Sign:
    """The most that the volts with the engine running were."""
    order = ("no", "above", "high", "stop")
    worst = Sign("unread")
    for one in judged:
        if one.reading.kind not in CHARGING_VOLTS:
            continue
        word = _how_far_over(one)
        if worst.word == "unread" or order.index(word) > order.index(worst.word):
            worst = one.sign(word) if word != "no" else Sign("no")
    return worst


def _how_far_over(one: Judged) -> str:
    limit = one.verdict.limit
    if limit is None or one.side != "over" or one.verdict.word not in (Word.LOOK, Word.FAULT):
        return "no"
    if limit.id in STOP_NOW:
        return "stop"
    return "high" if one.verdict.word is Word.FAULT or limit.battery == LITHIUM else "above"


def _charge(one: Judged | None, is_flat: Mapping[int, bool]) -> Sign:
    if one is None:
        return Sign("unread")
    limit = one.verdict.limit
    match one.verdict.word:
        case Word.NO_LIMITS:
            return one.sign("no verdict" if is_flat[one.reading.id] else "no limits")
        case Word.GOOD:
            return one.sign("good")
        case _ if one.side == "over":
            return one.sign("above")
        case _:
            return one.sign("none" if limit is not None and limit.id in NOT_AT_ALL else "low")


def _state(every: Sequence[Reading], bike: ChargingBike, limits: Limits) -> Sign:
    charge = [one for one in every if one.kind in CHARGE or said_charged(one)]
    if not charge:
        return Sign("unread")
    newest = charge[-1]
    if newest.kind not in CHARGE or said_charged(newest):
        return Sign("charged", (), ("Somebody wrote down that the battery was charged.",))
    below = flat(newest, bike, limits)
    at = f"{newest.value:g} {newest.unit}" if newest.value is not None else newest.words
    if below is None:
        word = "unsure" if bike.battery == LITHIUM and bike.volts == 12 else "no table"
        return Judged(newest, judge_reading(newest, bike, limits)).sign(word)
    if empty(newest, bike, limits):
        return Sign("empty", (limits.rows["lfp-boost"],), (f"Battery: {at} is too few to charge it at.",))
    if below:
        word, said = "flat", f"Battery: {at} is below 75 %."
    elif newest.kind == "state_of_charge" or rested(newest, bike, limits):
        word, said = "charged", f"Battery: {at} is 75 % or more."
    else:
        word, said = "unsure", f"Battery: {at}, and it has not rested long enough, or nobody said how long."
    return Sign(word, (limits.rows["charge-first"],), (said,))


def _current(one: Judged | None) -> Sign:
    if one is None or one.reading.value is None or (rev_min(one.reading) or 0) < UP_TO_SPEED:
        return Sign("unread")
    if abs(one.reading.value) < TELLING_A:
        return Sign("unread")
    return one.sign("in" if one.reading.value > 0 else "out")


def _plug(judged: Sequence[Judged]) -> Sign:
    said = [plug(one.reading) for one in judged if one.reading.kind.startswith("ac_volts")]
    return Sign(said[-1] if said and len(set(said)) == 1 else "unsaid")


def _drop(drops: Sequence[Judged]) -> Sign:
    """The worst of the drops that were read with the engine running, the newest at each place."""
    at_places = {(one.reading.place, one.reading.side): one for one in drops if not cranking(one.reading)}
    words = {Word.NO_LIMITS: "no current", Word.GOOD: "ok", Word.LOOK: "look", Word.FAULT: "high"}
    worst = Sign("unread")
    for one in at_places.values():
        word = words[one.verdict.word]
        if worst.word == "unread" or _DROPS.index(word) > _DROPS.index(worst.word):
            worst = one.sign(word)
    return worst


_DROPS = ("no current", "ok", "look", "high")


def _sense(newest: Mapping[str, Judged], over: Sign, bike: ChargingBike, limits: Limits) -> Sign:
    """Whether the sense lead's drop, taken off the volts, would bring them right."""
    drop = newest.get("sense_drop")
    if drop is None or drop.reading.value is None:
        return Sign("unread")
    if over.word not in ("above", "high", "stop"):
        return drop.sign("not")
    for kind in CHARGING_VOLTS:
        one = newest.get(kind)
        if one is None or one.reading.value is None or _how_far_over(one) == "no":
            continue
        less = one.reading.value - abs(drop.reading.value)
        without = judge(kind, less, "V", bike.conditions(), limits)
        if side(less, without.limit) == "over" or without.word is Word.FAULT:
            return drop.sign("not")
    return drop.sign("explains")


def _diode(diodes: Sequence[Judged]) -> Sign:
    words = {Word.NO_LIMITS: "no limits", Word.GOOD: "good", Word.LOOK: "bad", Word.FAULT: "bad"}
    worst = Sign("unread")
    order = ("unread", "no limits", "good", "bad")
    for one in diodes:
        word = words[one.verdict.word]
        if order.index(word) > order.index(worst.word):
            worst = one.sign(word)
    return worst


_MAY_DIFFER = ("standing_volts", "state_of_charge", "charge_current", "diode_forward", "battery_temperature")


def _twice(judged: Sequence[Judged]) -> Sign:
    """Whether one thing, read twice in the same way, came out good once and not good the other time."""
    seen: dict[tuple[object, ...], Judged] = {}
    for one in judged:
        if one.reading.kind in _MAY_DIFFER or one.verdict.word is Word.NO_LIMITS:
            continue
        key = _taken_so(one.reading)
        before = seen.get(key)
        if before is not None and (before.verdict.word is Word.GOOD) != (one.verdict.word is Word.GOOD):
            said = before.verdict.why[0], one.verdict.why[0]
            return Sign("apart", (), said, (before.reading.id, one.reading.id))
        seen[key] = one
    return Sign("agree")


def _taken_so(one: Reading) -> tuple[object, ...]:
    how = tuple(sorted(one.conditions.items()))
    return one.kind, one.place, one.side, one.state.casefold(), how
