"""Fixing: starting an agreed repair, recording what was really done and where, dropping one."""

from dataclasses import dataclass
from typing import Annotated, ClassVar

from tracker.card.allowed import refusals_to_start
from tracker.card.work import latest_estimate
from tracker.desk.ask import Ask, Minutes
from tracker.desk.clocking import AddTime
from tracker.desk.loom_change import note_changes
from tracker.desk.on_card import in_order, numbered, place_of
from tracker.desk.turn import Turn
from tracker.desk.wanting import fit_here, left_over, use, want_unasked
from tracker.errors import WrongUseError
from tracker.records.card import Card
from tracker.records.facts import CardFacts
from tracker.records.people import Mechanic
from tracker.records.problem import Mistakes
from tracker.records.work import Repair


@dataclass(frozen=True, slots=True, kw_only=True)
class StartRepair:
    """Start an agreed repair."""

    verb: ClassVar[str] = "start"

    card: Annotated[str, Ask("Card", place=1)]
    repair: Annotated[
        int | None, Ask("Repair", "its number; the next agreed one when none is named", least=1)
    ] = None

    def work(self, turn: Turn) -> Repair:
        """Marks the start; refused in words when nobody agreed to it."""
        card = turn.card(self.card)
        facts = turn.facts(card)
        repair = open_repair(facts, self.repair)
        refused = refusals_to_start(facts, repair.id, turn.at)
        if refused:
            raise Mistakes(refused)
        want_unasked(turn, facts, latest_estimate(facts), {repair.id})
        started = turn.unit.change(repair, started_at=repair.started_at or turn.at)
        turn.say(f"card {card.number}: started {repair.words or repair.rule}", card)
        return started


