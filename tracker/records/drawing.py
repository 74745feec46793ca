"""The loom as it is drawn: first what is on it (a sketch), then shapes on a sheet (a drawing).

A sketch knows no sizes. A drawing has them all, in one unit: character cells of a terminal or millimetres.
x goes from the front of the bike to its rear, y from the top down.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from tracker.records.loom_made import Key

SpotKind: TypeAlias = Literal["part", "joint", "earth", "splice", "metal"]
"""What sits somewhere; wires that meet; wires bolted to metal; a repaired wire; the metal itself."""

RunKind: TypeAlias = Literal["trunk", "branch", "twig"]
LabelKind: TypeAlias = Literal["zone", "part", "end", "caption"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One thing on the loom: a body with all its ways, or a place that belongs to none.

    `lit` belongs to what was asked for, `here` has the cursor; `repairs` are the numbers of those done here.
    `ways` is how many places it has.
    """

    key: Key
    words: str
    kind: SpotKind
    ways: int = 1
    lit: bool = False
    here: bool = False
    repairs: tuple[int, ...] = ()

    @property
    def must_show(self) -> bool:
        """Whether it stands on every drawing, however small."""
        return self.lit or self.here or bool(self.repairs)


@dataclass(frozen=True, slots=True, kw_only=True)
class SketchZone:
    """A region of the bike with its spots. `words` are short, `said` is its name in full; `station_mm` is
    where its branch leaves the trunk, `repairs` are the numbers of those done somewhere here.

    `rise` is how much higher than the trunk it lies, in ‰ of the wheelbase; x and y are its own as in `Zone`.
    """

    id: str
    words: str
    said: str
    station_mm: int
    rise: int
    x: int
    y: int
    spots: tuple[Spot, ...]
    repairs: tuple[int, ...] = ()

    @property
    def lit(self) -> bool:
        """Whether anything of what was asked for is here."""
        return any(spot.lit for spot in self.spots)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """All that is to be drawn: the zones from front to rear, and between which of them the lit wires run.

    `caption` says what is lit, `ends` which end of the bike is where. `nowhere` are the numbers of repairs
    that have no spot.
    """

    zones: tuple[SketchZone, ...]
    runs: tuple[tuple[str, str], ...] = ()
    caption: str = ""
    ends: tuple[str, str] = ("front", "rear")
    nowhere: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of line, level or upright. A twig leads from a branch to a spot."""

    kind: RunKind
    x1: float
    y1: float
    x2: float
    y2: float
    lit: bool = False
    dotted: bool = False


@dataclass(frozen=True, slots=True)
class Mark:
    """The sign of a spot, at its middle (of its cell, where cells count)."""

    x: float
    y: float
    spot: Spot


@dataclass(frozen=True, slots=True)
class Label:
    """One line of text in a box from its upper left corner; `side` is where in the box it stands."""

    x: float
    y: float
    width: float
    height: float
    text: str
    kind: LabelKind
    spot: Spot | None = None
    lit: bool = False
    side: Literal["left", "centre", "right"] = "left"


@dataclass(frozen=True, slots=True)
class RepairNumber:
    """The numbers of the repairs at a spot or somewhere in a zone, boxed like a label."""

    x: float
    y: float
    width: float
    height: float
    numbers: tuple[int, ...]
    text: str


Box: TypeAlias = Label | RepairNumber


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A sheet of shapes. `hidden` counts what had no room, by zone; all sizes are in `unit`."""

    unit: Literal["cell", "mm"]
    width: float
    height: float
    trunk_y: float
    runs: tuple[Run, ...] = ()
    marks: tuple[Mark, ...] = ()
    labels: tuple[Label, ...] = ()
    numbers: tuple[RepairNumber, ...] = ()
    hidden: dict[str, int] = field(default_factory=dict)

    def boxes(self) -> Iterator[Box]:
        """Everything with text in it."""
        yield from self.labels
        yield from self.numbers
