"""Rechecks: proposed after a repair, moved, nobody there, booked, done with what it came to, not wanted."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Annotated, Any, ClassVar

from tracker.desk.ask import Ask
from tracker.desk.charging import charging_bike
from tracker.desk.last_time import compared, compared_words, last_time, repeat_words
from tracker.desk.rechecks_set import (
    WAITING,
    new_owner,
    odometer_history,
    propose_rechecks,
    set_recheck,
    terms,
    waiting_for,
    whom_to_ring,
)
from tracker.desk.turn import Turn
from tracker.electrics.charging import verdict
from tracker.errors import WrongUseError
from tracker.records.bike import Bike
from tracker.records.card import Call, CallOutcome, Card, Reading
from tracker.records.facts import CardFacts
from tracker.records.problem import Mistakes, Problem
from tracker.records.recheck import Recheck, RecheckState
from tracker.seedfiles.charging import load_charging
from tracker.seedfiles.limits import load_limits
from tracker.seedfiles.readings import load_readings
from tracker.seedfiles.rechecks import load_rechecks

__all__ = ["DoRecheck", "odometer_history", "propose_rechecks", "set_recheck", "terms"]

TRY_AGAIN = timedelta(days=3)
"""When somebody who was not there is rung again, unless another day is named (ours)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DoRecheck:
    """A recheck: set one, move it, nobody there, book it in, mark it done with its outcome, or not wanted."""

    verb: ClassVar[str] = "recheck"

    card: Annotated[str, Ask("Card", "the card it came from", place=1)]
    reason: Annotated[str, Ask("For", "charging, ...; the only one when none is named")] = ""
    done: Annotated[bool, Ask("Done")] = False
    outcome: Annotated[str, Ask("Outcome", lines=True)] = ""
    to: Annotated[date | None, Ask("Moved to", "2026-12-03, +14, fri")] = None
    no_answer: Annotated[bool, Ask("No answer", "rung again in 3 days, or on the day moved to")] = False
    not_wanted: Annotated[bool, Ask("Not wanted")] = False
    book: Annotated[bool, Ask("Book it in", "opens a card with what to read again")] = False
    booked: Annotated[str, Ask("Booked in as", "the new card's number")] = ""
    asked: Annotated[bool, Ask("Asked", "the customer, or a new owner, was asked and wants it")] = False
    odometer: Annotated[int | None, Ask("Odometer now", most=2_000_000)] = None

    def problems(self, turn: Turn) -> list[Problem | None]:
        """Days that cannot be meant."""
        if self.to is not None and self.to < turn.today:
            return [Problem("to", "That day is past.", "Today or later.", self.to.isoformat())]
        return []

    def work(self, turn: Turn) -> Recheck:
        """Changes the open recheck of the card, or sets one where there is none."""
        card = turn.card(self.card)
        facts = turn.facts(card)
        if found := [problem for problem in self.problems(turn) if problem]:
            raise Mistakes(found)
        ways = (
            self.done,
            self.to is not None or self.no_answer,
            self.not_wanted,
            self.book or bool(self.booked),
        )
        if sum(ways) > 1 and not (self.book and self.to is not None and sum(ways) == 2):
            raise WrongUseError("Done, moved, booked or not wanted: only one of them.")
        recheck = self._meant(facts)
        if recheck is None:
            return self._set(turn, card, facts)
        assert facts.bike is not None
        if self.asked:
            self._spoken(turn, card, facts.bike, recheck)
        changed = self._changed(turn, card, facts, recheck)
        owner = new_owner(turn.unit, card, facts.bike)
        if owner is not None and changed.state in WAITING:
            turn.note(
                f"This bike is {owner.name}'s now: ask whether they want it ({owner.phone or 'no phone'});"
                f" then loomcard recheck {card.number} --asked."
            )
        turn.say(
            f"card {card.number}: recheck {recheck.reason}, {changed.state} ({changed.due_on.isoformat()})",
            card,
        )
        return changed

    def _meant(self, facts: CardFacts) -> Recheck | None:
        """The recheck that is meant: the open one, else one not wanted that somebody comes for after all."""
        named = [one for one in facts.rechecks if not self.reason or one.reason == self.reason]
        waiting = [one for one in named if one.state in WAITING]
        if len(waiting) > 1:
            raise WrongUseError(f"Which recheck? --reason {' or '.join(one.reason for one in waiting)}.")
        if waiting:
            return waiting[0]
        if self.done or self.book or self.booked or self.to is not None:
            unwanted = [one for one in named if one.state is RecheckState.NOT_WANTED]
            return max(unwanted, key=lambda one: one.id, default=None)
        return None

    def _changed(self, turn: Turn, card: Card, facts: CardFacts, recheck: Recheck) -> Recheck:
        if recheck.state not in WAITING and not self.done:
            other = waiting_for(turn.unit, recheck.bike, recheck.reason)
            if other is not None:
                raise WrongUseError(
                    f"There is an open recheck for that on {other.due_on.isoformat()} already."
                )
        if self.done:
            return turn.unit.change(
                recheck, state=RecheckState.DONE, outcome=self._outcome(turn, facts, recheck)
            )
        if self.not_wanted:
            return turn.unit.change(recheck, state=RecheckState.NOT_WANTED, outcome=self.outcome)
        if self.book or self.booked:
            booked = turn.card(self.booked) if self.booked else self._book(turn, card, facts, recheck)
            moved: dict[str, Any] = {"due_on": self.to} if self.to is not None else {}
            return turn.unit.change(
                recheck, state=RecheckState.BOOKED, booked_card=booked.id, outcome="", **moved
            )
        if self.no_answer:
            self._call(turn, card, facts, recheck)
        if self.to is not None or self.no_answer:
            day = self.to or turn.today + TRY_AGAIN
            return turn.unit.change(recheck, due_on=day, state=RecheckState.OPEN, outcome="")
        if self.asked:
            return recheck
        raise WrongUseError(
            f"There is an open recheck ({recheck.reason}) on {recheck.due_on.isoformat()}.",
            "Say --done, --to DATE, --no-answer, --book, --booked N or --not-wanted.",
        )

    def _set(self, turn: Turn, card: Card, facts: CardFacts) -> Recheck:
        if self.done or self.not_wanted or self.booked or self.book or self.no_answer:
            raise WrongUseError(f"Card {card.number} has no open recheck.")
        if facts.bike is None:
            raise WrongUseError("A recheck needs a bike, and this card has none.")
        reason = self.reason or "charging"
        made = set_recheck(turn, card, facts.bike, reason, self.odometer, asked=self.asked)
        if made is None:
            raise WrongUseError("There is an open recheck for that already.", "Move it, or mark it done.")
        if self.asked:
            self._spoken(turn, card, facts.bike, made)
        if self.to is not None and made.state is RecheckState.OPEN:
            made = turn.unit.change(made, due_on=self.to)
        said = "set for" if made.state is RecheckState.OPEN else "not wanted, would have been"
        turn.say(f"card {card.number}: recheck {made.reason} {said} {made.due_on.isoformat()}", card)
        return made

    def _call(self, turn: Turn, card: Card, facts: CardFacts, recheck: Recheck) -> None:
        assert facts.bike is not None
        person = whom_to_ring(turn.unit, card, facts.bike)
        turn.unit.insert(
            Call(
                card=card.id,
                who=person.name if person else "",
                outcome=CallOutcome.NO_ANSWER,
                words=self.outcome or f"recheck ({recheck.reason})",
                by=turn.who,
                at=turn.at,
            )
        )

    def _spoken(self, turn: Turn, card: Card, bike: Bike, recheck: Recheck) -> None:
        person = whom_to_ring(turn.unit, card, bike)
        turn.unit.insert(
            Call(
                card=card.id,
                who=person.name if person else "",
                outcome=CallOutcome.SPOKE,
                words=f"wants the recheck ({recheck.reason})",
                by=turn.who,
                at=turn.at,
            )
        )

    def _book(self, turn: Turn, card: Card, facts: CardFacts, recheck: Recheck) -> Card:
        """A card for the recheck, with what to read again and how it was read last time."""
        assert facts.bike is not None
        kind = load_rechecks(turn.seeds).get(recheck.reason)
        readings = last_time(facts.readings, kind.reads if kind else ())
        lines = repeat_words(readings, load_readings(turn.seeds))
        person = whom_to_ring(turn.unit, card, facts.bike)
        number, _, _ = turn.next_number("card")
        made = turn.unit.insert(
            Card(
                number=number,
                kind=card.kind,
                bike=facts.bike.id,
                customer=person.id if person else None,
                complaint=f"Recheck ({recheck.reason}) of card {card.number}",
                came_at=turn.at,
                odometer=self.odometer,
                promised_on=self.to,
                comes_on=self.to if self.to is not None and self.to > turn.today else None,
                notes="\n".join(["Read again, in the same way:", *lines]) if lines else "",
            )
        )
        for line in lines:
            turn.note(f"To repeat: {line}.")
        turn.note(f"Card {number} is open for it.")
        return made

    def _outcome(self, turn: Turn, facts: CardFacts, recheck: Recheck) -> str:
        """What it came to: as it was said, else as the readings of its own card compare with last time's."""
        kind = load_rechecks(turn.seeds).get(recheck.reason)
        kinds = kind.reads if kind else ()
        now, then = _both(turn, facts, recheck)
        lines = compared_words(compared(now, then, kinds), load_readings(turn.seeds))
        worked_out = ". ".join(lines)
        table = load_charging(turn.seeds)
        if {one.kind for one in now} & {step.kind for step in table.steps}:
            said = verdict(now, charging_bike(turn.unit, facts.bike), table, load_limits(turn.seeds))
            worked_out = f"{worked_out}. Verdict: {said.word} (confidence {said.confidence})"
        if lines:
            turn.note(f"{worked_out}.")
        elif not self.outcome:
            turn.note("Nothing was read and nothing said of how it went: --outcome TEXT.")
        return self.outcome or (worked_out if lines else "")


def _both(turn: Turn, facts: CardFacts, recheck: Recheck) -> tuple[list[Reading], list[Reading]]:
    """This time's readings and last time's: of the card it was booked as, else those since it was set."""
    if recheck.booked_card is not None and recheck.booked_card != recheck.card:
        return list(turn.unit.all(Reading, card=recheck.booked_card)), list(facts.readings)
    now = [one for one in facts.readings if one.at > recheck.at]
    return now, [one for one in facts.readings if one.at <= recheck.at]
