"""How a file of seeds/repairs is written, and the rule it becomes. Pydantic: imported when a file is read.

One file holds one repair type, and its name is the type's id. Each `[[asks]]` is a question; one that counts
says of what (`counts = "joint"`), a length counts metres. Each `[[minutes]]`, `[[wire]]`, `[[parts]]`,
`[[sleeves]]` and `[[tapes]]` is a figure: once a repair, or `per = "joint"`, `per = ["way", "metre"]`, and
only `when = { method = "ballast" }` where it says so; so a rule is a sum of products that a person can check.
`{size_mm2}` in a text stands for an answer, `{fit}` for the size chosen from a table.
"""

from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints

from tracker.records.document import LineKind
from tracker.records.electrics import Status
from tracker.records.repair_rule import (
    Ask,
    AskKind,
    Figure,
    MinutesFigure,
    PartFigure,
    Reach,
    Rule,
    SleeveFigure,
    Spread,
    TapeFigure,
    WireFigure,
)

ONCE = "repair"
LARGEST = Decimal(100_000)


def _figure(value: object) -> object:
    """Numbers as TOML writes them: text and true are not numbers here."""
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        raise ValueError("This must be a number")
    return Decimal(value)


Amount = Annotated[Decimal, BeforeValidator(_figure), Field(ge=0, le=LARGEST, allow_inf_nan=False)]
Words = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=400)]
Text = Annotated[str, StringConstraints(strip_whitespace=True, max_length=120)]
Id = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=40)]
Name = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_]*$", max_length=30)]
Scalar = bool | int | Decimal | str
FromLoom = Literal["", "route", "size", "colour", "ways", "wires", "plug", "amps"]


class Written(BaseModel):
    """A table of a file: nothing in it that the program does not know."""

    model_config = ConfigDict(extra="forbid", arbitrary_types_allowed=True)


class AskIn(Written):
    """`[[asks]]`"""

    name: Name
    kind: Literal["count", "length", "size", "number", "colour", "choice", "yes or no", "words"]
    words: Words
    unit: Text = ""
    counts: Text = ""
    least: Annotated[Decimal, BeforeValidator(_figure)] | None = None
    most: Annotated[Decimal, BeforeValidator(_figure)] | None = None
    choices: tuple[Words, ...] = ()
    default: Scalar | None = None
    optional: bool = False
    from_loom: FromLoom = ""

    def record(self) -> Ask:
        """The question; lengths are mm and sizes mm² where nothing else is said."""
        kind = AskKind(self.kind)
        usual = {AskKind.LENGTH: "mm", AskKind.SIZE: "mm²"}.get(kind, "")
        default = self.default
        if kind in {AskKind.SIZE, AskKind.NUMBER} and type(default) is int:
            default = Decimal(default)
        return Ask(
            name=self.name,
            kind=kind,
            words=self.words,
            unit=self.unit or usual,
            counts=self.counts,
            least=self.least,
            most=self.most,
            choices=self.choices,
            default=default,
            optional=self.optional,
            from_loom=self.from_loom,
        )


class FigureIn(Written):
    """What every figure may say: what it is multiplied by, under which answers, how far it goes."""

    words: Text = ""
    per: str | tuple[str, ...] = ONCE
    when: Mapping[str, bool | str | tuple[str, ...]] = Field(default_factory=dict)
    status: Status | None = None
    source: Words | None = None

    def common(self, rule: "HeadIn") -> dict[str, Any]:
        """The fields of every figure; the rule's own status and source where it has none."""
        per = (self.per,) if isinstance(self.per, str) else self.per
        return {
            "words": self.words,
            "per": tuple(name for name in per if name != ONCE),
            "when": {name: _wanted(value) for name, value in self.when.items()},
            "status": self.status or rule.status,
            "source": self.source or rule.source,
        }

    def record(self, rule: "HeadIn") -> Figure:
        """The figure; what it is of is said by the shapes built on this one."""
        return Figure(**self.common(rule))


def _wanted(value: bool | str | tuple[str, ...]) -> tuple[str, ...]:
    """The answers a `when` names, as text."""
    if isinstance(value, bool):
        return ("yes" if value else "no",)
    return (value,) if isinstance(value, str) else tuple(value)


