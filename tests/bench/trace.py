"""How good the planned next check is and how long it takes: `python -m tests.bench.trace` prints both.

The puzzles are made up, by a fixed seed and by what is known of looms rather than by what suits the planner:
a few suspects are likely and most are not, a check takes 1 to 5 minutes, what comes off takes 2 to 45 as in
the access table, and neighbours along the loom mostly lie behind the same thing.

Then whole looms: each fourth load dead and nothing else known. Here the times are of the whole step from the
mark to the next check, suspects and networks included, on a bench that has already worked once.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from random import Random
from statistics import mean, median
from time import process_time

from tests.loom.making import bike
from tracker.records.card import SymptomKind
from tracker.records.loom_made import Loom
from tracker.records.trace import Mark
from tracker.seedfiles.trace import load_trace
from tracker.trace.baselines import front_to_back, halving, information_per_minute
from tracker.trace.bench import Bench
from tracker.trace.planner import Plan, Puzzle, Test, best_plan
from tracker.trace.trace import begin

ACCESSES = {
    "seat": 3, "panel": 3, "battery cover": 4, "lens": 2, "shell": 8, "switch": 8, "tank": 20, "fairing": 45,
}  # fmt: skip
NEEDS = {name: frozenset({name}) for name in ACCESSES} | {
    "": frozenset[str](),
    "tank": frozenset({"seat", "tank"}),
    "battery cover": frozenset({"seat", "battery cover"}),
}
RATES = (1, 1, 1, 2, 2, 4, 8, 20)
EACH = 12
"""Puzzles of each kind."""


def shares(random: Random, count: int) -> tuple[float, ...]:
    """A few likely suspects, many unlikely ones."""
    rates = [random.choice(RATES) * random.uniform(0.7, 1.4) for _ in range(count)]
    return tuple(rate / sum(rates) for rate in rates)


def zones(random: Random, count: int, scattered: bool = False) -> list[frozenset[str]]:
    """What hides each place along a loom: stretches of it, or anything anywhere."""
    names = ["", "", "", *ACCESSES]
    if scattered:
        return [NEEDS[random.choice(names)] for _ in range(count)]
    random.shuffle(names)
    return [NEEDS[names[place * len(names) // count]] for place in range(count)]


def row(random: Random, count: int, scattered: bool = False) -> Puzzle:
    """One wire from fuse to load and back: volts at every point between two suspects."""
    hidden = zones(random, count, scattered)
    tests = [
        Test(f"volts {k}", random.choice((1, 2, 2, 3)), hidden[k], tuple(int(i >= k) for i in range(count)))
        for k in range(1, count)
    ]
    return Puzzle(shares(random, count), tuple(tests), ACCESSES)


def there_and_back(random: Random, count: int) -> Puzzle:
    """A row whose way back passes what its way out passed."""
    out = zones(random, (count + 1) // 2)
    hidden = out + out[::-1]
    tests = [
        Test(f"volts {k}", random.choice((1, 2, 2, 3)), hidden[k], tuple(int(i >= k) for i in range(count)))
        for k in range(1, count)
    ]
    return Puzzle(shares(random, count), tuple(tests), ACCESSES)


def branched(random: Random, count: int, checks: int) -> Puzzle:
    """A trunk with branches: volts clear what lies ahead or condemn it, drops tell weak from open as well,
    looks tell of one part; some of those are free."""
    hidden = zones(random, count)
    above = [
        0,
        *(max(0, i - 1 - (random.randrange(4) if random.random() < 0.25 else 0)) for i in range(1, count)),
    ]
    below: list[set[int]] = [{i} for i in range(count)]
    for i in range(count - 1, 0, -1):
        below[above[i]] |= below[i]
    tests = []
    for number in range(checks):
        k = random.randrange(1, count)
        kind = random.random()
        if kind < 0.35:
            free = random.random() < 0.3
            shown = tuple(int(i == k) for i in range(count))
            tests.append(
                Test(f"look {number}", 1 if free else random.choice((2, 3, 5)), hidden[k], shown, free)
            )
        elif kind < 0.6:
            weak = {i for i in below[k] if random.random() < 0.4}
            shown = tuple(2 if i in weak else int(i in below[k]) for i in range(count))
            tests.append(Test(f"drop {number}", random.choice((3, 4, 5)), hidden[k], shown))
        else:
            shown = tuple(int(i in below[k]) for i in range(count))
            tests.append(Test(f"volts {number}", random.choice((1, 2, 2, 3)), hidden[k], shown))
    return Puzzle(shares(random, count), tuple(tests), ACCESSES)


def anything(random: Random, count: int, checks: int) -> Puzzle:
    """Checks whose outcomes follow nothing, each behind anything: no loom is like that."""
    tests = tuple(
        Test(
            f"check {number}",
            random.choice((1, 2, 3, 5)),
            NEEDS[random.choice(["", *ACCESSES])],
            tuple(random.randrange(random.choice((2, 2, 3))) for _ in range(count)),
        )
        for number in range(checks)
    )
    return Puzzle(shares(random, count), tests, ACCESSES)


@dataclass(frozen=True, slots=True)
class Seen:
    """One puzzle planned: times the minutes of each rule of thumb are of the plan's, and milliseconds."""

    plan: Plan
    ratios: tuple[float, float, float]
    took_ms: float


