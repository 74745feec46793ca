"""What a battery's standing volts say, by its kind, and how far they can be believed."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from tracker.electrics.arguments import Arguments, cited, shown
from tracker.records.bike import UNKNOWN
from tracker.records.electrics import Sum
from tracker.records.limits import LITHIUM, Limits

Confidence = Literal["good", "low", "bands", "none"]
"""Good: a published table. Low: another kind's table. Bands: a flat curve, only bands. None: no table."""

_TABLES: dict[str, tuple[tuple[str, float], ...]] = {
    "flooded": (("rest-0", 0), ("rest-25", 25), ("rest-50", 50), ("rest-75", 75), ("rest-100", 100)),
    "agm": (("agm-25", 25), ("agm-50", 50), ("agm-75", 75), ("agm-full", 100)),
    "gel": (("agm-25", 25), ("agm-50", 50), ("agm-75", 75), ("agm-full", 100)),
    LITHIUM: (("lfp-boost", 0), ("lfp-20", 20), ("lfp-40", 40), ("lfp-90", 90)),
}

_SOURCES = {kind: tuple(name for name, _ in table) for kind, table in _TABLES.items()} | {
    "gel": ("agm-75", "gel-75")
}

NEVER_ALONE = "Standing volts alone never pass a battery: load test it."
CHARGE_FIRST = "Below 75 %: charge it first, load test it then, judge the charging last."
CHARGE_LITHIUM = (
    "Below 75 %: charge it first, with a charger for lithium, load test it then, judge the charging last."
)
NO_BOOST = (
    "No jump start and no charger: its maker says whether one made for lithium may wake it, or a new one."
)
LITHIUM_VOLTS = "Lithium: 14.6 V is high, 15 V stop now."
NO_TABLE = {
    6: "no table of rest volts at 6 V: none was found, so none is worked out",
    12: "no table of rest volts without the battery's kind: each kind has its own",
}
_SAID = {"flooded": "a flooded", "agm": "an AGM", "gel": "a gel", LITHIUM: "a lithium"}
ACID = "Goggles, no sparks; the earthed lead off first and on last; a frozen battery is not charged."


@dataclass(frozen=True, slots=True, kw_only=True)
class BatterySum(Sum):
    """State of charge: `percent` where the table gives one figure, else only `low_percent` to `high_percent`.

    `valid` False is a reading taken too soon after charging or running, None one of which nobody knows.
    `may_boost` False forbids a jump start and an ordinary charger; `charge_first` is then False too: such a
    battery is not to be charged but by its maker's word.
    """

    percent: float | None
    low_percent: float
    high_percent: float
    confidence: Confidence
    valid: bool | None
    charge_first: bool | None
    load_test_advised: bool
    may_boost: bool


def rest_valid(kind: str, rest_h: float | None, surface_charge_removed: bool, limits: Limits) -> bool | None:
    """Whether a battery has rested long enough for its volts to count; None where that cannot be said.

    Formula: AGM and gel 3 h and more; flooded 8 h and more, or with the surface charge taken off by a load.
    Range: rest 0 h and more, or None for “not known”; lithium and unknown kinds have no rule: None.
    Example:
        >>> from tracker.seedfiles.limits import load_limits
        >>> rest_valid("agm", 2, False, load_limits()), rest_valid("flooded", 0.1, True, load_limits())
        (False, True)

    Source: [1] TM 9-6115-730-24 WP 0050 (AGM). [2] TM 5-3805-262-20 p. 5-142 (surface charge). [3] 8 h:
        common practice.
    """
    if kind == "flooded" and surface_charge_removed:
        return True
    names = {"flooded": "rest-min-flooded", "agm": "rest-min-agm", "gel": "rest-min-agm"}
    if kind not in names or rest_h is None:
        return None
    return rest_h >= limits.figure(names[kind])


