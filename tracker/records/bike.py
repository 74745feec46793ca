"""A bike, and what is known of its loom beyond the general pattern."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from tracker.records.row import Kept, Row

UNKNOWN = "don't know"
"""A legal answer to every question about a bike or its loom; it keeps all variants."""


class DistanceUnit(StrEnum):
    """What the odometer counts."""

    KM = "km"
    MILES = "mi"


class Earth(StrEnum):
    """Which side of the battery goes to the frame."""

    NEGATIVE = "negative"
    POSITIVE = "positive"
    NONE = "none"
    UNKNOWN = UNKNOWN


@dataclass(frozen=True, slots=True, kw_only=True)
class Bike(Kept):
    """A bike or a project. `volts` is 6, 12, 0 for none, or None for “don't know”; `battery_ah` in Ah."""

    make: str
    model: str = ""
    year: int | None = None
    registration: str = ""
    vin: str = ""
    colour: str = ""
    odometer_unit: DistanceUnit = DistanceUnit.KM
    earth: Earth = Earth.UNKNOWN
    volts: int | None = None
    battery_kind: str = UNKNOWN
    battery_ah: float | None = None
    wheelbase_mm: int | None = None
    notes: str = ""

    @property
    def name(self) -> str:
        """Make and model as they are said."""
        return f"{self.make} {self.model}".strip()


@dataclass(frozen=True, slots=True, kw_only=True)
class BikeFeature(Kept):
    """An answer to one of the few questions that decide a loom, with the card on which it was seen."""

    bike: int
    feature: str
    answer: str = UNKNOWN
    card: int | None = None
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class LoomFact(Row):
    """Something seen on a bike, or on its make and model, that differs from the pattern.

    `deed` and `facts` are what `tracker.loom` reads; `words` are as written that day and are never changed.
    """

    bike: int | None = None
    model_of: str = ""
    card: int | None = None
    deed: str
    facts: dict[str, object]
    words: str = ""
    who: str = ""
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnFigure(Row):
    """A bike's or a model's own figure (regulated volts, stator ohms), with who entered it and from what."""

    bike: int | None = None
    model_of: str = ""
    kind: str
    least: float | None = None
    most: float | None = None
    unit: str
    source: str
    who: str = ""
    at: datetime
