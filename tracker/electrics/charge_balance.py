"""What the alternator gives at idle and at a cruise against the loads that are on; what a change would do.

Amps are counted at the battery's charging volts. What an alternator gives comes from points measured
on the bike (best), or from its rated watts by the law of a winding behind its inductance (a guess).
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from tracker.electrics.arguments import Arguments, shown
from tracker.electrics.lamp import FILAMENT_SOURCE, filament_current_a
from tracker.records.electrics import Load, Sum

CUT_IN_REV_MIN = 1000.0
"""Where a flywheel alternator begins to give, when nobody measured it (common practice, no source)."""

EVEN_PERCENT = 5.0
"""Within so much of what is given, loads and alternator are even (ours)."""


class Spare(StrEnum):
    """How the alternator stands against the loads."""

    SPARE = "spare"
    EVEN = "even"
    SHORT = "short"


@dataclass(frozen=True, slots=True)
class OnLoad:
    """A load that is on: `share` of the time (0.5 for an indicator), its `load`, or None for “taken out”."""

    name: str
    load: Load | None
    share: float = 1.0


@dataclass(frozen=True, slots=True)
class Output:
    """What the alternator gives: (rev/min, amps) points that were measured, or rated watts at a speed.

    `rated_v` is the volts the watts are printed for; `cut_in_rev_min` where it begins to give.
    """

    points: tuple[tuple[float, float], ...] = ()
    rated_w: float | None = None
    rated_rev_min: float = 5000.0
    rated_v: float = 14.0
    cut_in_rev_min: float = CUT_IN_REV_MIN


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Amps at one speed: given, taken, left over, and the word for it."""

    at: str
    rev_min: float
    gives_a: float
    takes_a: float
    spare_a: float
    word: Spare


@dataclass(frozen=True, slots=True, kw_only=True)
class ChargeBudgetSum(Sum):
    """The balance now, and `after` a change if one was asked; break-even None where no speed is enough."""

    now: tuple[Standing, ...]
    after: tuple[Standing, ...]
    break_even_rev_min: float | None
    break_even_after_rev_min: float | None


def load_current_a(load: OnLoad, volts: float) -> float:
    """Amps that a load takes on average at `volts`.

    Formula: share x (I; U / R; P / U; or the filament law).
    Range: 1 to 60 V; share 0 to 1.
    Example:
        >>> round(load_current_a(OnLoad("indicators", Load("power", 42), 0.5), 14), 3)
        1.5

    Source: [1] Ohm's law. [2] the filament law as for lamps.
    """
    if load.load is None:
        return 0.0
    value = load.load.value
    match load.load.kind:
        case "current":
            amps = value
        case "resistance":
            amps = volts / value
        case "power":
            amps = value / volts
        case _:
            amps = filament_current_a(value, load.load.rated_v, volts)
    return load.share * amps


def output_a(output: Output, rev_min: float) -> float:
    """Amps that the alternator can give at a speed.

    Formula: in a line between measured points (held after the last, in a line to nothing at half the first's
        speed before it); or rated amps x sqrt(1 - (n0/n)^2) / sqrt(1 - (n0/nr)^2) above the cut-in speed n0.
    Range: 0 to 20 000 rev/min. The law holds for magnets and a winding of fixed turns; its error is tens of
        per cent: measured points are better.
    Example:
        >>> measured = Output(points=((1200, 6), (3000, 16), (5000, 20)))
        >>> output_a(measured, 4000), output_a(measured, 9000)
        (18.0, 20)
        >>> round(output_a(Output(rated_w=280), 1300), 1)
        13.0

    Source: [1] phasor of a winding whose volts and reactance both rise with speed: derived.
    """
    if output.points:
        points = sorted(output.points)
        points.insert(0, (points[0][0] / 2, 0.0))
        if rev_min <= points[0][0]:
            return 0.0
        for (low, low_a), (high, high_a) in pairwise(points):
            if rev_min <= high:
                return low_a + (high_a - low_a) * (rev_min - low) / (high - low)
        return points[-1][1]
    if rev_min <= output.cut_in_rev_min or output.rated_w is None:
        return 0.0
    rated_a = output.rated_w / output.rated_v
    return rated_a * _rises(output, rev_min) / _rises(output, output.rated_rev_min)


def _rises(output: Output, rev_min: float) -> float:
    return math.sqrt(1 - (output.cut_in_rev_min / rev_min) ** 2)


