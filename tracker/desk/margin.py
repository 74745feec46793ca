"""What a card leaves the shop once its parts are paid for: for the shop alone, on no customer's paper."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from tracker.card.time import seconds_of
from tracker.desk.desk import Desk
from tracker.desk.named import card_meant
from tracker.desk.periods import Period
from tracker.records.document import Document, DocumentKind, DocumentLine, LineKind
from tracker.records.facts import CardFacts
from tracker.records.money import Money, round_half_up
from tracker.records.stock import MoveKind, Part, StockMove, WantedState
from tracker.store.facts import facts_of
from tracker.store.reader import Reader

NOT_SOLD = frozenset({LineKind.FEE, LineKind.DEPOSIT})
"""Lines that are nobody's earnings: money passed on, and money ahead that the invoice takes off again."""


@dataclass(frozen=True, slots=True)
class Margin:
    """One card. Amounts in minor units of `currency`, without tax, credit notes taken off.

    `sold_minor` is what was billed, without deposits and without fees passed on at cost; `parts_minor` what
    of it was for parts and wire. `cost_minor` is what the parts fitted cost the shop when they were fitted;
    of `unknown` nobody has said, and they count for nothing. `clocked_s` is all the time on the card, billed
    or not.
    """

    card: str
    bike: str
    currency: str
    sold_minor: int
    parts_minor: int
    cost_minor: int
    unknown: tuple[str, ...]
    clocked_s: int

    @property
    def left_minor(self) -> int:
        """What stays once the parts are paid for."""
        return self.sold_minor - self.cost_minor

    @property
    def hourly_minor(self) -> int | None:
        """That for each hour clocked; None where no time was."""
        if not self.clocked_s:
            return None
        return int(round_half_up(Decimal(self.left_minor) * 3600 / self.clocked_s))


def margin_of(desk: Desk, name: str) -> Margin:
    """What one card leaves; by its number, a document's, or its bike. Raises NotFoundError."""
    shop, now = desk.shop, desk.clock.now()

    def look(reader: Reader) -> Margin:
        (facts,) = facts_of(reader, shop, (card_meant(reader, shop, name).id,))
        return _margin(reader, facts, now)

    return desk.read(look)


def margins(desk: Desk, period: Period) -> tuple[Margin, ...]:
    """The cards on which something was issued in a period, each whole, in order of number."""
    shop, now = desk.shop, desk.clock.now()

    def look(reader: Reader) -> tuple[Margin, ...]:
        issued = [one for one in reader.all(Document) if period.holds(one.issued_on)]
        cards = sorted({one.card for one in issued if one.card is not None})
        return tuple(_margin(reader, facts, now) for facts in facts_of(reader, shop, cards))

    return tuple(sorted(desk.read(look), key=lambda one: one.card))


def _margin(reader: Reader, facts: CardFacts, now: datetime) -> Margin:
    lines = [(line, _sign(facts.documents, line)) for line in facts.document_lines]
    sold = sum(sign * line.net_minor for line, sign in lines if line.kind not in NOT_SOLD)
    parts = sum(sign * line.net_minor for line, sign in lines if line.kind in {LineKind.PART, LineKind.WIRE})
    cost, unknown = _cost(reader, facts)
    return Margin(
        card=facts.card.number,
        bike=f"{facts.bike.name} {facts.bike.registration}".strip() if facts.bike else facts.card.unit,
        currency=facts.shop.currency,
        sold_minor=sold,
        parts_minor=parts,
        cost_minor=cost,
        unknown=unknown,
        clocked_s=sum(seconds_of(entry, now) for entry in facts.times),
    )


def _sign(documents: Sequence[Document], line: DocumentLine) -> int:
    (own,) = [one for one in documents if one.id == line.document]
    return -1 if own.kind is DocumentKind.CREDIT_NOTE else 1


def _cost(reader: Reader, facts: CardFacts) -> tuple[int, tuple[str, ...]]:
    """What the parts fitted cost, each as on the day it was fitted; and those without a cost.

    Where nobody had said a cost by then, that of the parts list now stands in.
    """
    used = reader.all(StockMove, card=facts.card.id, kind=MoveKind.USED)
    then = {one.wanted: one.unit_cost for one in used}  # fitted again after it came off: the last one counts
    whole, unknown = Decimal(0), []
    for wanted in facts.wanted:
        if wanted.state is not WantedState.FITTED or wanted.customers_own:
            continue
        cost = then.get(wanted.id) or (reader.get(Part, wanted.part).cost if wanted.part else None)
        if cost:
            whole += wanted.qty * cost
        else:
            unknown.append(wanted.words)
    return Money.of(whole, facts.shop.currency).minor, tuple(unknown)
