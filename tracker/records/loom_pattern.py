"""What a pattern knows beside its parts: features, zones, access, controls, states, joints, lengths."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from tracker.records.electrics import Sourced
from tracker.records.loom import ALWAYS, Parts, When


@dataclass(frozen=True, slots=True, kw_only=True)
class Feature:
    """A question whose answer decides the loom. `values` maps each legal answer to its words.

    `usual` is what is supposed where nobody knows and one loom has to be chosen for a sum; `asked` says
    under which other answers the question makes sense; `at_book_in` marks the few asked at once.
    """

    id: str
    question: str
    values: Mapping[str, str]
    usual: str
    asked: When = ALWAYS
    at_book_in: bool = False
    was: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone(Sourced):
    """A region of the bike. x from the front axle back, y up from the ground, in ‰ of the wheelbase.

    Its branch leaves the trunk `station_mm` behind the headstock and is `branch_mm` long, both at the
    reference wheelbase. `off` are the accesses that reach it; `traits` are some of steering, suspension, wet,
    hot and shakes.
    """

    id: str
    words: str
    side: Literal["left", "middle", "right"]
    x: int
    y: int
    station_mm: int
    branch_mm: int
    off: tuple[str, ...] = ()
    traits: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Access(Sourced):
    """Something that comes off to reach a zone: minutes off and on again, and what must be off first."""

    id: str
    words: str
    minutes: int
    needs: tuple[str, ...] = ()
    when: When = ALWAYS
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Control:
    """Something a person or the machine sets: its positions, the one at rest first.

    `hand` says what holds it (“right hand”, “foot”); empty where it stays as it is put.
    """

    id: str
    words: str
    positions: tuple[str, ...]
    hand: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """How all controls stand; one not named is at rest. `rpm` is the engine's speed in rev/min.

    `when` limits a standard state to bikes that can be in it.
    """

    id: str
    words: str
    at: Mapping[str, str]
    rpm: int = 0
    when: When = ALWAYS

    def moved(self, at: Mapping[str, str], rpm: int | None = None) -> "State":
        """The same with some controls elsewhere."""
        now = {**self.at, **at}
        words = ", ".join(f"{name} {position}" for name, position in now.items()) or self.words
        return State(id="", words=words, at=now, rpm=self.rpm if rpm is None else rpm)


@dataclass(frozen=True, slots=True, kw_only=True)
class JointKind(Sourced):
    """Ohms of a sound joint of one kind of place."""

    kind: str
    ohm: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WireSize(Sourced):
    """What a wire of one size may carry inside a loom all day, in a simple first sense."""

    size_mm2: float
    current_a: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteRules(Sourced):
    """How lengths are worked out: each place hangs `twig_mm` off its zone; slack is added to a run.

    `slack_percent` of the run and `slack_end_mm` at either end are the slack;
    `sizes` maps a size class to its wheelbase in mm.
    """

    reference_wheelbase_mm: int
    twig_mm: int
    slack_percent: int
    slack_end_mm: int
    sizes: Mapping[str, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What a pattern and every loom made from it have in common."""

    features: Mapping[str, Feature]
    zones: Mapping[str, Zone]
    accesses: Mapping[str, Access]
    controls: Mapping[str, Control]
    states: Mapping[str, State]
    joints: Mapping[str, JointKind]
    sizes: tuple[WireSize, ...]
    cautions: Mapping[str, str]
    route: RouteRules


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern(Parts):
    """The general pattern of a motorcycle's loom: every part with the features that make it appear."""

    known: Known
