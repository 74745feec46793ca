"""Who is to be rung about a recheck, day by day: what it was, how it last read, how often rung in vain."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from tracker.desk.day import DueRow, due_rows
from tracker.desk.desk import Desk
from tracker.desk.last_time import last_time
from tracker.desk.rechecks_set import WAITING, new_owner, whom_to_ring
from tracker.desk.show import card_or_bike
from tracker.electrics.charging import judge_all
from tracker.errors import NotFoundError, WrongUseError
from tracker.records.card import CallOutcome, Reading
from tracker.records.facts import CardFacts
from tracker.records.limits import Verdict
from tracker.records.people import Customer
from tracker.records.recheck import Recheck, RecheckState
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

    def look(reader: Reader) -> Sequence[CardFacts]:
        waiting = reader.all(Recheck, state=WAITING)
        cards = sorted({one.card for one in waiting if one.due_on <= until})
        return facts_of(reader, shop, cards)

    everything = desk.read(look)
    by_card = {facts.card.number: facts for facts in everything}
    found = []
    for row in due_rows(everything, until):
        facts = by_card[row.number]
        (recheck,) = [one for one in facts.rechecks if one.reason == row.reason and one.state in WAITING]
        found.append(_whole(desk, facts, recheck, row))
    wanted = tuple(one for one in found if _may_be_rung(one))
    return DueList(wanted, len(found) - len(wanted))


def _may_be_rung(one: DueRecheck) -> bool:
    if one.person is None or one.person.reminders or one.recheck.state is RecheckState.BOOKED:
        return True
    return _spoken_to(one.facts, one.person)


def _spoken_to(facts: CardFacts, person: Customer) -> bool:
    """Whether they asked for a recheck themselves: a call on the card that says so."""
    return any(
        call.outcome is CallOutcome.SPOKE and call.who == person.name and "recheck" in call.words
        for call in facts.calls
    )


def _whole(desk: Desk, facts: CardFacts, recheck: Recheck, row: DueRow) -> DueRecheck:
    from tracker.desk.charging import charging_bike

    kind = load_rechecks(desk.seeds).get(recheck.reason)
    card, bike = facts.card, facts.bike
    assert bike is not None

    def look(reader: Reader) -> tuple[Customer | None, bool]:
        return whom_to_ring(reader, card, bike), new_owner(reader, card, bike) is not None

    person, ask_owner = desk.read(look)
    charging = desk.read(lambda reader: charging_bike(reader, bike))
    return DueRecheck(
        recheck=recheck,
        facts=facts,
        kind=kind,
        person=person,
        ask_owner=ask_owner,
        tries=sum(call.outcome is CallOutcome.NO_ANSWER and call.at >= recheck.at for call in facts.calls),
        last=last_time(facts.readings, kind.reads if kind else ()),
        judged=judge_all(facts.readings, charging, load_limits(desk.seeds)),
        row=row,
    )


def to_write_to(desk: Desk, name: str) -> DueRecheck:
    """The waiting recheck of a card about which somebody may be written to.

    Raises NotFoundError where none waits, WrongUseError where the one to write to wants no reminders, or has
    the bike since and was not asked.
    """
    facts = desk.facts(desk.read(lambda reader: card_or_bike(reader, name)).id)
    waiting = sorted(
        (one for one in facts.rechecks if one.state in WAITING), key=lambda one: (one.due_on, one.id)
    )
    if not waiting or facts.bike is None:
        raise NotFoundError(f"Card {facts.card.number} has no recheck to write about.")
    (row, *_) = due_rows([facts], date.max)
    found = _whole(desk, facts, waiting[0], row)
    if found.person is None:
        raise NotFoundError(f"Nobody is known to write to about card {facts.card.number}.")
    if found.ask_owner:
        raise WrongUseError(
            f"The bike is {found.person.name}'s now, and nobody has asked them.",
            f"Ask, then loomcard recheck {facts.card.number} --asked.",
        )
    if not _may_be_rung(found):
        raise WrongUseError(f"{found.person.name} wants no reminders.", "Nothing was written.")
    return found
