"""The rule of a repair type: what it asks, and what it takes in minutes, wire and parts.

Figures are Decimal, so that what a person typed is what is added up. A rule is linear in its answers.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from tracker.records.document import LineKind
from tracker.records.electrics import Sourced

HOLE = re.compile(r"\{([a-z][a-z0-9_]*)\}")
"""An ask's name in braces, where its answer is to stand."""


def holes(text: str) -> tuple[str, ...]:
    """The names in braces in a rule's words, in order; ValueError where a brace belongs to none.

    >>> holes("ring terminal {stud}, for {size_mm2} mm²")
    ('stud', 'size_mm2')
    """
    if set(HOLE.sub("", text)) & set("{}"):
        raise ValueError("a brace belongs to no name")
    return tuple(HOLE.findall(text))


METRE = "metre"
"""What a length counts where its question names no other word."""


class AskKind(StrEnum):
    """What sort of answer a rule's question takes."""

    COUNT = "count"
    LENGTH = "length"
    SIZE = "size"
    NUMBER = "number"
    COLOUR = "colour"
    CHOICE = "choice"
    YES_NO = "yes or no"
    WORDS = "words"


Answer = int | Decimal | bool | str
"""An answer as its kind reads it: int (count, length in mm), Decimal (size in mm², number), bool, str."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """One question of a rule. `least` and `most` are inclusive, in `unit`.

    `counts` is the word a figure's `per` uses for it (“joint”); a length is asked in mm and counts metres.
    `default` answers when nobody does; with neither a default nor `optional`, an answer is wanted.
    `from_loom` names what the bike's loom can propose: route, size, colour, ways, plug, amps.
    """

    name: str
    kind: AskKind
    words: str
    unit: str = ""
    counts: str = ""
    least: Decimal | None = None
    most: Decimal | None = None
    choices: tuple[str, ...] = ()
    default: Answer | None = None
    optional: bool = False
    from_loom: str = ""


@dataclass(frozen=True, slots=True)
class Spread:
    """Minutes as a person sees them beforehand: least, likely, most (0 <= least <= likely <= most)."""

    least: Decimal
    likely: Decimal
    most: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure(Sourced):
    """What every figure of a rule has. `per` are what it is multiplied by; empty means once a repair.

    `when` limits it to some answers: ask name to the answers, as text, under which it counts.
    """

    words: str = ""
    per: tuple[str, ...] = ()
    when: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class MinutesFigure(Figure):
    """Bench minutes."""

    spread: Spread


@dataclass(frozen=True, slots=True, kw_only=True)
class WireFigure(Figure):
    """Wire, in mm. `size` (mm²) and `colour` are given or name an ask in braces."""

    mm: Decimal
    size: str
    colour: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartFigure(Figure):
    """Parts: `kind` of part, its `size` and the `code` it has in the shop's list, with asks in braces.

    Where `fits` names a kind of the terminals table, the size is chosen there for a wire of `fits_mm2`,
    and `{fit}` stands for it in `words` and `code`. A `consumable` the shop does not list is not billed.
    """

    qty: Decimal
    kind: str
    size: str = ""
    code: str = ""
    unit: str = "piece"
    fits: str = ""
    fits_mm2: str = ""
    consumable: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SleeveFigure(Figure):
    """Sleeve cut to `length_mm`: it must pass over `wires` of `size` plus `adds_mm`, and grip `grips`.

    `kind` is a kind of the sleeve table, `{fit}` in `words` and `code` the size chosen there. `grips` is a
    number of those wires; empty means that it grips what it passes over.
    """

    length_mm: Decimal
    kind: str
    size: str
    wires: str = "1"
    grips: str = ""
    adds_mm: Decimal = Decimal(0)
    code: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TapeFigure(Figure):
    """Tape wound over `length_mm` of `wires` of `size`; `lap` is the part of its width that overlaps."""

    length_mm: Decimal
    width_mm: Decimal
    lap: Decimal
    size: str
    wires: str = "1"
    code: str = ""


class Reach(StrEnum):
    """Which zones a repair has to get to: its own spot, both ends of its wire, all along, or none."""

    NONE = "none"
    SPOT = "spot"
    ENDS = "ends"
    ROUTE = "route"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule(Sourced):
    """A repair type: what it asks, and what it takes, linear in the answers so that a person can check it.

    `on` says what it is done to: wire, place, part, route or bike. `bills_as` is labour or diagnosis.
    `proves` are reading kinds wanted after it, `recheck` a kind of seeds/tables/rechecks.csv or empty.
    `record` fills fields of the repair's own record. `text` is the file it was read from, for keeping.
    """

    id: str
    words: str
    group: str
    on: str
    was: tuple[str, ...] = ()
    bills_as: LineKind = LineKind.LABOUR
    asks: tuple[Ask, ...] = ()
    minutes: tuple[MinutesFigure, ...] = ()
    wire: tuple[WireFigure, ...] = ()
    parts: tuple[PartFigure, ...] = ()
    sleeves: tuple[SleeveFigure, ...] = ()
    tapes: tuple[TapeFigure, ...] = ()
    reach: Reach = Reach.SPOT
    zones: tuple[str, ...] = ()
    proves: tuple[str, ...] = ()
    recheck: str = ""
    record: Mapping[str, str] = field(default_factory=dict)
    cautions: tuple[str, ...] = ()
    text: str = ""

    def ask(self, name: str) -> Ask | None:
        """The question of that name, if the rule has it."""
        return next((ask for ask in self.asks if ask.name == name), None)


@dataclass(frozen=True, slots=True)
class Rules:
    """The repair types of a shop, by id; `renamed` leads from names they had to the ones they have."""

    by_id: Mapping[str, Rule]
    renamed: Mapping[str, str] = field(default_factory=dict)

    def __iter__(self) -> Iterator[Rule]:
        return iter(self.by_id.values())

    def get(self, name: str) -> Rule | None:
        """The repair type called `name`, now or formerly; None when there is none."""
        return self.by_id.get(self.renamed.get(name, name))


@dataclass(frozen=True, slots=True)
class Answers:
    """The answers to one rule's questions, by name; `assumed` are those that nobody gave."""

    values: Mapping[str, Answer]
    assumed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingKind(Sourced):
    """A kind of reading: how it is taken, in short, and between which values it can be believed.

    `least` and `most` are what a meter can honestly show, not limits of good and bad.
    """

    id: str
    words: str
    unit: str
    state: str
    meter: str
    how: str
    caution: str
    least: float | None
    most: float | None
    was: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RecheckKind(Sourced):
    """A look again proposed after a repair; days or distance 0 mean the shop's own setting."""

    id: str
    words: str
    days: int
    distance_km: int
    reads: tuple[str, ...]
    was: tuple[str, ...] = ()
