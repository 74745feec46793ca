"""A reading judged: good, look, fault, or no limits for this; in words, with the limit and its class.

Which limits hold is decided first: the system's volts, the battery's kind, and how the reading was taken.
Without a limit that holds there is no verdict, and never a “fault”. A bike's own figure takes the place of
every general limit but those that keep people and batteries safe. Of several that hold, the worst counts;
a guard (such as over-voltage) condemns what breaks it and clears nothing.
"""

import math
from collections.abc import Iterable

from tracker.electrics.arguments import Arguments, sentence, shown
from tracker.electrics.battery_load import load_limit
from tracker.records.bike import UNKNOWN, OwnFigure
from tracker.records.limits import (
    BATTERY_KINDS,
    FACTS,
    LEAD,
    LEAD_KINDS,
    LITHIUM,
    Conditions,
    Limit,
    Limits,
    Verdict,
    Word,
)

_SCALES: dict[str, tuple[str, float]] = {
    "V": ("V", 1.0), "mV": ("V", 1e-3), "A": ("A", 1.0), "mA": ("A", 1e-3), "uA": ("A", 1e-6),
    "ohm": ("ohm", 1.0), "mohm": ("ohm", 1e-3), "kohm": ("ohm", 1e3), "Mohm": ("ohm", 1e6),
    "%": ("%", 1.0), "/min": ("/min", 1.0), "Hz": ("/min", 60.0), "SG": ("SG", 1.0), "ratio": ("ratio", 1.0),
    "rev/min": ("rev/min", 1.0), "N": ("N", 1.0), "C": ("C", 1.0), "h": ("h", 1.0), "s": ("s", 1.0),
}  # fmt: skip

_ORDER = (Word.GOOD, Word.LOOK, Word.FAULT)


def convert(value: float, unit: str, to: str) -> float | None:
    """`value` in another unit of the same kind; None where the two do not measure the same thing.

    Formula: the value times the ratio of the units.
    Range: V, mV; A, mA, uA; ohm, mohm, kohm, Mohm; /min, Hz; %, SG, ratio, rev/min, N, C, h, s. OL stays OL.
    Example:
        >>> convert(250, "mV", "V"), convert(1.2, "Mohm", "ohm"), convert(1, "V", "A")
        (0.25, 1200000.0, None)

    Source: none: SI prefixes.
    """
    if unit == to:
        return value
    if unit not in _SCALES or to not in _SCALES or _SCALES[unit][0] != _SCALES[to][0]:
        return None
    scaled = value * _SCALES[unit][1] / _SCALES[to][1]
    return float(f"{scaled:.12g}")


def own_limit(figure: OwnFigure) -> Limit:
    """A bike's or a model's own figure as a limit of the class “bike's own”.

    Formula: a fault under the least and over the most.
    Range: at least one of the two.
    Example:
        >>> from datetime import UTC, datetime
        >>> row = OwnFigure(kind="regulated_volts", least=14.1, most=14.9, unit="V",
        ...                 source="maker's manual p. 92", at=datetime(2026, 4, 1, tzinfo=UTC))
        >>> own_limit(row).limit_class.value, own_limit(row).fault_above
        ("bike's own", 14.9)

    Source: what the person who entered it wrote.
    """
    return Limit(
        id=f"own-{figure.kind}",
        what="the bike's own figure",
        kinds=(figure.kind,),
        unit=figure.unit,
        fault_below=figure.least,
        fault_above=figure.most,
        own=True,
        say_good="Within the bike's own figure.",
        status="read",
        source=", ".join(
            part for part in (figure.source, f"entered by {figure.who}" if figure.who else "") if part
        ),
    )


def spread_limits(nominal: float, percent: float) -> tuple[float, float]:
    """Least and most of a figure printed as so much plus or minus per cent.

    Formula: nominal x (1 - p/100), nominal x (1 + p/100).
    Range: nominal over 0; per cent 0 to 100.
    Example:
        >>> spread_limits(64, 25)
        (48.0, 80.0)

    Source: none: arithmetic.
    """
    arguments = Arguments()
    arguments.number("nominal", nominal, 0, 1e9, "", over=True)
    arguments.number("percent", percent, 0, 100, "%")
    arguments.settle()
    return nominal * (100 - percent) / 100, nominal * (100 + percent) / 100


