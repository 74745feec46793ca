"""Times that are hard to believe beside the others: found, asked about, and never used unasked.

A job lies out when its ln(took / book) is further than 3.5 robust standard deviations (1.4826 x the median
of the distances) from the median of its rule’s jobs; from that of all jobs where its rule has fewer than
three, or fewer than five whose median itself lies out; from the book while there are fewer than eight in all.
"""

from collections.abc import Iterable, Mapping, Sequence
from math import exp, log, sqrt
from statistics import median

from tracker.records.learning import PastJob

FURTHEST = 3.5
"""In robust standard deviations (the modified z-score of Iglewicz and Hoaglin, 1993, from memory)."""

TO_SIGMA = 1.4826
"""From the median distance to the standard deviation of normally distributed values."""

FEW, ENOUGH = 3, 5
"""From `FEW` jobs of a rule on their median tells what is usual, from `ENOUGH` on whatever the others say."""

ENOUGH_TO_TELL = 8
UNTOLD_CARDS, UNTOLD_ALL = 0.35, 0.5
"""Spreads taken while there are fewer than `ENOUGH_TO_TELL` distances (our own choice, no source)."""

LEAST_SPREAD = 0.15
"""No spread is believed to be smaller: a handful of like times must not make the next one strange."""


def log_of(job: PastJob) -> float:
    """ln(took / book)."""
    return log(job.took_min / job.book_min)


def bounds(jobs: Sequence[PastJob]) -> Mapping[int, tuple[float, float]]:
    """Between which values of ln(took / book) each job is believed, by its repair."""
    by_rule: dict[str, list[float]] = {}
    for job in jobs:
        by_rule.setdefault(job.rule, []).append(log_of(job))
    logs = [value for those in by_rule.values() for value in those]
    if not logs:
        return {}
    middle = median(logs) if len(logs) >= ENOUGH_TO_TELL else 0.0
    cards = _sigma(_inside(by_rule.values()), UNTOLD_CARDS)
    reach = FURTHEST * max(cards, _sigma([abs(value - middle) for value in logs], UNTOLD_ALL))
    by_all = middle - reach, middle + reach
    of_rule = {rule: _of_rule(those, cards, by_all) for rule, those in by_rule.items()}
    return {job.repair: of_rule[job.rule] for job in jobs}


def _of_rule(logs: Sequence[float], cards: float, by_all: tuple[float, float]) -> tuple[float, float]:
    n, at = len(logs), median(logs)
    if n < FEW or (n < ENOUGH and not by_all[0] <= at <= by_all[1]):
        return by_all
    # The variance of a median of n normal values is about π / 2 / n of theirs.
    reach = FURTHEST * cards * sqrt(1 + 1.57 / n)
    return at - reach, at + reach


def _inside(by_rule: Iterable[Sequence[float]]) -> list[float]:
    """How far each job lies from its rule’s median."""
    found: list[float] = []
    for logs in by_rule:
        if len(logs) >= FEW:
            at = median(logs)
            # A median follows its own few values: their distances come out short by √((n - 1) / n).
            found.extend(abs(value - at) * sqrt(len(logs) / (len(logs) - 1)) for value in logs)
    return found


def why_out(job: PastJob, within: tuple[float, float]) -> str:
    """Why a job’s time is asked about, in words; empty when it is believed."""
    low, high = within
    value = log_of(job)
    if low <= value <= high:
        return ""
    times = exp(value)
    usual = f"{exp(low):.2g} to {exp(high):.2g} times would be nothing strange"
    return f"It took {times:.2g} times the book, {job.took_min:.0f} min for {job.book_min:.0f}; {usual}."


def _sigma(distances: Sequence[float], untold: float) -> float:
    if len(distances) < ENOUGH_TO_TELL:
        return untold
    return max(LEAST_SPREAD, TO_SIGMA * median(distances))
