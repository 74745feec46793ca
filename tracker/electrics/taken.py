"""How a reading was taken, from what people write beside it, and the reading judged by that.

Conditions are asked by name (`rev_min`, `hours_standing`, `amps`, `temperature`, `lead_ohms`, `plug`); what
stands in the state in plain words (“5000 rev/min, plug apart, lamps on”) counts as well. What nobody wrote
down is not supposed.
"""

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from tracker.electrics.battery import battery, rest_valid
from tracker.electrics.judge import judge
from tracker.electrics.winding import winding
from tracker.records.bike import UNKNOWN
from tracker.records.card import Phase, Reading
from tracker.records.charging import AC_PAIRS, AC_PER_1000, ChargingBike
from tracker.records.limits import LEAD_KINDS, LITHIUM, Limits, Verdict, Word

CHARGING_VOLTS = ("regulated_volts", "regulated_volts_lamps", "idle_volts")
CHARGE = ("standing_volts", "state_of_charge")
DROPS = ("drop_positive", "drop_earth")
MAY_BE_OVER = ("winding_ohms", "insulation_ohms", "continuity_ohms", "diode_forward")
"""Kinds of which OL is an answer; of any other it only says that the meter's range was too small."""

FIELD = "field"
"""A winding reading at a place with this word is one of the field, not of the stator."""

LEAST_AMPS = 1.0
"""A drop with less than this flowing says nothing (ours)."""

_NUMBER = re.compile(r"[-+]?\d+(?:[.,]\d+)?")
_GROUPED = re.compile(r"(?<=\d)[,.' ](?=\d{3}(?!\d))")
_SPEED = re.compile(r"(\d[\d.,' ]*)\s*(?:rev/min|rev|rpm|/min)", re.IGNORECASE)
_BARE_SPEED = re.compile(r"\b(?:at|about)\s+(\d{4,5})\b", re.IGNORECASE)
_CHARGED = re.compile(r"(?<!not )(?<!dis)\bcharged\b")
_RUNNING = ("idle", "idling", "tickover", "engine running", "running")
_YES = ("yes", "y", "1", "true", "on")


def noted(reading: Reading, *names: str) -> str:
    """What was written down under one of these names; nothing where none was."""
    wanted = {name.replace("_", "") for name in names}
    for name, value in reading.conditions.items():
        if re.sub(r"[^a-z0-9]", "", name.casefold()) in wanted:
            return value.strip()
    return ""


def _figure(text: str) -> float | None:
    found = _NUMBER.search(_GROUPED.sub("", text))
    return float(found[0].replace(",", ".")) if found else None


def rev_min(reading: Reading) -> float | None:
    """Engine speed of a reading, in rev/min; None where nobody wrote it down."""
    own = _figure(noted(reading, "rev_min", "rpm", "revmin", "revs", "speed"))
    if own is not None:
        return own
    found = _SPEED.search(reading.state) or _BARE_SPEED.search(reading.state)
    return _figure(found[1]) if found else None


def hours_standing(reading: Reading) -> float | None:
    """How many hours the battery had stood, as written down."""
    return _figure(noted(reading, "hours_standing", "hours", "stood", "rest_h", "rested"))


def temperature_c(reading: Reading) -> float | None:
    """The temperature written beside a reading, in °C."""
    return _figure(noted(reading, "temperature", "temperature_c", "battery_temperature"))


def amps(reading: Reading) -> float | None:
    """The amps that flowed while it was read, as written down."""
    return _figure(noted(reading, "amps", "current", "current_a"))


def cranking(reading: Reading) -> bool:
    """Whether the starter was turning."""
    return "crank" in reading.state.casefold() or "starter" in reading.state.casefold()


def running(reading: Reading) -> bool:
    """Whether the engine was running."""
    state = reading.state.casefold()
    if cranking(reading) or "engine off" in state or "not running" in state:
        return False
    return (rev_min(reading) or 0) > 0 or any(word in state for word in _RUNNING)


def lamps_on(reading: Reading) -> bool:
    """Whether lamps were on as a load."""
    said = f"{reading.state} {noted(reading, 'lamps')}".casefold()
    return "lamps on" in said or "lights on" in said or noted(reading, "lamps").casefold() in _YES


