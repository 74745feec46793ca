"""The flash rate, from timed flashes, and what the load says about a wrong one."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from tracker.electrics.arguments import Arguments, cited, shown
from tracker.records.electrics import Practice, Sum, Tables

Verdict = Literal["within", "slow", "fast"]

RULES = {"indicator": "flash-indicator", "hazard US": "flash-hazard-us"}

SHORT_OF_LOAD = 0.75
"""A flasher that sees less than this part of its load takes a lamp for lost (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FlasherSum(Sum):
    """The rate and its verdict; `settled` is None where single flashes were not timed."""

    flashes_per_min: float
    verdict: Verdict
    least_per_min: float
    most_per_min: float
    cycles: int | None
    settled: bool | None
    load_percent: float | None


LAST_S = 3600
"""No film of a flasher is longer, s."""


def timed_rate(times_s: Sequence[float], settle: int, least_cycles: int) -> tuple[float, int, bool]:
    """Rate from the moments at which flashes begin: per minute, cycles counted, and whether it had settled.

    Formula: 60 x cycles / time, the first 5 cycles left out; all of them counted where there are too few.
    Range: two moments or more, rising.
    Example:
        >>> timed_rate([0, .5, 1, 1.5, 2, 2.5, 3.25, 4, 4.75], 5, 3)
        (80.0, 3, True)

    Source: [1] average over at least 3 cycles after 5: common practice.
    """
    cycles = len(times_s) - 1
    settled = cycles >= settle + least_cycles
    first = settle if settled else 0
    counted = cycles - first
    return 60 * counted / (times_s[-1] - times_s[first]), counted, settled


def flasher(
    *,
    tables: Tables,
    per_min: float | None = None,
    flashes: int | None = None,
    seconds: float | None = None,
    times_s: Sequence[float] | None = None,
    rule: str = "indicator",
    load_w: float | None = None,
    made_for_w: float | None = None,
) -> FlasherSum:
    """A flash rate judged: given outright, counted over seconds, or from the moments of single flashes.

    `load_w` is what the side draws, `made_for_w` what its flasher was made for; both explain a wrong rate.

    Formula: rate = 60 x cycles / time; right from 60 to 120 a minute (90 to 120 for a US hazard flasher).
    Range: 1 to 600 a minute; 3 flashes or more over 1 to 600 s; moments rising, 0 to 3600 s;
    loads over 0 to 500 W.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> answer = flasher(flashes=31, seconds=15, load_w=23, made_for_w=42, tables=electric_tables())
        >>> answer.verdict, answer.why[-1]
        ('fast', 'It sees 55 % of its load and takes a lamp for lost: a dead one, a bad joint or an LED.')

    Source: [1] Swiss VTS art. 79 par. 2. [2] SAE J945 as quoted in NHTSA GF006498. [3] common practice.
    """
    arguments = Arguments()
    arguments.one_of(("per_min", "flashes", "times_s"), (per_min, flashes, times_s))
    arguments.choice("rule", rule, RULES)
    if per_min is not None:
        arguments.number("per_min", per_min, 1, 600, "per min")
    if flashes is not None:
        arguments.whole("flashes", flashes, 3, 1000)
        arguments.number("seconds", seconds if seconds is not None else float("nan"), 1, 600, "s")
    moments = times_s or ()
    impossible = next((one for one in moments if not 0 <= one <= LAST_S), None)
    if impossible is not None:
        arguments.number("times_s", impossible, 0, LAST_S, "s")
    elif times_s is not None and (len(moments) < 4 or any(b <= a for a, b in pairwise(moments))):
        given = ", ".join(shown(moment) for moment in moments)
        arguments.wrong(
            "times_s", given, "“times_s” must be four moments or more, in seconds, each after the last."
        )
    for name, watts in (("load_w", load_w), ("made_for_w", made_for_w)):
        if watts is not None:
            arguments.number(name, watts, 0, 500, "W", over=True)
    arguments.settle()
    settle, least = tables.practice("flash-settle"), tables.practice("flash-cycles")
    rate, cycles, settled = per_min or 0.0, flashes, None
    if flashes is not None and seconds is not None:
        rate = 60 * flashes / seconds
    if times_s is not None:
        rate, cycles, settled = timed_rate(times_s, int(settle.low), int(least.low))
    limits = tables.practice(RULES[rule])
    verdict = judge(rate, limits)
    share = 100 * load_w / made_for_w if load_w is not None and made_for_w is not None else None
    why = [
        f"{rate:.3g} flashes a minute: {'right' if verdict == 'within' else f'too {verdict}'}.",
        f"{shown(limits.low)} to {shown(limits.high)} are allowed.",
    ]
    if settled:
        why.append(f"Averaged over {cycles} cycles, the first {shown(settle.low)} left out.")
    if settled is False:
        why.append(
            f"Too few to judge by: time {shown(settle.low + least.low)} cycles, the first do not count."
        )
    why += _load_words(verdict, share)
    return FlasherSum(
        flashes_per_min=rate,
        verdict=verdict,
        least_per_min=limits.low,
        most_per_min=limits.high,
        cycles=cycles,
        settled=settled,
        load_percent=share,
        why=tuple(why),
        source=cited(limits, *([settle] if times_s is not None else [])),
    )


def judge(per_min: float, limits: Practice) -> Verdict:
    """Whether a rate is within its limits, ends included.

    Formula: low <= rate <= high.
    Range: any rate.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> limits = electric_tables().practice("flash-indicator")
        >>> [judge(rate, limits) for rate in (59, 60, 120, 121)]
        ['slow', 'within', 'within', 'fast']

    Source: [1] Swiss VTS art. 79 par. 2: 90 +/- 30 a minute.
    """
    if per_min < limits.low - 1e-9:
        return "slow"
    return "fast" if per_min > limits.high + 1e-9 else "within"


def _load_words(verdict: Verdict, share: float | None) -> tuple[str, ...]:
    """What the load has to do with it."""
    if verdict == "within":
        return ()
    if share is None:
        words = {
            "fast": "Fast mostly means too little load: a dead lamp, a bad earth or joint, an LED.",
            "slow": "Slow mostly means low volts or, with a thermal flasher, too little load.",
        }
        return (words[verdict],)
    if share < 100 * SHORT_OF_LOAD:
        if verdict == "fast":
            seen = f"It sees {share:.0f} % of its load and takes a lamp for lost"
            return (f"{seen}: a dead one, a bad joint or an LED.",)
        return (f"It sees {share:.0f} % of its load: a thermal flasher heats slowly on that.",)
    if verdict == "fast":
        return (f"It sees {share:.0f} % of its load, so no lamp is missing: a bad or a wrong flasher.",)
    return (f"It sees {share:.0f} % of its load: look for low volts at the flasher, then at the flasher.",)
