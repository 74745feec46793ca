"""Least, likely and most: how they add up, their mean, and the band that holds 8 cases in 10.

How the range is worked out, once, here:

- a line's mean is (least + 4 likely + most) / 6 and its standard deviation (most - least) / 6, the
  three-point rule of PERT (common practice; the rule's own authors gave it for a beta distribution);
- a line's 10th and 90th percentile are those of the log-normal with that mean and deviation, never
  outside [least, most]: a job overruns further than it comes in early; where past cards told how far a line
  lies off, those of the log-normal with that spread, and least and most give way to them;
- the card's band is the sum of the means, less and plus the lines' half-widths put together with one
  correlation between any two lines, since the same person mends the same bike on the same day:
  W = sqrt((1 - r) * sum(w²) + r * (sum w)²). What comes off is one line however many repairs need it.

So the band lies inside [sum of least, sum of most], more work never lowers either end while each most is
at most 10 x its likely (the rules are held to that), and two repairs together never reach higher than apart.
"""

from collections.abc import Iterable, Sequence
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from math import exp, fsum, log, sqrt

from tracker.records.estimating import Band, Minutes
from tracker.records.money import round_half_up
from tracker.records.repair_rule import Spread

Z_8_IN_10 = 1.2816
"""The standard normal's 90th percentile."""

CORRELATION = 0.3
"""Between any two lines of one card (common practice, no source), until the shop's own cards tell it."""

WIDEST = 10
"""A figure's most is at most so many times its likely."""

ZERO = Spread(Decimal(0), Decimal(0), Decimal(0))


def certain(minutes: int) -> Spread:
    """Minutes that are already known, such as time spent looking."""
    return Spread(Decimal(minutes), Decimal(minutes), Decimal(minutes))


def add(spreads: Iterable[Spread]) -> Spread:
    """The sums of the three figures.

    >>> add([certain(5), Spread(Decimal(1), Decimal(2), Decimal(4))])
    Spread(least=Decimal('6'), likely=Decimal('7'), most=Decimal('9'))
    """
    least = likely = most = Decimal(0)
    for spread in spreads:
        least, likely, most = least + spread.least, likely + spread.likely, most + spread.most
    return Spread(least, likely, most)


def times(spread: Spread, count: Decimal) -> Spread:
    """All three figures `count` times (0 or more)."""
    return Spread(spread.least * count, spread.likely * count, spread.most * count)


def mean(spread: Spread) -> Decimal:
    """The expected minutes, (least + 4 likely + most) / 6.

    >>> mean(Spread(Decimal(4), Decimal(6), Decimal(14)))
    Decimal('7')
    """
    return (spread.least + 4 * spread.likely + spread.most) / 6


def deviation(spread: Spread) -> float:
    """The standard deviation in minutes, (most - least) / 6."""
    return float(spread.most - spread.least) / 6


def whole(spread: Spread) -> Minutes:
    """As shown and added up: least rounded down, most up, likely and expected to the nearest minute.

    >>> whole(Spread(Decimal("2.5"), Decimal("3.5"), Decimal("9.1")))
    Minutes(least=2, likely=4, most=10, expected=4)
    """
    return Minutes(
        int(spread.least.to_integral_value(ROUND_FLOOR)),
        int(round_half_up(spread.likely)),
        int(spread.most.to_integral_value(ROUND_CEILING)),
        int(round_half_up(mean(spread))),
    )


def total(parts: Iterable[Minutes]) -> Minutes:
    """The sums of whole minutes: what is shown adds up."""
    rows = tuple(parts)
    return Minutes(
        sum(row.least for row in rows),
        sum(row.likely for row in rows),
        sum(row.most for row in rows),
        sum(row.expected for row in rows),
    )


def half_widths(spread: Spread, log_sd: float = 0.0) -> tuple[float, float]:
    """How far below and above its mean a line falls in 8 cases of 10, in minutes.

    `log_sd` is the standard deviation of the time’s logarithm where past cards told it; 0 takes the spread’s.

    >>> [round(width, 1) for width in half_widths(Spread(Decimal(30), Decimal(45), Decimal(120)))]
    [17.4, 19.8]
    """
    middle, sd = float(mean(spread)), deviation(spread)
    if middle <= 0 or (sd <= 0 and not log_sd):
        return 0.0, 0.0
    low, high = _within(middle, log_sd or sqrt(log(1 + (sd / middle) ** 2)))
    return min(middle - low, middle - float(spread.least)), min(high - middle, float(spread.most) - middle)


def widened(spread: Spread, log_sd: float) -> Spread:
    """`spread` with its mean as it is, its ends moved out to where 8 cases of 10 fall by `log_sd`.

    >>> round(widened(certain(10), 0.25).most, 2)
    Decimal('13.35')
    """
    middle = mean(spread)
    low, high = (Decimal(f"{end:.4f}") for end in _within(float(middle), log_sd))
    least, most = min(spread.least, low), max(spread.most, high)
    return Spread(least, (6 * middle - least - most) / 4, most)


def _within(middle: float, log_sd: float) -> tuple[float, float]:
    """The 10th and 90th percentile of the log-normal with that mean."""
    step = Z_8_IN_10 * log_sd
    return middle * exp(-(log_sd**2) / 2 - step), middle * exp(-(log_sd**2) / 2 + step)


def together(widths: Sequence[float], correlation: float = CORRELATION) -> float:
    """One half-width from several, with the same correlation (0..1) between any two of them."""
    square, linear = fsum(width * width for width in widths), fsum(widths)
    return sqrt((1 - correlation) * square + correlation * linear * linear)


def band(
    spreads: Sequence[Spread],
    correlation: float = CORRELATION,
    log_sds: Sequence[float] = (),
    pairs: int = 0,
) -> Band:
    """The 8-in-10 band of the sum of several lines, in whole minutes, outward.

    `pairs` of repairs done on one card told the correlation; 0 where it is the usual one.
    """
    middle = float(mean(add(spreads)))
    told = log_sds or [0.0] * len(spreads)
    widths = [half_widths(spread, log_sd) for spread, log_sd in zip(spreads, told, strict=True)]
    low = middle - together([below for below, _ in widths], correlation)
    high = middle + together([above for _, above in widths], correlation)
    words = treatment(correlation, learned=any(told), pairs=pairs)
    return Band(_outward(low, ROUND_FLOOR), _outward(high, ROUND_CEILING), words)


def treatment(correlation: float = CORRELATION, *, learned: bool = False, pairs: int = 0) -> str:
    """How the band was worked out, in words."""
    told = ", where past cards did not tell it" if learned else ""
    source = f"told by {pairs} pairs of past repairs on one card" if pairs else "common practice, no source"
    return (
        f"Each line’s mean is (least + 4 likely + most) / 6, its spread (most - least) / 6{told}, "
        "as a log-normal; "
        f"lines on one card go together with a correlation of {round(correlation, 2):g} "
        f"(one mechanic, one bike; {source}). What comes off for several is one line, and so is its spread."
    )


def _outward(value: float, rounding: str) -> int:
    """To a whole minute, a float's own dust taken off first."""
    return int(Decimal(f"{value:.9f}").to_integral_value(rounding))
