"""Collecting: the bike leaves, its recheck is set."""

from dataclasses import dataclass
from typing import Annotated, ClassVar

from tracker.card.allowed import refusals_to_collect
from tracker.card.loose_ends import left_when_handed_over
from tracker.desk.ask import Ask
from tracker.desk.recheck import propose_rechecks
from tracker.desk.turn import Turn
from tracker.errors import WrongUseError
from tracker.records.card import Collection
from tracker.records.problem import Mistakes


@dataclass(frozen=True, slots=True, kw_only=True)
class Collect:
    """Hand the bike over."""

    verb: ClassVar[str] = "collect"

    card: Annotated[str, Ask("Card", place=1)]
    to: Annotated[str, Ask("To whom", "the customer when nobody is named")] = ""
    odometer: Annotated[int | None, Ask("Odometer", most=2_000_000)] = None
    override: Annotated[str, Ask("Unpaid, by whose word", "or not billed yet")] = ""

    def work(self, turn: Turn) -> Collection:
        """Refused while money is owed, unless it is an account or somebody's word is given; sets rechecks."""
        card = turn.card(self.card)
        facts = turn.facts(card)
        if facts.collections:
            raise WrongUseError(f"Card {card.number} was collected already.")
        refused = refusals_to_collect(facts, self.override)
        if refused:
            raise Mistakes(refused)
        if facts.bike is not None:
            turn.note("Before it goes: no interlock left bridged, and the person knows what was not mended.")
        for sentence in left_when_handed_over(facts):
            turn.note(sentence)
        collection = turn.unit.insert(
            Collection(
                card=card.id,
                to_whom=self.to or (facts.customer.name if facts.customer else ""),
                odometer=self.odometer,
                override=self.override,
                by=turn.who,
                at=turn.at,
            )
        )
        if not facts.endings and not any(repair.done_at for repair in facts.repairs):
            turn.note("Nothing was mended: say how it ended, loomcard end N collected undone.")
        for recheck in propose_rechecks(turn, facts, self.odometer):
            at = f" or at {recheck.due_odometer:,}" if recheck.due_odometer else ""
            turn.note(f"Recheck ({recheck.reason}) is due on {recheck.due_on.isoformat()}{at}.")
        turn.say(f"card {card.number}: collected by {collection.to_whom or 'the customer'}", card)
        return collection
