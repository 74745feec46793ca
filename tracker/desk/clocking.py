"""Time: on the clock, off the clock, and time written in afterwards."""

from dataclasses import dataclass
from datetime import timedelta
from typing import Annotated, ClassVar

from tracker.card.allowed import refusals_to_start
from tracker.card.left_words import left_words
from tracker.desk.ask import Ask, Minutes
from tracker.desk.on_card import in_order, numbered
from tracker.desk.turn import Turn, one_card
from tracker.errors import WrongUseError
from tracker.records.facts import CardFacts
from tracker.records.people import Mechanic
from tracker.records.problem import Mistakes
from tracker.records.work import Repair, TimeEntry, TimeKind


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockOn:
    """Go on the clock on a card; it proposes the next agreed repair, or looking."""

    verb: ClassVar[str] = "clock on"

    card: Annotated[str, Ask("Card", place=1)]
    repair: Annotated[int | None, Ask("Repair", "its number on the card", least=1)] = None
    kind: Annotated[TimeKind | None, Ask("Spent on", "looking, repair, travel or other")] = None
    words: Annotated[str, Ask("Words")] = ""

    def work(self, turn: Turn) -> TimeEntry:
        """Starts the clock; one that is running for this mechanic is stopped first, and that is said."""
        card = turn.card(self.card)
        facts = turn.facts(card)
        mechanic = turn.mechanic()
        repair, kind = what_is_next(facts, self.repair, self.kind)
        running = turn.unit.first(TimeEntry, mechanic=mechanic.id, off_at=None)
        if running is not None:
            turn.unit.change(running, off_at=turn.at)
            turn.note("Your other clock was stopped.")
        entry = turn.unit.insert(
            TimeEntry(
                card=card.id,
                repair=repair.id if repair else None,
                mechanic=mechanic.id,
                kind=kind,
                on_at=turn.at,
                words=self.words,
            )
        )
        if left := left_words(turn.facts(card), turn.at):
            turn.note(left)
        turn.say(f"card {card.number}: {mechanic.name} on the clock, {kind}", card)
        return entry


def what_is_next(
    facts: CardFacts, number: int | None, kind: TimeKind | None
) -> tuple[Repair | None, TimeKind]:
    """The repair and kind to clock on to: as named, else the first that may be started and is not done."""
    if number is not None:
        return numbered("repair", facts.repairs, number), TimeKind.REPAIR
    if kind is not None and kind is not TimeKind.REPAIR:
        return None, kind
    open_repairs = [r for r in in_order(facts.repairs) if r.done_at is None and not r.dropped]
    ready = [r for r in open_repairs if not refusals_to_start(facts, r.id)]
    started = [r for r in ready if r.started_at is not None]
    if started or ready:
        return (started or ready)[0], TimeKind.REPAIR
    if kind is TimeKind.REPAIR:
        raise (
            Mistakes(refusals_to_start(facts, open_repairs[0].id))
            if open_repairs
            else WrongUseError(
                "There is no repair to clock on to.", "Clock on for looking, or price a repair first."
            )
        )
    return None, TimeKind.LOOKING


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockOff:
    """Go off the clock."""

    verb: ClassVar[str] = "clock off"

    words: Annotated[str, Ask("Words")] = ""

    def work(self, turn: Turn) -> TimeEntry:
        """Stops the running clock of the mechanic at the keyboard."""
        mechanic = turn.mechanic()
        running = turn.unit.first(TimeEntry, mechanic=mechanic.id, off_at=None)
        if running is None:
            raise WrongUseError(f"{mechanic.name} is not on the clock.", "loomcard clock on N starts it.")
        off_at = max(turn.at, running.on_at)
        stopped = turn.unit.change(running, off_at=off_at, words=self.words or running.words)
        if off_at - running.on_at > timedelta(hours=12):
            hours = (off_at - running.on_at).total_seconds() / 3600
            turn.note(f"That clock ran {hours:.1f} h. Is that right? loomcard clock fix changes it.")
        turn.unit.card = running.card
        if left := left_words(one_card(turn.unit, turn.shop, running.card), turn.at):
            turn.note(left)
        turn.say(f"{mechanic.name} off the clock")
        return stopped


@dataclass(frozen=True, slots=True, kw_only=True)
class AddTime:
    """Write in time spent, for when nobody clocked."""

    verb: ClassVar[str] = "clock add"

    card: Annotated[str, Ask("Card", place=1)]
    minutes: Annotated[Minutes, Ask("Time", "40, 1.5 h, 1:30", place=2)]
    repair: Annotated[int | None, Ask("Repair", "its number on the card", least=1)] = None
    kind: Annotated[TimeKind | None, Ask("Spent on", "looking, repair, travel or other")] = None
    mechanic: Annotated[str, Ask("Mechanic", "when it was another")] = ""
    words: Annotated[str, Ask("Words")] = ""

    def work(self, turn: Turn) -> TimeEntry:
        """Keeps the time as ended now. Time spent is a fact: it is taken whatever was agreed."""
        card = turn.card(self.card)
        facts = turn.facts(card)
        if self.repair is not None:
            repair: Repair | None = numbered("repair", facts.repairs, self.repair)
            kind = TimeKind.REPAIR
        else:
            repair, kind = None, self.kind or TimeKind.LOOKING
            if kind is TimeKind.REPAIR:
                repair, kind = what_is_next(facts, None, kind)
        mechanic = turn.mechanic()
        if self.mechanic:
            other = turn.unit.first(Mechanic, name=self.mechanic)
            if other is None:
                raise WrongUseError(f"There is no mechanic called “{self.mechanic}”.")
            mechanic = other
        entry = turn.unit.insert(
            TimeEntry(
                card=card.id,
                repair=repair.id if repair else None,
                mechanic=mechanic.id,
                kind=kind,
                on_at=turn.at - timedelta(minutes=self.minutes),
                off_at=turn.at,
                typed=True,
                words=self.words,
            )
        )
        turn.say(f"card {card.number}: {self.minutes} min {kind}", card)
        return entry


@dataclass(frozen=True, slots=True, kw_only=True)
class FixTime:
    """Correct the length of a time entry, for instance of a clock left running overnight."""

    verb: ClassVar[str] = "clock fix"

    card: Annotated[str, Ask("Card", place=1)]
    entry: Annotated[int, Ask("Entry", "its number on the card", least=1, place=2)]
    minutes: Annotated[Minutes, Ask("Time", "40, 1.5 h, 1:30", place=3)]

    def work(self, turn: Turn) -> TimeEntry:
        """Sets the end so that the entry has this length; it then counts as typed."""
        card = turn.card(self.card)
        entry = numbered("entry", turn.facts(card).times, self.entry)
        changed = turn.unit.change(entry, off_at=entry.on_at + timedelta(minutes=self.minutes), typed=True)
        turn.say(f"card {card.number}: time entry {self.entry} is {self.minutes} min", card)
        return changed
