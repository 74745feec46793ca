"""Parts: the list and its stock; what a card wants, orders, gets, fits, or gets wrong."""

from dataclasses import dataclass, fields
from datetime import date
from decimal import Decimal
from typing import Annotated, ClassVar

from tracker.desk.ask import Ask
from tracker.desk.on_card import numbered, only_or_numbered
from tracker.desk.turn import Turn
from tracker.errors import NotFoundError, WrongUseError
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
    qty: Annotated[Decimal, Ask("How many", least=0, most=100_000, place=2)]
    words: Annotated[str, Ask("Words")] = ""

    def work(self, turn: Turn) -> StockMove:
        """One move in."""
        part = part_named(turn.unit, self.part)
        made = move(turn, part, self.qty, MoveKind.ARRIVED, words=self.words)
        turn.say(f"{self.qty:f} {part.code} arrived")
        return made


@dataclass(frozen=True, slots=True, kw_only=True)
class WantPart:
    """Put a part on a card: from the list, in words, or the customer's own."""

    verb: ClassVar[str] = "part want"

    card: Annotated[str, Ask("Card", place=1)]
    part: Annotated[str, Ask("Part", "a code, or words for one that is not in the list", place=2)]
    qty: Annotated[Decimal, Ask("How many", least=0, most=10_000)] = Decimal(1)
    unit_price: Annotated[Decimal | None, Ask("Price each", "without tax", least=0, most=1_000_000)] = None
    customers_own: Annotated[bool, Ask("Customer's own")] = False
    exchange: Annotated[bool, Ask("Exchange", "the old one goes back")] = False
    repair: Annotated[int | None, Ask("Repair", "its number on the card", least=1)] = None
    supplier: Annotated[str, Ask("Supplier")] = ""

    def work(self, turn: Turn) -> PartWanted:
        """Keeps the want; a part that is on the shelf is here at once."""
        card = turn.card(self.card)
        repair = None if self.repair is None else numbered("repair", turn.facts(card).repairs, self.repair)
        try:
            part: Part | None = part_named(turn.unit, self.part)
        except NotFoundError:
            part = None
        price = self.unit_price if self.unit_price is not None else (part.price if part else Decimal(0))
        here = self.customers_own or (part is not None and free_stock(turn.unit, part.id) >= self.qty)
        wanted = turn.unit.insert(
            PartWanted(
                card=card.id,
                part=part.id if part else None,
                words=part.name if part else self.part,
                qty=self.qty,
                unit=part.unit if part else "piece",
                unit_price=Decimal(0) if self.customers_own else price,
                tax_rate=part.tax_rate if part else None,
                customers_own=self.customers_own,
                exchange=self.exchange,
                repair=repair.id if repair else None,
                state=WantedState.HERE if here else WantedState.WANTED,
                supplier=self.supplier or (part.supplier if part else ""),
                by=turn.who,
                at=turn.at,
            )
        )
        if self.customers_own:
            turn.note("The customer's own part: no guarantee on it, and the papers say so.")
        elif not here:
            turn.note("Not on the shelf: order it.")
        turn.say(f"card {card.number}: wants {self.qty:f} {wanted.words}", card)
        return wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderPart:
    """Note that a wanted part is on order."""

    verb: ClassVar[str] = "part order"

    card: Annotated[str, Ask("Card", place=1)]
    part: Annotated[int | None, Ask("Part", "its number on the card", least=1, place=2)] = None
    supplier: Annotated[str, Ask("Supplier")] = ""
    expected: Annotated[date | None, Ask("Expected", "thu, 3 dec, +4")] = None

    def work(self, turn: Turn) -> PartWanted:
        """Marks it ordered today."""
        wanted, card = _wanted(
            turn, self.card, self.part, {WantedState.WANTED, WantedState.WRONG, WantedState.ORDERED}
        )
        changed = turn.unit.change(
            wanted,
            state=WantedState.ORDERED,
            supplier=self.supplier or wanted.supplier,
            ordered_on=turn.today,
            expected_on=self.expected,
        )
        turn.say(f"card {card.number}: {wanted.words} on order", card)
        return changed


