"""What the shop’s past cards say of its rules: factors with how far the next card may lie off.

The model: ln(took / book) of a job is what its rule is off by here, plus what differs from card to card, both
normal. The second’s variance is pooled over the rules; the first’s is where the rules’ means are likeliest
(empirical Bayes). Their ratio k says how many cards the book is worth: each rule’s mean is shrunk by
n / (n + k). Mechanics are learned from what is then left over.
"""

from collections.abc import Iterable, Mapping, Sequence
from math import exp, fsum, log, sqrt

from tracker.estimating.factor import CARDS_WORTH_THE_BOOK, from_logs
from tracker.estimating.outliers import bounds, log_of, why_out
from tracker.records.estimating import Factor
from tracker.records.learning import Doubt, Learned, PastJob, Spreads

ENOUGH_RULES, ENOUGH_REPEATS = 5, 10
"""So many rules, and cards beyond each rule’s first, tell the two spreads (our own choice, no source)."""

ENOUGH_OF_A_MECHANIC = 10
"""So many jobs of each of two mechanics at least tell them apart (our own choice, no source)."""

LEAST_WORTH, MOST_WORTH, STEPS = 0.1, 100.0, 120
"""Between which values, and in how many steps, the book’s worth is looked for."""


def learn(jobs: Sequence[PastJob]) -> Learned:
    """What some past jobs say. ValueError for minutes that are not above 0.

    Jobs whose clock is doubted, or whose time is out of all proportion, are listed and left out. Such a time
    that was meant so counts, but no further out than others would be believed.
    """
    if any(job.took_min <= 0 or job.book_min <= 0 for job in jobs):
        raise ValueError("minutes are above 0")
    used, doubts = _believed(jobs)
    by_rule: dict[str, list[float]] = {}
    for job, value in used:
        by_rule.setdefault(job.rule, []).append(value)
    spreads = spreads_of(by_rule.values())
    variance = None if spreads.cards is None else spreads.cards**2
    rules = {rule: from_logs(logs, spreads.worth, variance) for rule, logs in by_rule.items()}
    told = variance if spreads.rules is not None else None
    return Learned(
        rules=rules,
        mechanics=_mechanics(used, rules),
        unseen=from_logs((), spreads.worth, told),
        spreads=spreads,
        jobs=len(used),
        doubts=doubts,
    )


def _believed(jobs: Sequence[PastJob]) -> tuple[list[tuple[PastJob, float]], tuple[Doubt, ...]]:
    """The jobs that count, each with its ln(took / book), and those that are asked about."""
    sound = [job for job in jobs if not job.doubt or job.meant]
    within = bounds(sound)
    used: list[tuple[PastJob, float]] = []
    doubts = [Doubt(job, job.doubt, counted=False) for job in jobs if job.doubt and not job.meant]
    for job in sound:
        low, high = within[job.repair]
        why = why_out(job, (low, high))
        if why:
            doubts.append(Doubt(job, why, counted=job.meant))
        if not why or job.meant:
            used.append((job, min(max(log_of(job), low), high)))
    return used, tuple(doubts)


def spreads_of(by_rule: Iterable[Sequence[float]]) -> Spreads:
    """The two spreads from each rule’s ln(took / book), as far as there are cards enough to tell."""
    groups = [tuple(logs) for logs in by_rule if logs]
    repeats = sum(len(logs) - 1 for logs in groups)
    if repeats < ENOUGH_REPEATS:
        return Spreads(worth=CARDS_WORTH_THE_BOOK)
    means = [(fsum(logs) / len(logs), len(logs)) for logs in groups]
    squares = (
        (value - mean) * (value - mean)
        for logs, (mean, _) in zip(groups, means, strict=True)
        for value in logs
    )
    variance = max(1e-6, fsum(squares) / repeats)
    if len(groups) < ENOUGH_RULES:
        return Spreads(cards=sqrt(variance), worth=CARDS_WORTH_THE_BOOK)
    worth = _likeliest_worth(means, variance)
    return Spreads(cards=sqrt(variance), rules=sqrt(variance / worth), worth=worth)


def _likeliest_worth(means: Sequence[tuple[float, int]], variance: float) -> float:
    """The k under which the rules’ means, each normal about 0 with v (1 / k + 1 / n), are likeliest."""
    ratio = MOST_WORTH / LEAST_WORTH
    tried: list[float] = [LEAST_WORTH * ratio ** (step / STEPS) for step in range(STEPS + 1)]

    def unlikely(worth: float) -> float:
        about = [(mean, variance * (1 / worth + 1 / n)) for mean, n in means]
        return fsum(log(spread) + mean * mean / spread for mean, spread in about)

    return min(tried, key=unlikely)


def _mechanics(used: Sequence[tuple[PastJob, float]], rules: Mapping[str, Factor]) -> dict[int, Factor]:
    """What is left over by mechanic, shrunk with the usual worth; nothing where only one can be told."""
    over: dict[int, list[float]] = {}
    for job, value in used:
        if job.mechanic is not None:
            over.setdefault(job.mechanic, []).append(value - log(rules[job.rule].times))
    enough = {who: logs for who, logs in over.items() if len(logs) >= ENOUGH_OF_A_MECHANIC}
    if len(enough) < 2:
        return {}
    found = {}
    for who, logs in sorted(enough.items()):
        n = len(logs)
        times = exp(n / (n + CARDS_WORTH_THE_BOOK) * fsum(logs) / n)
        found[who] = Factor(n, times, times, raw=exp(fsum(logs) / n))
    return found