def seen(puzzle: Puzzle) -> Seen:
    """Plans it and follows the rules of thumb."""
    start = process_time()
    plan = best_plan(puzzle)
    took_ms = 1000 * (process_time() - start)
    minutes = plan.expected_minutes
    front, half, told = (rule(puzzle) / minutes for rule in (front_to_back, halving, information_per_minute))
    return Seen(plan, (front, half, told), took_ms)


def report(name: str, make: Callable[[Random], Puzzle]) -> None:
    """Prints a line for a kind of puzzle."""
    found = [seen(make(Random(f"{name} {number}"))) for number in range(EACH)]
    ratios = [
        f"{mean(each):5.2f} {max(each):5.2f}" for each in zip(*(one.ratios for one in found), strict=True)
    ]
    gaps = [one.plan.expected_minutes / one.plan.lower_bound_minutes - 1 for one in found]
    proved = sum(one.plan.proved_best for one in found)
    times = [one.took_ms for one in found]
    print(
        f"{name:<34}{'  '.join(ratios)}  {proved:2}/{len(found)} {max(gaps):6.1%}"
        f" {median(times):7.1f} {max(times):7.1f}"
    )


def on_the_bike(name: str) -> None:
    """Prints how the first step goes on a real loom: everything from the mark to the next check."""
    loom = bike(name)
    bench, tables = Bench(loom), load_trace()
    begin(loom, tables, bench=bench).marked(*_dead(loom, slice(1, 2))).now  # noqa: B018 (worked out once)
    times, gaps, proved, classes = [], [], 0, []
    for mark in _dead(loom, slice(0, None, 4)):
        start = process_time()
        now = begin(loom, tables, bench=bench).marked(mark).now
        times.append(1000 * (process_time() - start))
        gaps.append(now.expected_minutes / now.lower_bound_minutes - 1 if now.lower_bound_minutes else 0.0)
        proved += now.proved_best
        classes.append(len(now.classes))
    print(
        f"{f'{name}: {median(classes):.0f} classes, up to {max(classes)}':<77}"
        f"{proved:3}/{len(times)} {max(gaps):6.1%} {median(times):7.1f} {max(times):7.1f}"
    )


def _dead(loom: Loom, which: slice) -> list[Mark]:
    loads = sorted(name for name, device in loom.devices.items() if device.is_load)
    return [Mark(load=name, symptom=SymptomKind.DEAD) for name in loads[which]]


def main() -> None:
    """All kinds, small to large."""
    print(f"{'':<34}front-to-back    halving       bits/min  proved  worst        ms      ms")
    print(f"{'classes x checks':<34} mean worst   mean worst   mean worst   best    gap    median   worst")
    for count in (15, 30, 60):
        report(f"row {count}", partial(row, count=count))
        report(f"row there and back {count}", partial(there_and_back, count=count))
        report(f"row, accesses scattered {count}", partial(row, count=count, scattered=True))
    for count, checks in ((14, 40), (30, 60), (30, 100), (45, 100), (60, 100), (60, 150)):
        report(f"branched {count} x {checks}", partial(branched, count=count, checks=checks))
    for count, checks in ((14, 60), (30, 100), (60, 100)):
        report(f"anything {count} x {checks}", partial(anything, count=count, checks=checks))
    for name in ("four", "twin"):
        on_the_bike(name)


if __name__ == "__main__":
    main()
