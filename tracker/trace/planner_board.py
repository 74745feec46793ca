"""A puzzle as bit masks: classes that no check can tell apart are one, checks that tell nothing are gone."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial, reduce
from itertools import count
from math import isfinite

from tracker.trace.puzzle import Puzzle


@dataclass(frozen=True, slots=True)
class Check:
    """A check as masks: `blocks` are the classes of each outcome, none empty, at least two; `needs` the bits
    of the accesses to open. `index` is its place in `Puzzle.tests`."""

    index: int
    minutes: float
    needs: int
    blocks: tuple[int, ...]
    free: bool = False


@dataclass(frozen=True, slots=True)
class Board:
    """`weights` of the classes (bit i is class i), their mask `whole`, the minutes of each access.

    `same[i]` are the classes that need not be told from class i, itself among them; `shared` those of which
    there are several.
    """

    weights: tuple[float, ...]
    whole: int
    checks: tuple[Check, ...]
    opening: tuple[float, ...]
    same: tuple[int, ...]
    shared: int

    def mixed(self, mask: int) -> bool:
        """Whether a set still holds classes that must be told apart."""
        if not mask & (mask - 1):
            return False
        return bool(mask & ~self.same[(mask & -mask).bit_length() - 1])

    def opening_minutes(self, needs: int) -> float:
        """Minutes to open all accesses of a mask."""
        return sum(minutes for bit, minutes in enumerate(self.opening) if needs >> bit & 1)


def board(puzzle: Puzzle) -> Board:
    """The puzzle as masks. ValueError where lengths, accesses or minutes do not hold together."""
    _refuse_nonsense(puzzle)
    number: dict[tuple[int, ...], int] = {}
    weights: list[float] = []
    merged: list[int] = []
    for place, share in enumerate(puzzle.shares):
        shown = tuple(test.outcomes[place] for test in puzzle.tests)
        merged.append(number.setdefault(shown, len(number)))
        if merged[-1] == len(weights):
            weights.append(0.0)
        weights[merged[-1]] += share
    wanted = sorted({access for test in puzzle.tests for access in test.needs} - puzzle.opened)
    bit = dict(zip(wanted, (1 << place for place in count()), strict=False))
    checks: list[Check] = []
    for index, test in enumerate(puzzle.tests):
        blocks: dict[int, int] = {}
        for place, outcome in zip(merged, test.outcomes, strict=True):
            blocks[outcome] = blocks.get(outcome, 0) | 1 << place
        if len(blocks) > 1:
            needs = sum(bit[access] for access in test.needs - puzzle.opened)
            checks.append(Check(index, test.minutes, needs, tuple(blocks.values()), test.free))
    opening = tuple(puzzle.access_minutes[access] for access in wanted)
    same = _same(puzzle, merged)
    shared = sum(1 << bit for bit, alike in enumerate(same) if alike & (alike - 1))
    return Board(tuple(weights), (1 << len(weights)) - 1, tuple(undominated(checks)), opening, same, shared)


def _same(puzzle: Puzzle, merged: Sequence[int]) -> tuple[int, ...]:
    """For each class those of the same label; what no check tells apart has all its labels together."""
    labels: list[set[int]] = [set() for _ in range(max(merged, default=-1) + 1)]
    for label, bit in zip(puzzle.labels or range(len(merged)), merged, strict=True):
        labels[bit].add(label)
    alike: dict[frozenset[int], int] = {}
    for bit, some in enumerate(labels):
        alike[frozenset(some)] = alike.get(frozenset(some), 0) | 1 << bit
    return tuple(alike[frozenset(some)] for some in labels)


def undominated(checks: Sequence[Check]) -> list[Check]:
    """Without the checks for which another tells at least as much, takes no longer and opens nothing more.

    That loses nothing: whatever plan goes on after the lesser check can go on after the other, leaving out
    what no longer splits. A free look is kept unless the other is free too, or quicker: it may win a tie.
    """
    best: dict[frozenset[int], list[Check]] = {}
    for check in sorted(
        checks, key=lambda each: (each.minutes, each.needs.bit_count(), not each.free, each.index)
    ):
        alike = best.setdefault(frozenset(check.blocks), [])
        if not any(_no_worse(other, check) for other in alike):
            alike.append(check)
    kept = [check for alike in best.values() for check in alike]
    finer = [check for check in kept if len(check.blocks) > 2]
    kept = [
        check
        for check in kept
        if not any(
            len(other.blocks) > len(check.blocks) and _no_worse(other, check) and _refines(other, check)
            for other in finer
        )
    ]
    return sorted(kept, key=lambda check: check.index)


def together(board: Board, checks: Sequence[Check]) -> list[int]:
    """The groups that none of the checks tells apart and in which something still is to be told apart."""
    return reduce(partial(refine, board), checks, [board.whole] if board.mixed(board.whole) else [])


def refine(board: Board, groups: list[int], check: Check) -> list[int]:
    """What is left of such groups after one more check."""
    parts = (group & block for group in groups for block in check.blocks)
    return [part for part in parts if board.mixed(part)]


def _no_worse(one: Check, other: Check) -> bool:
    if one.minutes > other.minutes or one.needs & ~other.needs:
        return False
    return one.free or not other.free or one.minutes < other.minutes


def _refines(one: Check, other: Check) -> bool:
    return all(any(not part & ~block for block in other.blocks) for part in one.blocks)


def _refuse_nonsense(puzzle: Puzzle) -> None:
    if not all(isfinite(share) and share >= 0 for share in puzzle.shares):
        raise ValueError("shares are 0 or more")
    if puzzle.labels and len(puzzle.labels) != len(puzzle.shares):
        raise ValueError(f"{len(puzzle.labels)} labels for {len(puzzle.shares)} classes")
    for test in puzzle.tests:
        if len(test.outcomes) != len(puzzle.shares):
            raise ValueError(f"{test.name}: {len(test.outcomes)} outcomes for {len(puzzle.shares)} classes")
        if not (isfinite(test.minutes) and test.minutes >= 0):
            raise ValueError(f"{test.name}: minutes are 0 or more")
        unknown = test.needs - puzzle.opened - puzzle.access_minutes.keys()
        if unknown:
            raise ValueError(f"{test.name}: nobody knows how long {min(unknown)} takes to open")
    if not all(isfinite(minutes) and minutes >= 0 for minutes in puzzle.access_minutes.values()):
        raise ValueError("minutes to open an access are 0 or more")
