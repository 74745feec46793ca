"""What is shown of the parts list: every part with its stock, one part with its moves."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from tracker.desk.desk import Desk
from tracker.desk.stock import free_stock, in_stock, part_named
from tracker.records.card import Card
from tracker.records.stock import Part, PartWanted, StockMove, WantedState
from tracker.store.reader import Reader


@dataclass(frozen=True, slots=True)
class StockRow:
    """One part with how many there are, how many are free, how many cards wait for it."""

    part: Part
    stock: Decimal
    free: Decimal
    wanted: Decimal
    on_order: Decimal


@dataclass(frozen=True, slots=True)
class PartView:
    """One part with its moves, the newest first, and the cards that it is put by for or wait for it."""

    row: StockRow
    moves: tuple[tuple[StockMove, str], ...]
    cards: tuple[tuple[str, PartWanted], ...]


def stock_rows(desk: Desk) -> tuple[StockRow, ...]:
    """Every part in the list, by code."""

    def look(reader: Reader) -> tuple[StockRow, ...]:
        wanted = reader.all(PartWanted, state=(WantedState.WANTED, WantedState.ORDERED))
        return tuple(
            StockRow(
                part,
                in_stock(reader, part.id),
                free_stock(reader, part.id),
                _sum(wanted, part.id, WantedState.WANTED),
                _sum(wanted, part.id, WantedState.ORDERED),
            )
            for part in reader.all(Part, order="code")
        )

    return desk.read(look)


def part_view(desk: Desk, name: str, most: int = 12) -> PartView:
    """A part by its code or words, with its last moves."""

    def look(reader: Reader) -> PartView:
        part = part_named(reader, name)
        wanted = reader.all(PartWanted, part=part.id)
        moves = reader.all(StockMove, part=part.id, newest=True, most=most)
        ids = {w.card for w in wanted} | {move.card for move in moves if move.card}
        numbers = {card.id: card.number for card in reader.all(Card, id=tuple(ids))}
        waiting = {WantedState.WANTED, WantedState.ORDERED, WantedState.HERE}
        return PartView(
            StockRow(
                part,
                in_stock(reader, part.id),
                free_stock(reader, part.id),
                _sum(wanted, part.id, WantedState.WANTED),
                _sum(wanted, part.id, WantedState.ORDERED),
            ),
            tuple((move, numbers.get(move.card or 0, "")) for move in moves),
            tuple((numbers[w.card], w) for w in wanted if w.state in waiting),
        )

    return desk.read(look)


def _sum(wanted: Sequence[PartWanted], part: int, state: WantedState) -> Decimal:
    return sum((w.qty for w in wanted if w.part == part and w.state is state), Decimal(0))
