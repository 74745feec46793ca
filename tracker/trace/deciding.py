"""Which check next: the suspects that are left as classes, the offered checks as what tells them apart."""

from collections.abc import Iterable, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from typing import Final

from tracker.records.loom_made import Loom
from tracker.trace.bench import Bench, Row, Theory
from tracker.trace.check import Check
from tracker.trace.expect import outcomes
from tracker.trace.planner import NODES, best_plan
from tracker.trace.puzzle import Plan, Puzzle, Test
from tracker.trace.shown import acted, plainly
from tracker.trace.suspects import Suspect

LEAST_SHARE: Final = 0.001
"""A suspect under this part of what is left is folded away; it comes back when others fall."""

MANY: Final = 30
"""Beyond so many classes the search is cut shorter: an answer is wanted at once, and readings thin them."""

NODES_OF_MANY: Final = 600


@dataclass(frozen=True, slots=True)
class SuspectClass:
    """Suspects that no offered check can tell apart, the likeliest first, with their part of what is left."""

    suspects: tuple[Suspect, ...]
    share: float


@dataclass(frozen=True, slots=True)
class Decision:
    """The classes that are left, the check to make next (None where none tells more), the plan behind it."""

    classes: tuple[SuspectClass, ...]
    next: Check | None
    plan: Plan
    offered: tuple[Check, ...] = ()


def decide(
    bench: Bench,
    suspects: Sequence[Suspect],
    offered: Iterable[Check],
    opened: AbstractSet[str] = frozenset(),
) -> Decision:
    """The best next check for these suspects; accesses that are `opened` cost nothing."""
    tried = _tried(left_of(suspects))
    rows = tuple(row for _, row, _ in tried)
    telling = _telling(bench, rows, offered, opened)
    made: dict[tuple[int, ...], list[tuple[Suspect, float]]] = {}
    for signature, (one, _, share) in zip(_signatures(telling, len(tried)), tried, strict=True):
        made.setdefault(signature, []).append((one, share))
    total = sum(share for _, _, share in tried) or 1.0
    labels: dict[frozenset[Theory], int] = {}
    labelled = [
        labels.setdefault(frozenset(one.theory for one, _ in some), len(labels)) for some in made.values()
    ]
    found = _classes(list(made.values()), labelled, total)
    if len(found) < 2:
        return Decision(found, None, Plan(None, 0.0, 0.0, True))
    puzzle = Puzzle(
        shares=tuple(sum(share for _, share in some) / total for some in made.values()),
        tests=tuple(
            Test(check.id, check.minutes, check.needs, tuple(one[n] for one in made), check.free)
            for n, (check, _) in enumerate(telling)
        ),
        access_minutes=minutes_of(bench.loom),
        opened=frozenset(opened),
        labels=tuple(labelled),
    )
    plan = best_plan(puzzle, nodes=NODES if len(made) <= MANY else NODES_OF_MANY)
    chosen = None if plan.test is None else telling[plan.test][0]
    return Decision(found, chosen, plan, tuple(check for check, _ in telling))


def _tried(suspects: Sequence[Suspect]) -> list[tuple[Suspect, Row, float]]:
    """Every suspect in each way it may show, but for those too small to count."""
    least = LEAST_SHARE * sum(one.share for one in suspects)
    return [
        (one, row, share) for one in suspects for row, share in one.tried if row == one.row or share >= least
    ]


def _signatures(telling: Sequence[tuple[Check, tuple[int, ...]]], count: int) -> Iterable[tuple[int, ...]]:
    """What all checks give for each row."""
    return zip(*(given for _, given in telling), strict=True) if telling else [()] * count


def _classes(
    made: Sequence[Sequence[tuple[Suspect, float]]], labels: Sequence[int], total: float
) -> tuple[SuspectClass, ...]:
    """What is to be told apart, the likeliest first: one for each label."""
    some: dict[int, dict[Suspect, None]] = {}
    shares: dict[int, float] = {}
    for label, members in zip(labels, made, strict=True):
        some.setdefault(label, {}).update((one, None) for one, _ in members)
        shares[label] = shares.get(label, 0.0) + sum(share for _, share in members) / total
    found = [
        SuspectClass(tuple(sorted(some[label], key=lambda one: -one.share)), share)
        for label, share in shares.items()
    ]
    return tuple(sorted(found, key=lambda one: -one.share))


def minutes_of(loom: Loom) -> dict[str, float]:
    """Minutes of everything that comes off, off and on again."""
    return {name: float(access.minutes) for name, access in loom.known.accesses.items()}


def left_of(suspects: Sequence[Suspect]) -> tuple[Suspect, ...]:
    """Those that contradict nothing, unless all do; without those too small to count."""
    sound = [one for one in suspects if not one.contradicts] or list(suspects)
    total = sum(one.share for one in sound)
    return tuple(one for one in sound if one.share >= LEAST_SHARE * total)


def _telling(
    bench: Bench, rows: tuple[Row, ...], offered: Iterable[Check], opened: AbstractSet[str]
) -> list[tuple[Check, tuple[int, ...]]]:
    """The checks that tell any two apart, with their outcomes; of those alike only what may be cheapest."""
    best: dict[tuple[int, ...], list[Check]] = {}
    asked = tuple(offered)
    solve_together(bench, rows, asked)
    for check in asked:
        given = _in_order(outcomes(bench, check, rows))
        if any(given):
            rivals = best.setdefault(given, [])
            if not any(_as_good(other, check, opened) for other in rivals):
                rivals[:] = [other for other in rivals if not _as_good(check, other, opened)]
                rivals.append(check)
    return [(check, given) for given, rivals in best.items() for check in rivals]


def solve_together(bench: Bench, rows: tuple[Row, ...], offered: Iterable[Check]) -> None:
    """All that these checks will ask of the networks, each state in one go: many small sums cost more."""
    wanted: dict[str, dict[Row, None]] = {}
    for check in offered:
        wanted.setdefault(check.state, {}).update(
            dict.fromkeys(acted(bench, check, plainly(bench, check, rows)))
        )
    for state, some in wanted.items():
        bench.look_at(state, some)


def _in_order(given: Sequence[int]) -> tuple[int, ...]:
    """The same parting with its classes numbered as they come."""
    seen: dict[int, int] = {}
    return tuple(seen.setdefault(one, len(seen)) for one in given)


def _as_good(one: Check, other: Check, opened: AbstractSet[str]) -> bool:
    """Whether `one` tells the same for no more minutes and nothing more off."""
    return (
        one.minutes <= other.minutes
        and one.needs - opened <= other.needs - opened
        and (one.free or not other.free or one.minutes < other.minutes)
    )
