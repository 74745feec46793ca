"""Rechecks that are due in one line each: whom to ring about what; who wants no reminders is left out."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from tracker.desk.rechecks_set import WAITING, new_owner, whom_to_ring
from tracker.records.card import CallOutcome
from tracker.records.facts import CardFacts
from tracker.records.people import Customer
from tracker.records.recheck import Recheck, RecheckState
from tracker.store.reader import Reader


@dataclass(frozen=True, slots=True)
class DueRow:
    """A recheck that is due: whom to ring about what. `who` is the bike's present owner.

    `ask_owner` is true where the bike changed hands and nobody has asked its new owner; `reminders` is what
    they want of reminders in general.
    """

    number: str
    reason: str
    due_on: date
    due_odometer: int | None
    bike: str
    who: str
    phone: str
    reminders: bool
    ask_owner: bool = False


@dataclass(frozen=True, slots=True)
class Due:
    """A recheck that is due, the facts of the card it came from, and who is rung about it."""

    recheck: Recheck
    facts: CardFacts
    person: Customer | None
    ask_owner: bool

    @property
    def may_be_rung(self) -> bool:
        """Whether they want reminders, or asked for this one, or are coming anyway."""
        person = self.person
        if person is None or person.reminders or self.recheck.state is RecheckState.BOOKED:
            return True
        return any(
            call.outcome is CallOutcome.SPOKE and call.who == person.name and "recheck" in call.words
            for call in self.facts.calls
        )

    @property
    def row(self) -> DueRow:
        """The same in a line."""
        recheck, person = self.recheck, self.person
        return DueRow(
            number=self.facts.card.number,
            reason=recheck.reason,
            due_on=recheck.due_on,
            due_odometer=recheck.due_odometer,
            bike=what_came(self.facts),
            who=person.name if person else "",
            phone=person.phone if person else "",
            reminders=person.reminders if person else True,
            ask_owner=self.ask_owner,
        )


def due_of(reader: Reader, everything: Sequence[CardFacts], until: date) -> tuple[Due, ...]:
    """Rechecks of these cards due on or before a day, the longest due first; those that nobody wants too."""
    found = [
        (recheck, facts)
        for facts in everything
        for recheck in facts.rechecks
        if recheck.state in WAITING and recheck.due_on <= until
    ]
    found.sort(key=lambda pair: (pair[0].due_on, pair[1].card.number, pair[0].id))
    return tuple(_due(reader, recheck, facts) for recheck, facts in found)


def _due(reader: Reader, recheck: Recheck, facts: CardFacts) -> Due:
    if facts.bike is None:
        return Due(recheck, facts, facts.customer, ask_owner=False)
    person = whom_to_ring(reader, facts.card, facts.bike)
    return Due(recheck, facts, person, new_owner(reader, facts.card, facts.bike) is not None)


def what_came(facts: CardFacts) -> str:
    """The bike, or the unit that was sent in."""
    if facts.bike is None:
        return facts.card.unit
    return f"{facts.bike.name} {facts.bike.registration}".strip()
