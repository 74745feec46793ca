"""Setting rechecks: for which reasons, from which day on, and for whom none is kept open."""

from datetime import date, timedelta

from tracker.card.recheck_due import propose
from tracker.desk.people import owner_of
from tracker.desk.turn import Turn
from tracker.records.bike import Bike, DistanceUnit
from tracker.records.card import Call, CallOutcome, Card, Collection
from tracker.records.facts import CardFacts
from tracker.records.journal import JournalEntry
from tracker.records.people import Customer, Ownership, Role
from tracker.records.recheck import Recheck, RecheckState
from tracker.seedfiles.rechecks import load_rechecks
from tracker.seedfiles.repairs import load_rules
from tracker.store.reader import Reader

KM_IN_A_MILE = 1.609344
"""International mile (1959 agreement), in km."""
WAITING = (RecheckState.OPEN, RecheckState.BOOKED)
NO_REMINDERS = "wants no reminders"
LONG_SHUT = timedelta(days=366)
"""A file in which nothing was written for longer than this was shut long, or the clock is wrong (ours)."""


def propose_rechecks(turn: Turn, facts: CardFacts, odometer: int | None = None) -> tuple[Recheck, ...]:
    """One recheck for each reason that the card's done repairs give, unless one is open already.

    For a customer who wants no reminders it is kept as not wanted, which is said, and is not among these.
    """
    if facts.bike is None:
        return ()
    rules = load_rules(turn.seeds)
    reasons: list[str] = []
    for repair in facts.repairs:
        if repair.done_at is None or repair.dropped:
            continue
        rule = rules.get(repair.rule)
        if rule is not None and rule.recheck and rule.recheck not in reasons:
            reasons.append(rule.recheck)
    made = (set_recheck(turn, facts.card, facts.bike, reason, odometer) for reason in reasons)
    return tuple(one for one in made if one is not None and one.state is RecheckState.OPEN)


def waiting_for(reader: Reader, bike: int, reason: str) -> Recheck | None:
    """The recheck of a bike for a reason that is open or booked, whichever card it is from."""
    return reader.first(Recheck, bike=bike, reason=reason, state=WAITING)


def set_recheck(
    turn: Turn, card: Card, bike: Bike, reason: str, odometer: int | None = None, *, asked: bool = False
) -> Recheck | None:
    """Sets a recheck from today on; None where one is open for that reason.

    `asked` says that whoever is rung wants it, whatever they want otherwise.
    """
    waiting = waiting_for(turn.unit, bike.id, reason)
    if waiting is not None:
        turn.note(f"There is an open recheck ({reason}) on {waiting.due_on.isoformat()} already.")
        return None
    person = whom_to_ring(turn.unit, card, bike)
    left = person is not None and not person.reminders and not asked
    if person is not None and left:
        turn.note(f"{person.name} {NO_REMINDERS}: no recheck ({reason}) is kept open.")
    days, distance = terms(turn, reason, bike)
    history = odometer_history(turn, bike)
    anchor = anchor_day(turn, card)
    if odometer is not None:
        history.append((anchor, odometer))
    proposal = propose(anchor, days, distance, history)
    return turn.unit.insert(
        Recheck(
            card=card.id,
            bike=bike.id,
            reason=reason,
            anchor_on=anchor,
            days=days,
            distance=distance,
            due_on=proposal.due_on,
            due_odometer=proposal.due_odometer,
            state=RecheckState.NOT_WANTED if left else RecheckState.OPEN,
            outcome=NO_REMINDERS if left else "",
            by=turn.who,
            at=turn.at,
        )
    )


def anchor_day(turn: Turn, card: Card) -> date:
    """The day from which a recheck counts: today, or where the clock must be wrong the card's last day."""
    gone = turn.unit.all(Collection, card=card.id)
    known = max([card.came_at, *(one.at for one in gone)])
    last = turn.clock.date_of(known)
    if turn.today < last:
        turn.note(
            f"The clock says {turn.today.isoformat()}, and this card was written on {last.isoformat()}: see"
            " to the clock. The recheck counts from that day."
        )
        return last
    newest = turn.unit.first(JournalEntry, newest=True)
    if newest is not None and turn.at - newest.at > LONG_SHUT:
        turn.note(
            f"The clock says {turn.today.isoformat()}; the last thing was written on"
            f" {turn.clock.date_of(newest.at).isoformat()}. If that is not so, see to the clock."
        )
    return turn.today


def whom_to_ring(reader: Reader, card: Card, bike: Bike) -> Customer | None:
    """Whose recheck it is: the bike's present owner, else who brought it."""
    owner = owner_of(reader, bike)
    return owner or (reader.get(Customer, card.customer) if card.customer else None)


def new_owner(reader: Reader, card: Card, bike: Bike) -> Customer | None:
    """The present owner where that is not who brought the bike, and nobody has asked them about it yet."""
    owner = owner_of(reader, bike)
    if owner is None or card.customer is None or owner.id == card.customer:
        return None
    since = card.came_at.date() - timedelta(days=1)  # whatever zone the shop is in
    ended = [tie.until for tie in reader.all(Ownership, bike=bike.id, role=Role.OWNER) if tie.until]
    if not any(day >= since for day in ended):
        return None
    spoken = reader.all(Call, card=card.id, outcome=CallOutcome.SPOKE)
    return None if any(call.who == owner.name and call.at >= card.came_at for call in spoken) else owner


def terms(turn: Turn, reason: str, bike: Bike) -> tuple[int, int]:
    """Days and distance (in the bike's own unit) after which a recheck for this reason is due."""
    known = load_rechecks(turn.seeds).get(reason)
    days = (known.days if known else 0) or turn.shop.recheck_days
    if known and known.distance_km:
        distance, unit = known.distance_km, DistanceUnit.KM
    else:
        distance, unit = turn.shop.recheck_distance, turn.shop.distance_unit
    if bike.odometer_unit is not unit:
        distance = round(distance * (KM_IN_A_MILE if unit is DistanceUnit.MILES else 1 / KM_IN_A_MILE))
    return days, distance


def odometer_history(turn: Turn, bike: Bike) -> list[tuple[date, int]]:
    """Every odometer figure of a bike with its date: at each coming in and each collection."""
    cards = turn.unit.all(Card, bike=bike.id)
    found = [(turn.clock.date_of(c.came_at), c.odometer) for c in cards if c.odometer is not None]
    for gone in turn.unit.all(Collection, card=tuple(c.id for c in cards)):
        if gone.odometer is not None:
            found.append((turn.clock.date_of(gone.at), gone.odometer))
    return found
