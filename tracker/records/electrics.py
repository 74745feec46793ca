"""What the electrical sums take and give: rows of published tables, a load, an answer with its reasons."""

from dataclasses import dataclass, field
from typing import Literal

Status = Literal["read", "from memory", "common practice", "derived", "computed"]
"""How far a figure can be trusted: seen in print, remembered, the trade's habit, arithmetic, or a formula."""

STATUSES: tuple[Status, ...] = ("read", "from memory", "common practice", "derived", "computed")

_WORDS: dict[Status, str] = {
    "read": "",
    "from memory": " (from memory, not checked)",
    "common practice": " (common practice)",
    "derived": " (derived)",
    "computed": " (computed)",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Sourced:
    """A figure that says where it comes from and how far that goes."""

    status: Status
    source: str

    @property
    def about(self) -> str:
        """What the row is about, where the source does not say it."""
        return ""

    @property
    def cited(self) -> str:
        """The source as it is shown, its weakness beside it."""
        about = f"{self.about}: " if self.about else ""
        return f"{about}{self.source}{_WORDS[self.status]}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Conductor(Sourced):
    """A size of copper wire, 20 °C.

    `name` is how the trade writes it (“0.75 mm2 thin wall”, “AWG 18”, “JIS 0.85”). `area_mm2` is the
    copper's own area; `fit_mm2` is the size terminals are sold by (the nominal one for ISO and IEC wire,
    the copper's for the others). Outside diameter, insulation class and amps are None where none is printed.
    """

    name: str
    family: str
    size: str
    standard: str
    area_mm2: float
    fit_mm2: float
    ohm_per_km: float
    od_mm: float | None = None
    insulation_c: int | None = None
    amps_a: float | None = None

    @property
    def about(self) -> str:
        """The standard, which the source does not name."""
        return self.standard


@dataclass(frozen=True, slots=True, kw_only=True)
class AmpacityRow(Sourced):
    """What one gauge may carry at 30 °C under 50 V; `amps_a` maps insulation class (°C) to amps."""

    awg: int
    area_mm2: float
    amps_a: dict[int, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class BundlingRow(Sourced):
    """The factor on ampacity for so many wires loaded together; `most` is None in the last row."""

    least: int
    most: int | None
    factor: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FuseRating(Sourced):
    """One rating of one fuse family, and the colour of its body."""

    family: str
    rating_a: float
    colour: str

    @property
    def about(self) -> str:
        """That the source is one of ratings and colours."""
        return f"{self.family} fuse ratings and colours"


@dataclass(frozen=True, slots=True, kw_only=True)
class CrimpPull(Sourced):
    """Least pull a crimp must hold, by size and by rule (“commercial”, “military”, “machined contact”)."""

    awg: int
    area_mm2: float
    rule: str
    least_n: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SleeveSize(Sourced):
    """One size of heat shrink: inside diameter as supplied (least) and fully shrunk (most)."""

    kind: str
    size: str
    expanded_mm: float
    recovered_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing(Sourced):
    """Smallest circle round `wires` equal ones, as a multiple of one wire's diameter."""

    wires: int
    ratio: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TerminalSize(Sourced):
    """A blade, bullet, ring or insulated sleeve: the copper it takes, or the stud as written and its hole."""

    kind: str
    size: str
    least_mm2: float | None = None
    most_mm2: float | None = None
    hole_mm: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WireColour(Sourced):
    """One colour in words and its letters in one code set; letters clash between sets, so words are kept."""

    code: str
    colour: str
    letters: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LampType(Sourced):
    """One filament of a lamp category.

    `rated_w` is the rating at 12 V, `test_w` the watts aimed at and `most_w` the most allowed at `test_v`.
    """

    category: str
    filament: str
    rated_w: float
    test_w: float | None
    most_w: float
    test_v: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BallastValue(Sourced):
    """One value that resistors are sold in: `what` is “ohm” (first two figures of any decade) or “watt”."""

    what: str
    value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Practice(Sourced):
    """A rule of good work, by name: from `low` to `high` in `unit`; equal where there is one figure."""

    name: str
    what: str
    low: float
    high: float
    unit: str

    @property
    def about(self) -> str:
        """The rule in words."""
        return self.what


@dataclass(frozen=True, slots=True)
class Tables:
    """Every table the sums read, as it was loaded and checked."""

    conductors: tuple[Conductor, ...]
    ampacity: tuple[AmpacityRow, ...]
    bundling: tuple[BundlingRow, ...]
    fuses: tuple[FuseRating, ...]
    pulls: tuple[CrimpPull, ...]
    sleeves: tuple[SleeveSize, ...]
    packing: tuple[Packing, ...]
    terminals: tuple[TerminalSize, ...]
    colours: tuple[WireColour, ...]
    lamps: tuple[LampType, ...]
    ballasts: tuple[BallastValue, ...]
    practices: dict[str, Practice] = field(default_factory=dict)

    def practice(self, name: str) -> Practice:
        """The rule called `name`; the loader has made sure that it is there."""
        return self.practices[name]


LoadKind = Literal["current", "resistance", "power", "filament"]


@dataclass(frozen=True, slots=True)
class Load:
    """What a circuit feeds: amps, ohms or watts that stay, or a lamp of so many watts at `rated_v`."""

    kind: LoadKind
    value: float
    rated_v: float = 12.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """An answer: figures (in the classes built on this one), why, from where, and what to beware of."""

    why: tuple[str, ...]
    source: tuple[str, ...]
    cautions: tuple[str, ...] = ()