def open_repair(facts: CardFacts, number: int | None) -> Repair:
    """The numbered repair, or the first one that is neither done nor dropped."""
    if number is not None:
        return numbered("repair", facts.repairs, number)
    waiting = [r for r in in_order(facts.repairs) if r.done_at is None and not r.dropped]
    if not waiting:
        raise WrongUseError(
            f"There is no repair left to do on card {facts.card.number}.",
            "loomcard estimate N --repair RULE adds one.",
        )
    return waiting[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class FixRepair:
    """Write down what was done: on which circuit, where on which wire, with what."""

    verb: ClassVar[str] = "fix"

    card: Annotated[str, Ask("Card", place=1)]
    repair: Annotated[
        int | None, Ask("Repair", "its number; the next open one when none is named", least=1)
    ] = None
    words: Annotated[str | None, Ask("What was done", lines=True)] = None
    circuit: Annotated[str | None, Ask("Circuit")] = None
    wire_from: Annotated[str | None, Ask("Wire from", "a place on the loom")] = None
    wire_to: Annotated[str | None, Ask("Wire to", "a place on the loom")] = None
    mm: Annotated[int | None, Ask("How far", "mm", most=20_000)] = None
    mm_end: Annotated[str | None, Ask("From which end", "one of the two places")] = None
    size: Annotated[float | None, Ask("Wire size", "mm2", least=0, most=120)] = None
    colour: Annotated[str | None, Ask("Colour")] = None
    tracer: Annotated[str | None, Ask("Tracer")] = None
    colour_code: Annotated[str | None, Ask("Code set", "whose letters, if letters were read")] = None
    splice: Annotated[
        str | None, Ask("Splice", "butt connector, soldered lap, Western Union, open-barrel crimp")
    ] = None
    terminal: Annotated[str | None, Ask("Terminal")] = None
    connector_old: Annotated[str | None, Ask("Old connector")] = None
    connector_new: Annotated[str | None, Ask("New connector")] = None
    keeps_ways: Annotated[bool | None, Ask("Ways as before", "no when re-pinned")] = None
    sleeve: Annotated[str | None, Ask("Sleeve")] = None
    length_used: Annotated[int | None, Ask("Wire used", "mm", most=100_000)] = None
    pull: Annotated[float | None, Ask("Pulled to", "newtons, on a sample", least=0, most=5000)] = None
    pull_tested: Annotated[bool | None, Ask("Pull-tested", "on a sample; the fitted one only tugged")] = None
    sent_out_to: Annotated[str | None, Ask("Sent out to")] = None
    used: Annotated[
        tuple[str, ...], Ask("Parts used", "that were not on the card: RT-M6=2, or ring terminal=2@0.40 each")
    ] = ()
    minutes: Annotated[Minutes | None, Ask("Time spent", "when nobody clocked it")] = None
    done: Annotated[bool, Ask("Done", "no when it is only part done")] = True

    def work(self, turn: Turn) -> Repair:
        """Keeps what was done. A fact is never refused; one that nobody agreed to is said."""
        card = turn.card(self.card)
        facts = turn.facts(card)
        repair = open_repair(facts, self.repair)
        if refused := refusals_to_start(facts, repair.id, turn.at):
            turn.note(f"Kept as done, but not agreed: {refused[0].sentence} It cannot be billed until it is.")
        if self.mm_end and self.mm_end not in (
            self.wire_from or repair.wire_from,
            self.wire_to or repair.wire_to,
        ):
            turn.note(f"“{self.mm_end}” is neither end of the wire; kept as written.")
        want_unasked(turn, facts, latest_estimate(facts), {repair.id})
        changes = {**self._given(), "started_at": repair.started_at or turn.at}
        if self.done:
            changes |= {"done_at": repair.done_at or turn.at, "done_by": repair.done_by or turn.who}
        fixed = turn.unit.change(repair, **changes)
        number = place_of(facts.repairs, repair)
        if self.minutes:
            AddTime(card=card.number, minutes=self.minutes, repair=number).work(turn)
        for wanted in use(turn, card, repair, self.used):
            turn.note(f"Used: {wanted.qty:f} {wanted.unit} {wanted.words}.")
        if self.done:
            stop_clock(turn, card, repair)
            if facts.bike is not None and repair.done_at is None:
                note_changes(turn, card, facts.bike, fixed)
            left = [r for r in facts.repairs if r.id != repair.id and r.done_at is None and not r.dropped]
            for wanted in fit_here(turn, card, frozenset({repair.id} if left else {repair.id, None})):
                turn.note(f"Used: {wanted.qty:f} {wanted.unit} {wanted.words}.")
            left_over(turn, card, repair)
        words = fixed.words or fixed.rule.replace("-", " ")
        turn.say(f"card {card.number}: {'done' if self.done else 'part done'}, {words}", card)
        return fixed

    def _given(self) -> dict[str, object]:
        same = (
            "words", "circuit", "wire_from", "wire_to", "mm", "mm_end", "colour", "tracer", "colour_code",
            "splice", "terminal", "connector_old", "connector_new", "keeps_ways", "sleeve", "sent_out_to",
        )  # fmt: skip
        given: dict[str, object] = {name: getattr(self, name) for name in same}
        given |= {"size_mm2": self.size, "length_used_mm": self.length_used, "pull_n": self.pull}
        given["pull_tested"] = self.pull_tested if self.pull_tested is not None or self.pull is None else True
        return {name: value for name, value in given.items() if value is not None}


def stop_clock(turn: Turn, card: Card, repair: Repair) -> None:
    """Stops clocks that run on a repair that is done."""
    from tracker.records.work import TimeEntry

    for entry in turn.unit.all(TimeEntry, card=card.id, repair=repair.id, off_at=None):
        turn.unit.change(entry, off_at=max(turn.at, entry.on_at))
        name = turn.unit.get(Mechanic, entry.mechanic).name
        turn.note(f"{name}'s clock on it was stopped.")


@dataclass(frozen=True, slots=True, kw_only=True)
class DropRepair:
    """Drop a repair that will not be done, with the reason; or take it up again with an empty one."""

    verb: ClassVar[str] = "drop"

    card: Annotated[str, Ask("Card", place=1)]
    repair: Annotated[int, Ask("Repair", "its number on the card", least=1, place=2)]
    reason: Annotated[str, Ask("Reason", lines=True)] = ""

    def work(self, turn: Turn) -> Repair:
        """Marks it dropped; nothing of what was written on it goes."""
        card = turn.card(self.card)
        repair = numbered("repair", turn.facts(card).repairs, self.repair)
        dropped = turn.unit.change(repair, dropped=self.reason)
        verb = "dropped" if self.reason else "taken up again"
        turn.say(f"card {card.number}: {repair.words or repair.rule} {verb}", card)
        return dropped