def charge_budget(
    *,
    loads: Sequence[OnLoad],
    output: Output,
    what_if: Sequence[OnLoad] = (),
    idle_rev_min: float = 1200,
    cruise_rev_min: float = 4500,
    volts: float = 14.0,
) -> ChargeBudgetSum:
    """The alternator against the loads that are on, at idle and at a cruise, and again after a change.

    A load of `what_if` with the name of one that is on takes its place (LED for a bulb; None takes it out);
    with another name it comes on top (heated grips).

    Formula: spare = what is given at the speed - sum of (share x amps) of the loads.
    Range: 5 to 16 V; idle 500 to 3000, cruise over idle to 15 000 rev/min; share 0 to 1; points at
        different speeds, or rated watts over 0 to 3000 W at a speed above the cut-in.
    Example:
        >>> answer = charge_budget(
        ...     loads=[OnLoad("low beam", Load("filament", 55, 13.2)), OnLoad("coils", Load("current", 6))],
        ...     output=Output(points=((1200, 7), (3000, 16), (5000, 20))),
        ...     what_if=[OnLoad("heated grips", Load("resistance", 4))],
        ... )
        >>> [(row.at, round(row.spare_a, 1), row.word.value) for row in (*answer.now, answer.after[1])]
        [('idle', -3.3, 'short'), ('cruise', 8.7, 'spare'), ('cruise', 5.2, 'spare')]

    Source: [1] arithmetic. [2] the alternator's own points or rating. [3] the filament law for lamps.
    """
    arguments = Arguments()
    _check_loads(arguments, "loads", loads)
    _check_loads(arguments, "what_if", what_if)
    _check_output(arguments, output)
    arguments.number("volts", volts, 5, 16, "V")
    arguments.number("idle_rev_min", idle_rev_min, 500, 3000, "rev/min")
    arguments.number("cruise_rev_min", cruise_rev_min, max(500, idle_rev_min), 15_000, "rev/min", over=True)
    arguments.settle()
    changed = {load.name: load for load in what_if}
    later = [changed.pop(load.name, load) for load in loads] + list(changed.values())
    speeds = (("idle", idle_rev_min), ("cruise", cruise_rev_min))

    def standings(on: Sequence[OnLoad]) -> tuple[Standing, ...]:
        takes = sum(load_current_a(load, volts) for load in on)
        return tuple(_standing(at, rev_min, output_a(output, rev_min), takes) for at, rev_min in speeds)

    def even(on: Sequence[OnLoad]) -> float | None:
        takes = sum(load_current_a(load, volts) for load in on)
        return _break_even(lambda rev_min: output_a(output, rev_min), takes)

    now, after = standings(loads), standings(later) if what_if else ()
    even_now, even_after = even(loads), even(later) if what_if else None
    lamps = any(load.load and load.load.kind == "filament" for load in (*loads, *what_if))
    measured = "as measured on the bike" if output.points else "by its rated watts: an estimate"
    return ChargeBudgetSum(
        now=now,
        after=after,
        break_even_rev_min=even_now,
        break_even_after_rev_min=even_after,
        why=(
            f"What the alternator gives, {measured}; amps at {shown(volts)} V.",
            *(_words(row) for row in now),
            _even_words(even_now),
            *(f"After the change, {_words(row)}" for row in after),
            *((f"After the change: {_even_words(even_after)}",) if what_if else ()),
            "Short at idle is usual on many bikes; short at a cruise the battery runs down.",
        ),
        source=(
            "the bike's measured points"
            if output.points
            else "phasor law of a magnet alternator (derived); cut-in speed: common practice, no source",
            *((FILAMENT_SOURCE,) if lamps else ()),
        ),
        cautions=(
            "A heavier load wants its own fuse and relay; an LED in place of a bulb may not be road legal.",
        ),
    )


def _standing(at: str, rev_min: float, gives: float, takes: float) -> Standing:
    spare = gives - takes
    even = abs(spare) <= EVEN_PERCENT / 100 * gives
    word = Spare.EVEN if even else Spare.SPARE if spare > 0 else Spare.SHORT
    return Standing(at=at, rev_min=rev_min, gives_a=gives, takes_a=takes, spare_a=spare, word=word)


def _break_even(gives: Callable[[float], float], takes: float) -> float | None:
    """The lowest speed at which the loads are met, to 1 rev/min; None up to 15 000."""
    speeds = [100.0 * step for step in range(151)]
    high = next((speed for speed in speeds if gives(speed) >= takes), None)
    if high is None:
        return None
    low = max(0.0, high - 100)
    while high - low > 1:
        middle = (low + high) / 2
        low, high = (low, middle) if gives(middle) >= takes else (middle, high)
    return high


def _words(row: Standing) -> str:
    left = f"{row.spare_a:.1f} A to spare" if row.spare_a >= 0 else f"{-row.spare_a:.1f} A short"
    at = f"{row.at} ({shown(row.rev_min)} rev/min)"
    return f"{at}: gives {row.gives_a:.1f} A, takes {row.takes_a:.1f} A, {left}."


def _even_words(rev_min: float | None) -> str:
    return "No speed is enough." if rev_min is None else f"Loads are met from about {rev_min:.0f} rev/min up."


def _check_loads(arguments: Arguments, name: str, loads: Sequence[OnLoad]) -> None:
    names = [load.name for load in loads]
    for load in loads:
        field = f"{name} {load.name}"
        arguments.number(f"{field} share", load.share, 0, 1, "")
        if names.count(load.name) > 1:
            arguments.wrong(field, load.name, f"“{load.name}” is there twice in “{name}”.")
        if load.load is not None:
            arguments.number(field, load.load.value, 0, 100_000, "", over=True)
            if load.load.kind == "filament":
                arguments.number(f"{field} rated_v", load.load.rated_v, 1, 60, "V")


def _check_output(arguments: Arguments, output: Output) -> None:
    if bool(output.points) == (output.rated_w is not None):
        arguments.wrong("output", "", "Either measured points or rated watts are needed, and not both.")
    for number, (rev_min, amps) in enumerate(output.points, 1):
        arguments.number(f"output points {number} rev_min", rev_min, 0, 20_000, "rev/min", over=True)
        arguments.number(f"output points {number} amps", amps, 0, 200, "A")
    if len({rev_min for rev_min, _ in output.points}) < len(output.points):
        arguments.wrong("output points", "", "Two points are at the same speed.")
    if output.rated_w is not None:
        arguments.number("output rated_w", output.rated_w, 0, 3000, "W", over=True)
        arguments.number("output rated_v", output.rated_v, 5, 16, "V")
        arguments.number("output cut_in_rev_min", output.cut_in_rev_min, 1, 5000, "rev/min")
        least = max(1.0, output.cut_in_rev_min)
        arguments.number("output rated_rev_min", output.rated_rev_min, least, 20_000, "rev/min", over=True)
