"""What is said after a deed: what was done, what the person should know, and the next thing to do."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from tracker.card.standing import Standing
from tracker.card.step import standing
from tracker.desk.desk import Desk
from tracker.records.card import Card
from tracker.records.facts import CardFacts
from tracker.records.journal import JournalEntry
from tracker.records.row import Row


@dataclass(frozen=True, slots=True)
class After:
    """A card after a deed; empty where the deed was about no card."""

    journal: str
    facts: CardFacts | None = None
    stands: Standing | None = None

    def as_json(self) -> dict[str, Any]:
        """The card's number and where it stands."""
        if self.facts is None or self.stands is None:
            return {"said": self.journal}
        return {"said": self.journal, "standing": standing_record(self.facts, self.stands)}

    def words(self, verb: str, notes: Sequence[str]) -> str:
        """The same in plain text."""
        lines = [self.journal or verb]
        lines += [f"  ! {note}" for note in notes]
        if self.stands is not None and self.facts is not None:
            lines.append(next_line(self.facts, self.stands))
        return "\n".join(lines)


def standing_record(facts: CardFacts, stands: Standing) -> dict[str, Any]:
    """Where a card stands, for JSON."""
    return {
        "card": facts.card.number,
        "step": stands.step.value,
        "over": stands.over,
        "next": None
        if stands.next is None
        else {
            "deed": stands.next.deed.value,
            "words": stands.next.words,
            "about": stands.next.about,
            "readings": stands.next.readings,
        },
        "also": [{"deed": thing.deed.value, "words": thing.words} for thing in stands.also],
        "stops": [{"kind": stop.kind.value, "words": stop.words, "on": stop.on} for stop in stands.stops],
        "since": stands.since,
        "ended": stands.ended,
        "reached": {step.value: reach.value for step, reach in stands.reached},
    }


def next_line(facts: CardFacts, stands: Standing) -> str:
    """One line: the step, the next thing, what stops it."""
    number = facts.card.number
    if stands.next is None:
        return f"{number} is over."
    stops = "; ".join(stop.words for stop in stands.stops)
    return f"{number} {stands.step.value} > next: {stands.next.words}" + (f"  [{stops}]" if stops else "")


def after_deed(desk: Desk, record: Row) -> After:
    """Where the card that a record hangs on stands now."""
    said = desk.read(lambda reader: reader.first(JournalEntry, newest=True))
    words = said.words if said else ""
    card_id = record.id if isinstance(record, Card) else getattr(record, "card", None)
    if card_id is None and said is not None:
        card_id = said.card
    if card_id is None or not desk.read(lambda reader: reader.first(Card, id=card_id)):
        return After(words)
    facts = desk.facts(card_id)
    return After(words, facts, standing(facts, desk.clock.now(), desk.today))
