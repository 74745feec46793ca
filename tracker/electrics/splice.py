"""Joining wires: which method takes them, how far to strip, and how much wire the joint eats."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from tracker.electrics.arguments import Arguments, cited, shown
from tracker.electrics.conductor import conductor_diameter_mm
from tracker.electrics.terminal import barrel_awg, read_wires, takes
from tracker.records.electrics import Conductor, Practice, Sum, Tables

METHODS = ("butt connector", "soldered lap", "western union", "open barrel")
METHODS_SAID = {
    "butt connector": "A butt connector",
    "soldered lap": "A soldered lap",
    "western union": "A Western Union",
    "open barrel": "An open barrel",
}

ALIKE = 1.7
"""A Western Union joint takes two wires whose copper differs by less than this (two gauges)."""

MOST_IN_LAP = 6

CAUTIONS = {
    "soldered lap": "Solder makes strands stiff: support both sides, never where it bends or shakes.",
    "western union": "Soldered, it is stiff: support it at both sides, and never where it bends or shakes.",
    "butt connector": "Crimp with the connector's own tool and tug each side; a sample is pull-tested.",
    "open barrel": "Crimp with the die made for the barrel and tug each side; a sample is pull-tested.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class SpliceSum(Sum):
    """A joint: whether it is fit, strip length each side, its own length, how much shorter the wires get."""

    method: str
    fits: bool
    strip_left_mm: float
    strip_right_mm: float
    joint_mm: float
    consumed_mm: float
    barrel_awg: int | None
    sleeve: str
    left_mm2: float
    right_mm2: float
    methods_fit: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Joint:
    """Lengths of one joint, in mm: stripped at each side, between the insulations, eaten."""

    strip_left_mm: float
    strip_right_mm: float
    joint_mm: float

    @property
    def consumed_mm(self) -> float:
        """How much shorter the two wires are together once joined."""
        return max(0.0, self.strip_left_mm + self.strip_right_mm - self.joint_mm)


def western_union(left_mm: float, right_mm: float, turns: int) -> Joint:
    """Lengths of a Western Union joint of two bare conductors of so many mm diameter.

    Formula: crossing c = 2 (a + b); strip of a = n b + c + n pi (a + b); joint = n (a + b) + c;
        eaten = both strips - joint.
    Range: a, b over 0 mm; 3 turns or more each side.
    Example:
        >>> joint = western_union(1.2, 1.2, 3)
        >>> round(joint.strip_left_mm), round(joint.joint_mm), round(joint.consumed_mm)
        (31, 12, 50)

    Source: [1] geometry of close turns; crossing of two conductors' width: common practice.
    """
    both = left_mm + right_mm
    crossing, wound = 2 * both, turns * math.pi * both
    return Joint(
        turns * right_mm + crossing + wound, turns * left_mm + crossing + wound, turns * both + crossing
    )


def soldered_lap(diameter_mm: float, lap: Practice, strip: Practice) -> Joint:
    """Lengths of a soldered lap: both ends lie side by side over the contact length.

    Formula: strip = joint = 6 d, at least 6 and at most 13 mm; eaten = that length.
    Range: d over 0 mm, of the thicker conductor.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> rules = electric_tables().practices
        >>> soldered_lap(1.2, rules["splice-lap"], rules["splice-strip"]).consumed_mm
        7.199999999999999

    Source: [1] NASA-STD-8739.4 19.6-19.7 (3 to 6 diameters). [2] TM 5-4120-393-14 p. 4-73 (6 to 13 mm).
    """
    contact = min(max(lap.high * diameter_mm, strip.low), strip.high)
    return Joint(contact, contact, contact)


def splice(
    *,
    left: Sequence[str],
    right: Sequence[str],
    tables: Tables,
    method: str = "butt connector",
    turns: int = 5,
    cut_back_mm: float = 0,
) -> SpliceSum:
    """A joint of the wires that come from the left with those that come from the right.

    `cut_back_mm` is the corroded wire cut off each end first; it counts as eaten.

    Formula: butt: barrel half h each side, eaten 0; open barrel: both in one barrel, eaten its length;
        soldered lap and Western Union as `soldered_lap` and `western_union`; plus 2 x cut back.
    Range: 1 to 10 wires a side; 3 to 12 turns; cut back 0 to 500 mm. Fit: butt where one colour takes each
        side's copper; open barrel up to AWG 2 in all; lap up to 6 wires; Western Union two alike.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> lap = splice(left=["0.75"], right=["0.75"], method="western union", tables=electric_tables())
        >>> lap.fits, round(lap.consumed_mm)
        (True, 76)

    Source: [1] TM 5-4120-393-14 p. 4-73. [2] NASA-STD-8739.4 19.6-19.7 and p. 86. [3] Wikipedia ‘Western
        Union splice’. [4] DIN 46245. [5] barrel lengths: common practice.
    """
    arguments = Arguments()
    lefts = read_wires(arguments, "left", left, tables)
    rights = read_wires(arguments, "right", right, tables)
    least_turns = int(tables.practice("splice-turns").low)
    arguments.choice("method", method, METHODS)
    arguments.whole("turns", turns, least_turns, 12, "turns")
    arguments.number("cut_back_mm", cut_back_mm, 0, 500, "mm")
    arguments.settle()
    misfits = {name: _misfit(name, lefts, rights, tables) for name in METHODS}
    joint, rows = _lengths(method, lefts, rights, turns, tables)
    total = [*lefts, *rights]
    barrel = barrel_awg(sum(row.fit_mm2 for row in total)) if method == "open barrel" else None
    colour = _butt_colour(lefts, rights, tables) if method == "butt connector" else ""
    fit = tuple(name for name, misfit in misfits.items() if not misfit)
    eaten = joint.consumed_mm + 2 * cut_back_mm
    why = [f"{_names(lefts)} ({_copper(lefts):.2f} mm2) with {_names(rights)} ({_copper(rights):.2f} mm2)."]
    if misfits[method]:
        why += [
            f"Not with {METHODS_SAID[method][0].lower()}{METHODS_SAID[method][1:]}: {misfits[method]}",
            f"Fit: {', '.join(fit) or 'none of those listed'}.",
        ]
    else:
        extra = f", {colour} connector" if colour else f", barrel for AWG {barrel}" if barrel else ""
        why.append(f"{METHODS_SAID[method]} takes them{extra}.")
    if method == "western union":
        why.append(f"{turns} close turns each side; at least {least_turns}.")
    sides = {f"{joint.strip_left_mm:.0f}", f"{joint.strip_right_mm:.0f}"}
    why.append(f"Strip {' and '.join(sorted(sides))} mm; the joint is {joint.joint_mm:.0f} mm long.")
    cut = f", {shown(cut_back_mm)} mm cut off each end included" if cut_back_mm else ""
    why.append(f"It eats {eaten:.0f} mm of wire{cut}.")
    return SpliceSum(
        method=method,
        fits=not misfits[method],
        strip_left_mm=joint.strip_left_mm,
        strip_right_mm=joint.strip_right_mm,
        joint_mm=joint.joint_mm,
        consumed_mm=eaten,
        barrel_awg=barrel,
        sleeve=colour,
        left_mm2=_copper(lefts),
        right_mm2=_copper(rights),
        methods_fit=fit,
        why=tuple(why),
        source=cited(*rows),
        cautions=(CAUTIONS[method],),
    )


def _lengths(
    method: str, lefts: Sequence[Conductor], rights: Sequence[Conductor], turns: int, tables: Tables
) -> tuple[Joint, tuple[Practice, ...]]:
    left, right = _bare_mm(lefts), _bare_mm(rights)
    strip = tables.practice("splice-strip")
    if method == "western union":
        return western_union(left, right, turns), (tables.practice("splice-turns"),)
    if method == "soldered lap":
        lap = tables.practice("splice-lap")
        return soldered_lap(max(left, right), lap, strip), (lap, strip)
    if method == "open barrel":
        barrel = tables.practice("splice-open-barrel")
        return Joint(barrel.high, barrel.high, barrel.high), (barrel, strip)
    half = tables.practice("splice-barrel")
    return Joint(half.low, half.low, 2 * half.high), (half, strip)


def _misfit(method: str, lefts: Sequence[Conductor], rights: Sequence[Conductor], tables: Tables) -> str:
    """Why a method does not take these wires; empty where it does."""
    count = len(lefts) + len(rights)
    if method == "butt connector":
        return "" if _butt_colour(lefts, rights, tables) else "no one colour takes both sides' copper."
    if method == "soldered lap":
        return "" if count <= MOST_IN_LAP else f"more than {MOST_IN_LAP} wires do not lie together."
    if method == "open barrel":
        fits = barrel_awg(_copper(lefts) + _copper(rights))
        return "" if fits else "no barrel takes so much copper."
    if count > 2:
        return "it joins one wire to one."
    thin, thick = sorted((lefts[0].area_mm2, rights[0].area_mm2))
    return "" if thick / thin < ALIKE else "the two are too unlike: the thin one would not hold."


def _butt_colour(lefts: Sequence[Conductor], rights: Sequence[Conductor], tables: Tables) -> str:
    for kind in ("sleeve", "sleeve as sold"):
        for row in tables.terminals:
            if row.kind == kind and takes(row, _copper(lefts)) and takes(row, _copper(rights)):
                return row.size
    return ""


def _copper(wires: Sequence[Conductor]) -> float:
    return sum(row.fit_mm2 for row in wires)


def _bare_mm(wires: Sequence[Conductor]) -> float:
    """Diameter of the strands of all wires of a side, twisted together."""
    return math.sqrt(sum(conductor_diameter_mm(row) ** 2 for row in wires))


def _names(wires: Sequence[Conductor]) -> str:
    return " and ".join(row.name for row in wires)
