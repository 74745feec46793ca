"""Leaving out what is too unlikely to plan for."""

from dataclasses import replace

from tracker.trace.puzzle import Puzzle

UNLIKELY = 0.001
"""Share below which a suspect is folded away: even all together they hardly move expected minutes."""


def fold(puzzle: Puzzle, below: float = UNLIKELY) -> tuple[Puzzle, tuple[int, ...]]:
    """The puzzle without classes whose share is under `below`, and the places of those kept.

    The likeliest is kept in any case; the shares kept are made 1 together again. A reading that none of those
    kept would give brings the others back: that is for the caller to see.

    >>> puzzle, kept = fold(Puzzle((0.0005, 0.4995, 0.5), (), {}))
    >>> kept, [round(share, 4) for share in puzzle.shares]
    ((1, 2), [0.4997, 0.5003])
    """
    if not puzzle.shares:
        return puzzle, ()
    least = min(below, max(puzzle.shares))
    kept = tuple(place for place, share in enumerate(puzzle.shares) if share >= least)
    whole = sum(puzzle.shares[place] for place in kept)
    shares = tuple(puzzle.shares[place] / whole if whole else 0.0 for place in kept)
    tests = tuple(
        replace(test, outcomes=tuple(test.outcomes[place] for place in kept)) for test in puzzle.tests
    )
    return replace(puzzle, shares=shares, tests=tests), kept
