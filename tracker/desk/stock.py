"""The parts list and its stock: the sum of all moves."""

from dataclasses import dataclass, fields
from decimal import Decimal
from typing import Annotated, ClassVar

from tracker.desk.ask import Ask
from tracker.desk.turn import Turn
from tracker.errors import NotFoundError
from tracker.records.card import Card
from tracker.records.problem import Mistakes, Problem
from tracker.records.stock import MoveKind, Part, PartWanted, StockMove, WantedState
from tracker.records.text import squeeze
from tracker.store.reader import Reader


def part_named(reader: Reader, name: str) -> Part:
    """The part of this code or words; raises NotFoundError, or Mistakes when several fit."""
    wanted = squeeze(name)
    near = [reader.get(Part, row) for _, row in reader.find(name, [Part], most=50)]
    exact = [p for p in near if squeeze(p.code) == wanted]
    fitting = exact or near
    if len(fitting) == 1:
        return fitting[0]
    if not fitting:
        raise NotFoundError(
            f"There is no part “{name}” in the list.", "loomcard stock add CODE NAME adds one."
        )
    which = "; ".join(f"{p.code} {p.name}" for p in fitting[:6])
    raise Mistakes([Problem("part", "Several parts fit.", f"Take one by its code: {which}.", name)])


def in_stock(reader: Reader, part_id: int) -> Decimal:
    """How many there are: the sum of all moves, added exactly."""
    return sum((move.qty for move in reader.all(StockMove, part=part_id)), Decimal(0))


def free_stock(reader: Reader, part_id: int) -> Decimal:
    """How many there are beside those that are put by for cards."""
    put_by = reader.all(PartWanted, part=part_id, state=WantedState.HERE, customers_own=False)
    return in_stock(reader, part_id) - sum((wanted.qty for wanted in put_by), Decimal(0))


@dataclass(frozen=True, slots=True, kw_only=True)
class AddPart:
    """Add a part to the list, or change the one with this code."""

    verb: ClassVar[str] = "stock add"

    code: Annotated[str, Ask("Code", place=1)]
    name: Annotated[str, Ask("Name", place=2)] = ""
    unit: Annotated[str | None, Ask("Unit", "piece, m")] = None
    price: Annotated[Decimal | None, Ask("Price", "without tax", least=0, most=1_000_000)] = None
    cost: Annotated[Decimal | None, Ask("Cost", "without tax", least=0, most=1_000_000)] = None
    tax_rate: Annotated[Decimal | None, Ask("Tax rate", "percent, if not the usual", least=0, most=100)] = (
        None
    )
    supplier: Annotated[str | None, Ask("Supplier")] = None
    place: Annotated[str | None, Ask("Shelf")] = None
    least: Annotated[Decimal | None, Ask("Reorder at", least=0, most=100_000)] = None
    count: Annotated[Decimal | None, Ask("Counted", "how many there are now", least=0, most=1_000_000)] = None

    def work(self, turn: Turn) -> Part:
        """Keeps the part; a count becomes a move that makes the stock what was counted."""
        known = turn.unit.first(Part, code=self.code)
        given = {
            f.name: getattr(self, f.name)
            for f in fields(self)
            if f.name not in {"code", "count"} and getattr(self, f.name) not in (None, "")
        }
        if known is None:
            missing = [
                Problem(name, f"{label} is needed for a new part.")
                for name, label in (("name", "A name"), ("price", "A price"))
                if name not in given
            ]
            if missing:
                raise Mistakes(missing)
            part = turn.unit.insert(Part(code=self.code, **given))
        else:
            part = turn.unit.change(known, **given)
        if self.count is not None:
            step = self.count - in_stock(turn.unit, part.id)
            if step:
                move(turn, part, step, MoveKind.COUNTED)
        turn.say(f"part {part.code} {'added' if known is None else 'changed'}")
        return part


def move(
    turn: Turn,
    part: Part,
    qty: Decimal,
    kind: MoveKind,
    *,
    card: Card | None = None,
    wanted: PartWanted | None = None,
    words: str = "",
) -> StockMove:
    """One move of stock. Stock below nothing is a fact that somebody forgot a count: kept, and said."""
    if in_stock(turn.unit, part.id) + qty < 0:
        turn.note(f"There are now fewer than none of {part.code} on the shelf: count it.")
    return turn.unit.insert(
        StockMove(
            part=part.id,
            qty=qty,
            kind=kind,
            card=card.id if card else None,
            repair=wanted.repair if wanted else None,
            wanted=wanted.id if wanted else None,
            unit_cost=part.cost,
            words=words,
            by=turn.who,
            at=turn.at,
        )
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class StockArrived:
    """Put parts that arrived on the shelf."""

    verb: ClassVar[str] = "stock arrived"

    part: Annotated[str, Ask("Part", "code", place=1)]
    qty: Annotated[Decimal, Ask("How many", least=0, most=100_000, some=True, place=2)]
    words: Annotated[str, Ask("Words")] = ""

    def work(self, turn: Turn) -> StockMove:
        """One move in."""
        part = part_named(turn.unit, self.part)
        made = move(turn, part, self.qty, MoveKind.ARRIVED, words=self.words)
        turn.say(f"{self.qty:f} {part.code} arrived")
        return made
