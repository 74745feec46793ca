"""The charge budget as it is called by name: loads and the alternator's points written as people say them."""

import re
from collections.abc import Sequence

from tracker.electrics.arguments import Arguments
from tracker.electrics.catalogue_charging import renamed
from tracker.electrics.charge_balance import CUT_IN_REV_MIN, ChargeBudgetSum, OnLoad, Output
from tracker.electrics.charge_balance import charge_budget as reckon
from tracker.records.electrics import Load, LoadKind

_FIGURE = r"(\d+(?:[.,]\d+)?)"
_NAMED = re.compile(r"\s*([^:=]*[^:=\s])\s*[:=]\s*(.*?)\s*")
_LOAD = re.compile(
    rf"(lamp\s+)?{_FIGURE}\s*(A|W|ohm|Ω)(?:\s+at\s+{_FIGURE}\s*V)?(?:\s*,?\s*{_FIGURE}\s*%)?", re.IGNORECASE
)
_GIVES = re.compile(rf"\s*{_FIGURE}\s*A\s+at\s+{_FIGURE}\s*(?:rev/min)?\s*", re.IGNORECASE)

LOAD_HINT = "Like “low beam: lamp 55 W at 12 V”, “coils: 6 A”, “grips: 4 ohm”, “indicators: 42 W 50 %”."
GIVES_HINT = "Like “6 A at 1200”: amps into the battery and loads, at the engine's rev/min."

_NAMES = {"output points": "gives", "output": "gives"} | {
    f"output {name}": name for name in ("rated_w", "rated_v", "rated_rev_min", "cut_in_rev_min")
}


def charge_budget(
    *,
    loads: Sequence[str],
    gives: Sequence[str] = (),
    rated_w: float | None = None,
    rated_rev_min: float = 5000,
    rated_v: float = 14,
    cut_in_rev_min: float = CUT_IN_REV_MIN,
    what_if: Sequence[str] = (),
    idle_rev_min: float = 1200,
    cruise_rev_min: float = 4500,
    volts: float = 14,
) -> ChargeBudgetSum:
    """The alternator against the loads that are on, at idle and at a cruise, and again after a change.

    A load is its name and its amps, watts, ohms or a lamp; per cent say how much of the time it is on. One in
    `what_if` with a name that is on takes its place (“low beam: 15 W”, “tail: out”), another comes on top.
    `gives` is what the alternator was measured to give (“6 A at 1200”), or its rated watts are taken.

    Formula: spare = what is given at the speed - sum of (share x amps) of the loads.
    Range: 1 to 100 loads; 5 to 16 V; idle 500 to 3000, cruise over idle to 15 000 rev/min; share 0 to 100 %;
        points at different speeds, or rated watts over 0 to 3000 W at a speed above the cut-in.
    Example:
        >>> answer = charge_budget(
        ...     loads=["low beam: lamp 55 W at 13.2 V", "coils: 6 A"],
        ...     gives=["7 A at 1200", "16 A at 3000", "20 A at 5000"],
        ...     what_if=["heated grips: 4 ohm"],
        ... )
        >>> [(row.at, round(row.spare_a, 1), row.word.value) for row in (*answer.now, answer.after[1])]
        [('idle', -3.3, 'short'), ('cruise', 8.7, 'spare'), ('cruise', 5.2, 'spare')]

    Source: [1] arithmetic. [2] the alternator's own points or rating. [3] the filament law for lamps.
    """
    arguments = Arguments()
    arguments.whole("loads", len(loads), 1, 100, "loads")
    if gives:  # rated figures that are given beside points are looked over all the same
        arguments.number("rated_rev_min", rated_rev_min, 1, 20_000, "rev/min")
        arguments.number("rated_v", rated_v, 5, 16, "V")
        arguments.number("cut_in_rev_min", cut_in_rev_min, 1, 5000, "rev/min")
    on = read_loads(arguments, "loads", loads)
    changed = read_loads(arguments, "what_if", what_if)
    output = Output(
        points=read_points(arguments, gives),
        rated_w=rated_w,
        rated_rev_min=rated_rev_min,
        rated_v=rated_v,
        cut_in_rev_min=cut_in_rev_min,
    )
    with renamed(_NAMES, arguments.problems):
        return reckon(
            loads=on,
            output=output,
            what_if=changed,
            idle_rev_min=idle_rev_min,
            cruise_rev_min=cruise_rev_min,
            volts=volts,
        )


def read_loads(arguments: Arguments, name: str, texts: Sequence[str]) -> list[OnLoad]:
    """The loads that a list of texts names; what cannot be read is noted by its number and left out.

    Formula: NAME: [lamp] FIGURE A|W|ohm [at V] [share %], or NAME: out.
    Range: volts behind “at” are a lamp's; share 0 to 100 %.
    Example:
        >>> read_loads(Arguments(), "loads", ["tail: lamp 5 W", "indicators=3,5 A 50 %", "horn: out"])[1:]
        [OnLoad(name='indicators', load=Load(kind='current', value=3.5, rated_v=12.0), share=0.5), \
OnLoad(name='horn', load=None, share=1.0)]

    Source: none: a way of reading.
    """
    found = []
    for number, text in enumerate(texts, 1):
        load = _load(arguments, f"{name} {number}", text)
        if load is None:
            words = f"“{name} {number}” is “{text[:60]}”; it must be a name and what it takes."
            arguments.wrong(f"{name} {number}", text[:60], words, LOAD_HINT)
        else:
            found.append(load)
    return found


def read_points(arguments: Arguments, texts: Sequence[str]) -> tuple[tuple[float, float], ...]:
    """What an alternator was measured to give, as (rev/min, A); a stand-in for each that cannot be read.

    Formula: FIGURE A at FIGURE.
    Range: figures with a point or a comma.
    Example:
        >>> read_points(Arguments(), ["6 A at 1200", "16,5 A at 3000 rev/min"])
        ((1200.0, 6.0), (3000.0, 16.5))

    Source: none: a way of reading.
    """
    found = []
    for number, text in enumerate(texts, 1):
        parts = _GIVES.fullmatch(text)
        if parts is None:
            words = f"“gives {number}” is “{text[:60]}”; it must be amps at a speed."
            arguments.wrong(f"gives {number}", text[:60], words, GIVES_HINT)
            found.append((float(number), 0.0))
        else:
            found.append((_number(parts[2]), _number(parts[1])))
    return tuple(found)


def _load(arguments: Arguments, field: str, text: str) -> OnLoad | None:
    named = _NAMED.fullmatch(text)
    if named is None:
        return None
    name, rest = named[1], named[2]
    if rest.casefold() == "out":
        return OnLoad(name, None)
    parts = _LOAD.fullmatch(rest)
    if parts is None:
        return None
    lamp, value, unit, volts, share = parts.groups()
    unit = unit.casefold()
    if (lamp and unit != "w") or (volts and not lamp):
        return None
    kind: LoadKind = (
        "filament" if lamp else "current" if unit == "a" else "power" if unit == "w" else "resistance"
    )
    percent = _number(share) if share else 100.0
    arguments.number(f"{field} share", percent, 0, 100, "%")
    return OnLoad(
        name, Load(kind, _number(value), _number(volts) if volts else 12.0), min(percent, 100) / 100
    )


def _number(text: str) -> float:
    return float(text.replace(",", "."))
