"""What each list is of: its rows, how one of them is shown whole, and the deeds that add and change one."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import timedelta
from typing import overload

from tracker.desk import day, show
from tracker.desk.card_list import CardLine, CardLines
from tracker.desk.desk import Desk
from tracker.desk.due_rows import DueRow
from tracker.desk.ledger import ledger
from tracker.desk.reading import Reader
from tracker.desk.repairs_found import Wanted, photos_of, repairs_found
from tracker.papers import twins
from tracker.papers.repairs_text import found_line, found_text
from tracker.records.card import Card
from tracker.records.document import Document
from tracker.records.money import Money
from tracker.records.stock import PartWanted, WantedState
from tracker.screens.shown import fitted

AHEAD = timedelta(days=90)
"""How far ahead rechecks are listed."""

Opens = Callable[[str], tuple[str, dict[str, str]]]


def _no_card(_: str) -> str:
    return ""


def _nothing(_: str) -> tuple[str, dict[str, str]]:
    return "settings change", {}


@dataclass(frozen=True, slots=True)
class Kind:
    """One list: its title, its columns, its rows as (key, words), how one is shown whole or else the form
    that it opens, the deed that adds one, and the card that a key is about; `is_card`: its rows are cards,
    `narrows`: it is narrowed by typing.
    """

    title: str
    columns: str
    rows: Callable[[Desk], Sequence[tuple[str, str]]]
    one: Callable[[Desk, str], str] | None = None
    opens: Opens = _nothing
    add: str = ""
    card: Callable[[str], str] = _no_card
    is_card: bool = False
    narrows: bool = False


class _CardRows(Sequence[tuple[str, str]]):
    """Cards as rows, read only as far as they are looked at."""

    def __init__(self, desk: Desk) -> None:
        self._lines = CardLines(desk)

    def __len__(self) -> int:
        return len(self._lines)

    @overload
    def __getitem__(self, index: int) -> tuple[str, str]: ...

    @overload
    def __getitem__(self, index: slice) -> Sequence[tuple[str, str]]: ...

    def __getitem__(self, index: int | slice) -> tuple[str, str] | Sequence[tuple[str, str]]:
        if isinstance(index, slice):
            return [_card_row(line) for line in self._lines[index]]
        return _card_row(self._lines[index])


def _card_row(line: CardLine) -> tuple[str, str]:
    words = f"{line.number:<9} {line.came} {fitted(line.who, 16)} {fitted(line.bike, 16)}"
    return line.number, f"{words} {line.complaint}{f'  ({line.end})' if line.end else ''}"


def _same(key: str) -> str:
    return key


def _bikes(desk: Desk) -> list[tuple[str, str]]:
    return [
        (str(b.id), f"{fitted(b.name, 34)} {fitted(b.registration, 12)} {b.year or ''}")
        for b in show.bikes(desk)
    ]


def _customers(desk: Desk) -> list[tuple[str, str]]:
    return [(str(c.id), f"{fitted(c.name, 34)} {fitted(c.phone, 20)} {c.kind}") for c in show.customers(desk)]


def _stock_line(r: show.StockRow) -> str:
    words = f"{fitted(r.part.code, 18)} {fitted(r.part.name, 27)} {r.stock:>6f} {r.free:>6f}"
    return f"{words} {r.part.price:>8f}{' !' if r.part.least and r.stock <= r.part.least else ''}"


def _stock(desk: Desk) -> list[tuple[str, str]]:
    return [
        (
            r.part.code,
            _stock_line(r),
        )
        for r in show.stock_rows(desk)
    ]


ORDER = (WantedState.WRONG, WantedState.WANTED, WantedState.ORDERED, WantedState.HERE)


def _wanted_line(number: str, w: PartWanted) -> str:
    state = {WantedState.WANTED: "to order", WantedState.ORDERED: "on order"}.get(w.state, str(w.state))
    when = f"expected {w.expected_on}" if w.expected_on else w.supplier
    own = "own" if w.customers_own else "   "
    return f"{state:<9} {number:<9} {w.qty:>4f} {fitted(w.words, 26)} {own} {when}"


def _wanted(desk: Desk) -> list[tuple[str, str]]:
    """What cards wait for: to order first, then on order, then here and not fitted yet."""

    def look(reader: Reader) -> list[tuple[PartWanted, Card, int]]:
        found = reader.all(PartWanted, state=ORDER)
        cards = {card.id: card for card in reader.all(Card, id=tuple({w.card for w in found}))}
        places: dict[int, int] = {}
        for card in cards:
            for place, one in enumerate(reader.all(PartWanted, card=card), 1):
                places[one.id] = place
        return [(w, cards[w.card], places[w.id]) for w in found]

    rows = sorted(
        desk.read(look), key=lambda row: (ORDER.index(row[0].state), row[0].expected_on or desk.today)
    )
    return [
        (
            f"{card.number} {place}",
            _wanted_line(card.number, w),
        )
        for w, card, place in rows
    ]


def _documents(desk: Desk) -> list[tuple[str, str]]:
    stands, documents = ledger(desk)
    owed = {item.number: item.owed for item in stands.items}
    return [(d.number, _document(d, owed.get(d.number, 0))) for d in reversed(documents)]


def _document(document: Document, owed: int) -> str:
    payable = Money(document.payable_minor, document.currency)
    rest = f"! owed {Money(owed, document.currency)}" if owed else ""
    name = fitted(str(document.buyer.get("name", "")), 22)
    return f"{document.number:<14} {document.issued_on}  {name} {payable!s:>10}  {rest}"


def _rechecks(desk: Desk) -> list[tuple[str, str]]:
    return [(r.number, _recheck_line(r, desk)) for r in day.due(desk, desk.today + AHEAD)]


def _recheck_line(r: DueRow, desk: Desk) -> str:
    due = f"{'!' if r.due_on <= desk.today else ' '} {r.due_on} {r.number:<9} {r.reason:<10}"
    wish = "" if r.reminders else "wants none"
    return f"{due} {fitted(r.who, 16)} {fitted(r.phone, 14)} {wish}"


def _settings(desk: Desk) -> list[tuple[str, str]]:
    return [
        (name, f"{name.replace('_', ' '):<22} {twins.cut(str(value), 50)}")
        for name, value in asdict(desk.shop).items()
    ]


def _mechanics(desk: Desk) -> list[tuple[str, str]]:
    return [(m.name, m.name) for m in show.mechanics(desk)]


def _bike(desk: Desk, name: str) -> str:
    return twins.bike_text(show.bike_view(desk, name), desk.clock)


def _customer(desk: Desk, name: str) -> str:
    return twins.customer_text(show.customer_view(desk, name), desk.clock)


def _part_deed(key: str) -> tuple[str, dict[str, str]]:
    number, _, place = key.partition(" ")
    return "part arrived", {"card": number, "part": place}


def _repairs(desk: Desk) -> list[tuple[str, str]]:
    return [(f"{one.card} {one.repair.id}", found_line(one)) for one in repairs_found(desk, Wanted())]


def _repair(desk: Desk, key: str) -> str:
    card, _, id_ = key.partition(" ")
    found = repairs_found(desk, Wanted(card=card))
    one = next(one for one in found if str(one.repair.id) == id_)
    return found_text(one, photos_of(desk, one.repair))


KINDS: Mapping[str, Kind] = {
    "bikes": Kind(
        "Bikes", f"{'make and model':<34} {'registration':<12} year", _bikes, _bike, add="bike add"
    ),
    "customers": Kind(
        "Customers", f"{'name':<34} {'phone':<20} settles", _customers, _customer, add="customer add"
    ),
    "cards": Kind(
        "Cards, the newest first",
        f"{'card':<9} {'came':<10} {'who':<16} {'bike':<16} complaint",
        _CardRows,
        add="book-in",
        card=_same,
        is_card=True,
    ),
    "stock": Kind(
        "Parts list",
        f"{'code':<18} {'part':<27} {'stock':>6} {'free':>6} {'price':>8} ! low",
        _stock,
        opens=lambda key: ("stock add", {"code": key}),
        add="stock add",
    ),
    "wanted": Kind(
        "Parts that cards wait for (Enter: it came in)",
        f"{'':<9} {'card':<9} {'qty':>4} {'part':<26} own",
        _wanted,
        opens=_part_deed,
        card=lambda key: key.partition(" ")[0],
    ),
    "documents": Kind(
        "Documents and what is owed",
        f"{'number':<14} {'issued':<11} {'to':<22} {'amount':>10}",
        _documents,
        add="pay",
    ),
    "rechecks": Kind(
        "Rechecks, 90 days ahead (Enter: the outcome)",
        f"  {'due':<10} {'card':<9} {'for':<10} {'whom to ring':<16} phone",
        _rechecks,
        opens=lambda key: ("recheck", {"card": key}),
        card=_same,
    ),
    "repairs": Kind(
        "Repairs found again: words, zone, plug, make and model, the newest first",
        "",
        _repairs,
        _repair,
        card=lambda key: key.partition(" ")[0],
        narrows=True,
    ),
    "settings": Kind("Settings (Enter changes them)", "", _settings, add="settings change"),
    "mechanics": Kind("Who is at the keyboard?", "", _mechanics, add="settings change"),
}
"""Every list by its name. Their twins: `loomcard bike`, `customer`, `stock`, `owed`, `due`, `settings`."""
