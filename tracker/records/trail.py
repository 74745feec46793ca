"""The trail of a trace: every check in order, what it was to show, what it showed, what that ruled out."""

from dataclasses import dataclass
from datetime import datetime

from tracker.records.card import Symptom
from tracker.records.trace import CheckWord, TraceFault


@dataclass(frozen=True, slots=True)
class Spot:
    """Where something is: its words, and the side of it that was probed (“” for none)."""

    words: str
    side: str = ""


@dataclass(frozen=True, slots=True)
class Blamed:
    """One thing that it could be: each part by its words, with what is wrong with it."""

    faults: tuple[tuple[str, TraceFault], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TrailStep:
    """One check as it was made. `minutes` are the check's by the table, without what came off for it (`off`:
    words and minutes). `out` are the likeliest that it ruled out, of `out_count`; `left` still may be.

    `counts` is false where it was doubted, or cannot be: it then ruled out nothing.
    """

    number: int
    check: CheckWord
    at: datetime
    by: str
    place: Spot
    read: str
    against: Spot | None = None
    load: str = ""
    state: str = ""
    expected: str = ""
    minutes: float = 0.0
    off: tuple[tuple[str, int], ...] = ()
    doubted: bool = False
    counts: bool = True
    out: tuple[Blamed, ...] = ()
    out_count: int = 0
    left: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Trail:
    """All steps of a card's trace; `found` what was left at its end where no check tells more, else empty.

    `symptoms` with the words of their load; `opened` is what was said to be off, which costs the checks
    nothing; `clocked` are the minutes clocked for looking, 0 for none.
    """

    symptoms: tuple[tuple[Symptom, str], ...]
    steps: tuple[TrailStep, ...] = ()
    found: tuple[Blamed, ...] = ()
    opened: tuple[str, ...] = ()
    clocked: int = 0

    @property
    def minutes(self) -> float:
        """All checks by the table, with what came off for them."""
        return sum(one.minutes + sum(took for _, took in one.off) for one in self.steps)
