"""What is shown: one card whole, a bike with its history, a customer, what is found by a few letters."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal

from tracker.card.allowed import agreed_limit, left_of_go_ahead
from tracker.card.left_words import bench_minutes_left, left_words
from tracker.card.limits import Left, Limit
from tracker.card.standing import Standing
from tracker.card.step import standing
from tracker.card.time import Clocked, clocked, seconds_of
from tracker.card.words import day_words
from tracker.desk.bikes import bike_named, people_of
from tracker.desk.desk import Desk
from tracker.desk.people import customer_named
from tracker.desk.show_stock import PartView, StockRow, part_view, stock_rows
from tracker.desk.turn import card_named
from tracker.errors import NotFoundError
from tracker.records.bike import Bike, BikeFeature
from tracker.records.card import Card, Collection, Ending, Reading
from tracker.records.document import EstimateLine
from tracker.records.facts import CardFacts
from tracker.records.limits import Verdict
from tracker.records.money import Money
from tracker.records.people import Customer, Mechanic, Ownership
from tracker.records.stock import Part, PartWanted, WantedState
from tracker.records.work import Repair, TimeEntry
from tracker.store.reader import Reader

__all__ = [
    "BikeView", "CardView", "CustomerView", "Hit", "PartView", "StockRow",
    "bike_view", "bikes", "card_or_bike", "card_view", "customer_view", "customers", "find", "mechanics",
    "part_view", "reading_words", "stock_rows",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class CardView:
    """A card with where it stands, its time and what is left of its go-ahead; `kinds` has reading words."""

    facts: CardFacts
    stands: Standing
    clocked: Clocked
    limit: Limit | None
    left: Left | None
    left_min: int | None
    left_words: str
    estimate_lines: tuple[EstimateLine, ...]
    mechanics: dict[int, str]
    judged: Mapping[int, Verdict] = field(default_factory=dict)
    kinds: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class BikeView:
    """A bike with its people, answers, cards, repairs and readings, the newest first.

    `clocked_s` is all the time on it so far, `parts_cost` what the parts fitted to it cost (without tax, in
    major units): for an owner-builder, what the project has taken. `closed` are the cards that were ended
    or collected: what was not done on them is not to do.
    """

    bike: Bike
    people: tuple[tuple[Ownership, Customer], ...]
    features: tuple[BikeFeature, ...]
    cards: tuple[Card, ...]
    repairs: tuple[Repair, ...]
    readings: tuple[Reading, ...]
    clocked_s: int
    parts_cost: Decimal
    closed: tuple[int, ...] = ()
    kinds: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class CustomerView:
    """A customer with bikes and cards; `owes` are the documents still open, in words, and money in hand."""

    customer: Customer
    bikes: tuple[Bike, ...]
    cards: tuple[Card, ...]
    owes: tuple[str, ...] = ()
    owed_minor: int = 0


@dataclass(frozen=True, slots=True)
class Hit:
    """Something found by a few letters."""

    kind: str
    id: int
    name: str
    more: str


def card_view(desk: Desk, name: str) -> CardView:
    """A card by its number, or the newest card of a bike by its registration."""
    from tracker.desk.charging import judged

    card = desk.read(lambda reader: card_or_bike(reader, name))
    facts = desk.facts(card.id)
    now = desk.clock.now()
    latest = max(facts.estimates, key=lambda e: e.revision, default=None)

    def look(reader: Reader) -> tuple[tuple[EstimateLine, ...], dict[int, str]]:
        lines = reader.all(EstimateLine, estimate=latest.id, order="position") if latest else ()
        return lines, {m.id: m.name for m in reader.all(Mechanic)}

    lines, mechanics = desk.read(look)
    return CardView(
        facts=facts,
        stands=standing(facts, now, desk.today),
        clocked=clocked(facts, now),
        limit=agreed_limit(facts),
        left=left_of_go_ahead(facts, now),
        left_min=bench_minutes_left(facts, now),
        left_words=left_words(facts, now),
        estimate_lines=lines,
        mechanics=mechanics,
        judged=judged(desk, facts) if facts.readings else {},
        kinds=reading_words(desk) if facts.readings else {},
    )


def reading_words(desk: Desk) -> dict[str, str]:
    """Kinds of reading in words, by their names."""
    from tracker.seedfiles.readings import load_readings

    return {name: kind.words for name, kind in load_readings(desk.seeds).items()}


def card_or_bike(reader: Reader, name: str) -> Card:
    """The card of a number, else the newest card of the bike that is meant; raises NotFoundError."""
    try:
        return card_named(reader, name)
    except NotFoundError:
        try:
            bike = bike_named(reader, name)
        except NotFoundError:
            raise NotFoundError(f"There is no card “{name}”.", "loomcard find WORDS looks for one.") from None
        newest = reader.first(Card, bike=bike.id, newest=True)
        if newest is None:
            raise NotFoundError(f"{bike.name} {bike.registration} has no card.") from None
        return newest


def bike_view(desk: Desk, name: str) -> BikeView:
    """A bike whole."""

    now = desk.clock.now()

    def look(reader: Reader) -> BikeView:
        bike = bike_named(reader, name)
        cards = reader.all(Card, bike=bike.id, newest=True)
        ids = tuple(card.id for card in cards)
        fitted = reader.all(PartWanted, card=ids, state=WantedState.FITTED)
        return BikeView(
            bike=bike,
            people=people_of(reader, bike),
            features=reader.all(BikeFeature, bike=bike.id, order="feature"),
            cards=cards,
            repairs=reader.all(Repair, card=ids, newest=True),
            readings=reader.all(Reading, bike=bike.id, newest=True),
            clocked_s=sum(seconds_of(entry, now) for entry in reader.all(TimeEntry, card=ids)),
            parts_cost=sum((_cost(reader, wanted) for wanted in fitted), Decimal(0)),
            closed=tuple(
                sorted(
                    {one.card for one in reader.all(Ending, card=ids)}
                    | {one.card for one in reader.all(Collection, card=ids)}
                )
            ),
        )

    view = desk.read(look)
    return replace(view, kinds=reading_words(desk)) if view.readings else view


def _cost(reader: Reader, wanted: PartWanted) -> Decimal:
    """What a fitted part cost the shop; where it is in no list, what was written down for it."""
    part = reader.get(Part, wanted.part) if wanted.part else None
    return wanted.qty * (part.cost if part and part.cost else wanted.unit_price)


def customer_view(desk: Desk, name: str) -> CustomerView:
    """A customer whole."""
    from tracker.desk.ledger import ledger

    def look(reader: Reader) -> CustomerView:
        customer = customer_named(reader, name)
        ties = reader.all(Ownership, customer=customer.id, until=None)
        own = (*reader.all(Card, customer=customer.id), *reader.all(Card, payer=customer.id))
        cards = {card.id: card for card in own}
        return CustomerView(
            customer=customer,
            bikes=reader.all(Bike, id=tuple(tie.bike for tie in ties)),
            cards=tuple(cards[id_] for id_ in sorted(cards, reverse=True)),
        )

    view = desk.read(look)
    stands, _ = ledger(desk, view.customer)
    currency, today = desk.shop.currency, desk.today
    owes = [
        f"{Money(item.owed, currency)} {currency} on {item.number}, due {day_words(item.due, today)}"
        for item in stands.items
        if item.owed
    ]
    if stands.in_hand:
        owes.append(f"{Money(stands.in_hand, currency)} {currency} of theirs is in hand")
    return replace(view, owes=tuple(owes), owed_minor=stands.owed)


def customers(desk: Desk) -> tuple[Customer, ...]:
    """Every customer, by name."""
    return desk.read(lambda reader: reader.all(Customer, order="name"))


def bikes(desk: Desk) -> tuple[Bike, ...]:
    """Every bike, by make."""
    return desk.read(lambda reader: reader.all(Bike, order="make"))


def mechanics(desk: Desk) -> tuple[Mechanic, ...]:
    """Everybody who works here."""
    return desk.read(lambda reader: reader.all(Mechanic, order="name"))


def find(desk: Desk, typed: str) -> tuple[Hit, ...]:
    """Customers, bikes, cards and parts that hold every word typed."""

    def look(reader: Reader) -> tuple[Hit, ...]:
        return tuple(
            _hit(reader, table, row) for table, row in reader.find(typed, [Customer, Bike, Card, Part])
        )

    return desk.read(look)


def _hit(reader: Reader, table: str, row: int) -> Hit:
    if table == "customer":
        customer = reader.get(Customer, row)
        return Hit(table, row, customer.name, customer.phone)
    if table == "bike":
        bike = reader.get(Bike, row)
        return Hit(table, row, bike.name, bike.registration)
    if table == "card":
        card = reader.get(Card, row)
        return Hit(table, row, card.number, card.complaint)
    part = reader.get(Part, row)
    return Hit(table, row, part.code, part.name)
