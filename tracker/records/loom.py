"""The shapes of a loom: places, the wires between them, the devices that stand between, and what groups them.

Everything is written in the direction of the current: a wire or a device leaves its place `a` on that
place's side “out” and reaches `b` on its side “in”. Between the two sides lies the place's own joint (a
plug's pin, a crimp, an earth bolt), so that what is stacked under one loose bolt still hangs together.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, Literal, TypeAlias

Side: TypeAlias = Literal["in", "out"]
What: TypeAlias = Literal["body", "place", "device", "wire"]
At: TypeAlias = tuple[tuple[str, tuple[str, ...]], ...]
"""Names with the values that will do (controls and positions, features and answers); all must agree."""

PlaceKind: TypeAlias = Literal[
    "way", "bullet", "blade", "screw", "post", "holder", "splice", "joint", "earth", "inside", "metal"
]
"""Plug way, bullet, push-on blade, stud or screw, battery post, lamp contact, splice in a wire, several wires
into one, ring terminal on metal, soldered or potted, and the metal itself (frame, engine, handlebar)."""

TWO_SIDED: Final = frozenset({"way", "bullet"})
"""Kinds of place that come apart, so that something must hang on either side."""

WireKind: TypeAlias = Literal["thin wall", "thick wall", "strap", "high tension", "metal"]
"""Wire by its insulation (a family of the conductor table), braid, spark lead, or metal touching metal."""

DeviceKind: TypeAlias = Literal[
    "filament", "led", "winding", "coil", "motor", "heater", "module", "sensor", "gap",
    "regulator", "switch", "contact", "fuse", "diode", "resistor", "capacitor", "source",
]  # fmt: skip
"""“coil” pulls a relay, “winding” is any other (horn, ignition primary, gauge); “contact” is a relay's;
“regulator” is a leg or shunt that loads an AC side; “gap” is a spark; “resistor” stands in line."""

LOADS: Final[frozenset[DeviceKind]] = frozenset(
    {"filament", "led", "winding", "coil", "motor", "heater", "module", "sensor", "gap", "regulator"}
)
POLAR: Final[frozenset[DeviceKind]] = frozenset({"led", "module", "diode"})
"""Kinds that take current in one direction only."""

ColourSet: TypeAlias = Literal["words", "IEC 60757", "Japanese", "British", "German"]
"""Whose letters a colour was read from; letters clash between them, so the colour itself is kept as words."""


_SIDES: Final[dict[str, Side]] = {"in": "in", "out": "out"}


@dataclass(frozen=True, slots=True, order=True)
class End:
    """One side of a place: where a wire ends, where a probe goes. Written `rear-plug:tail@in`."""

    place: str
    side: Side

    def __str__(self) -> str:
        return f"{self.place}@{self.side}"

    @classmethod
    def of(cls, text: str, side: Side = "in") -> "End":
        """`PLACE[:way][@in|out]` as written; `side` where none is. ValueError for any other side.

        >>> str(End.of("rear-plug:tail@out"))
        'rear-plug:tail@out'
        """
        place, at, written = text.partition("@")
        if not at:
            return cls(place, side)
        if written not in _SIDES:
            raise ValueError(f"“{written}” is no side of a place; it is “in” or “out”")
        return cls(place, _SIDES[written])


@dataclass(frozen=True, slots=True)
class Colour:
    """Main colour and tracer in words, apart, and the code set they were read from."""

    main: str
    tracer: str = ""
    code: ColourSet = "words"

    def __str__(self) -> str:
        return f"{self.main}/{self.tracer}" if self.tracer else self.main


@dataclass(frozen=True, slots=True)
class When:
    """The features that make an entry appear. Each of `need` and `bar` is a set of answers that all hold.

    It appears when any set of `need` holds (or there is none) and no set of `bar` does.
    """

    need: tuple[At, ...] = ()
    bar: tuple[At, ...] = ()

    @property
    def features(self) -> tuple[str, ...]:
        """The features it asks about."""
        return tuple(dict.fromkeys(name for one in (*self.need, *self.bar) for name, _ in one))


ALWAYS: Final = When()


@dataclass(frozen=True, slots=True)
class Alter:
    """Other values of an entry under other features: (field, value) pairs."""

    when: When
    values: tuple[tuple[str, object], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What every part has. `id` is for ever; `was` are ids it had; `synonyms` what others call it."""

    id: str
    words: str
    synonyms: tuple[str, ...] = ()
    was: tuple[str, ...] = ()
    when: When = ALWAYS
    alter: tuple[Alter, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class About(Entry):
    """What a mechanic knows of a part. `component` is its row in the list of components."""

    does: str = ""
    component: str = ""
    symptoms: tuple[str, ...] = ()
    first_check: str = ""
    why: str = ""
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Body(About):
    """What sits, comes off and fails together: a plug, a lamp holder, a switch housing, a box.

    `plug` says how it is joined to the loom; `off` what comes off beyond its zone's own.
    """

    zone: str
    kind: str
    plug: str = ""
    off: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Place(Entry):
    """A spot on the loom, `body:way` where it belongs to a body. `joint_ohm` overrides that of its kind."""

    zone: str
    kind: PlaceKind
    body: str = ""
    off: tuple[str, ...] = ()
    joint_ohm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire(Entry):
    """Joins two places. Size in mm² of copper; `ohm` is given for metal and spark leads instead of a size."""

    a: End
    b: End
    length_mm: int
    kind: WireKind = "thin wall"
    size_mm2: float | None = None
    colour: Colour | None = None
    ohm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Device(About):
    """Stands between two places: a load, a switch, a fuse, a diode, a source (current leaves it at `b`).

    A switch is closed, and a source gives, when every control of `at` is in one of its positions and, where
    `driven_by` names loads, any or all of those work; a contact that `rest`s closed opens instead.
    A load works in the states `works` and must not in `rests`; a battery is charged where it `works`. Ohms
    come from `ohm`, `watts` at `rated_v` (the loom's own volts if None) or `current_a`; `works_from` is the
    share of the rated volts at which it does its job. `pulses` marks what meters cannot read as steady
    volts. `short_s` is the longest time it may run. A source has `volts` (or `rpm_v` per 1000 rev/min)
    behind `inner_ohm`, at most `most_a`.
    """

    kind: DeviceKind
    a: End
    b: End
    body: str = ""
    at: At = ()
    driven_by: tuple[str, ...] = ()
    driven: Literal["any", "all"] = "any"
    rest: Literal["open", "closed"] = "open"
    works: tuple[str, ...] = ()
    rests: tuple[str, ...] = ()
    watts: float | None = None
    ohm: float | None = None
    current_a: float | None = None
    rated_v: float | None = None
    works_from: float = 0.6
    lamp: str = ""
    polar: bool | None = None
    rating_a: float | None = None
    fuse_family: str = ""
    drop_v: float | None = None
    limit_v: float | None = None
    range_ohm: tuple[float, float] | None = None
    source: str = ""
    volts: float | None = None
    rpm_v: float | None = None
    inner_ohm: float | None = None
    most_a: float | None = None
    ac: bool = False
    pulses: bool = False
    short_s: int | None = None

    @property
    def is_load(self) -> bool:
        """Whether it takes current to do something."""
        return self.kind in LOADS

    @property
    def one_way(self) -> bool:
        """Whether current passes from `a` to `b` only."""
        return self.kind in POLAR if self.polar is None else self.polar


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """The parts themselves, by id."""

    bodies: Mapping[str, Body] = field(default_factory=dict)
    places: Mapping[str, Place] = field(default_factory=dict)
    devices: Mapping[str, Device] = field(default_factory=dict)
    wires: Mapping[str, Wire] = field(default_factory=dict)

    def table(self, what: What) -> Mapping[str, Entry]:
        """The parts of one kind."""
        tables: dict[What, Mapping[str, Entry]] = {
            "body": self.bodies, "place": self.places, "device": self.devices, "wire": self.wires,
        }  # fmt: skip
        return tables[what]
