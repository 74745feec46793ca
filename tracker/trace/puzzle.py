"""What is asked of the planner, and what it answers: classes of suspects, offered checks, minutes."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True, slots=True)
class Test:
    """One offered check.

    `minutes` are its own, without what must come off. `needs` are the accesses that must be open, already
    closed under their own needs (a tank names the seat as well). `outcomes[i]` is what class i would show:
    any small ints, alike where the check cannot tell two classes apart. A `free` look wins ties.
    """

    __test__: ClassVar[bool] = False  # not a test of ours

    name: str
    minutes: float
    needs: frozenset[str]
    outcomes: tuple[int, ...]
    free: bool = False


@dataclass(frozen=True, slots=True)
class Puzzle:
    """Classes of suspects with their `shares` (0 or more, together 1) and the checks that tell them apart.

    `access_minutes`: minutes to open each access, paid once, when first needed. `opened` are open already.
    `labels`, if any, one a class: classes of the same label are one suspect that may show in several ways (a
    joint poor or poorer still), and need not be told apart.
    """

    shares: tuple[float, ...]
    tests: tuple[Test, ...]
    access_minutes: Mapping[str, float]
    opened: frozenset[str] = frozenset()
    labels: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """The best check to make next: `test` is its place in `Puzzle.tests`, None where no check tells any more.

    `expected_minutes` is what the whole plan behind it takes on average, until one class is left or a set
    that no offered check can split. No plan takes less than `lower_bound_minutes`; `proved_best` says that
    the two meet.
    """

    test: int | None
    expected_minutes: float
    lower_bound_minutes: float
    proved_best: bool
