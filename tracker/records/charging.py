"""The charging check: its steps, the table of what its readings say together, and the verdict."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from tracker.records.bike import UNKNOWN, OwnFigure
from tracker.records.electrics import Sourced
from tracker.records.limits import Conditions, Limit

Confidence = Literal["good", "fair", "low"]
"""How far a verdict can be relied on: act on it, act on it once its next reading agrees, or only a hint."""

AC_PER_1000 = "ac_volts_per_1000"
"""The kind of an own figure: AC volts of any pair for every 1000 rev/min, plug apart."""

AC_PAIRS = ("ac_volts_ab", "ac_volts_bc", "ac_volts_ca")


class ChargingWord(StrEnum):
    """What a charging check can come to."""

    BATTERY = "battery"
    REGULATOR = "regulator/rectifier"
    STATOR = "stator"
    WIRING = "wiring or earth"
    SENSE = "sense lead"
    DRAIN = "drain"
    OVER = "over-charging"
    NOTHING = "nothing wrong"
    NOT_ENOUGH = "not enough"


SIGNS: Mapping[str, tuple[str, ...]] = {
    "volts": ("6", "12", "other", "unknown"),
    "battery": ("lead", "lithium", "none", "unknown"),
    "alternator": ("magnet", "field", "dynamo", "none", "unknown"),
    "over": ("stop", "high", "above", "no", "unread"),
    "state": ("charged", "flat", "empty", "unsure", "no table", "unread"),
    "load": ("good", "worn", "no limits", "unread"),
    "crank": ("good", "near", "weak", "no limits", "unread"),
    "charge": ("good", "low", "none", "above", "no verdict", "no limits", "unread"),
    "lamps": ("good", "low", "none", "above", "no verdict", "no limits", "unread"),
    "current": ("in", "out", "unread"),
    "ac": (
        "right",
        "balanced",
        "rises",
        "unbalanced",
        "uneven",
        "low",
        "flat",
        "dead",
        "no limits",
        "unread",
    ),
    "plug": ("apart", "loaded", "unsaid"),
    "ohms": ("apart", "nothing", "unread"),
    "earth": ("touches", "clear", "no limits", "unread"),
    "live": ("high", "look", "ok", "no current", "unread"),
    "ground": ("high", "look", "ok", "no current", "unread"),
    "sense": ("explains", "not", "unread"),
    "diode": ("bad", "good", "no limits", "unread"),
    "drain": ("high", "look", "good", "unread"),
    "twice": ("apart", "agree"),
}
"""What readings are brought to before the table is asked: each sign, and the words it can have."""

Signs = Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChargingBike:
    """What of a bike the charging check goes by; `awake` where a clock, an alarm or a tracker stays on."""

    volts: int | None = None
    battery: str = UNKNOWN
    alternator: str = UNKNOWN
    earth: str = UNKNOWN
    sense: str = UNKNOWN
    awake: bool = False
    own: tuple[OwnFigure, ...] = ()

    def conditions(
        self, facts: frozenset[str] = frozenset(), temperature_c: float | None = None
    ) -> Conditions:
        """The same for one reading that was taken so."""
        return Conditions(
            volts=self.volts,
            battery=self.battery,
            alternator=self.alternator,
            temperature_c=temperature_c,
            facts=facts,
            own=self.own,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class ChargingStep(Sourced):
    """One reading of the check, in its turn: how it is taken, and on which bikes it makes sense.

    `kind` is a kind of reading, `place` where it is taken when the kind alone does not say it (a winding's
    pair). `alternators`, `batteries` and `volts` are empty for “any”; “don't know” keeps every step.
    `sense` steps are for regulators with a sense lead of their own.
    """

    id: str
    kind: str
    place: str = ""
    words: str
    meter: str
    leads: str
    engine: str
    caution: str = ""
    alternators: tuple[str, ...] = ()
    batteries: tuple[str, ...] = ()
    volts: tuple[int, ...] = ()
    sense: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ChargingRow(Sourced):
    """One row of the table: under these signs, that verdict.

    `when` names words that a sign may have. A row with `contradiction` decides nothing: it says which
    readings cannot both be true. `could_be` are the verdicts still open, `next` the steps that would decide,
    the best first.
    """

    id: str
    contradiction: bool = False
    when: Mapping[str, tuple[str, ...]]
    word: ChargingWord
    could_be: tuple[ChargingWord, ...] = ()
    reason: str
    next: tuple[str, ...] = ()
    confidence: Confidence


@dataclass(frozen=True, slots=True)
class ChargingTable:
    """Steps in working order and rows in the order in which they are asked."""

    steps: tuple[ChargingStep, ...]
    rows: tuple[ChargingRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChargingVerdict:
    """What the readings say together.

    `reasons` are sentences; `limits` every limit used, each with its class; `also` what else is wrong or
    stands in the way; `contradictions` what cannot both be true, `against` for each of them the ids of the
    readings that say so. `next` is the one reading that would decide, None where there is nothing left to
    read. `row` names the row of the table, `signs` what it was asked.
    """

    word: ChargingWord
    row: str
    reasons: tuple[str, ...]
    confidence: Confidence
    could_be: tuple[ChargingWord, ...] = ()
    also: tuple[str, ...] = ()
    contradictions: tuple[str, ...] = ()
    against: tuple[tuple[int, ...], ...] = ()
    limits: tuple[Limit, ...] = ()
    next: ChargingStep | None = None
    signs: Signs