def plug(reading: Reading) -> str:
    """How the stator's plug was while AC was read: apart, loaded or unsaid."""
    said = f"{reading.state} {noted(reading, 'plug')} {reading.place}".casefold()
    if any(word in said for word in ("apart", "unplugged", "open circuit", "plug off", "disconnected")):
        return "apart"
    return "loaded" if any(word in said for word in ("loaded", "together", "plugged in")) else "unsaid"


def of_the_field(reading: Reading) -> bool:
    """Whether it is one of the field of an excited alternator."""
    return FIELD in reading.place.casefold()


def of_the_stator(reading: Reading) -> bool:
    """Whether ohms to earth were read at the stator; a wire's own ohms to the frame are another matter."""
    place = reading.place.casefold()
    return not place or any(word in place for word in ("stator", "winding", "case", "alternator"))


def rested(reading: Reading, bike: ChargingBike, limits: Limits) -> bool | None:
    """Whether a standing reading counts; None where nobody wrote down how long it stood.

    Formula: the rule of its kind of battery; lithium as AGM and an unknown one as flooded, for want of one.
    Range: hours of 0 and more.
    """
    kind = {LITHIUM: "agm", UNKNOWN: "flooded"}.get(bike.battery, bike.battery)
    if kind not in LEAD_KINDS:
        return None
    surface = noted(reading, "surface_charge", "surface").casefold() in (
        "off",
        "gone",
        "removed",
        "taken off",
    )
    hours = hours_standing(reading)
    return None if hours is None and not surface else rest_valid(kind, hours, surface, limits)


def flat(reading: Reading, bike: ChargingBike, limits: Limits) -> bool | None:
    """Whether a reading of standing volts or of charge says below 75 %; None where it cannot say.

    Formula: the table of its kind of battery. A battery nobody knows is taken for flooded.
    Range: 12 V; 6 V and others have no table: None.
    """
    if reading.value is None:
        return None
    if reading.kind == "state_of_charge":
        return reading.value < limits.figure("charge-first")
    kind = "flooded" if bike.battery == UNKNOWN else bike.battery
    if bike.volts != 12 or kind not in (*LEAD_KINDS, LITHIUM) or not 0 <= reading.value <= 20:
        return None
    answer = battery(standing_v=reading.value, kind=kind, limits=limits)
    return answer.charge_first or not answer.may_boost if answer.charge_first is not None else None


def empty(reading: Reading, bike: ChargingBike, limits: Limits) -> bool:
    """Whether standing volts are so few that the battery is not to be charged but by its maker's word.

    Formula: lithium at 12 V, at or below the volts of no jump start and no ordinary charger.
    Range: standing volts; any other reading, kind or voltage: False.
    """
    if reading.value is None or reading.kind != "standing_volts":
        return False
    return bike.battery == LITHIUM and bike.volts == 12 and reading.value <= limits.figure("lfp-boost")


def said_charged(reading: Reading) -> bool:
    """Whether somebody wrote beside a reading that the battery was charged, or a charged one put in."""
    said = f"{reading.state} {noted(reading, 'battery', 'charged')}".casefold()
    return bool(_CHARGED.search(said)) or noted(reading, "charged").casefold() in _YES


def flat_at(reading: Reading, readings: Sequence[Reading], bike: ChargingBike, limits: Limits) -> bool:
    """Whether the battery was below 75 % when a reading was taken, by those of the same phase.

    Formula: the last word on its charge up to then (standing volts, state of charge, or somebody's word that
        it was charged); where there is none, the first one after.
    Range: readings of one phase; without a word on the charge it is not taken for flat.
    """
    words = [one for one in readings if one.kind in CHARGE or said_charged(one)]
    words.sort(key=lambda one: (one.at, one.id))
    until = [one for one in words if (one.at, one.id) <= (reading.at, reading.id)]
    if not words:
        return False
    word = until[-1] if until else words[0]
    return word.kind in CHARGE and not said_charged(word) and flat(word, bike, limits) is True


def facts(reading: Reading, bike: ChargingBike, limits: Limits, *, is_flat: bool = False) -> frozenset[str]:
    """What is true of a reading, in the words limits ask for (`tracker.records.limits.FACTS`)."""
    true = {
        "flat battery": is_flat,
        "rested": rested(reading, bike, limits) is True,
        "clock or alarm": bike.awake or noted(reading, "clock", "alarm", "awake").casefold() in _YES,
        "cranking": cranking(reading),
        "charging": running(reading),
        "current flowing": (amps(reading) or 0) >= LEAST_AMPS or cranking(reading) or _fed(reading),
        "isolated winding": bike.alternator in ("three-phase", "single-phase", "excited-field")
        and of_the_stator(reading),
        "moving-coil meter": "moving" in noted(reading, "meter").casefold(),
        "plain diodes": "plain" in f"{noted(reading, 'unit')} {reading.state}".casefold()
        or noted(reading, "plain_diodes").casefold() in _YES,
        "20 C or warmer": (temperature_c(reading) or -math.inf) >= 20,
    }
    return frozenset(name for name, holds in true.items() if holds)


