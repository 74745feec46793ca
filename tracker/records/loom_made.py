"""A bike's own loom: the pattern for its features, changed by facts; and the circuits found in it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal, TypeAlias

from tracker.records.loom import End, Parts, What
from tracker.records.loom_pattern import Known

Level: TypeAlias = Literal["pattern", "model", "bike"]
"""Where something is known from: the general pattern, the same make and model, or this very bike."""

Deed: TypeAlias = Literal[
    "add", "remove", "move", "rename", "colour", "size", "length", "change", "splice", "renew"
]

Changed: TypeAlias = What | Literal["zone"]

Key: TypeAlias = tuple[What, str]
"""A part of the loom by kind and id."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """Something seen or done on a bike or a model that differs from the pattern.

    `values` are the part's fields as plain values (numbers, text, lists), whole for “add”, else only what
    changes. A fact about a wire is anchored on both its ends, `a` and `b` (place ids), and `mm` from `a`;
    `words` are as written that day.
    """

    deed: Deed
    what: Changed
    id: str
    values: Mapping[str, object] = field(default_factory=dict)
    a: str = ""
    b: str = ""
    mm: int | None = None
    words: str = ""
    card: str = ""
    on: date | None = None
    token: str = ""
    level: Level = "bike"


@dataclass(frozen=True, slots=True)
class Origin:
    """Where one value of one part is known from, and since when."""

    level: Level
    card: str = ""
    on: date | None = None
    words: str = ""
    token: str = ""


PATTERN = Origin("pattern")


@dataclass(frozen=True, slots=True)
class Unfinished:
    """A fact that fits nowhere in this loom any more, and why. It is kept, not dropped."""

    fact: Fact
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Loom(Parts):
    """The loom of one bike. `features` are the answers known; others keep every variant.

    `doubtful` maps a part that is there only for want of an answer to the features that would settle it.
    `supposed` are answers taken for granted to get one loom that can be worked with. `scale` is this bike's
    wheelbase over the reference. `volts` is 6.0 or 12.0. `lost` are answers the pattern no longer knows.
    """

    known: Known
    features: Mapping[str, str] = field(default_factory=dict)
    volts: float = 12.0
    scale: float = 1.0
    doubtful: Mapping[Key, tuple[str, ...]] = field(default_factory=dict)
    supposed: Mapping[str, str] = field(default_factory=dict)
    origins: Mapping[tuple[Changed, str, str], Origin] = field(default_factory=dict)
    unfinished: tuple[Unfinished, ...] = ()
    lost: tuple[str, ...] = ()

    def origin(self, what: Changed, id_: str, name: str) -> Origin:
        """Where the value `name` of a part is known from; adding a part counts for all its values."""
        return self.origins.get((what, id_, name)) or self.origins.get((what, id_, "")) or PATTERN


@dataclass(frozen=True, slots=True)
class Step:
    """One element of a circuit, passed from `start` to `end`: a wire, a device, or a place's own joint."""

    what: Literal["wire", "device", "joint"]
    id: str
    start: End
    end: End


@dataclass(frozen=True, slots=True, kw_only=True)
class Circuit:
    """A way round: from `source` through `load` and back. `through` are other loads in series with it.

    `share` is the part of the source's volts that this load gets by ohms alone; `works` whether that is
    enough for its job. `needs` are loads (relay coils, modules) that must work for this circuit to be closed;
    `supposing` the answers to open questions under which it exists.
    """

    load: str
    source: str
    steps: tuple[Step, ...]
    through: tuple[str, ...] = ()
    share: float = 1.0
    works: bool = True
    needs: tuple[str, ...] = ()
    supposing: tuple[tuple[str, str], ...] = ()

    @property
    def elements(self) -> tuple[tuple[str, str], ...]:
        """What is passed, in order, as (kind, id)."""
        return tuple((step.what, step.id) for step in self.steps)

    @property
    def places(self) -> tuple[str, ...]:
        """The places passed, in order, each once."""
        ends = [end for step in self.steps for end in (step.start, step.end)]
        return tuple(dict.fromkeys(end.place for end in ends))
