"""What a reading is judged by: limits with their class, the conditions they hold under, and the verdict."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Literal

from tracker.records.bike import UNKNOWN, OwnFigure
from tracker.records.electrics import Sourced

LEAD = "lead"
"""Any lead-acid battery, in a limit's `battery` column."""

LEAD_KINDS = ("flooded", "agm", "gel")
LITHIUM = "lithium"
BATTERY_KINDS = (*LEAD_KINDS, LITHIUM, "none", UNKNOWN)
"""Battery kinds as a bike has them; lithium means LiFePO4 with four cells at 12 V."""

ALTERNATOR_KINDS = (
    "three-phase", "single-phase", "half-wave", "excited-field", "dynamo", "lighting-coil", "none", UNKNOWN,
)  # fmt: skip

AtLimit = Literal["good", "worse"]

FACTS: Mapping[str, str] = {
    "20 C or warmer": "with the battery at 20 °C or warmer; colder, say its temperature",
    "about 22 V AC": "at a speed that gives about 22 V AC",
    "clock or alarm": "where a clock, an alarm or a tracker stays awake",
    "charged": "with the battery charged",
    "flat battery": "with the battery below 75 %",
    "rested": "after the battery has rested and its surface charge is gone",
    "charging": "with the alternator charging",
    "cranking": "while cranking",
    "current flowing": "with current flowing",
    "isolated winding": "on a winding that is earthed nowhere by design",
    "electronics unplugged": "with every electronic part unplugged",
    "moving-coil meter": "with a moving-coil meter on ohms",
    "plain diodes": "on a unit that reads as plain diodes",
    "three-phase": "on a three-phase alternator",
}
"""What a limit may ask to be true of a reading, in words; more may be said of a reading than limits ask."""


class LimitClass(StrEnum):
    """How much a limit is worth, as it is shown beside a verdict."""

    BIKES_OWN = "bike's own"
    PUBLISHED = "published"
    COMMON_PRACTICE = "common practice"
    FROM_MEMORY = "from memory"
    DERIVED = "derived"


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit(Sourced):
    """One limit, or one figure that judging stands on.

    A reading of one of `kinds` is a fault below `fault_below` or above `fault_above`, worth a look below
    `look_below` or above `look_above`, all in `unit`; `at_limit` says what a value right on a bound is. It
    holds at `volts` (None: any system), for `battery` (“lead”, a kind, empty for any), where all of `needs`
    and none of `not_when` are true. An `always` limit stands beside a bike's own figure; any other gives way.
    A `guard` condemns what breaks it and clears nothing.
    `figure` (to `figure_to`) is a plain number, at `at_c` degrees where it depends on temperature.
    """

    id: str
    what: str
    kinds: tuple[str, ...] = ()
    unit: str = ""
    fault_below: float | None = None
    look_below: float | None = None
    look_above: float | None = None
    fault_above: float | None = None
    at_limit: AtLimit = "good"
    volts: int | None = None
    battery: str = ""
    needs: tuple[str, ...] = ()
    not_when: tuple[str, ...] = ()
    always: bool = False
    guard: bool = False
    figure: float | None = None
    figure_to: float | None = None
    at_c: float | None = None
    say_good: str = ""
    say_look: str = ""
    say_fault: str = ""
    own: bool = False

    @property
    def limit_class(self) -> LimitClass:
        """The class in one word or two."""
        if self.own:
            return LimitClass.BIKES_OWN
        match self.status:
            case "read":
                return LimitClass.PUBLISHED
            case "common practice":
                return LimitClass.COMMON_PRACTICE
            case "from memory":
                return LimitClass.FROM_MEMORY
            case _:
                return LimitClass.DERIVED


@dataclass(frozen=True, slots=True)
class Limits:
    """All limits by id, as they were loaded and checked."""

    rows: Mapping[str, Limit]

    def figure(self, name: str) -> float:
        """The plain number of a limit, or its first bound where it has none; KeyError for no such limit."""
        row = self.rows[name]
        bounds = (row.figure, row.look_below, row.fault_below, row.look_above, row.fault_above)
        return next(value for value in bounds if value is not None)

    def of_kind(self, kind: str) -> tuple[Limit, ...]:
        """The limits that judge readings of a kind."""
        return tuple(row for row in self.rows.values() if kind in row.kinds)


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions:
    """How a reading was taken, and on what: `facts` are words of FACTS, `own` the bike's own figures."""

    volts: int | None = None
    battery: str = UNKNOWN
    alternator: str = UNKNOWN
    temperature_c: float | None = None
    facts: frozenset[str] = field(default_factory=frozenset)
    own: tuple[OwnFigure, ...] = ()


class Word(StrEnum):
    """A verdict in a word."""

    GOOD = "good"
    LOOK = "look"
    FAULT = "fault"
    NO_LIMITS = "no limits for this"


@dataclass(frozen=True, slots=True)
class Verdict:
    """A judged reading: the word, why in sentences, the limit that decided and every one that was asked."""

    word: Word
    why: tuple[str, ...]
    limit: Limit | None = None
    asked: tuple[Limit, ...] = ()