def battery(
    *,
    standing_v: float,
    kind: str,
    limits: Limits,
    system_v: int = 12,
    rest_h: float | None = None,
    surface_charge_removed: bool = False,
) -> BatterySum:
    """State of charge from standing volts, everything off, the battery off its loads.

    Formula: in a line between the points of the kind's table, held at its ends. Flooded 11.7 12.0 12.2 12.4
        12.6 V for 0 25 50 75 100 %; AGM 12.0 12.3 12.6 12.8 V for 25 50 75 100 %; gel as AGM; lithium
        (LiFePO4, 4 cells) in bands.
    Range: 0 to 20 V; 12 V batteries near 21 °C; rest 0 to 10 000 h. 6 V: no table.
    Example:
        >>> from tracker.seedfiles.limits import load_limits
        >>> answer = battery(standing_v=12.3, kind="flooded", rest_h=12, limits=load_limits())
        >>> answer.percent, answer.charge_first
        (62.5, True)
        >>> answer = battery(standing_v=13.3, kind="lithium", limits=load_limits())
        >>> answer.percent, answer.low_percent, answer.high_percent
        (None, 40, 90)

    Source: [1] TM 5-3805-262-20 p. 5-142 (flooded). [2] TM 9-6115-730-24 WP 0050 and a powersports battery
        maker's table (AGM). [3] gridwright.com LiFePO4 voltage chart.
    """
    arguments = Arguments()
    arguments.number("standing_v", standing_v, 0, 20, "V")
    arguments.choice("kind", kind, (*_TABLES, UNKNOWN))
    arguments.choice("system_v", str(system_v), ("6", "12"))
    if rest_h is not None:
        arguments.number("rest_h", rest_h, 0, 10_000, "h")
    arguments.settle()
    if system_v != 12 or kind not in _TABLES:
        return _no_table(standing_v, kind, system_v, limits)
    points = [(limits.figure(name), percent) for name, percent in _TABLES[kind]]
    low, high, percent = _place(points, standing_v, bands=kind == LITHIUM)
    valid = rest_valid(kind, rest_h, surface_charge_removed, limits)
    full_to = limits.rows["agm-full"].figure_to or 0.0
    if kind in ("agm", "gel") and standing_v > full_to:
        valid = False
    least = limits.figure("charge-first")
    may_boost = kind != LITHIUM or standing_v > limits.figure("lfp-boost")
    charge_first = _under(least, low, high, percent) if may_boost else False
    confidence: Confidence = "bands" if kind == LITHIUM else "low" if kind == "gel" else "good"
    over = kind in ("agm", "gel") and standing_v > full_to
    why = [_where(standing_v, kind, low, high, percent), *_doubts(kind, valid, rest_h, over)]
    if not may_boost:
        why.append(NO_BOOST)
    elif charge_first:
        why.append(CHARGE_LITHIUM if kind == LITHIUM else CHARGE_FIRST)
    else:
        why.append(NEVER_ALONE)
    return BatterySum(
        percent=percent,
        low_percent=low,
        high_percent=high,
        confidence=confidence,
        valid=valid,
        charge_first=charge_first,
        load_test_advised=bool(charge_first),
        may_boost=may_boost,
        why=tuple(why),
        source=cited(*(limits.rows[name] for name in _SOURCES[kind])),
        cautions=(ACID,) if kind != LITHIUM else (LITHIUM_VOLTS,),
    )


def _no_table(standing_v: float, kind: str, system_v: int, limits: Limits) -> BatterySum:
    """No state of charge; a battery that may be lithium is kept from jump start and charger all the same.

    For 6 V lithium nobody gives the volts below which it is left alone: half of those at 12 V are taken.
    """
    words = "no table for 6 V" if system_v != 12 else "no table without knowing the battery's kind"
    lead = kind in _TABLES and kind != LITHIUM
    floor = limits.rows["lfp-boost"]
    may_boost = lead or standing_v > limits.figure("lfp-boost") * system_v / 12
    why = [f"There is {words}: no state of charge from these volts."]
    why += [] if may_boost else [f"{'' if kind == LITHIUM else 'If it is lithium: '}{NO_BOOST}"]
    return BatterySum(
        percent=None,
        low_percent=0,
        high_percent=100,
        confidence="none",
        valid=None,
        charge_first=None if may_boost else False,
        load_test_advised=False,
        may_boost=may_boost,
        why=(*why, NEVER_ALONE),
        source=(NO_TABLE[system_v],) if lead else cited(NO_TABLE[system_v], floor),
        cautions=(ACID,) if kind != LITHIUM else (LITHIUM_VOLTS,),
    )


def _place(
    points: Sequence[tuple[float, float]], volts: float, *, bands: bool
) -> tuple[float, float, float | None]:
    """The percent just below and above `volts`, and the figure between unless the table only knows bands.

    Beyond the ends the figure is held; a table that does not reach 0 or 100 % leaves it open there.
    """
    (least_v, least), (most_v, most) = points[0], points[-1]
    if volts < least_v or (bands and volts == least_v):
        return 0, least, 0.0 if least == 0 and not bands else None
    if volts >= most_v:
        return most, 100, 100.0 if most == 100 else None
    low_v, low = max(point for point in points if point[0] <= volts)
    high_v, high = min(point for point in points if point[0] > volts)
    if bands:
        return low, high, None
    percent = round(low + (high - low) * (volts - low_v) / (high_v - low_v), 6)
    return low, low if percent == low else high, percent


def _under(least: float, low: float, high: float, percent: float | None) -> bool | None:
    """Whether the charge is under `least`; None where only a band is known that lies on both sides."""
    if percent is not None:
        return percent < least
    return True if high <= least else False if low >= least else None


def _where(volts: float, kind: str, low: float, high: float, percent: float | None) -> str:
    span = f"{low:.0f} %" if low == high else f"between {low:.0f} and {high:.0f} %"
    about = f", about {percent:.0f} %" if percent is not None and low != high else ""
    return f"{shown(volts)} V standing is {span}{about} for {_SAID[kind]} battery."


def _doubts(kind: str, valid: bool | None, rest_h: float | None, over: bool) -> list[str]:
    words = []
    if over:
        words.append("More than a full battery rests at: it was charged a moment ago. Let it rest.")
    elif valid is False:
        words.append(f"{shown(rest_h or 0)} h of rest are too few: this reading is not valid for a verdict.")
    elif valid is None and kind != LITHIUM:
        words.append("Nobody has said how long it rested: the figure holds for a rested battery only.")
    if kind == "gel":
        words.append("Low confidence: for gel the AGM table is used, for want of its own.")
    if kind == LITHIUM:
        words.append("A lithium battery's volts are flat: they tell bands, no more.")
    return words
