"""Volts along a circuit as a falling line: from place to place to the right, volts upwards.

A place's number stands under it and before its line in the table. Losses of a few hundredths do not show in
the line: the table has them.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from tracker.loom.volts_along import AlongStep
from tracker.loom.volts_text import BOTH, READ, merged

WIDTH, HEIGHT = 80, 12
LEAST_WIDTH, LEAST_HEIGHT = 40, 4
MOST_APART: Final = 8
"""Columns between two places, where there is room."""
AXIS: Final = 7
"""Columns for the volts at the left."""
FALL, RISE, FLAT = ("┐", "│", "└"), ("┘", "│", "┌"), "─"
PLAIN = {"┐": "+", "└": "+", "┘": "+", "┌": "+", "│": "|", "─": "-", "┤": "|"}


def volts_chart(
    steps: Sequence[AlongStep], *, width: int = WIDTH, height: int = HEIGHT, ascii_only: bool = False
) -> list[str]:
    """The line in `height` rows of at most `width` columns, and a row of numbers under it. Places stand as
    far apart as there is room, each loss at its own. Raises ValueError below 40 columns or 4 rows.
    """
    if width < LEAST_WIDTH or height < LEAST_HEIGHT:
        raise ValueError(f"a line of volts is at least {LEAST_WIDTH} columns and {LEAST_HEIGHT} rows")
    rows = merged(steps)
    if not rows:
        return []
    room = min(width - AXIS - 1, MOST_APART * len(rows))
    starts = [number * room // len(rows) for number in range(len(rows) + 1)]
    values = [value for row in rows for value in (row.volts_v, row.measured_v) if value is not None]
    low, high = min(0.0, *values), max(0.0, *values)
    cells = [[" "] * room for _ in range(height)]
    at = [_row(row.volts_v, low, high, height) for row in rows]
    for number, level in enumerate(at):
        for column in range(starts[number], starts[number + 1]):
            cells[level][column] = FLAT
    for number, (before, now) in enumerate(pairwise(at), 1):
        _step(cells, starts[number], before, now)
    for number, row in enumerate(rows):
        if row.measured_v is not None:
            level = _row(row.measured_v, low, high, height)
            cells[level][(starts[number] + starts[number + 1] - 1) // 2] = (
                BOTH if level == at[number] else READ
            )
    marks = {_row(value, low, high, height): value for value in _ticks(low, high)}
    lines = [
        f"{marks[level]:{AXIS - 1}.1f} ┤{''.join(row)}" if level in marks else f"{'':{AXIS}}│{''.join(row)}"
        for level, row in enumerate(cells)
    ]
    lines.append(" " * (AXIS + 1) + _numbers(starts))
    if ascii_only:
        lines = ["".join(PLAIN.get(sign, sign) for sign in line) for line in lines]
    return [line.rstrip()[:width] for line in lines]


def _step(cells: list[list[str]], column: int, before: int, now: int) -> None:
    """From one level to the next at a column, down or up."""
    if before == now:
        return
    first, between, last = FALL if now > before else RISE
    cells[before][column], cells[now][column] = first, last
    for level in range(min(before, now) + 1, max(before, now)):
        cells[level][column] = between


def _row(volts: float, low: float, high: float, height: int) -> int:
    return round((high - volts) / (high - low) * (height - 1)) if high > low else height - 1


def _ticks(low: float, high: float) -> tuple[float, ...]:
    return (high, (low + high) / 2, low, 0.0)


def _numbers(starts: Sequence[int]) -> str:
    """Each place's number under its piece of the line, but none so near that it touches the one before."""
    line = ""
    for number, (start, end) in enumerate(pairwise(starts), 1):
        column = (start + end - 1) // 2
        if column > len(line) or not line:
            line = line.ljust(column) + str(number)
    return line
