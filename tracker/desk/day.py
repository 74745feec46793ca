"""The day sheet: cards under their next thing, the oldest wait first; promises, rechecks, money, clocks."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from tracker.card.owing import owed_minor
from tracker.card.standing import Deed, Standing, Step
from tracker.card.step import standing
from tracker.desk.desk import Desk
from tracker.desk.due_rows import Due, DueRow, due_of, what_came
from tracker.desk.rechecks_set import WAITING
from tracker.records.card import Card, CardKind
from tracker.records.facts import CardFacts
from tracker.records.people import Customer, Mechanic
from tracker.records.recheck import Recheck
from tracker.records.shop import Mode
from tracker.records.work import TimeEntry
from tracker.store.facts import cards_not_over, facts_of
from tracker.store.reader import Reader

__all__ = ["DayRow", "DaySheet", "DueRow", "day_sheet", "due", "row_of", "waited", "what_came"]

GROUPS: tuple[tuple[str, frozenset[Deed]], ...] = (
    ("ring", frozenset({Deed.AGREE})),
    ("look", frozenset({Deed.LOOK, Deed.READ, Deed.FINDING})),
    ("price", frozenset({Deed.ESTIMATE})),
    ("fix", frozenset({Deed.START, Deed.FIX, Deed.PART, Deed.CLOCK})),
    ("test", frozenset({Deed.TEST})),
    ("bill", frozenset({Deed.BILL})),
    ("collect money", frozenset({Deed.PAY})),
    ("hand over", frozenset({Deed.COLLECT})),
    ("to come", frozenset({Deed.CAME})),
    ("recheck", frozenset({Deed.RECHECK})),
)
"""Next things in the order in which a morning goes."""


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
class DaySheet:
    """One day at a glance. `owed_minor` is what all cards on the sheet still owe, in `currency`.

    `left_out` is how many rechecks are due for people who want no reminders; they stand nowhere on it.
    """

    on: date
    shop: str
    groups: tuple[Group, ...]
    on_the_clock: tuple[Clocked, ...]
    promised: tuple[DayRow, ...]
    rechecks: tuple[DueRow, ...]
    left_out: int
    owed_minor: int
    currency: str


def day_sheet(desk: Desk) -> DaySheet:
    """The sheet of today."""
    shop, now, today = desk.shop, desk.clock.now(), desk.today

    def look(reader: Reader) -> tuple[Sequence[CardFacts], tuple[Due, ...], tuple[Clocked, ...]]:
        everything = facts_of(reader, shop, cards_not_over(reader))
        return everything, due_of(reader, everything, today), _clocks(reader)

    everything, due_now, clocks = desk.read(look)
    to_ring = [one for one in due_now if one.may_be_rung]
    ring = {one.facts.card.id: one.person for one in reversed(to_ring)}
    stands = [(facts, standing(facts, now, today)) for facts in everything]
    rows = [
        row_of(facts, stand, ring.get(facts.card.id))
        for facts, stand in stands
        if not stand.over and not _only_waits(facts, stand, ring)
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
        rechecks=tuple(one.row for one in to_ring),
        left_out=len(due_now) - len(to_ring),
        owed_minor=sum(owed_minor(facts) for facts in everything),
        currency=shop.currency,
    )


def row_of(facts: CardFacts, stands: Standing, ring: Customer | None = None) -> DayRow:
    """A card as one line, only for one that is not over. `ring` is who is rung about its recheck."""
    assert stands.next is not None
    payer = (ring if stands.step is Step.RECHECK else None) or facts.customer or facts.payer
    return DayRow(
        number=facts.card.number,
        who=payer.name if payer else _nobody(facts),
        bike=what_came(facts),
        complaint=facts.card.complaint,
        step=stands.step,
        next=stands.next.words,
        deed=stands.next.deed,
        stops=tuple(stop.words for stop in stands.stops),
        since=stands.since,
        promised_on=facts.card.promised_on,
    )


def _nobody(facts: CardFacts) -> str:
    """What stands for a name: among customers' bikes an own project says so."""
    own = facts.card.kind is CardKind.PROJECT and facts.shop.mode is not Mode.PROJECT
    return "own project" if own else ""


def due(desk: Desk, until: date) -> tuple[DueRow, ...]:
    """Rechecks due on or before a date, the longest due first; who wants no reminders is left out."""
    shop = desk.shop

    def look(reader: Reader) -> tuple[Due, ...]:
        waiting = reader.all(Recheck, state=WAITING)
        cards = sorted({recheck.card for recheck in waiting if recheck.due_on <= until})
        return due_of(reader, facts_of(reader, shop, cards), until)

    return tuple(one.row for one in desk.read(look) if one.may_be_rung)


def _only_waits(facts: CardFacts, stands: Standing, ring: Mapping[int, object]) -> bool:
    """Gone and settled, with nothing but a recheck on a later day, or one that nobody is to be rung about."""
    return stands.step is Step.RECHECK and facts.card.id not in ring


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
