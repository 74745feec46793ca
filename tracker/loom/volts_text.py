"""Volts along a circuit as a table in plain text: a line a place, what was read beside what is expected."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from tracker.loom.volts_along import AlongStep
from tracker.records.width import wrap

WIDTH: Final = 80
WORTH_V: Final = 0.05
"""A joint that takes less, and at which nothing else was read, has no line of its own."""

READ, BOTH = "x", "*"
"""What was read, on the line of volts: beside it, and on it."""


def volts_table(steps: Sequence[AlongStep], width: int = WIDTH) -> list[str]:
    """A line a place: its number on the line, volts, what was read, what was lost on the way, where it is.
    “!” marks a reading that is not what is expected."""
    rows = merged(steps)
    reading = any(row.measured_v is not None for row in rows)
    lines = ["      volts" + ("   read" if reading else "") + "   drop"]
    for number, row in enumerate(rows, 1):
        read = f"{row.measured_v:7.2f}" if row.measured_v is not None else " " * 7
        drop = f"{row.drop_v:7.2f}" if abs(row.drop_v) >= 0.005 else " " * 7
        words = row.part_words if row.is_load else row.words
        words = f"past {words}" if row.kind == "joint" else words
        head = (
            f"{number:3} {_shown(row.volts_v):7.2f}{read if reading else ''}{drop}  {'! ' if row.off else ''}"
        )
        first, *others = wrap(words, max(12, width - len(head)))
        lines += [head + first, *(" " * len(head) + more for more in others)]
    if reading:
        lines.append(f"{READ} read, {BOTH} read as expected; ! read otherwise than expected")
    return lines


def merged(steps: Sequence[AlongStep]) -> list[AlongStep]:
    """Without the far side of a place whose joint takes nothing worth a line; its drop goes to the next."""
    kept: list[AlongStep] = []
    skipped_v = 0.0
    for step in steps:
        same = bool(kept) and step.measured_v == kept[-1].measured_v
        if step.kind == "joint" and same and abs(step.drop_v) < WORTH_V:
            skipped_v += step.drop_v
            continue
        kept.append(replace(step, drop_v=step.drop_v + skipped_v))
        skipped_v = 0.0
    return kept


def _shown(volts: float) -> float:
    return volts if abs(volts) >= 0.005 else 0.0
