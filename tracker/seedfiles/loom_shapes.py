"""How an entry of seeds/loom is written, and the record it becomes: what a pattern knows beside its parts.

Imported inside functions only: pydantic is slow to load.
"""

from typing import Annotated

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints

from tracker.records.electrics import Status
from tracker.records.loom import (
    At,
    When,
)
from tracker.records.loom_pattern import Control, Feature, JointKind, RouteRules, State, WireSize

ID = r"^[a-z0-9]+(-[a-z0-9]+)*$"


def _several(given: object) -> object:
    return [given] if isinstance(given, str) else given


def _tables(given: object) -> object:
    return [given] if isinstance(given, dict) else given


Words = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1)]
Id = Annotated[str, StringConstraints(pattern=ID)]
Ids = Annotated[tuple[Words, ...], BeforeValidator(_several)]
Texts = Annotated[tuple[Words, ...], BeforeValidator(_several)]
Choices = dict[str, Ids]
AnyOf = Annotated[tuple[Choices, ...], BeforeValidator(_tables)]
"""A table of answers that must all hold, or a list of such tables of which any will do."""

Positive = Annotated[float, Field(gt=0)]
NotLess = Annotated[float, Field(ge=0)]


def conditions(written: Choices) -> At:
    """`{ dip = ["low"] }` as the records keep it."""
    return tuple((name, values) for name, values in written.items())


class Strict(BaseModel):
    """No field but those named here."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class SourcedIn(Strict):
    """A figure says where it comes from and how far that goes."""

    status: Status
    source: Words


class ConditionIn(Strict):
    """Under which answers something appears: `when` any of these, `unless` any of those."""

    when: AnyOf = ()
    unless: AnyOf = ()

    def condition(self) -> When:
        """Both together."""
        need, bar = (tuple(conditions(one) for one in some) for some in (self.when, self.unless))
        return When(need, bar)


class FeatureIn(ConditionIn):
    """`[feature.fuel]`"""

    question: Words
    values: dict[Id, Words] = Field(min_length=2)
    usual: Words
    at_book_in: bool = False
    was: Ids = ()

    def record(self, id_: str) -> Feature:
        """As the loom takes it."""
        return Feature(
            id=id_, question=self.question, values=self.values, usual=self.usual,
            asked=self.condition(), at_book_in=self.at_book_in, was=self.was,
        )  # fmt: skip


class ControlIn(Strict):
    """`[control.dip]`; the first position is that at rest."""

    words: Words
    positions: tuple[Id, ...] = Field(min_length=2)
    hand: str = ""

    def record(self, id_: str) -> Control:
        """As the loom takes it."""
        return Control(id=id_, words=self.words, positions=self.positions, hand=self.hand)


class StateIn(ConditionIn):
    """`[state.head-low]`; a control not named is at rest."""

    words: Words
    at: dict[str, Words] = {}
    rpm: Annotated[int, Field(ge=0, le=20_000)] = 0

    def record(self, id_: str) -> State:
        """As the loom takes it."""
        return State(id=id_, words=self.words, at=self.at, rpm=self.rpm, when=self.condition())


class JointIn(SourcedIn):
    """`[joint.way]`"""

    words: Words
    ohm: NotLess

    def record(self, id_: str) -> JointKind:
        """As the loom takes it."""
        return JointKind(kind=id_, ohm=self.ohm, words=self.words, status=self.status, source=self.source)


class SizeIn(SourcedIn):
    """`[size.mm2-0-75]`"""

    mm2: Positive
    current_a: Positive

    def record(self, id_: str) -> WireSize:  # noqa: ARG002 - the same call for every entry
        """As the loom takes it."""
        return WireSize(size_mm2=self.mm2, current_a=self.current_a, status=self.status, source=self.source)


class CautionIn(Strict):
    """`[caution.battery-earth-first]`"""

    words: Words

    def record(self, id_: str) -> str:  # noqa: ARG002 - the same call for every entry
        """The sentence."""
        return self.words


class RouteIn(SourcedIn):
    """`[route.rules]`"""

    reference_wheelbase_mm: Annotated[int, Field(gt=0)]
    twig_mm: Annotated[int, Field(ge=0)]
    slack_percent: Annotated[int, Field(ge=0, le=100)]
    slack_end_mm: Annotated[int, Field(ge=0)]
    sizes: dict[str, Annotated[int, Field(gt=0)]]

    def record(self, id_: str) -> RouteRules:  # noqa: ARG002 - the same call for every entry
        """As the loom takes it."""
        return RouteRules(**self.model_dump())