def _fed(reading: Reading) -> bool:
    return running(reading) and lamps_on(reading)


def judge_reading(reading: Reading, bike: ChargingBike, limits: Limits, *, is_flat: bool = False) -> Verdict:
    """One reading judged as it was taken.

    Formula: as `judge`; a drop that is too much proves its own current, a small one does not. AC volts with
        the rev/min written down are held against the bike's own figure for 1000 rev/min; winding ohms are
        taken less the leads' and brought to 20 °C.
    Range: any reading; what cannot be judged is “no limits for this”.
    """
    value = math.inf if reading.value is None else reading.value
    if reading.unit == "yes/no":
        return Verdict(Word.NO_LIMITS, ("Nothing is measured here.",))
    if value == math.inf and reading.kind not in MAY_BE_OVER:
        return Verdict(Word.NO_LIMITS, ("The meter was over its range: take the next higher one.",))
    if reading.kind in CHARGING_VOLTS and bike.alternator == "none":
        return Verdict(Word.NO_LIMITS, ("Nothing charges on this bike.",))
    true = facts(reading, bike, limits, is_flat=is_flat)
    kind, unit = reading.kind, reading.unit
    why: tuple[str, ...] = ()
    if kind in AC_PAIRS:
        return _ac(reading, value, bike, limits, true)
    if kind == "diode_forward" and "revers" in f"{reading.state} {reading.place}".casefold():
        kind = "diode_reverse"
    if kind == "winding_ohms":
        kind = "field_ohms" if of_the_field(reading) else kind
        value, why = _ohms(reading, value)
    if kind in DROPS:
        value = abs(value)  # probes the other way about read the same drop
    conditions = bike.conditions(true, temperature_c(reading))
    found = judge(kind, value, unit, conditions, limits)
    if kind in DROPS and "charging" in true and "current flowing" not in true:
        with_current = replace(conditions, facts=true | {"current flowing"})
        proved = judge(kind, value, unit, with_current, limits)
        if proved.word in (Word.LOOK, Word.FAULT):
            return proved
    return replace(found, why=(*found.why, *why)) if why else found


def _ac(reading: Reading, value: float, bike: ChargingBike, limits: Limits, true: frozenset[str]) -> Verdict:
    speed = rev_min(reading)
    own = any(figure.kind == AC_PER_1000 for figure in bike.own)
    conditions = bike.conditions(true)
    if not own or plug(reading) == "loaded":
        return judge(reading.kind, value, "V", conditions, limits)
    if not speed:
        words = "The bike's own figure is for every 1000 rev/min, and nobody wrote the rev/min down."
        return Verdict(Word.NO_LIMITS, (words,))
    return judge(AC_PER_1000, value * 1000 / speed, "V", conditions, limits)


def _ohms(reading: Reading, value: float) -> tuple[float, tuple[str, ...]]:
    """Winding ohms less the leads', at 20 °C where the temperature is known."""
    lead = _figure(noted(reading, "lead_ohms", "leads")) or 0.0
    at_c = temperature_c(reading)
    if value == math.inf or lead > value or not 0 <= value <= 100_000 or not 0 <= lead <= 10:
        return value, ()
    if at_c is None or not -40 <= at_c <= 200:
        return value - lead, ("Nobody wrote down how warm it was; a figure is for 20 °C as a rule.",)
    return winding(reading_ohm=value, lead_ohm=lead, temperature_c=at_c).ohm_then, ()


def judge_readings(readings: Iterable[Reading], bike: ChargingBike, limits: Limits) -> Mapping[int, Verdict]:
    """Each of one bike's readings judged, by its id; those of one phase know of a flat battery."""
    phases: dict[Phase, list[Reading]] = {}
    for one in readings:
        phases.setdefault(one.phase, []).append(one)
    return {
        one.id: judge_reading(one, bike, limits, is_flat=flat_at(one, own, bike, limits))
        for own in phases.values()
        for one in own
    }
