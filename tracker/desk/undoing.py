"""Undo: takes back the last deed of the person at the keyboard."""

from dataclasses import dataclass
from typing import ClassVar

from tracker.desk.turn import Turn
from tracker.errors import NotFoundError
from tracker.records.journal import JournalEntry
from tracker.store.undo import last_to_undo, undo


@dataclass(frozen=True, slots=True, kw_only=True)
class Undo:
    """Take back your last deed; again takes back the one before."""

    verb: ClassVar[str] = "undo"

    def work(self, turn: Turn) -> JournalEntry:
        """Puts everything back that the deed touched; refused in words when somebody went on from there."""
        entry = last_to_undo(turn.unit, turn.who)
        if entry is None:
            raise NotFoundError("There is nothing of yours to take back.")
        undo(turn.unit, entry)
        turn.unit.say(f"taken back: {entry.words}", entry.card)
        return entry