def judge(kind: str, value: float, unit: str, conditions: Conditions, limits: Limits) -> Verdict:
    """What a reading says.

    `value` is in `unit`; infinite is OL. Raises Mistakes for a value that is no number, or a unit that does
    not fit the kind.

    Formula: the worst of the verdicts of all limits that hold; a value on a bound is still good, unless the
        limit says otherwise.
    Range: any kind; kinds without a limit give “no limits for this”, and so do 6 V and other batteries than a
        limit is for.
    Example:
        >>> from tracker.seedfiles.limits import load_limits
        >>> twelve = Conditions(volts=12, battery="agm")
        >>> verdict = judge("regulated_volts", 14.2, "V", twelve, load_limits())
        >>> verdict.word.value, verdict.limit.limit_class.value
        ('good', 'published')
        >>> six = Conditions(volts=6, battery="flooded")
        >>> judge("regulated_volts", 7.1, "V", six, load_limits()).word.value
        'no limits for this'

    Source: each limit's own, in seeds/tables/limits.csv.
    """
    arguments = Arguments()
    arguments.choice("battery", conditions.battery, BATTERY_KINDS)
    if math.isnan(value) or value == -math.inf:
        arguments.wrong("value", str(value), f"“{value}” is no reading.", "A number, or OL.")
    known = (*limits.of_kind(kind), *(own_limit(figure) for figure in conditions.own if figure.kind == kind))
    for to in dict.fromkeys(limit.unit for limit in known):
        if convert(1.0, unit, to) is None:
            arguments.wrong(
                "unit", unit, f"“{unit}” does not measure this; it is read in {to}.", f"Such as {to}."
            )
    arguments.settle()
    fitting = [_at(limit, conditions, limits) for limit in known if _fits(limit, conditions)]
    if any(limit.own for limit in fitting):
        fitting = [limit for limit in fitting if limit.own or limit.always]
    holding = [limit for limit in fitting if _holds(limit, conditions)]
    verdict = _verdict(holding, value, unit, conditions) if holding else None
    if verdict is None or (verdict.word == Word.GOOD and all(limit.guard for limit in holding)):
        kept = verdict.why[:1] if verdict else ()
        return Verdict(Word.NO_LIMITS, (*kept, _why_none(known, fitting, conditions)), asked=tuple(fitting))
    return verdict


def _fits(limit: Limit, conditions: Conditions) -> bool:
    """Whether a limit is for this system and battery; a battery nobody knows is taken for lead-acid."""
    if limit.volts is not None and limit.volts != conditions.volts:
        return False
    if limit.battery in ("", conditions.battery):
        return True
    if conditions.battery == UNKNOWN:
        return limit.battery in (LEAD, LEAD_KINDS[0])
    return limit.battery == LEAD and conditions.battery in LEAD_KINDS


def _at(limit: Limit, conditions: Conditions, limits: Limits) -> Limit:
    """The limit at the battery's temperature: that of the load test falls with cold."""
    if limit.id == "load-test" and conditions.temperature_c is not None:
        return load_limit(conditions.temperature_c, limits)
    return limit


def _holds(limit: Limit, conditions: Conditions) -> bool:
    facts = conditions.facts | ({"three-phase"} if conditions.alternator == "three-phase" else set())
    return facts.issuperset(limit.needs) and facts.isdisjoint(limit.not_when)


