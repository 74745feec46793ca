"""An estimate worked out from repairs on a loom, on a card or on none: time, wire, parts, prices, orders."""

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType
from typing import TYPE_CHECKING

from tracker.desk.learned import factors_for
from tracker.desk.stock import free_stock
from tracker.desk.turn import Turn
from tracker.estimating.card_total import CardAsked, estimate_card
from tracker.estimating.openings import NEVER, Wanted
from tracker.estimating.pricing import price
from tracker.estimating.table_sizes import TableSizes
from tracker.estimating.words import of_unit
from tracker.loom.access import reachable
from tracker.records.estimating import Asked, EstimateResult, Priced, Travel
from tracker.records.stock import Part
from tracker.seedfiles.tables import electric_tables
from tracker.store.reader import Reader

if TYPE_CHECKING:
    from tracker.records.loom_made import Loom

NO_TRAVEL = Travel()
NOTHING: Mapping[int, Decimal] = MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True)
class ToOrder:
    """A part of the list that the estimate wants more of than is free on the shelf."""

    part: int
    code: str
    words: str
    qty: Decimal
    unit: str
    supplier: str

    @property
    def sentence(self) -> str:
        """As it is said at the desk."""
        of = f" from {self.supplier}" if self.supplier else ""
        return f"Not in stock: order {of_unit(self.qty, self.unit)} of {self.code}, {self.words}{of}."


@dataclass(frozen=True, slots=True)
class Worked:
    """What was asked, what it takes, what it costs, and what has to be ordered for it."""

    asked: CardAsked
    result: EstimateResult
    priced: Priced
    orders: tuple[ToOrder, ...]


def work_out(
    turn: Turn,
    loom: "Loom",
    repairs: Sequence[Asked],
    *,
    travel: Travel = NO_TRAVEL,
    looked_min: int = 0,
    already_off: AbstractSet[str] = frozenset(),
    visit_now: int = 1,
    was_off: Mapping[str, str] = NEVER,
    also: Sequence[Wanted] = (),
    mechanic: str = "",
    model: str = "",
    had: Mapping[int, Decimal] = NOTHING,
) -> Worked:
    """The estimate of some repairs by the shop's rules, rates, parts and, where it uses them, past cards.

    `had` is what of each part the card has put by, on order or fitted already.
    """
    used = factors_for(
        turn,
        frozenset(one.rule.id for one in repairs),
        mechanic,
        model,
        frozenset(one.where.spot for one in repairs if one.where.spot),
    )
    asked = CardAsked(
        repairs=repairs,
        factors=used.rules,
        unseen=used.unseen,
        zones=used.zones,
        correlation=used.together,
        pairs=used.pairs,
        looked_min=looked_min,
        also=also,
        already_off=already_off,
        visit_now=visit_now,
        was_off=was_off,
        bench_minimum_min=turn.shop.bench_minimum_min,
    )
    off = reachable(loom.known, loom.features, loom.supposed)
    result = estimate_card(asked, off, TableSizes(electric_tables()))
    priced = price(result, turn.shop, turn.unit.all(Part, active=True), travel)
    return Worked(asked, result, priced, to_order(turn.unit, priced, had))


def to_order(reader: Reader, priced: Priced, had: Mapping[int, Decimal] = NOTHING) -> tuple[ToOrder, ...]:
    """The parts of the list that are not all on the shelf, beside those put by for other cards."""
    wanted: dict[int, Decimal] = {}
    for line in priced.lines:
        if line.part is not None:
            wanted[line.part] = wanted.get(line.part, Decimal(0)) + line.qty
    found = []
    for part_id, qty in wanted.items():
        short = qty - had.get(part_id, Decimal(0)) - max(Decimal(0), free_stock(reader, part_id))
        if short > 0:
            part = reader.get(Part, part_id)
            found.append(
                ToOrder(
                    part=part.id,
                    code=part.code,
                    words=part.name,
                    qty=short,
                    unit=part.unit,
                    supplier=part.supplier,
                )
            )
    return tuple(found)
