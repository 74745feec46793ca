"""Puzzles to try the planner on, and every plan there is for the small ones."""

from collections.abc import Iterable
from functools import cache

from hypothesis import strategies as st

from tracker.trace.planner import Puzzle, Test

ACCESSES = {"seat": 3.0, "tank": 20.0, "panel": 4.0}
CLOSED = {
    "": frozenset[str](),
    "seat": frozenset({"seat"}),
    "tank": frozenset({"seat", "tank"}),
    "panel": frozenset({"panel"}),
}
MINUTES = st.sampled_from([0.0, 1.0, 1.0, 2.0, 3.0, 5.0, 7.5])


@st.composite
def shares(draw: st.DrawFn, count: int) -> tuple[float, ...]:
    drawn = draw(st.lists(st.integers(1, 12), min_size=count, max_size=count))
    return tuple(each / sum(drawn) for each in drawn)


@st.composite
def any_test(draw: st.DrawFn, number: int, outcomes: Iterable[int]) -> Test:
    needs = CLOSED[draw(st.sampled_from(["", "", *CLOSED]))]
    return Test(f"t{number}", draw(MINUTES), needs, tuple(outcomes), draw(st.booleans()))


@st.composite
def general(draw: st.DrawFn, classes: int = 6, tests: int = 6) -> Puzzle:
    """Any checks of two to four outcomes."""
    count = draw(st.integers(1, classes))
    offered = []
    for number in range(draw(st.integers(0, tests))):
        outcomes = draw(st.lists(st.integers(0, draw(st.integers(1, 3))), min_size=count, max_size=count))
        offered.append(draw(any_test(number, outcomes)))
    opened = draw(st.sampled_from([*CLOSED.values()]))
    return Puzzle(draw(shares(count)), tuple(offered), ACCESSES, opened, draw(labels(count)))


@st.composite
def labels(draw: st.DrawFn, count: int) -> tuple[int, ...]:
    """None, or some for which two classes may be one suspect."""
    drawn = st.lists(st.integers(0, max(1, count - 2)), min_size=count, max_size=count)
    return tuple(draw(drawn)) if draw(st.booleans()) else ()


@st.composite
def rows(draw: st.DrawFn, classes: int = 7) -> Puzzle:
    """Checks that each tell on which side of a point the fault is, classes and checks in no order."""
    count = draw(st.integers(2, classes))
    places = draw(st.permutations(range(count)))
    cuts = draw(st.permutations([*range(1, count), draw(st.integers(1, count - 1))]))
    offered = []
    for number, cut in enumerate(cuts):
        side = draw(st.integers(0, 1))
        offered.append(draw(any_test(number, [side ^ (place < cut) for place in places])))
    return Puzzle(draw(shares(count)), tuple(offered), ACCESSES, labels=draw(labels(count)))


def brute(puzzle: Puzzle, first: int | None = None) -> float:
    """Least expected minutes over all plans there are, or over all that begin with the test `first`."""

    shown = [tuple(test.outcomes[i] for test in puzzle.tests) for i in range(len(puzzle.shares))]
    alike: dict[tuple[int, ...], set[int]] = {}
    for label, signature in zip(puzzle.labels or range(len(shown)), shown, strict=True):
        alike.setdefault(signature, set()).add(label)

    def after(test: Test, left: frozenset[int], opened: frozenset[str]) -> float | None:
        parts = [frozenset(i for i in left if test.outcomes[i] == one) for one in set(test.outcomes)]
        parts = [part for part in parts if part]
        if len(parts) < 2:
            return None
        spent = test.minutes + sum(puzzle.access_minutes[access] for access in test.needs - opened)
        share = sum(puzzle.shares[i] for i in left)
        return share * spent + sum(least(part, opened | test.needs) for part in parts)

    @cache
    def least(left: frozenset[int], opened: frozenset[str]) -> float:
        if len({frozenset(alike[shown[i]]) for i in left}) == 1:
            return 0.0
        found = [after(test, left, opened) for test in puzzle.tests]
        return min((each for each in found if each is not None), default=0.0)

    everything = frozenset(range(len(puzzle.shares)))
    if first is None:
        return least(everything, puzzle.opened)
    begun = after(puzzle.tests[first], everything, puzzle.opened)
    assert begun is not None, "the first test must tell something"
    return begun


def made(outcomes: list[str], minutes: list[float], free: int | None = None) -> Puzzle:
    """Tests written as one digit per class, all classes alike likely."""
    count = len(outcomes[0])
    offered = [
        Test(f"t{number}", took, frozenset(), tuple(map(int, shown)), number == free)
        for number, (shown, took) in enumerate(zip(outcomes, minutes, strict=True))
    ]
    return Puzzle((1 / count,) * count, tuple(offered), {})