@dataclass(frozen=True, slots=True, kw_only=True)
class PartArrived:
    """Note that a part on order came in."""

    verb: ClassVar[str] = "part arrived"

    card: Annotated[str, Ask("Card", place=1)]
    part: Annotated[int | None, Ask("Part", "its number on the card", least=1, place=2)] = None

    def work(self, turn: Turn) -> PartWanted:
        """Marks it here; a listed part goes on the shelf by a move."""
        wanted, card = _wanted(turn, self.card, self.part, {WantedState.ORDERED, WantedState.WANTED})
        if wanted.part is not None:
            move(
                turn, turn.unit.get(Part, wanted.part), wanted.qty, MoveKind.ARRIVED, card=card, wanted=wanted
            )
        changed = turn.unit.change(wanted, state=WantedState.HERE)
        turn.say(f"card {card.number}: {wanted.words} came in", card)
        return changed


@dataclass(frozen=True, slots=True, kw_only=True)
class FitPart:
    """Fit a part: it leaves the shelf."""

    verb: ClassVar[str] = "part fit"

    card: Annotated[str, Ask("Card", place=1)]
    part: Annotated[int | None, Ask("Part", "its number on the card", least=1, place=2)] = None
    qty: Annotated[Decimal | None, Ask("How many", least=0, most=10_000)] = None

    def work(self, turn: Turn) -> PartWanted:
        """A part fitted is a fact: it is taken whatever its state was."""
        usable = set(WantedState) - {WantedState.FITTED, WantedState.DROPPED}
        wanted, card = _wanted(turn, self.card, self.part, usable)
        qty = wanted.qty if self.qty is None else self.qty
        if wanted.part is not None and not wanted.customers_own:
            move(turn, turn.unit.get(Part, wanted.part), -qty, MoveKind.USED, card=card, wanted=wanted)
        changed = turn.unit.change(wanted, state=WantedState.FITTED, qty=qty)
        turn.say(f"card {card.number}: fitted {qty:f} {wanted.words}", card)
        return changed


@dataclass(frozen=True, slots=True, kw_only=True)
class WrongPart:
    """Note that a part that came is the wrong one, or is not needed after all."""

    verb: ClassVar[str] = "part wrong"

    card: Annotated[str, Ask("Card", place=1)]
    part: Annotated[int | None, Ask("Part", "its number on the card", least=1, place=2)] = None
    not_needed: Annotated[bool, Ask("Not needed", "it stays in the shop")] = False

    def work(self, turn: Turn) -> PartWanted:
        """A wrong part goes back to its supplier; one not needed stays on the shelf."""
        wanted, card = _wanted(turn, self.card, self.part, set(WantedState) - {WantedState.DROPPED})
        if wanted.part is not None and not wanted.customers_own:
            part = turn.unit.get(Part, wanted.part)
            if wanted.state is WantedState.FITTED:
                move(turn, part, wanted.qty, MoveKind.RETURNED, card=card, wanted=wanted)
            if not self.not_needed and wanted.state in {WantedState.FITTED, WantedState.HERE}:
                move(turn, part, -wanted.qty, MoveKind.SENT_BACK, card=card, wanted=wanted)
        state = WantedState.DROPPED if self.not_needed else WantedState.WRONG
        changed = turn.unit.change(wanted, state=state)
        turn.say(f"card {card.number}: {wanted.words} {'not needed' if self.not_needed else 'wrong'}", card)
        return changed


def _wanted(turn: Turn, number: str, part: int | None, states: set[WantedState]) -> tuple[PartWanted, Card]:
    card = turn.card(number)
    wanted = turn.facts(card).wanted
    if part is not None:
        one = numbered("part", wanted, part)
        if one.state not in states:
            raise WrongUseError(f"“{one.words}” is {one.state} already.")
        return one, card
    return only_or_numbered("part", [w for w in wanted if w.state in states], None), card
