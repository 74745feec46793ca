"""Agreeing: the go-ahead and its limit; setting a need aside; ending a card another way."""

from dataclasses import dataclass
from typing import Annotated, ClassVar

from tracker.card.needs import waived
from tracker.card.work import planned
from tracker.desk.ask import Ask, Minutes
from tracker.desk.on_card import in_order, numbered
from tracker.desk.turn import Turn
from tracker.desk.wanting import fit_here, want_from_estimate
from tracker.errors import WrongUseError
from tracker.records.card import Ending, EndKind, GoAhead, GoAheadFor, Need, Waiver
from tracker.records.document import Estimate
from tracker.records.facts import CardFacts
from tracker.records.money import Money
from tracker.records.problem import Mistakes, Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Agree:
    """Write down the go-ahead: who gave it, how, for what, and up to how much in all."""

    verb: ClassVar[str] = "agree"

    card: Annotated[str, Ask("Card", place=1)]
    limit: Annotated[Money | None, Ask("Up to", "an amount with tax, in all on this card")] = None
    limit_time: Annotated[Minutes | None, Ask("Up to, in time", "bench time in all on this card")] = None
    by: Annotated[str, Ask("Given by", "the payer when nobody is named")] = ""
    how: Annotated[str, Ask("How", "in person, phone, message, signed")] = "phone"
    repairs: Annotated[tuple[int, ...], Ask("For repairs", "their numbers; all when none is named")] = ()
    words: Annotated[str, Ask("Words", lines=True)] = ""

    def work(self, turn: Turn) -> GoAhead:
        """Keeps the go-ahead on the latest estimate. Without a limit it holds for what was estimated."""
        card = turn.card(self.card)
        facts = turn.facts(card)
        latest = max(facts.estimates, key=lambda e: e.revision, default=None)
        if latest is None and Need.ESTIMATE not in waived(facts):
            raise WrongUseError(
                f"Card {card.number} has no estimate to agree to.",
                "Price it first, or set the estimate aside: loomcard waive N estimate --reason WHY.",
            )
        covers = self._covers(facts, latest)
        limit_minor = self.limit.minor if self.limit else None
        if latest is None:
            if limit_minor is None and self.limit_time is None:
                raise Mistakes([Problem("limit", "Up to how much? There is no estimate to go by.")])
        elif limit_minor is None and self.limit_time is None:
            limit_minor = latest.total_minor if latest.fixed_price else latest.high_total_minor
            turn.note(
                f"No limit was named: {Money(limit_minor, latest.currency)} is kept, as estimated at most."
            )
        elif limit_minor is not None and limit_minor < latest.total_minor:
            turn.note(f"The limit is below the estimate, {Money(latest.total_minor, latest.currency)}.")
        payer = facts.payer or facts.customer
        given = turn.unit.insert(
            GoAhead(
                card=card.id,
                what=GoAheadFor.WORK,
                estimate=latest.id if latest else None,
                covers=covers,
                who=self.by or (payer.name if payer else turn.who),
                how=self.how,
                limit_minor=limit_minor,
                limit_min=self.limit_time,
                tolerance=turn.shop.tolerance,
                tolerance_percent=turn.shop.tolerance_percent,
                words=self.words,
                by=turn.who,
                at=turn.at,
            )
        )
        if latest is not None:
            want_from_estimate(turn, card, latest, covers)
            done = frozenset(repair.id for repair in planned(facts) if repair.done_at and repair.id in covers)
            for wanted in fit_here(turn, card, done):
                turn.note(f"Used: {wanted.qty:f} {wanted.unit} {wanted.words}.")
        most = f" up to {Money(limit_minor, turn.shop.currency)}" if limit_minor is not None else ""
        turn.say(f"card {card.number}: go-ahead by {given.who}{most}", card)
        return given

    def _covers(self, facts: CardFacts, latest: Estimate | None) -> tuple[int, ...]:
        """The repairs agreed to: those named, else all that are planned and in the estimate."""
        priced = [r for r in in_order(planned(facts)) if latest is None or r.id in latest.covers]
        if not self.repairs:
            return tuple(repair.id for repair in priced)
        chosen = tuple(numbered("repairs", facts.repairs, number) for number in self.repairs)
        stray = [repair for repair in chosen if repair not in priced]
        if stray:
            where = latest.number if latest else "this card's plan"
            raise Mistakes(
                [
                    Problem("repairs", f"“{r.words or r.rule}” is not in {where}.", "Price it first.")
                    for r in stray
                ]
            )
        return tuple(repair.id for repair in chosen)


@dataclass(frozen=True, slots=True, kw_only=True)
class Waive:
    """Set a need aside, with the reason."""

    verb: ClassVar[str] = "waive"

    card: Annotated[str, Ask("Card", place=1)]
    need: Annotated[Need, Ask("Need", "estimate, go-ahead, tests, payment, ...", place=2)]
    reason: Annotated[str, Ask("Reason", lines=True)]

    def work(self, turn: Turn) -> Waiver:
        """Keeps the waiver."""
        card = turn.card(self.card)
        kept = turn.unit.insert(
            Waiver(card=card.id, need=self.need, reason=self.reason, by=turn.who, at=turn.at)
        )
        turn.say(f"card {card.number}: {self.need} set aside, {self.reason[:60]}", card)
        return kept


@dataclass(frozen=True, slots=True, kw_only=True)
class EndCard:
    """End a card another way: declined, nothing found, not worth it, collected undone."""

    verb: ClassVar[str] = "end"

    card: Annotated[str, Ask("Card", place=1)]
    kind: Annotated[EndKind, Ask("How", "declined, nothing found, not worth it, ...", place=2)]
    words: Annotated[str, Ask("Words", lines=True)] = ""
    told_unsafe: Annotated[bool, Ask("Told that it is unsafe")] = False

    def work(self, turn: Turn) -> Ending:
        """Ends the card's repairs; looking can still be billed, and the bike collected."""
        card = turn.card(self.card)
        kept = turn.unit.insert(
            Ending(
                card=card.id,
                kind=self.kind,
                words=self.words,
                told_unsafe=self.told_unsafe,
                by=turn.who,
                at=turn.at,
            )
        )
        if not self.told_unsafe and self.kind is EndKind.DECLINED:
            turn.note("If it is unsafe to ride, say so to the customer and write it down (--told-unsafe).")
        turn.say(f"card {card.number}: ended, {self.kind}", card)
        return kept
