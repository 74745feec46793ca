"""A battery in use: its volts while cranking, and how long it lasts with a drain on it."""

from dataclasses import dataclass

from tracker.electrics.arguments import Arguments, shown
from tracker.electrics.judge import judge
from tracker.records.bike import UNKNOWN
from tracker.records.electrics import Sum
from tracker.records.limits import LEAD_KINDS, Conditions, Limits, Verdict, Word


@dataclass(frozen=True, slots=True, kw_only=True)
class CrankingSum(Sum):
    """Volts while cranking, judged."""

    word: Word
    cranking_v: float


def cranking(
    *,
    cranking_v: float,
    limits: Limits,
    system_v: int = 12,
    kind: str = UNKNOWN,
    charged: bool = True,
) -> CrankingSum:
    """The lowest volts at the battery's posts while it cranks.

    Formula: 9.5 V and more is good, under 9.0 V a fault, between them worth a look.
    Range: 0 to 20 V; 12 V lead-acid, at least 75 % charged; 6 V and lithium: no limits for this.
    Example:
        >>> from tracker.seedfiles.limits import load_limits as shop
        >>> cranking(cranking_v=10.1, kind="agm", limits=shop()).word.value
        'good'
        >>> cranking(cranking_v=4.6, system_v=6, kind="flooded", limits=shop()).word.value
        'no limits for this'

    Source: [1] common practice, no source.
    """
    arguments = Arguments()
    arguments.number("cranking_v", cranking_v, 0, 20, "V")
    arguments.choice("system_v", str(system_v), ("6", "12"))
    arguments.choice("kind", kind, (*LEAD_KINDS, "lithium", UNKNOWN))
    arguments.settle()
    facts = frozenset() if charged else frozenset({"flat battery"})
    verdict = judge(
        "cranking_volts", cranking_v, "V", Conditions(volts=system_v, battery=kind, facts=facts), limits
    )
    return CrankingSum(
        word=verdict.word,
        cranking_v=cranking_v,
        why=verdict.why,
        source=_sources(verdict),
        cautions=(
            "5 s at most, then 30 s rest. In neutral, wheel blocked, nobody in front; no open HT lead.",
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class DrainSum(Sum):
    """What a drain takes a day, and after how many days the usable part is gone (None: never by itself)."""

    word: Word
    ah_per_day: float
    usable_ah: float
    days: float | None


def drain(
    *,
    drain_ma: float,
    battery_ah: float,
    limits: Limits,
    usable_percent: float = 50,
    self_discharge_percent: float = 0,
    clock_or_alarm: bool = False,
) -> DrainSum:
    """Standing drain to days: how long a full battery stands before it is down by its usable part.

    Formula: Ah a day = mA x 24 / 1000 + Ah x self-discharge % a day / 100; days = usable Ah / Ah a day.
    Range: 0 to 10 000 mA; 0.5 to 200 Ah; usable over 0 to 100 %; self-discharge 0 to 5 % a day.
    Example:
        >>> from tracker.seedfiles.limits import load_limits
        >>> answer = drain(drain_ma=30, battery_ah=12, limits=load_limits())
        >>> round(answer.days, 2), answer.word.value
        (8.33, 'look')

    Source: [1] arithmetic. [2] common practice for what is too much: published pages disagree.
    """
    arguments = Arguments()
    arguments.number("drain_ma", drain_ma, 0, 10_000, "mA")
    arguments.number("battery_ah", battery_ah, 0.5, 200, "Ah")
    arguments.number("usable_percent", usable_percent, 0, 100, "%", over=True)
    arguments.number("self_discharge_percent", self_discharge_percent, 0, 5, "% a day")
    arguments.settle()
    facts = frozenset({"clock or alarm"}) if clock_or_alarm else frozenset()
    verdict = judge("drain", drain_ma, "mA", Conditions(facts=facts), limits)
    a_day = drain_ma * 24 / 1000 + battery_ah * self_discharge_percent / 100
    usable_ah = battery_ah * usable_percent / 100
    days = usable_ah / a_day if a_day else None
    lasts = f"{days:.3g} days" if days is not None else "as long as it keeps its charge"
    return DrainSum(
        word=verdict.word,
        ah_per_day=a_day,
        usable_ah=usable_ah,
        days=days,
        why=(
            f"{shown(drain_ma)} mA take {a_day:.3g} Ah a day"
            + (", self-discharge included." if self_discharge_percent else "."),
            f"{shown(usable_percent)} % of {shown(battery_ah)} Ah ({usable_ah:.3g} Ah) last {lasts}.",
            *verdict.why,
        ),
        source=_sources(verdict),
        cautions=("No starter and no key-on through the meter; its lead back out of the 10 A hole.",),
    )


def _sources(verdict: Verdict) -> tuple[str, ...]:
    return (verdict.limit.cited,) if verdict.limit else ()
