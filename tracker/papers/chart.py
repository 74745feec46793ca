"""A chart in plain signs: one thing's readings over time, with the limits they are judged by."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from tracker.electrics.trend import Trend
from tracker.papers.say import MONTHS, day, number
from tracker.records.width import width_of, wrap

WIDTH, HEIGHT = 80, 11
AXIS = 9
"""Columns for the figures at the left."""
LABEL = 8
"""Columns for a limit's word at the right."""
BEFORE, AFTER, SEVERAL, LIMIT = "o", "●", "◆", "┄"
LEAST_COLUMNS, LEAST_ROWS = 60, 5


@dataclass(frozen=True, slots=True)
class Mark:
    """One reading: its day, its value, and whether it was taken after a repair."""

    on: date
    value: float
    after: bool = False


@dataclass(frozen=True, slots=True)
class Line:
    """A limit drawn across: its value and a word (“look”, “fault”)."""

    value: float
    word: str


def chart(
    title: str,
    unit: str,
    marks: Sequence[Mark],
    lines: Sequence[Line] = (),
    *,
    width: int = WIDTH,
    height: int = HEIGHT,
) -> str:
    """Readings over time in lines of `width` columns, `height` rows between the title and the dates.

    Days are drawn to scale. A limit is drawn where it lies within the readings or is the nearest to them on
    its side. No colour is used; `o` is before a repair, `●` after, `◆` several at one spot. Raises ValueError
    below 60 columns or 5 rows.
    """
    if width < LEAST_COLUMNS or height < LEAST_ROWS:
        raise ValueError(f"a chart is at least {LEAST_COLUMNS} columns and {LEAST_ROWS} rows")
    head = _cut(f"{title} ({unit})" if unit else title, width)
    shown = [mark for mark in marks if math.isfinite(mark.value)]
    if not shown:
        return f"{head}\nNothing was read yet."
    drawn = _near(lines, shown)
    low, high = _span([mark.value for mark in shown] + [line.value for line in drawn])
    first, last = min(mark.on for mark in shown), max(mark.on for mark in shown)
    columns = width - AXIS - LABEL - 2
    rows = [[" "] * columns for _ in range(height)]
    words = [""] * height
    for line in drawn:
        at = _row(line.value, low, high, height)
        rows[at] = [LIMIT] * columns
        words[at] = _joined(words[at], line.word)
    for mark in sorted(shown, key=lambda mark: mark.on):
        row, column = _row(mark.value, low, high, height), _column(mark.on, first, last, columns)
        sign = AFTER if mark.after else BEFORE
        rows[row][column] = SEVERAL if rows[row][column] in (BEFORE, AFTER, SEVERAL) else sign
    labels = _labels(drawn, low, high, height)
    body = [f"{labels[at]:>{AXIS}}│{''.join(rows[at])} {words[at]}".rstrip() for at in range(height)]
    return "\n".join(
        [head, *body, " " * AXIS + "└" + "─" * columns, _dates(first, last, columns), _key(shown)]
    )


def trend_words(trend: Trend, unit: str) -> str:
    """A slide in a sentence: at which rate, when it leaves its limits, between when and when."""
    month = f"{MONTHS[trend.out_on.month - 1]} {trend.out_on.year}"
    spread = (trend.most_per_day - trend.least_per_day) / 2 * 30
    rate = f"{number(_two(abs(trend.per_day) * 30))} {unit} in 30 days"
    how = "falls" if trend.per_day < 0 else "rises"
    between = f"between {day(trend.earliest)} and {day(trend.latest)}"
    if trend.earliest == trend.until:
        between = f"any day now, {day(trend.latest)} at the latest"
    gone = f"is {trend.side} {number(trend.limit)} {unit} {between}, nine times in ten"
    fitted = f"it {how} by {rate} (± {number(_two(spread))}) over {trend.visits} visits"
    return f"At this rate out of limits by {month}: {fitted}, and {gone}."


def _two(value: float) -> float:
    """Two figures that count."""
    return float(f"{value:.2g}")


def _near(lines: Sequence[Line], marks: Sequence[Mark]) -> list[Line]:
    """The limits within the readings, and the next one on either side."""
    low, high = min(mark.value for mark in marks), max(mark.value for mark in marks)
    known = sorted((line for line in lines if math.isfinite(line.value)), key=lambda line: line.value)
    below = [line for line in known if line.value < low]
    above = [line for line in known if line.value > high]
    under, over = (
        max((line.value for line in below), default=low),
        min((line.value for line in above), default=high),
    )
    return [line for line in known if under <= line.value <= over]


def _span(values: Sequence[float]) -> tuple[float, float]:
    low, high = min(values), max(values)
    room = (high - low) * 0.08 or max(abs(high) * 0.05, 0.1)
    return low - room, high + room


def _row(value: float, low: float, high: float, height: int) -> int:
    return round((high - value) / (high - low) * (height - 1))


def _column(on: date, first: date, last: date, columns: int) -> int:
    days = (last - first).days
    return round((on - first).days / days * (columns - 1)) if days else columns // 2


def _labels(drawn: Sequence[Line], low: float, high: float, height: int) -> list[str]:
    """Figures at the top, the bottom and each limit."""
    labels = [""] * height
    digits = max(0, 2 - math.floor(math.log10(high - low)) - 1) if high > low else 2
    labels[0], labels[-1] = f"{high:.{min(digits, 6)}f} ", f"{low:.{min(digits, 6)}f} "
    for line in drawn:
        labels[_row(line.value, low, high, height)] = f"{number(line.value)} "
    return [label[:AXIS] for label in labels]


def _joined(one: str, other: str) -> str:
    return "/".join(dict.fromkeys(word for word in (*one.split("/"), other) if word))[:LABEL]


def _dates(first: date, last: date, columns: int) -> str:
    if first == last:
        return " " * (AXIS + 1) + day(first).center(columns).rstrip()
    left, right = day(first), day(last)
    middle = first + timedelta(days=(last - first).days // 2)
    gap = columns - len(left) - len(right)
    between = day(middle).center(gap) if gap > 14 else " " * gap
    return " " * (AXIS + 1) + left + between + right


def _key(marks: Sequence[Mark]) -> str:
    kinds = [f"{BEFORE} before"] if any(not mark.after for mark in marks) else []
    kinds += [f"{AFTER} after a repair"] if any(mark.after for mark in marks) else []
    return " " * (AXIS + 1) + "   ".join([*kinds, f"{SEVERAL} several", f"{LIMIT} limit"])


def _cut(text: str, width: int) -> str:
    return text if width_of(text) <= width else wrap(text, width)[0]
