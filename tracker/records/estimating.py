"""What an estimate is worked out from (a rule, its answers, where it is) and what comes out, before money.

What comes out is whole: minutes and millimetres are ints.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from tracker.records.document import LineKind
from tracker.records.money import Money
from tracker.records.repair_rule import Answers, Rule, Spread


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """Zones a repair touches, as far as known: its spot, both ends of its wire, those passed between.

    `off` are accesses that its own place or part needs beyond those of its zone.
    """

    spot: str = ""
    ends: tuple[str, ...] = ()
    route: tuple[str, ...] = ()
    off: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One repair as it is to be priced. `repair` is its record's id; repairs of one `visit` share access."""

    rule: Rule
    answers: Answers
    where: Where = Where()
    words: str = ""
    repair: int | None = None
    visit: int = 1


@dataclass(frozen=True, slots=True)
class Minutes:
    """Whole minutes: least rounded down, most up, likely and expected to the nearest."""

    least: int
    likely: int
    most: int
    expected: int


@dataclass(frozen=True, slots=True)
class Band:
    """Where the time falls in 8 cases of 10, in whole minutes; `treatment` says how it was worked out."""

    low: int
    high: int
    treatment: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeLine:
    """One line of time. `spread` is exact; `book` is the line before any factor learned from past cards.

    `log_sd` is the standard deviation of the time’s logarithm where past cards told it, else 0. `serves` are
    the repairs that something comes off for.
    """

    kind: LineKind
    words: str
    spread: Spread
    minutes: Minutes
    book: Minutes
    why: str
    rule: str = ""
    access: str = ""
    repair: int | None = None
    visit: int = 1
    log_sd: float = 0.0
    serves: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WireNeed:
    """Wire of one size and colour, in mm; `colour` is main and tracer as asked (“green/black”)."""

    size_mm2: Decimal
    colour: str
    mm: int
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartNeed:
    """A part, sleeve or tape wanted. Lengths have the unit mm. `code` may be that of the shop's list.

    A `consumable` that is not in the list is the shop's own to bear.
    """

    kind: str
    size: str
    words: str
    qty: Decimal
    unit: str = "piece"
    code: str = ""
    consumable: bool = False
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairEstimate:
    """One repair worked out, without what comes off. `notes` say what was assumed or could not be chosen."""

    asked: Asked
    time: TimeLine
    wire: tuple[WireNeed, ...]
    parts: tuple[PartNeed, ...]
    zones: tuple[str, ...]
    record: Mapping[str, str]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class EstimateResult:
    """A card's estimate before money. `lines` are all the time: looking, repairs, what comes off, minimum."""

    repairs: tuple[RepairEstimate, ...]
    lines: tuple[TimeLine, ...]
    minutes: Minutes
    band: Band
    wire: tuple[WireNeed, ...]
    parts: tuple[PartNeed, ...]
    proves: tuple[str, ...]
    rechecks: tuple[str, ...]
    cautions: tuple[str, ...]
    notes: tuple[str, ...] = ()

    @property
    def wire_mm(self) -> dict[str, int]:
        """mm by size and colour (“0.75 green/black”), as an estimate keeps it."""
        return {f"{need.size_mm2} {need.colour}".strip(): need.mm for need in self.wire}


@dataclass(frozen=True, slots=True)
class Factor:
    """What past cards say of a rule: `times` the book is the middle, `expected_times` the mean; `n` cards.

    `raw` is what the cards themselves took, unshrunk: the middle of their times over the book.
    `spread` is how far the next card may lie off, as the standard deviation of the logarithm of its time;
    0 leaves the rule’s own range as it is. `over` are the numbers of cards of what was put on top: by
    mechanic, zone and model.
    """

    n: int = 0
    times: float = 1.0
    expected_times: float = 1.0
    spread: float = 0.0
    raw: float = 1.0
    over: tuple[int, ...] = ()

    def on_top(self, more: "Factor") -> "Factor":
        """This factor and another on top of it, such as that of a zone; the cards are this one's."""
        if not more.n:
            return self
        return Factor(
            self.n,
            self.times * more.times,
            self.expected_times * more.expected_times,
            self.spread,
            self.raw,
            (*self.over, more.n),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Travel:
    """A journey to the bike: `call_out` charged or not, `distance` one way in the shop's unit."""

    call_out: bool = False
    distance: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class PricedLine:
    """One line of an estimate with its price: `amount` is qty / base_qty x unit_price, rounded once.

    Prices as the shop types them: without tax, or with it where its settings say so. `part` is the row of
    the shop's list that was matched, `missing` marks a part that is not in it and has no price yet.
    """

    kind: LineKind
    words: str
    qty: Decimal
    unit: str
    unit_price: Decimal
    base_qty: Decimal = Decimal(1)
    amount: Money
    minutes: Minutes | None = None
    book: Minutes | None = None
    repair: int | None = None
    part: int | None = None
    missing: bool = False
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Priced:
    """A card's estimate in money, before tax is worked out: what is expected, and the 8-in-10 band."""

    lines: tuple[PricedLine, ...]
    amount: Money
    low: Money
    high: Money
    notes: tuple[str, ...] = ()
