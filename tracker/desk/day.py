"""The day sheet: cards under their next thing, the oldest wait first; promises, rechecks, money, clocks."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from tracker.card.owing import owed_minor
from tracker.card.standing import Deed, Standing, Step
from tracker.card.step import standing
from tracker.desk.desk import Desk
from tracker.records.card import Card
from tracker.records.facts import CardFacts
from tracker.records.people import Mechanic
from tracker.records.recheck import Recheck, RecheckState
from tracker.records.work import TimeEntry
from tracker.store.facts import cards_not_over, facts_of
from tracker.store.reader import Reader

GROUPS: tuple[tuple[str, frozenset[Deed]], ...] = (
    ("ring", frozenset({Deed.AGREE})),
    ("look", frozenset({Deed.LOOK, Deed.READ, Deed.FINDING, Deed.BOOK_IN})),
    ("price", frozenset({Deed.ESTIMATE})),
    ("fix", frozenset({Deed.START, Deed.FIX, Deed.PART, Deed.CLOCK})),
    ("test", frozenset({Deed.TEST})),
    ("bill", frozenset({Deed.BILL})),
    ("collect money", frozenset({Deed.PAY})),
    ("hand over", frozenset({Deed.COLLECT})),
    ("recheck", frozenset({Deed.RECHECK})),
)
"""Next things in the order in which a morning goes."""

WAITING = (RecheckState.OPEN, RecheckState.BOOKED)


@dataclass(frozen=True, slots=True)
class DayRow:
    """One card on the sheet."""

    number: str
    who: str
    bike: str
    complaint: str
    step: Step
    next: str
    deed: Deed
    stops: tuple[str, ...]
    since: datetime
    promised_on: date | None


@dataclass(frozen=True, slots=True)
class Group:
    """The cards with the same next thing."""

    name: str
    rows: tuple[DayRow, ...]


@dataclass(frozen=True, slots=True)
class Clocked:
    """Who is on the clock, on which card, since when."""

    mechanic: str
    number: str
    kind: str
    since: datetime


@dataclass(frozen=True, slots=True)
class DueRow:
    """A recheck that is due: whom to ring about what."""

    number: str
    reason: str
    due_on: date
    due_odometer: int | None
    bike: str
    who: str
    phone: str
    reminders: bool


@dataclass(frozen=True, slots=True)
class DaySheet:
    """One day at a glance. `owed_minor` is what all cards on the sheet still owe, in `currency`."""

    on: date
    shop: str
    groups: tuple[Group, ...]
    on_the_clock: tuple[Clocked, ...]
    promised: tuple[DayRow, ...]
    rechecks: tuple[DueRow, ...]
    owed_minor: int
    currency: str


def day_sheet(desk: Desk) -> DaySheet:
    """The sheet of today."""
    shop, now, today = desk.shop, desk.clock.now(), desk.today

    def look(reader: Reader) -> tuple[Sequence[CardFacts], tuple[Clocked, ...]]:
        return facts_of(reader, shop, cards_not_over(reader)), _clocks(reader)

    everything, clocks = desk.read(look)
    stands = [(facts, standing(facts, now, today)) for facts in everything]
    rows = [
        row_of(facts, stand)
        for facts, stand in stands
        if not stand.over and not _only_waits(facts, stand, today)
    ]
    here = {facts.card.number for facts, _ in stands if not facts.collections}
    groups = tuple(
        Group(name, tuple(sorted((r for r in rows if r.deed in deeds), key=lambda r: (r.since, r.number))))
        for name, deeds in GROUPS
    )
    return DaySheet(
        on=today,
        shop=shop.name,
        groups=tuple(group for group in groups if group.rows),
        on_the_clock=clocks,
        promised=tuple(
            row
            for row in rows
            if row.promised_on is not None and row.promised_on <= today and row.number in here
        ),
        rechecks=tuple(due_rows(everything, today)),
        owed_minor=sum(owed_minor(facts) for facts in everything),
        currency=shop.currency,
    )


def row_of(facts: CardFacts, stands: Standing) -> DayRow:
    """A card as one line. Only for a card that is not over."""
    assert stands.next is not None
    payer = facts.customer or facts.payer
    return DayRow(
        number=facts.card.number,
        who=payer.name if payer else "",
        bike=what_came(facts),
        complaint=facts.card.complaint,
        step=stands.step,
        next=stands.next.words,
        deed=stands.next.deed,
        stops=tuple(stop.words for stop in stands.stops),
        since=stands.since,
        promised_on=facts.card.promised_on,
    )


def what_came(facts: CardFacts) -> str:
    """The bike, or the unit that was sent in."""
    if facts.bike is None:
        return facts.card.unit
    return f"{facts.bike.name} {facts.bike.registration}".strip()


def due(desk: Desk, until: date) -> tuple[DueRow, ...]:
    """Rechecks due on or before a date, the longest due first."""
    shop = desk.shop

    def look(reader: Reader) -> Sequence[CardFacts]:
        waiting = reader.all(Recheck, state=WAITING)
        cards = sorted({recheck.card for recheck in waiting if recheck.due_on <= until})
        return facts_of(reader, shop, cards)

    return tuple(due_rows(desk.read(look), until))


def due_rows(everything: Sequence[CardFacts], until: date) -> list[DueRow]:
    """Rechecks due on or before a date, the longest due first."""
    found = [
        (recheck, facts)
        for facts in everything
        for recheck in facts.rechecks
        if recheck.state in WAITING and recheck.due_on <= until
    ]
    found.sort(key=lambda pair: (pair[0].due_on, pair[1].card.number))
    return [_due(recheck, facts) for recheck, facts in found]


def _due(recheck: Recheck, facts: CardFacts) -> DueRow:
    customer = facts.customer
    return DueRow(
        number=facts.card.number,
        reason=recheck.reason,
        due_on=recheck.due_on,
        due_odometer=recheck.due_odometer,
        bike=what_came(facts),
        who=customer.name if customer else "",
        phone=customer.phone if customer else "",
        reminders=customer.reminders if customer else True,
    )


def _only_waits(facts: CardFacts, stands: Standing, today: date) -> bool:
    """Gone and settled, with nothing but a recheck on a later day."""
    waiting = [r for r in facts.rechecks if r.state in WAITING]
    return stands.step is Step.RECHECK and bool(waiting) and all(r.due_on > today for r in waiting)


def _clocks(reader: Reader) -> tuple[Clocked, ...]:
    running = reader.all(TimeEntry, off_at=None, order="on_at")
    cards = {card.id: card for card in reader.all(Card, id=tuple(e.card for e in running))}
    names = {mechanic.id: mechanic.name for mechanic in reader.all(Mechanic)}
    return tuple(Clocked(names[e.mechanic], cards[e.card].number, e.kind, e.on_at) for e in running)


def waited(since: datetime, now: datetime) -> str:
    """How long a card has waited, in a word: 3 d, 5 h, 20 min."""
    gone = max(now - since, timedelta(0))
    if gone >= timedelta(days=1):
        return f"{gone.days} d"
    minutes = int(gone.total_seconds() // 60)
    return f"{minutes // 60} h" if minutes >= 60 else f"{minutes} min"
