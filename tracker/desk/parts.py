"""Parts on a card: wanted, ordered, arrived, fitted, wrong."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, ClassVar

from tracker.desk.ask import Ask
from tracker.desk.on_card import numbered, only_or_numbered
from tracker.desk.stock import move
from tracker.desk.turn import Turn
from tracker.desk.wanting import fit, want
from tracker.errors import WrongUseError
from tracker.records.card import Card
from tracker.records.problem import Mistakes, Problem
from tracker.records.stock import MoveKind, Part, PartWanted, WantedState


@dataclass(frozen=True, slots=True, kw_only=True)
class WantPart:
    """Put a part on a card: from the list, in words, or the customer's own."""

    verb: ClassVar[str] = "part want"

    card: Annotated[str, Ask("Card", place=1)]
    part: Annotated[str, Ask("Part", "a code, or words for one that is not in the list", place=2)]
    qty: Annotated[Decimal, Ask("How many", least=0, most=10_000, some=True)] = Decimal(1)
    unit_price: Annotated[Decimal | None, Ask("Price each", "without tax", least=0, most=1_000_000)] = None
    customers_own: Annotated[bool, Ask("Customer's own")] = False
    exchange: Annotated[bool, Ask("Exchange", "the old one goes back")] = False
    repair: Annotated[int | None, Ask("Repair", "its number on the card", least=1)] = None
    supplier: Annotated[str, Ask("Supplier")] = ""

    def work(self, turn: Turn) -> PartWanted:
        """Keeps the want; a part that is on the shelf is here at once."""
        card = turn.card(self.card)
        repair = None if self.repair is None else numbered("repair", turn.facts(card).repairs, self.repair)
        wanted = want(
            turn,
            card,
            self.part,
            qty=self.qty,
            unit_price=self.unit_price,
            repair=repair,
            customers_own=self.customers_own,
            exchange=self.exchange,
            supplier=self.supplier,
        )
        turn.say(f"card {card.number}: wants {self.qty:f} {wanted.words}", card)
        return wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class OneOnCard:
    """One wanted part of a card: by its number there, or the only one that it can be."""

    card: Annotated[str, Ask("Card", place=1)]
    part: Annotated[int | None, Ask("Part", "its number on the card", least=1, place=2)] = None

    def meant(self, turn: Turn, states: set[WantedState]) -> tuple[PartWanted, Card]:
        """The part that is meant; raises in words where it is in none of `states`, or unclear."""
        card = turn.card(self.card)
        wanted = turn.facts(card).wanted
        if self.part is not None:
            one = numbered("part", wanted, self.part)
            if one.state not in states:
                raise WrongUseError(f"“{one.words}” is {one.state} already.")
            return one, card
        return only_or_numbered("part", [w for w in wanted if w.state in states], None), card

    def meant_all(
        self, turn: Turn, states: set[WantedState], others: set[WantedState] | None
    ) -> tuple[list[PartWanted], Card]:
        """The part that is meant, and behind it all of the card in `others`, where that is said."""
        if others is None:
            one, card = self.meant(turn, states)
            return [one], card
        card = turn.card(self.card)
        wanted = turn.facts(card).wanted
        first = [self.meant(turn, states)[0]] if self.part is not None else []
        rest = [each for each in wanted if each.state in others and each not in first]
        if not first and not rest:
            raise Mistakes([Problem("others", "There is none on this card.")])
        return [*first, *rest], card


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderPart(OneOnCard):
    """Note that a wanted part is on order."""

    verb: ClassVar[str] = "part order"

    supplier: Annotated[str, Ask("Supplier")] = ""
    expected: Annotated[date | None, Ask("Expected", "thu, 3 dec, +4")] = None
    others: Annotated[bool, Ask("The others too", "all that this card still has to order")] = False

    def work(self, turn: Turn) -> PartWanted:
        """Marks it ordered today."""
        to_order = {WantedState.WANTED, WantedState.WRONG}
        meant, card = self.meant_all(
            turn, {*to_order, WantedState.ORDERED}, to_order if self.others else None
        )
        changed = [
            turn.unit.change(
                wanted,
                state=WantedState.ORDERED,
                supplier=self.supplier or wanted.supplier,
                ordered_on=turn.today,
                expected_on=self.expected,
            )
            for wanted in meant
        ]
        turn.say(f"card {card.number}: {', '.join(wanted.words for wanted in meant)} on order", card)
        return changed[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class PartArrived(OneOnCard):
    """Note that a part on order came in."""

    verb: ClassVar[str] = "part arrived"

    others: Annotated[bool, Ask("The others too", "all that is on order for this card")] = False

    def work(self, turn: Turn) -> PartWanted:
        """Marks it here; a listed part goes on the shelf by a move."""
        meant, card = self.meant_all(
            turn,
            {WantedState.ORDERED, WantedState.WANTED},
            {WantedState.ORDERED} if self.others else None,
        )
        changed = []
        for wanted in meant:
            if wanted.part is not None:
                part = turn.unit.get(Part, wanted.part)
                move(turn, part, wanted.qty, MoveKind.ARRIVED, card=card, wanted=wanted)
            changed.append(turn.unit.change(wanted, state=WantedState.HERE))
        turn.say(f"card {card.number}: {', '.join(wanted.words for wanted in meant)} came in", card)
        return changed[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class FitPart(OneOnCard):
    """Fit a part: it leaves the shelf."""

    verb: ClassVar[str] = "part fit"

    qty: Annotated[Decimal | None, Ask("How many", least=0, most=10_000, some=True)] = None
    unit_price: Annotated[Decimal | None, Ask("Price each", "without tax", least=0, most=1_000_000)] = None

    def work(self, turn: Turn) -> PartWanted:
        """A part fitted is a fact: it is taken whatever its state was, and priced then at the latest."""
        usable = set(WantedState) - {WantedState.FITTED, WantedState.DROPPED}
        wanted, card = self.meant(turn, usable)
        qty = wanted.qty if self.qty is None else self.qty
        if self.unit_price is not None:
            if wanted.customers_own:
                hint = "Leave the price out; the time to fit it is labour."
                raise Mistakes([Problem("unit_price", "It is the customer's own part.", hint)])
            wanted = turn.unit.change(wanted, unit_price=self.unit_price)
        changed = fit(turn, card, wanted, qty)
        if not changed.unit_price and not changed.customers_own:
            turn.note(f"{wanted.words} has no price: loomcard part fit takes --unit-price.")
        turn.say(f"card {card.number}: fitted {qty:f} {wanted.words}", card)
        return changed


@dataclass(frozen=True, slots=True, kw_only=True)
class WrongPart(OneOnCard):
    """Note that a part that came is the wrong one, or is not needed after all."""

    verb: ClassVar[str] = "part wrong"

    not_needed: Annotated[bool, Ask("Not needed", "it stays in the shop")] = False

    def work(self, turn: Turn) -> PartWanted:
        """A wrong part goes back to its supplier; one not needed stays on the shelf."""
        wanted, card = self.meant(turn, set(WantedState) - {WantedState.DROPPED})
        if wanted.part is not None and not wanted.customers_own:
            part = turn.unit.get(Part, wanted.part)
            if wanted.state is WantedState.FITTED:
                move(turn, part, wanted.qty, MoveKind.RETURNED, card=card, wanted=wanted)
            if not self.not_needed and wanted.state in {WantedState.FITTED, WantedState.HERE}:
                move(turn, part, -wanted.qty, MoveKind.SENT_BACK, card=card, wanted=wanted)
        state = WantedState.DROPPED if self.not_needed else WantedState.WRONG
        changed = turn.unit.change(wanted, state=state)
        turn.say(f"card {card.number}: {wanted.words} {'not needed' if self.not_needed else 'wrong'}", card)
        return changed
