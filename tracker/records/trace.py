"""What a trace speaks of: how often faults are found, what checks cost, what was said and what was read."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias, get_args

from tracker.records.card import SymptomKind
from tracker.records.electrics import Sourced

TraceFault: TypeAlias = Literal[
    "open", "weak", "bulb", "blown", "stuck open", "stuck closed", "shorted", "to frame", "flat",
    "gives too much", "leaks", "other lamps", "as built",
]  # fmt: skip
"""What can be wrong with a part. “other lamps”: LEDs where the flasher expects bulbs; “as built”: nothing is
broken, the loom is made so."""

FAULTS: Final[tuple[TraceFault, ...]] = get_args(TraceFault)

CheckWord: TypeAlias = Literal[
    "see", "click", "look at a fuse", "look at a bulb", "look at a plug", "battery volts", "volts",
    "volts at the foot", "AC volts", "drop", "swap a bulb", "swap a relay", "bridge a switch", "unplug",
    "earth the lead", "lamp for the fuse", "drop across a fuse", "wiggle",
]  # fmt: skip

CHECK_WORDS: Final[tuple[CheckWord, ...]] = get_args(CheckWord)

ConditionWord: TypeAlias = Literal["at full lock", "wet", "hot", "shaken", "at times"]

CONDITIONS: Final[tuple[ConditionWord, ...]] = ("at full lock", "wet", "hot", "shaken", "at times")

TRAITS: Final = ("bends", "steering", "suspension", "wet", "hot", "shakes")
"""A zone's traits; a wire “bends” where one of its ends turns with the steering and the other does not."""

ANY: Final = "any"


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultRate(Sourced):
    """How often one fault is found in one part of a kind, over any other: `weight` is no probability.

    `of` is a kind of place, wire or device, or what a source is (battery, stator winding, ...).
    """

    fault: TraceFault
    of: str
    weight: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TraitTimes(Sourced):
    """How many times as often where a zone's trait wears on kinds of parts."""

    trait: str
    of: tuple[str, ...]
    times: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ConditionShare(Sourced):
    """The part of such faults that show under a condition only; `trait` “” for any zone, `of` may be any."""

    condition: ConditionWord
    trait: str
    of: tuple[str, ...]
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckKind(Sourced):
    """One kind of check: minutes at the bench without what comes off, people it takes, how often misread.

    A free look needs no meter and wins a tie.
    """

    kind: CheckWord
    words: str
    minutes: float
    hands: int
    free: bool
    misread: float


@dataclass(frozen=True, slots=True)
class TraceTables:
    """All that a trace goes by beside the loom."""

    rates: Mapping[tuple[TraceFault, str], FaultRate]
    traits: tuple[TraitTimes, ...]
    conditions: tuple[ConditionShare, ...]
    checks: Mapping[CheckWord, CheckKind]


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnFix:
    """What this shop found before: `fixed` times this fault in this element, `came_back` of them to no good.

    `of` and `zone` are what the element is and where it lies; `same_model` says whether on this make and
    model.
    """

    element: str
    fault: str
    of: str
    zone: str
    same_model: bool = False
    fixed: int = 1
    came_back: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """What a load was seen to do. `state` is a standard state's id, “” for the one that should work it.

    `other` is the load it comes on with; `when` the condition under which alone it shows.
    """

    load: str
    symptom: SymptomKind
    state: str = ""
    other: str = ""
    when: ConditionWord | Literal[""] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TraceReading:
    """What a check gave. `place` is `PLACE[:way]@side`, or a part's id where the check is of a part.

    Meter checks have `value` in V (mV across a fuse), the others the word of an outcome. `against` is where
    the black probe was, “” for the battery's earthed post. `doubted` readings are kept and count for nothing.
    """

    kind: CheckWord
    place: str
    state: str = ""
    value: float | None = None
    outcome: str = ""
    against: str = ""
    doubted: bool = False
