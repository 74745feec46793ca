"""Volts along a circuit drawn as a falling line in plain text: a row a place, 80 columns at most."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from tracker.loom.volts_along import AlongStep

WIDTH: Final = 80
LINE: Final = 24
"""Columns of the line itself."""

WORTH_V: Final = 0.05
"""A joint that takes less, and at which nothing else was read, has no line of its own."""

MARK, READ, BOTH, RUN = "o", "x", "*", "-"


def volts_lines(steps: Sequence[AlongStep], width: int = WIDTH) -> list[str]:
    """One line a place: volts, what was read, the line, and where that is; a load's fall is drawn across.

    Two sides of one place are one line where nothing is lost between them. No colour, ASCII marks only.
    """
    rows = _merged(steps)
    values = [value for step in rows for value in (step.volts_v, step.measured_v) if value is not None]
    low, high = min([0.0, *(value for value in values if value < -WORTH_V)]), max([0.0, *values])
    reading = any(step.measured_v is not None for step in rows)
    head = "  volts" + ("   read" if reading else "") + "  drop  " + _axis(low, high)
    lines = [head.rstrip()]
    before = rows[0].volts_v if rows else 0.0
    for step in rows:
        read = f" {step.measured_v:6.2f}" if step.measured_v is not None else " " * 7
        line = (
            f" {_volts(step.volts_v)}{read if reading else ''} {_drop(step)} {_row(step, before, low, high)} "
        )
        words = step.part_words if step.is_load else step.words
        words = f"past {words}" if step.kind == "joint" else words
        mark = "! " if step.off else ""
        lines.append(f"{line}{mark}{words}"[:width].rstrip())
        before = step.volts_v
    if reading:
        lines.append(f" {MARK} expected, {READ} read, {BOTH} both; ! read otherwise than expected"[:width])
    return lines


def _merged(steps: Sequence[AlongStep]) -> list[AlongStep]:
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


def _drop(step: AlongStep) -> str:
    return f"{step.drop_v:5.2f}" if abs(step.drop_v) >= 0.005 else "     "


def _volts(volts: float) -> str:
    return f"{volts if abs(volts) >= 0.005 else 0.0:6.2f}"


def _at(volts: float, low: float, high: float) -> int:
    return max(0, round((LINE - 1) * (volts - low) / (high - low))) if high > low else 0


def _row(step: AlongStep, before: float, low: float, high: float) -> str:
    cells = [" "] * LINE
    here, there = _at(step.volts_v, low, high), _at(before, low, high)
    for column in range(min(here, there), max(here, there) + 1):
        cells[column] = RUN
    cells[here] = MARK
    if step.measured_v is not None:
        read = _at(step.measured_v, low, high)
        cells[read] = BOTH if read == here else READ
    return f"|{''.join(cells)}|"


def _axis(low: float, high: float) -> str:
    left, right = f"{low:.1f}", f"{high:.1f} V"
    return f"{left}{right:>{LINE + 2 - len(left)}}"
