"""What is done at the bench: repairs, exactly where they are, and the time they took."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from tracker.records.row import Kept


@dataclass(frozen=True, slots=True, kw_only=True)
class Repair(Kept):
    """One repair: what it was planned as, and what was really done.

    `rule` names the repair type and `asked` its answers when it was priced. Where it is: `circuit`, the
    wire between `wire_from` and `wire_to`, `mm` from `mm_end` (one of those two). `keeps_ways` says
    whether a new connector keeps the old pin numbering. `proves` are the readings its rule wants after.
    `dropped` is why it will not be done. Lengths in mm, `size_mm2` in square millimetres, pull in newtons.
    """

    card: int
    finding: int | None = None
    rule: str
    asked: dict[str, str]
    proves: tuple[str, ...] = ()
    words: str = ""
    circuit: str = ""
    wire_from: str = ""
    wire_to: str = ""
    mm: int | None = None
    mm_end: str = ""
    size_mm2: float | None = None
    colour: str = ""
    tracer: str = ""
    colour_code: str = ""
    splice: str = ""
    terminal: str = ""
    connector_old: str = ""
    connector_new: str = ""
    keeps_ways: bool | None = None
    sleeve: str = ""
    length_used_mm: int | None = None
    pull_n: float | None = None
    pull_tested: bool | None = None
    started_at: datetime | None = None
    done_at: datetime | None = None
    done_by: str = ""
    dropped: str = ""
    sent_out_to: str = ""


class TimeKind(StrEnum):
    """What clocked time was spent on."""

    REPAIR = "repair"
    LOOKING = "looking"
    TRAVEL = "travel"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeEntry(Kept):
    """Time on a card, half-open; `off_at` None while the clock runs. `typed` when written in afterwards."""

    card: int
    repair: int | None = None
    mechanic: int
    kind: TimeKind
    on_at: datetime
    off_at: datetime | None = None
    typed: bool = False
    words: str = ""
