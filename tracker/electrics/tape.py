"""Loom tape wound with a lap."""

import math
from dataclasses import dataclass

from tracker.electrics.arguments import Arguments, shown
from tracker.records.electrics import Sum


@dataclass(frozen=True, slots=True, kw_only=True)
class TapeSum(Sum):
    """Tape for one length of loom: its length, its turns, and how many layers lie on each other."""

    tape_mm: int
    turns: float
    layers: float


def tape(
    *, bundle_mm: float, covered_mm: float, tape_width_mm: float = 19, lap_percent: float = 50
) -> TapeSum:
    """The tape that covers a length of loom, each turn lapping the one before.

    Formula: length = pi D L / ((1 - k) w); turns L / ((1 - k) w); layers 1 / (1 - k).
    Range: D 1 to 100 mm; L over 0 to 50 000 mm; w 3 to 100 mm; k 0 to 90 %; valid while (1 - k) w <= pi D.
    Example:
        >>> tape(bundle_mm=10, covered_mm=1000, tape_width_mm=19, lap_percent=50).tape_mm
        3307

    Source: [1] geometry: the tape's area is the loom's surface times the layers.
    """
    arguments = Arguments()
    arguments.number("bundle_mm", bundle_mm, 1, 100, "mm")
    arguments.number("covered_mm", covered_mm, 0, 50_000, "mm", over=True)
    arguments.number("tape_width_mm", tape_width_mm, 3, 100, "mm")
    arguments.number("lap_percent", lap_percent, 0, 90, "%")
    arguments.settle()
    step = (1 - lap_percent / 100) * tape_width_mm
    if step > math.pi * bundle_mm:
        arguments.wrong(
            "tape_width_mm",
            shown(tape_width_mm),
            f"Tape of {shown(tape_width_mm)} mm cannot be wound round {shown(bundle_mm)} mm with that lap: "
            f"a turn would go on {step:.1f} mm, more than the {math.pi * bundle_mm:.1f} mm round the loom.",
            "A narrower tape, or more lap.",
        )
        arguments.settle()
    length, turns = math.pi * bundle_mm * covered_mm / step, covered_mm / step
    return TapeSum(
        tape_mm=math.ceil(length - 1e-6),
        turns=turns,
        layers=tape_width_mm / step,
        why=(
            f"{shown(tape_width_mm)} mm tape lapped by {shown(lap_percent)} % goes on {step:.1f} mm a turn.",
            f"{shown(covered_mm)} mm of loom {shown(bundle_mm)} mm thick take {turns:.1f} turns.",
            f"{length:.0f} mm of tape; nothing added for the ends.",
        ),
        source=("geometry",),
    )
