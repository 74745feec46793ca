"""What a card is billed for: looking, repairs by the clock or as estimated, parts fitted, travel, extras."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from tracker.billing.labour import HOUR, MINUTE, billed_minutes, in_one_unit, labour_line
from tracker.billing.tax import fee_key, standard
from tracker.card.limits import agreed_limit
from tracker.card.owing import live_invoices, unbilled
from tracker.card.time import clocked
from tracker.card.work import ending_in_force
from tracker.desk.on_card import in_order
from tracker.desk.turn import Turn
from tracker.desk.wanting import said
from tracker.records.billing import BillLine, TaxKey
from tracker.records.card import GoAheadFor
from tracker.records.document import Estimate, EstimateLine, LineKind
from tracker.records.facts import CardFacts
from tracker.records.money import Money
from tracker.records.stock import PartWanted, WantedState
from tracker.records.work import Repair, TimeKind

TIME_KINDS = frozenset({LineKind.LABOUR, LineKind.ACCESS})


@dataclass(frozen=True, slots=True)
class ToBill:
    """Lines with what each is for; `bench_min` when they were billed by the clock."""

    lines: tuple[BillLine, ...]
    repairs: tuple[int | None, ...]
    parts: tuple[int | None, ...]
    bench_min: int | None


class Gathering:
    """Gathers the lines of one invoice."""

    def __init__(self, turn: Turn, facts: CardFacts, by_clock: bool | None) -> None:
        self.turn = turn
        self.facts = facts
        self.shop = turn.shop
        self.usual: TaxKey = standard(self.shop.tax_rate)
        self.first = not live_invoices(facts)
        self.done: tuple[Repair, ...] = () if ending_in_force(facts) else in_order(unbilled(facts))
        self.seconds = clocked(facts, turn.at)
        self.latest: Estimate | None = max(facts.estimates, key=lambda e: e.revision, default=None)
        kept = turn.unit.all(EstimateLine, estimate=self.latest.id, order="position") if self.latest else ()
        self.estimated: tuple[EstimateLine, ...] = kept
        any_clocked = any(self.seconds.by_repair.get(repair.id, 0) for repair in self.done)
        fixed = self.latest is not None and self.latest.fixed_price
        self.by_clock = (any_clocked and not fixed) if by_clock is None else by_clock
        self.lines: list[BillLine] = []
        self.repairs: list[int | None] = []
        self.parts: list[int | None] = []
        self.bench_min = 0

    def add(self, line: BillLine, repair: int | None = None, part: int | None = None) -> None:
        """One line more."""
        self.lines.append(line)
        self.repairs.append(repair)
        self.parts.append(part)

    def everything(self) -> ToBill:
        """All that the card has to be billed for."""
        if self.latest is not None and self.latest.fixed_price and not self.by_clock and self.done:
            for line in self.estimated:
                self.add(self._as_estimated(line), line.repair, line.part)
        else:
            self._looking()
            self._repairs()
            self._parts()
            self._travel()
        bench = self.bench_min + self._billed_before() if self.by_clock or not self.done else None
        return ToBill(in_one_unit(self.lines), tuple(self.repairs), tuple(self.parts), bench)

    def _billed_before(self) -> int:
        """Bench minutes on the card's standing invoices: a go-ahead's minutes are for the whole card."""
        standing = {invoice.id for invoice in live_invoices(self.facts)}
        minutes = {HOUR: Decimal(60), MINUTE: Decimal(1)}
        return sum(
            round(line.qty * minutes[line.unit])
            for line in self.facts.document_lines
            if line.document in standing and line.unit in minutes and line.kind is not LineKind.ACCESS
        )

    def _looking(self) -> None:
        if not self.first:
            return
        minutes = self._minutes(self.seconds.by_kind.get(TimeKind.LOOKING, 0))
        limit = agreed_limit(self.facts)
        if (
            minutes
            and limit is not None
            and limit.go_ahead.what is GoAheadFor.LOOK
            and limit.most_minutes is not None
        ):
            if minutes > limit.most_minutes:
                self.turn.note(
                    f"Looking took {minutes} min; the leave was for {limit.most_minutes}, and that is billed."
                )
            minutes = min(minutes, limit.most_minutes)
        if not minutes:
            for line in self.estimated:
                if line.kind is LineKind.DIAGNOSIS and line.repair is None and not self.by_clock:
                    self.add(self._as_estimated(line))
            return
        self.bench_min += minutes
        self.add(
            labour_line(
                "Looking for the fault", minutes, self.shop.looking_rate, self.usual, LineKind.DIAGNOSIS
            )
        )

    def _repairs(self) -> None:
        done = {repair.id for repair in self.done}
        for repair in self.done:
            minutes = self._minutes(self.seconds.by_repair.get(repair.id, 0)) if self.by_clock else 0
            if minutes:
                self.bench_min += minutes
                words = repair.words or self._rule_words(repair)
                self.add(labour_line(words, minutes, self.shop.labour_rate, self.usual), repair.id)
                continue
            for line in self.estimated:
                if line.repair == repair.id and line.kind in {LineKind.LABOUR, LineKind.DIAGNOSIS}:
                    self.add(self._as_estimated(line), repair.id)
        if self.done and self.first and not self.by_clock:
            for line in self.estimated:
                shared = line.repair is None or line.repair not in done
                if line.kind in TIME_KINDS and shared and line.repair is None:
                    self.add(self._as_estimated(line))

    def _parts(self) -> None:
        done = {repair.id for repair in self.done}
        for wanted in in_order(self.facts.wanted):
            if wanted.state is not WantedState.FITTED:
                continue
            if wanted.repair in done or (wanted.repair is None and self.first):
                kind = LineKind.WIRE if wanted.words.startswith("Wire ") else LineKind.PART
                self.add(self._part(wanted, kind), wanted.repair, wanted.part)

    def _part(self, wanted: PartWanted, kind: LineKind) -> BillLine:
        rate = self.shop.tax_rate if wanted.tax_rate is None else wanted.tax_rate
        return BillLine(said(wanted), wanted.qty, wanted.unit, wanted.unit_price, standard(rate), kind)

    def _travel(self) -> None:
        if not self.first:
            return
        card, shop = self.facts.card, self.shop
        if card.call_out and shop.call_out_charge:
            self.add(
                BillLine("Call-out", Decimal(1), "call", shop.call_out_charge, self.usual, LineKind.TRAVEL)
            )
        if card.distance and shop.distance_charge:
            way = Decimal(str(card.distance)) * 2
            self.add(
                BillLine(
                    "Distance",
                    way,
                    str(shop.distance_unit),
                    shop.distance_charge,
                    self.usual,
                    LineKind.TRAVEL,
                )
            )

    def _minutes(self, seconds: int) -> int:
        return billed_minutes(seconds, step_min=self.shop.rounding_min, way=self.shop.rounding)

    def _as_estimated(self, line: EstimateLine) -> BillLine:
        tax = TaxKey(line.tax_category, line.tax_rate)
        price = line.unit_price
        if self.shop.taxed and self.shop.prices_with_tax and line.qty:
            with_tax = Money(line.net_minor, self.shop.currency).major * (100 + line.tax_rate) / 100
            price = with_tax * line.base_qty / line.qty
        return BillLine(line.words, line.qty, line.unit, price, tax, line.kind, base_qty=line.base_qty)

    def _rule_words(self, repair: Repair) -> str:
        for line in self.estimated:
            if line.repair == repair.id and line.kind is LineKind.LABOUR:
                return line.words
        return repair.rule.replace("-", " ")


def extra_lines(
    turn: Turn, extras: Sequence[tuple[str, Money]], fees: Sequence[tuple[str, Money]], discount: Money | None
) -> list[BillLine]:
    """Lines typed by hand: extras taxed as usual, fees passed on at cost, and a discount taken off."""
    usual = standard(turn.shop.tax_rate)
    found = [BillLine(words, Decimal(1), "piece", amount.major, usual) for words, amount in extras]
    fee = fee_key(registered=turn.shop.taxed)
    found += [BillLine(words, Decimal(1), "piece", amount.major, fee, LineKind.FEE) for words, amount in fees]
    if discount is not None and discount.minor:
        found.append(BillLine("Discount", Decimal(-1), "piece", discount.major, usual, LineKind.DISCOUNT))
    return found
