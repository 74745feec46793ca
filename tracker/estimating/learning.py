"""What the shop’s past cards say of its rules: factors with how far the next card may lie off.

The model: ln(took / book) of a job is what its rule is off by here, plus what differs from card to card, both
normal. The second’s variance is pooled over the rules; the first’s is where the rules’ means are likeliest
(empirical Bayes). Their ratio k says how many cards the book is worth: each rule’s mean is shrunk by
n / (n + k). What is then left over is told by mechanic, what that leaves by zone, and then by model, so that
nothing is counted twice. How what is left of repairs on one card goes together is their correlation.
"""

from collections.abc import Iterable, Mapping, Sequence
from itertools import combinations
from math import exp, fsum, log, sqrt

from tracker.estimating.factor import CARDS_WORTH_THE_BOOK, from_logs
from tracker.estimating.outliers import bounds, log_of, why_out
from tracker.estimating.spread import CORRELATION
from tracker.records.estimating import Factor
from tracker.records.learning import Doubt, Learned, PastJob, Spreads

ENOUGH_RULES, ENOUGH_REPEATS = 5, 10
"""So many rules, and cards beyond each rule’s first, tell the two spreads (our own choice, no source)."""

ENOUGH_OF_A_KIND = 10
"""So many jobs of each of two mechanics, zones or models at least tell them apart (our own choice)."""

TRAITS = ("mechanic", "zone", "model")
"""By what jobs are told apart beyond their rule, in this order."""

ENOUGH_PAIRS, PAIRS_WORTH = 10, 20
"""So many pairs of jobs on one card tell how they go together; what is usual weighs as much as so many."""

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
    kinds, left = _told_apart(used, rules)
    together, pairs = _together([job for job, _ in used], left)
    return Learned(
        rules=rules,
        mechanics={int(who): factor for who, factor in kinds["mechanic"].items()},
        zones={str(zone): factor for zone, factor in kinds["zone"].items()},
        models={str(model): factor for model, factor in kinds["model"].items()},
        together=together,
        pairs=pairs,
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


def _told_apart(
    used: Sequence[tuple[PastJob, float]], rules: Mapping[str, Factor]
) -> tuple[dict[str, dict[int | str, Factor]], list[float]]:
    """What is left over by each trait, shrunk with the usual worth; and what is left of each job then.

    Nothing by a trait of which only one kind has jobs enough.
    """
    left = [value - log(rules[job.rule].times) for job, value in used]
    found: dict[str, dict[int | str, Factor]] = {}
    for trait in TRAITS:
        places: dict[int | str, list[int]] = {}
        for place, (job, _) in enumerate(used):
            kind = getattr(job, trait)
            if kind:
                places.setdefault(kind, []).append(place)
        enough = {kind: those for kind, those in places.items() if len(those) >= ENOUGH_OF_A_KIND}
        found[trait] = {}
        if len(enough) < 2:
            continue
        for kind, those in sorted(enough.items()):
            n, mean = len(those), fsum(left[place] for place in those) / len(those)
            step = n / (n + CARDS_WORTH_THE_BOOK) * mean
            found[trait][kind] = Factor(n, exp(step), exp(step), raw=exp(mean))
            for place in those:
                left[place] -= step
    return found, left


def _together(jobs: Sequence[PastJob], left: Sequence[float]) -> tuple[float | None, int]:
    """How what is left of two jobs on one card goes together (0 to 0.9, shrunk to the usual), and pairs."""
    by_card: dict[int, list[float]] = {}
    for job, value in zip(jobs, left, strict=True):
        if job.card is not None:
            by_card.setdefault(job.card, []).append(value)
    products = [a * b for those in by_card.values() for a, b in combinations(those, 2)]
    variance = fsum(value * value for value in left) / len(left) if left else 0.0
    n = len(products)
    if n < ENOUGH_PAIRS or not variance:
        return None, n
    seen = min(0.9, max(0.0, fsum(products) / n / variance))
    return (n * seen + PAIRS_WORTH * CORRELATION) / (n + PAIRS_WORTH), n
