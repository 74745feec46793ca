"""Rechecks: proposed after a repair, done, moved, not wanted; who is due."""

from dataclasses import dataclass
from datetime import date
from typing import Annotated, ClassVar

from tracker.card.recheck_due import propose
from tracker.desk.ask import Ask
from tracker.desk.turn import Turn
from tracker.errors import WrongUseError
from tracker.records.bike import Bike, DistanceUnit
from tracker.records.card import Card, Collection
from tracker.records.facts import CardFacts
from tracker.records.recheck import Recheck, RecheckState
from tracker.seedfiles.rechecks import load_rechecks
from tracker.seedfiles.repairs import load_rules

KM_IN_A_MILE = 1.609344
"""International mile (1959 agreement), in km."""


def propose_rechecks(turn: Turn, facts: CardFacts, odometer: int | None = None) -> tuple[Recheck, ...]:
    """One recheck for each reason that the card's done repairs give, unless one is open already."""
    if facts.bike is None:
        return ()
    rules = load_rules(turn.seeds)
    reasons: list[str] = []
    for repair in facts.repairs:
        if repair.done_at is None or repair.dropped:
            continue
        rule = rules.get(repair.rule)
        if rule is not None and rule.recheck and rule.recheck not in reasons:
            reasons.append(rule.recheck)
    return tuple(
        made
        for reason in reasons
        if (made := set_recheck(turn, facts.card, facts.bike, reason, odometer)) is not None
    )


def set_recheck(
    turn: Turn, card: Card, bike: Bike, reason: str, odometer: int | None = None
) -> Recheck | None:
    """Sets a recheck from today on; None where one is open for that reason."""
    waiting = turn.unit.all(
        Recheck, bike=bike.id, reason=reason, state=(RecheckState.OPEN, RecheckState.BOOKED)
    )
    if waiting:
        turn.note(f"There is an open recheck ({reason}) on {waiting[0].due_on.isoformat()} already.")
        return None
    days, distance = terms(turn, reason, bike)
    history = odometer_history(turn, bike)
    if odometer is not None:
        history.append((turn.today, odometer))
    proposal = propose(turn.today, days, distance, history)
    return turn.unit.insert(
        Recheck(
            card=card.id,
            bike=bike.id,
            reason=reason,
            anchor_on=turn.today,
            days=days,
            distance=distance,
            due_on=proposal.due_on,
            due_odometer=proposal.due_odometer,
            by=turn.who,
            at=turn.at,
        )
    )


def terms(turn: Turn, reason: str, bike: Bike) -> tuple[int, int]:
    """Days and distance (in the bike's own unit) after which a recheck for this reason is due."""
    known = load_rechecks(turn.seeds).get(reason)
    days = (known.days if known else 0) or turn.shop.recheck_days
    if known and known.distance_km:
        distance, unit = known.distance_km, DistanceUnit.KM
    else:
        distance, unit = turn.shop.recheck_distance, turn.shop.distance_unit
    if bike.odometer_unit is not unit:
        distance = round(distance * (KM_IN_A_MILE if unit is DistanceUnit.MILES else 1 / KM_IN_A_MILE))
    return days, distance


def odometer_history(turn: Turn, bike: Bike) -> list[tuple[date, int]]:
    """Every odometer figure of a bike with its date: at each coming in and each collection."""
    cards = turn.unit.all(Card, bike=bike.id)
    found = [(turn.clock.date_of(c.came_at), c.odometer) for c in cards if c.odometer is not None]
    for gone in turn.unit.all(Collection, card=tuple(c.id for c in cards)):
        if gone.odometer is not None:
            found.append((turn.clock.date_of(gone.at), gone.odometer))
    return found


@dataclass(frozen=True, slots=True, kw_only=True)
class DoRecheck:
    """A recheck: set one, move it, mark it done with its outcome, or not wanted."""

    verb: ClassVar[str] = "recheck"

    card: Annotated[str, Ask("Card", "the card it came from", place=1)]
    reason: Annotated[str, Ask("For", "charging, ...; the only one when none is named")] = ""
    done: Annotated[bool, Ask("Done")] = False
    outcome: Annotated[str, Ask("Outcome", lines=True)] = ""
    to: Annotated[date | None, Ask("Moved to", "2026-12-03, +14, fri")] = None
    not_wanted: Annotated[bool, Ask("Not wanted")] = False
    booked: Annotated[str, Ask("Booked in as", "the new card's number")] = ""
    odometer: Annotated[int | None, Ask("Odometer now", most=2_000_000)] = None

    def work(self, turn: Turn) -> Recheck:
        """Changes the open recheck of the card, or sets one where there is none."""
        card = turn.card(self.card)
        facts = turn.facts(card)
        chosen = [bool(self.done), self.to is not None, self.not_wanted, bool(self.booked)]
        if sum(chosen) > 1:
            raise WrongUseError("Done, moved, booked or not wanted: only one of them.")
        waiting = [
            r
            for r in facts.rechecks
            if r.state in {RecheckState.OPEN, RecheckState.BOOKED}
            and (not self.reason or r.reason == self.reason)
        ]
        if not waiting:
            return self._set(turn, card, facts)
        if len(waiting) > 1:
            raise WrongUseError(f"Which recheck? --reason {' or '.join(r.reason for r in waiting)}.")
        recheck = waiting[0]
        if self.done:
            changed = turn.unit.change(recheck, state=RecheckState.DONE, outcome=self.outcome)
        elif self.not_wanted:
            changed = turn.unit.change(recheck, state=RecheckState.NOT_WANTED, outcome=self.outcome)
        elif self.to is not None:
            changed = turn.unit.change(recheck, due_on=self.to, state=RecheckState.OPEN)
        elif self.booked:
            booked = turn.card(self.booked)
            changed = turn.unit.change(recheck, state=RecheckState.BOOKED, booked_card=booked.id)
        else:
            raise WrongUseError(
                f"There is an open recheck ({recheck.reason}) on {recheck.due_on.isoformat()}.",
                "Say --done, --to DATE, --booked N or --not-wanted.",
            )
        turn.say(
            f"card {card.number}: recheck {recheck.reason}, {changed.state} ({changed.due_on.isoformat()})",
            card,
        )
        return changed

    def _set(self, turn: Turn, card: Card, facts: CardFacts) -> Recheck:
        if self.done or self.not_wanted or self.booked:
            raise WrongUseError(f"Card {card.number} has no open recheck.")
        if facts.bike is None:
            raise WrongUseError("A recheck needs a bike, and this card has none.")
        made = set_recheck(turn, card, facts.bike, self.reason or "charging", self.odometer)
        if made is None:
            raise WrongUseError("There is an open recheck for that already.", "Move it, or mark it done.")
        if self.to is not None:
            made = turn.unit.change(made, due_on=self.to)
        turn.say(f"card {card.number}: recheck {made.reason} set for {made.due_on.isoformat()}", card)
        return made