def _why_none(known: Iterable[Limit], fitting: list[Limit], conditions: Conditions) -> str:
    """Why nothing can be judged."""
    for limit in fitting:
        if "flat battery" in limit.not_when and "flat battery" in conditions.facts:
            if conditions.battery == LITHIUM:
                return "The battery is below 75 %: charge it as its maker says, judge later."
            return "The battery is below 75 %: charge it first, judge later."
    for limit in fitting:
        wanted = [FACTS[fact] for fact in limit.needs if fact not in conditions.facts]
        if wanted:
            return f"The limit for it only holds {' and '.join(wanted)}."
    if fitting:
        return "That is not too much; there is no limit for when it is good."
    known = tuple(known)
    if known and conditions.volts is None and any(limit.volts for limit in known):
        return "Say first whether the bike has 6 or 12 V."
    if known and conditions.volts not in {limit.volts for limit in known} | {None}:
        return f"There is no limit for this at {conditions.volts} V."
    if known:
        return f"There is no limit for this with a battery that is {conditions.battery}."
    return "There is no limit for this: compare it with another time's, or with the maker's manual."


def _verdict(holding: list[Limit], value: float, unit: str, conditions: Conditions) -> Verdict:
    words = [(_word(limit, convert(value, unit, limit.unit) or 0.0), limit) for limit in holding]
    worst = max((word for word, _ in words), key=_ORDER.index)
    deciding = [limit for word, limit in words if word == worst]
    first = min(deciding, key=_tightness if worst == Word.GOOD else _gravity)
    say = {Word.GOOD: first.say_good, Word.LOOK: first.say_look, Word.FAULT: first.say_fault}[worst]
    why = [_sentence(first, convert(value, unit, first.unit) or 0.0)]
    why += [say] if say else []
    why.append(f"Limit: {first.limit_class}, {first.source}.")
    if first.battery in (LEAD, *LEAD_KINDS) and conditions.battery == UNKNOWN:
        why.append(f"Nobody has said what battery it is: judged as lead-acid; {LITHIUM} has other limits.")
    return Verdict(worst, tuple(why), first, tuple(holding))


def _gravity(limit: Limit) -> tuple[bool, bool]:
    """Which of several broken limits is named: one that keeps somebody safe, then the bike's own."""
    return not limit.always, not limit.own


def _tightness(limit: Limit) -> tuple[bool, bool, int]:
    """Which of several kept limits is named: the bike's own, then no guard, then the one with most bounds."""
    bounds = (limit.fault_below, limit.look_below, limit.look_above, limit.fault_above)
    return not limit.own, limit.guard, -sum(bound is not None for bound in bounds)


def _word(limit: Limit, value: float) -> Word:
    if _beyond(value, limit.fault_below, limit.fault_above, limit):
        return Word.FAULT
    if _beyond(value, limit.look_below, limit.look_above, limit):
        return Word.LOOK
    return Word.GOOD


def _beyond(value: float, least: float | None, most: float | None, limit: Limit) -> bool:
    if limit.at_limit == "worse" and value in (least, most):
        return True
    return (least is not None and value < least) or (most is not None and value > most)


def _sentence(limit: Limit, value: float) -> str:
    """The reading beside the bound it broke, or beside those it kept."""
    at = f"{shown(value)} {limit.unit}" if math.isfinite(value) else "OL"
    lower = [bound for bound in (limit.fault_below, limit.look_below) if bound is not None]
    upper = [bound for bound in (limit.look_above, limit.fault_above) if bound is not None]
    broken_low = next((bound for bound in lower if _beyond(value, bound, None, limit)), None)
    broken_high = next((bound for bound in reversed(upper) if _beyond(value, None, bound, limit)), None)
    what = sentence(limit.what)
    if broken_low is not None or broken_high is not None:
        bound, way = (broken_low, "under") if broken_low is not None else (broken_high, "over")
        way = "at" if bound == value else way
        return f"{what}: {at} is {way} {_shown(bound)}."
    inside = [f"not under {_shown(max(lower))}"] if lower else []
    inside += [f"not over {_shown(min(upper))}"] if upper else []
    if lower and upper:
        inside = [f"within {_shown(max(lower))} to {_shown(min(upper))}"]
    return f"{what}: {at} is {' and '.join(inside)}."


def _shown(bound: float | None) -> str:
    return "OL" if bound is None or not math.isfinite(bound) else shown(bound)