class MinutesIn(FigureIn):
    """`[[minutes]]`"""

    least: Amount
    likely: Amount
    most: Amount

    def record(self, rule: "HeadIn") -> MinutesFigure:
        """The figure."""
        return MinutesFigure(spread=Spread(self.least, self.likely, self.most), **self.common(rule))


class WireIn(FigureIn):
    """`[[wire]]`"""

    mm: Amount
    size: Words
    colour: Text = ""

    def record(self, rule: "HeadIn") -> WireFigure:
        """The figure."""
        return WireFigure(mm=self.mm, size=self.size, colour=self.colour, **self.common(rule))


class PartIn(FigureIn):
    """`[[parts]]`"""

    kind: Words
    qty: Amount = Decimal(1)
    size: Text = ""
    code: Text = ""
    unit: Words = "piece"
    fits: Text = ""
    fits_mm2: Text = ""
    consumable: bool = False

    def record(self, rule: "HeadIn") -> PartFigure:
        """The figure."""
        return PartFigure(
            kind=self.kind,
            qty=self.qty,
            size=self.size,
            code=self.code,
            unit=self.unit,
            fits=self.fits,
            fits_mm2=self.fits_mm2,
            consumable=self.consumable,
            **self.common(rule),
        )


class SleeveIn(FigureIn):
    """`[[sleeves]]`"""

    kind: Words
    length_mm: Amount
    size: Words
    wires: str | int = 1
    grips: str | int = ""
    adds_mm: Amount = Decimal(0)
    code: Text = ""

    def record(self, rule: "HeadIn") -> SleeveFigure:
        """The figure."""
        return SleeveFigure(
            kind=self.kind,
            length_mm=self.length_mm,
            size=self.size,
            wires=str(self.wires),
            grips=str(self.grips),
            adds_mm=self.adds_mm,
            code=self.code,
            **self.common(rule),
        )


class TapeIn(FigureIn):
    """`[[tapes]]`"""

    length_mm: Amount
    width_mm: Annotated[Amount, Field(gt=0)]
    lap: Annotated[Amount, Field(lt=1)]
    size: Words
    wires: str | int = 1
    code: Text = ""

    def record(self, rule: "HeadIn") -> TapeFigure:
        """The figure."""
        return TapeFigure(
            length_mm=self.length_mm,
            width_mm=self.width_mm,
            lap=self.lap,
            size=self.size,
            wires=str(self.wires),
            code=self.code,
            **self.common(rule),
        )


class AccessIn(Written):
    """`[access]`"""

    reach: Literal["none", "spot", "ends", "route"] = "spot"
    zones: tuple[Id, ...] = ()


class RecordIn(Written):
    """`[record]`: fields of the repair's own record that this type fills."""

    splice: Text = ""
    terminal: Text = ""
    connector_old: Text = ""
    connector_new: Text = ""
    sleeve: Text = ""


class HeadIn(Written):
    """What a file of seeds/repairs says outside its lists."""

    id: Id
    words: Words
    group: Words
    on: Literal["wire", "place", "part", "route", "bike"]
    was: tuple[Id, ...] = ()
    bills_as: Literal["labour", "diagnosis"] = "labour"
    status: Status
    source: Words
    proves: tuple[Name, ...] = ()
    recheck: Text = ""
    cautions: tuple[Words, ...] = ()
    record: RecordIn = RecordIn()
    access: AccessIn = AccessIn()

    def rule(self, text: str, lists: Mapping[str, tuple[Any, ...]]) -> Rule:
        """The repair type; `lists` are its questions, figures and cautions, `text` its file."""
        return Rule(
            id=self.id,
            words=self.words,
            group=self.group,
            on=self.on,
            was=self.was,
            bills_as=LineKind(self.bills_as),
            status=self.status,
            source=self.source,
            proves=self.proves,
            recheck=self.recheck,
            record={name: value for name, value in self.record.model_dump().items() if value},
            reach=Reach(self.access.reach),
            zones=self.access.zones,
            text=text,
            **lists,
        )


LISTS: dict[
    str, type[AskIn] | type[MinutesIn] | type[WireIn] | type[PartIn] | type[SleeveIn] | type[TapeIn]
] = {
    "asks": AskIn,
    "minutes": MinutesIn,
    "wire": WireIn,
    "parts": PartIn,
    "sleeves": SleeveIn,
    "tapes": TapeIn,
}
"""The lists of a file, each with the shape of its entries."""
