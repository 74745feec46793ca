"""What past cards say of a rule: how many times the book its jobs take here, shrunk towards the book.

The book’s figure is an expected time. If it is right, ln(took / book) has a mean of -v / 2, where v is the
variance from card to card, so it is m + v / 2 that is shrunk: the expected time is exp(w (m + v / 2)) times
the book, and exactly the book where there is no card. exp(w m) is the middle of the times.
"""

from collections.abc import Sequence
from math import exp, fsum, log, sqrt

from tracker.records.estimating import Factor

CARDS_WORTH_THE_BOOK = 5.0
"""The book weighs as much as so many past cards, until the shop's own cards say how much they differ."""


def factor(
    cards: Sequence[tuple[float, float]],
    worth: float = CARDS_WORTH_THE_BOOK,
    variance: float | None = None,
) -> Factor:
    """The factor of a rule from past cards, each (minutes it took, minutes the book expected).

    With n cards, w = n / (n + worth) and m, s² the mean and variance (n - 1) of ln(took / book), the middle
    is exp(w m) and the mean exp(w (m + s² / 2)): exp of a mean log is a median, and time that is expected
    lies above it. No cards: both are 1. What comes off must not be in either figure.

    `variance` is that from card to card where all the shop’s cards tell it; it stands for s², and then the
    next card’s spread is √(variance (1 + 1 / (n + worth))). ValueError for minutes that are not above 0, and
    for a `worth` that is not.

    >>> round(factor([(30, 20)] * 5).times, 4)
    1.2247
    """
    if any(took <= 0 or book <= 0 for took, book in cards):
        raise ValueError("minutes are above 0")
    return from_logs([log(took / book) for took, book in cards], worth, variance)


def from_logs(logs: Sequence[float], worth: float, variance: float | None = None) -> Factor:
    """The same from each card’s ln(took / book)."""
    if worth <= 0:
        raise ValueError("what the book is worth is above 0")
    n = len(logs)
    spread = 0.0 if variance is None else sqrt(variance * (1 + 1 / (n + worth)))
    if n == 0:
        return Factor(spread=spread)
    middle = fsum(logs) / n
    if variance is None:
        variance = fsum((value - middle) ** 2 for value in logs) / (n - 1) if n > 1 else 0.0
    weight = n / (n + worth)
    return Factor(n, exp(weight * middle), exp(weight * (middle + variance / 2)), spread, exp(middle))
