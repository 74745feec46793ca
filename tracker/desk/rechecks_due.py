"""Who is to be rung about a recheck, day by day: what it was, how it last read, how often rung in vain."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from tracker.desk.desk import Desk
from tracker.desk.due_rows import Due, DueRow, due_of
from tracker.desk.last_time import last_time
from tracker.desk.named import card_meant
from tracker.desk.rechecks_set import WAITING
from tracker.electrics.charging import judge_all
from tracker.errors import NotFoundError, WrongUseError
from tracker.records.card import CallOutcome, Reading
from tracker.records.facts import CardFacts
from tracker.records.limits import Verdict
from tracker.records.people import Customer
from tracker.records.recheck import Recheck
from tracker.records.repair_rule import RecheckKind
from tracker.seedfiles.limits import load_limits
from tracker.seedfiles.rechecks import load_rechecks
from tracker.store.facts import facts_of
from tracker.store.reader import Reader


@dataclass(frozen=True, slots=True)
class DueRecheck:
    """A recheck with all that is wanted when ringing. `person` is who is rung: the bike's present owner.

    `ask_owner` is true where the bike changed hands and nobody has asked its new owner. `tries` are the calls
    since it was set at which nobody answered.
    """

    recheck: Recheck
    facts: CardFacts
    kind: RecheckKind | None
    person: Customer | None
    ask_owner: bool
    tries: int
    last: tuple[Reading, ...]
    judged: Mapping[int, Verdict]
    row: DueRow


@dataclass(frozen=True, slots=True)
class DueList:
    """The rechecks due, the longest due first, and how many are left out for who wants no reminders."""

    rechecks: tuple[DueRecheck, ...]
    left_out: int


def due_list(desk: Desk, until: date) -> DueList:
    """Rechecks due on or before a day. Who wants no reminders is left out, unless they asked for it."""
    shop = desk.shop

    def look(reader: Reader) -> tuple[Due, ...]:
        waiting = reader.all(Recheck, state=WAITING)
        cards = sorted({one.card for one in waiting if one.due_on <= until})
        return due_of(reader, facts_of(reader, shop, cards), until)

    found = desk.read(look)
    wanted = tuple(_whole(desk, one) for one in found if one.may_be_rung)
    return DueList(wanted, len(found) - len(wanted))


def _whole(desk: Desk, one: Due) -> DueRecheck:
    from tracker.desk.charging import charging_bike

    kind = load_rechecks(desk.seeds).get(one.recheck.reason)
    facts = one.facts
    charging = desk.read(lambda reader: charging_bike(reader, facts.bike))
    return DueRecheck(
        recheck=one.recheck,
        facts=facts,
        kind=kind,
        person=one.person,
        ask_owner=one.ask_owner,
        tries=sum(
            call.outcome is CallOutcome.NO_ANSWER and call.at >= one.recheck.at for call in facts.calls
        ),
        last=last_time(facts.readings, kind.reads if kind else ()),
        judged=judge_all(facts.readings, charging, load_limits(desk.seeds)),
        row=one.row,
    )


def to_write_to(desk: Desk, name: str) -> DueRecheck:
    """The waiting recheck of a card about which somebody may be written to.

    Raises NotFoundError where none waits, WrongUseError where the one to write to wants no reminders, or has
    the bike since and was not asked.
    """
    shop = desk.shop
    facts = desk.facts(desk.read(lambda reader: card_meant(reader, shop, name)).id)
    waiting = desk.read(lambda reader: due_of(reader, [facts], date.max))
    if not waiting or facts.bike is None:
        raise NotFoundError(f"Card {facts.card.number} has no recheck to write about.")
    first = waiting[0]
    if first.person is None:
        raise NotFoundError(f"Nobody is known to write to about card {facts.card.number}.")
    if first.ask_owner:
        raise WrongUseError(
            f"The bike is {first.person.name}'s now, and nobody has asked them.",
            f"Ask, then loomcard recheck {facts.card.number} --asked.",
        )
    if not first.may_be_rung:
        raise WrongUseError(f"{first.person.name} wants no reminders.", "Nothing was written.")
    return _whole(desk, first)


def may_be_written_about(desk: Desk, name: str) -> bool:
    """Whether a card has a recheck that `to_write_to` would write about."""
    try:
        to_write_to(desk, name)
    except (NotFoundError, WrongUseError):
        return False
    return True
