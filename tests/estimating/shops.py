"""Simulated shops: each rule is off by a factor of its own, each card by another, and some clocks run on.

The factors are log-normal with the spreads below and a mean of 1 (the book is an expected time) or a middle
of 1. A clock that ran overnight runs on for 14 to 22 hours.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, fsum, log, sqrt
from random import Random

from tests.estimating.making import BIKE, SIZES
from tracker.estimating.answers import answers
from tracker.estimating.card_total import CardAsked, estimate_card
from tracker.estimating.rule import book_minutes
from tracker.records.estimating import Asked
from tracker.records.learning import Learned, PastJob
from tracker.records.repair_rule import Answers, AskKind, Rule
from tracker.seedfiles.repairs import load_rules

RULES, CARDS, OVERNIGHT = 0.35, 0.25, 0.02


@dataclass(frozen=True, slots=True)
class SimulatedShop:
    """What is true of a shop (`factors` by rule), and its cards: as clocks say them, and as they were."""

    factors: dict[str, float]
    jobs: tuple[PastJob, ...]
    true_logs: dict[int, float]
    mean_one: bool

    def expected(self, rule: str) -> float:
        """The true expected time over the book."""
        return self.factors[rule] * (1.0 if self.mean_one else exp(CARDS**2 / 2))

    def known(self, rule: str) -> float:
        """The best estimate of that from the cards: by somebody who knows the spreads and the nights."""
        logs = [self.true_logs[job.repair] for job in self.jobs if job.rule == rule]
        n, worth = len(logs), CARDS**2 / RULES**2
        weight, mean = n / (n + worth), fsum(logs) / n if n else 0.0
        left = 0.0 if self.mean_one else (1 - weight) * (CARDS**2 + RULES**2) / 2
        return exp(weight * (mean + CARDS**2 / 2) + left)


def weights() -> dict[str, float]:
    """How often each shipped rule comes up: the second half as often as the first, and so on."""
    return {rule.id: 1 / place for place, rule in enumerate(load_rules(), 1)}


def some_answers(rule: Rule, random: Random) -> Answers:
    """Answers somebody may give: counts and lengths as they come, the rest as usual."""
    raw: dict[str, str] = {}
    for ask in rule.asks:
        least, most = int(ask.least or 0), int(ask.most or 0)
        if ask.kind is AskKind.COUNT:
            raw[ask.name] = str(random.randint(max(1, least), min(most, max(1, least) + 5)))
        elif ask.kind is AskKind.LENGTH:
            raw[ask.name] = str(random.randint(least, min(most, least + 1500)))
    found = answers(rule, raw)
    assert isinstance(found, Answers), (rule.id, found)
    return found


def simulated(random: Random, cards: int, *, mean_one: bool, overnight: float = OVERNIGHT) -> SimulatedShop:
    """A shop that has done so many cards of one repair each."""
    factors = {rule.id: exp(_normal(random, RULES, mean_one)) for rule in load_rules()}
    share = weights()
    jobs: list[PastJob] = []
    true_logs: dict[int, float] = {}
    for repair in range(cards):
        (name,) = random.choices(list(share), list(share.values()))
        rule = load_rules().by_id[name]
        book = float(book_minutes(rule, some_answers(rule, random)))
        took = book * factors[name] * exp(_normal(random, CARDS, mean_one))
        true_logs[repair] = log(took / book)
        if random.random() < overnight:
            took += random.uniform(840, 1320)
        jobs.append(PastJob(repair=repair, rule=name, took_min=took, book_min=book))
    return SimulatedShop(factors, tuple(jobs), true_logs, mean_one)


def _normal(random: Random, sigma: float, mean_one: bool) -> float:
    return random.gauss(-(sigma**2) / 2 if mean_one else 0.0, sigma)


def errors(shops: Sequence[tuple[SimulatedShop, Learned]]) -> tuple[float, float]:
    """Root mean square error of the expected time over the book: as learned, and the best that can be."""
    share = weights()
    ours = best = total = 0.0
    for shop, learned in shops:
        for rule, weight in share.items():
            true = shop.expected(rule)
            ours += weight * (learned.of(rule).expected_times - true) ** 2
            best += weight * (shop.known(rule) - true) ** 2
            total += weight
    return sqrt(ours / total), sqrt(best / total)


def held(shop: SimulatedShop, learned: Learned, random: Random, cards: int) -> int:
    """How many of so many further cards fall within the 8-in-10 band of their estimate, in whole minutes."""
    share = weights()
    inside = 0
    for _ in range(cards):
        (name,) = random.choices(list(share), list(share.values()))
        rule = load_rules().by_id[name]
        given = some_answers(rule, random)
        book = float(book_minutes(rule, given))
        took = book * shop.factors[name] * exp(_normal(random, CARDS, shop.mean_one))
        asking = CardAsked(
            repairs=(Asked(rule=rule, answers=given),), factors=learned.rules, unseen=learned.unseen
        )
        range_ = estimate_card(asking, BIKE, SIZES).band
        inside += range_.low <= took <= range_.high
    return inside
