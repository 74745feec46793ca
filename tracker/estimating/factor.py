"""What past cards say of a rule: how many times the book its jobs take here, shrunk towards the book."""

from collections.abc import Sequence
from math import exp, fsum, log

from tracker.records.estimating import Factor

CARDS_WORTH_THE_BOOK = 5.0
"""The book weighs as much as so many past cards, until the shop's own cards say how much they differ."""


def factor(cards: Sequence[tuple[float, float]], worth: float = CARDS_WORTH_THE_BOOK) -> Factor:
    """The factor of a rule from past cards, each (minutes it took, minutes the book expected).

    With n cards, w = n / (n + worth) and m, s² the mean and variance (n - 1) of ln(took / book), the middle
    is exp(w m) and the mean exp(w (m + s² / 2)): exp of a mean log is a median, and time that is expected
    lies above it. No cards: both are 1. What comes off must not be in either figure. ValueError for minutes
    that are not above 0, and for a `worth` that is not.

    >>> round(factor([(30, 20)] * 5).times, 4)
    1.2247
    """
    if worth <= 0 or any(took <= 0 or book <= 0 for took, book in cards):
        raise ValueError("minutes and what the book is worth are above 0")
    n = len(cards)
    if n == 0:
        return Factor()
    logs = [log(took / book) for took, book in cards]
    middle = fsum(logs) / n
    variance = fsum((value - middle) ** 2 for value in logs) / (n - 1) if n > 1 else 0.0
    weight = n / (n + worth)
    return Factor(n, exp(weight * middle), exp(weight * (middle + variance / 2)))
