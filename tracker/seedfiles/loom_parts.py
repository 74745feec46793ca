"""How a part of the loom is written in seeds/loom, and the record it becomes.

Imported inside functions only: pydantic is slow to load.
"""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from tracker.records.loom import (
    Body,
    Colour,
    ColourSet,
    Device,
    DeviceKind,
    End,
    Place,
    PlaceKind,
    Wire,
    WireKind,
)
from tracker.seedfiles.loom_shapes import (
    Choices,
    ConditionIn,
    Id,
    Ids,
    NotLess,
    Positive,
    Texts,
    Words,
    conditions,
)


class EntryIn(ConditionIn):
    """What every part has. `alter` is looked at by the reader, entry by entry."""

    words: str = ""
    synonyms: Texts = ()
    was: Ids = ()

    def common(self) -> dict[str, Any]:
        """The fields of Entry."""
        return {
            "words": self.words,
            "synonyms": self.synonyms,
            "was": self.was,
            "when": self.condition(),
        }


class AboutIn(EntryIn):
    """What a mechanic knows of a part."""

    words: Words
    does: str = ""
    component: str = ""
    symptoms: Texts = ()
    first_check: str = ""
    why: str = ""
    cautions: Ids = ()

    def about(self) -> dict[str, Any]:
        """The fields of About."""
        names = ("does", "component", "symptoms", "first_check", "why", "cautions")
        return self.common() | {name: getattr(self, name) for name in names}


class WayIn(EntryIn):
    """One way of a body, where its words alone are not enough."""

    words: Words
    kind: PlaceKind | None = None
    zone: str | None = None
    off: Ids = ()
    joint_ohm: NotLess | None = None


def _in_words(given: object) -> object:
    return {"words": given} if isinstance(given, str) else given


class BodyIn(AboutIn):
    """`[body.rear-plug]`; each of `ways` becomes the place `rear-plug:WAY`, of kind `joint` by default."""

    zone: Words
    kind: Words
    plug: str = ""
    off: Ids = ()
    joint: PlaceKind = "way"
    ways: dict[Id, Annotated[WayIn, BeforeValidator(_in_words)]] = Field(default_factory=dict)

    def record(self, id_: str) -> Body:
        """As the loom takes it."""
        return Body(id=id_, zone=self.zone, kind=self.kind, plug=self.plug, off=self.off, **self.about())

    def places(self, id_: str) -> dict[str, Place]:
        """Its ways as places."""
        return {
            f"{id_}:{way}": Place(
                id=f"{id_}:{way}", zone=it.zone or self.zone, kind=it.kind or self.joint, body=id_,
                off=it.off, joint_ohm=it.joint_ohm, **it.common(),
            )
            for way, it in self.ways.items()
        }  # fmt: skip


class PlaceIn(EntryIn):
    """`[place.frame]`: a spot that belongs to no body."""

    words: Words
    zone: Words
    kind: PlaceKind
    off: Ids = ()
    joint_ohm: NotLess | None = None

    def record(self, id_: str) -> Place:
        """As the loom takes it."""
        return Place(
            id=id_, zone=self.zone, kind=self.kind, off=self.off, joint_ohm=self.joint_ohm, **self.common()
        )


def _end(given: object) -> object:
    return End.of(given, "in") if isinstance(given, str) and "@" in given else given


class BetweenIn(BaseModel):
    """`from` and `to`, in the direction of the current; a side other than the usual is written after an @."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)

    start: Annotated[str | End, BeforeValidator(_end)] = Field(alias="from")
    to: Annotated[str | End, BeforeValidator(_end)]

    def ends(self) -> tuple[End, End]:
        """Out of the one, into the other."""
        a = End(self.start, "out") if isinstance(self.start, str) else self.start
        b = End(self.to, "in") if isinstance(self.to, str) else self.to
        return a, b


class WireIn(EntryIn, BetweenIn):
    """`[wire]` one line each: `tail-2 = { from = "rear-plug:tail", to = "tail-lamp:tail", mm = 300, … }`"""

    mm: Annotated[int, Field(gt=0, le=10_000)]
    mm2: Positive | None = None
    ohm: NotLess | None = None
    kind: WireKind = "thin wall"
    main: str = ""
    tracer: str = ""
    code: ColourSet = "words"

    def record(self, id_: str) -> Wire:
        """As the loom takes it."""
        a, b = self.ends()
        colour = Colour(self.main, self.tracer, self.code) if self.main else None
        return Wire(
            id=id_, a=a, b=b, length_mm=self.mm, kind=self.kind, size_mm2=self.mm2, colour=colour,
            ohm=self.ohm, **self.common(),
        )  # fmt: skip


class DeviceIn(AboutIn, BetweenIn):
    """`[device.low-beam]`, written for a negative earth."""

    kind: DeviceKind
    body: str = ""
    at: Choices = {}
    driven_by: Ids = ()
    driven: Literal["any", "all"] = "any"
    rest: Literal["open", "closed"] = "open"
    works: Ids = ()
    rests: Ids = ()
    watts: Positive | None = None
    ohm: NotLess | None = None
    current_a: Positive | None = None
    rated_v: Positive | None = None
    works_from: Annotated[float, Field(gt=0, le=1)] = 0.6
    lamp: str = ""
    polar: bool | None = None
    rating_a: Positive | None = None
    fuse_family: str = ""
    drop_v: NotLess | None = None
    limit_v: Positive | None = None
    range_ohm: tuple[NotLess, NotLess] | None = None
    source: str = ""
    volts: Positive | None = None
    rpm_v: Positive | None = None
    inner_ohm: Positive | None = None
    most_a: Positive | None = None
    ac: bool = False
    pulses: bool = False
    short_s: Annotated[int, Field(gt=0)] | None = None

    def record(self, id_: str) -> Device:
        """As the loom takes it."""
        a, b = self.ends()
        own = set(type(self).model_fields) - set(AboutIn.model_fields) - {"start", "to", "at"}
        values = {name: getattr(self, name) for name in own}
        return Device(id=id_, a=a, b=b, at=conditions(self.at), **values, **self.about())
