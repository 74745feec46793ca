"""A slow slide over visits: a fitted line, when it leaves its limits, and how sure that is."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

LEAST_VISITS = 3
SURE = 0.9
"""The part of the time that the range of dates holds, if the readings scatter about a straight line."""
LOOK_AHEAD_DAYS = 730
"""A slide that leaves its limits later than this is not worth a word (ours)."""
LEAST_SCATTER = {"V": 0.05, "mA": 1.0, "A": 0.2}
"""What a meter and its user differ by from day to day, by unit (ours): less is never believed."""
LEAST_SCATTER_DROP_V = 0.02
"""The same for a drop."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trend:
    """A slide towards a limit.

    `per_day` is the fitted rate in the reading's unit, `least_per_day` to `most_per_day` its range. `limit`
    is left on the `side` that is named on `out_on`; nine times in ten between `earliest` and `latest`, both
    not before the last visit. `scatter` is the standard deviation about the line, at least the meter's own.
    """

    visits: int
    since: date
    until: date
    per_day: float
    least_per_day: float
    most_per_day: float
    scatter: float
    limit: float
    side: Literal["under", "over"]
    out_on: date
    earliest: date
    latest: date


def trend(
    points: Sequence[tuple[date, float]],
    *,
    low: float | None,
    high: float | None,
    least_scatter: float,
) -> Trend | None:
    """Whether readings slide out of their limits, and when; None where that cannot be said.

    `points` are a day and a value for each visit; of several on one day the last counts. None with fewer than
    three days, without a limit on the side it slides to, where the last one is out of its limits already,
    where the slide cannot be told from scatter, and where it takes longer than two years.

    Formula: least squares y = a + b x; s the larger of sqrt(sum of squares / (n - 2)) and `least_scatter`; a
        slide is told from scatter when |b| > t s / sqrt(Sxx), t of Student for n - 2 at 9 in 10 both sides.
        The day is where the line meets the limit, its range by Fieller's theorem.
    Range: 3 days and more; finite values in one unit; least_scatter over 0.
    Example:
        >>> visits = [(date(2026, 1, 1), 14.2), (date(2026, 4, 1), 14.0), (date(2026, 7, 1), 13.8)]
        >>> found = trend(visits, low=13.5, high=14.7, least_scatter=0.01)
        >>> found.side, found.out_on.isoformat(), found.earliest < found.out_on < found.latest
        ('under', '2026-11-14', True)
        >>> trend(visits[:2], low=13.5, high=14.7, least_scatter=0.01) is None
        True

    Source: [1] least squares and Fieller's theorem, any book of statistics (from memory). [2] Student's t:
        A&S 26.7.3, 26.7.4 (from memory).
    """
    days = dict(sorted(points, key=lambda point: point[0]))
    if len(days) < LEAST_VISITS or not all(math.isfinite(value) for value in days.values()):
        return None
    until, last = list(days.items())[-1]
    if (low is not None and last < low) or (high is not None and last > high):
        return None
    xs = [float((day - until).days) for day in days]
    ys = list(days.values())
    n, x_mean, y_mean = len(xs), sum(xs) / len(xs), sum(ys) / len(ys)
    sxx = sum((x - x_mean) ** 2 for x in xs)
    slope = sum((x - x_mean) * (y - y_mean) for x, y in zip(xs, ys, strict=True)) / sxx
    limit = low if slope < 0 else high
    if limit is None or slope == 0:
        return None
    squares = sum((y - y_mean - slope * (x - x_mean)) ** 2 for x, y in zip(xs, ys, strict=True))
    scatter = max(math.sqrt(squares / (n - 2)), least_scatter)
    reach = student_t(n - 2) * scatter
    spread = reach / math.sqrt(sxx)
    if abs(slope) <= spread:
        return None
    crossing = x_mean + (limit - y_mean) / slope
    if crossing > LOOK_AHEAD_DAYS:
        return None
    first, final = _fieller(slope, (limit - y_mean) / slope, reach, n, sxx)
    return Trend(
        visits=n,
        since=next(iter(days)),
        until=until,
        per_day=slope,
        least_per_day=slope - spread,
        most_per_day=slope + spread,
        scatter=scatter,
        limit=limit,
        side="under" if slope < 0 else "over",
        out_on=_day(until, crossing),
        earliest=_day(until, x_mean + first),
        latest=_day(until, x_mean + final),
    )


def _fieller(slope: float, distance: float, reach: float, n: int, sxx: float) -> tuple[float, float]:
    """From where to where, counted from the mean day, the line may meet the limit `distance` away."""
    g = reach**2 / (slope**2 * sxx)
    half = reach / abs(slope) * math.sqrt((1 - g) / n + distance**2 / sxx)
    return (distance - half) / (1 - g), (distance + half) / (1 - g)


def _day(until: date, days: float) -> date:
    """A day counted from the last visit; not before it, and not past the calendar's end."""
    return until + timedelta(days=min(max(math.ceil(days), 0), (date.max - until).days))


def student_t(degrees: int, sure: float = SURE) -> float:
    """Student's t that is not passed on either side in `sure` of all cases.

    Formula: A(t|v) = sure, solved by halving; A in its closed form for whole degrees of freedom.
    Range: degrees 1 and more; sure over 0, under 1; to 1e-9.
    Example:
        >>> round(student_t(1), 3), round(student_t(10, 0.95), 3)
        (6.314, 2.228)

    Source: [1] A&S 26.7.3, 26.7.4 (from memory).
    """
    low, high = 0.0, 1.0
    while _within(high, degrees) < sure:
        high *= 2
    while high - low > 1e-9 * max(1.0, high):
        middle = (low + high) / 2
        low, high = (middle, high) if _within(middle, degrees) < sure else (low, middle)
    return (low + high) / 2


def _within(t: float, degrees: int) -> float:
    """The probability that Student's t lies between -t and t."""
    angle = math.atan(t / math.sqrt(degrees))
    sine, cosine = math.sin(angle), math.cos(angle)
    odd = degrees % 2
    term, total = (cosine, 0.0) if odd else (1.0, 0.0)
    for step in range(degrees // 2):
        total += term
        term *= cosine**2 * ((2 * step + 2) / (2 * step + 3) if odd else (2 * step + 1) / (2 * step + 2))
    return 2 / math.pi * (angle + sine * total) if odd else sine * total
