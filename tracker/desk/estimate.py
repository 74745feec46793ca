"""The estimate: repairs by rule on a named wire, priced, numbered, frozen; a revision is the whole card."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Annotated, ClassVar

from tracker.billing.bill import draw_up
from tracker.billing.checks import typed_problems
from tracker.billing.labour import billed_minutes
from tracker.billing.tax import standard
from tracker.card.minding import fitting
from tracker.card.time import clocked
from tracker.card.work import planned
from tracker.desk.ask import Ask, Minutes
from tracker.desk.bike_loom import loom_of
from tracker.desk.learned import factors_for
from tracker.desk.planning import asked_of, plan_repairs
from tracker.desk.turn import Turn
from tracker.desk.wanting import said
from tracker.errors import WrongUseError
from tracker.estimating.access import reachable
from tracker.estimating.card_total import CardAsked, estimate_card
from tracker.estimating.freeze import freeze
from tracker.estimating.pricing import price
from tracker.estimating.revision import changes, reasons, summary
from tracker.estimating.table_sizes import TableSizes
from tracker.records.billing import Bill, BillLine
from tracker.records.card import Opened
from tracker.records.document import Estimate, EstimateLine, LineKind
from tracker.records.estimating import EstimateResult, Priced, PricedLine, Travel
from tracker.records.facts import CardFacts
from tracker.records.money import Money
from tracker.records.problem import Mistakes
from tracker.records.shop import Shop
from tracker.records.stock import Part, PartWanted, WantedState
from tracker.records.work import TimeKind
from tracker.seedfiles.tables import electric_tables


@dataclass(frozen=True, slots=True, kw_only=True)
class MakeEstimate:
    """Price the card: new repairs by rule, what was planned before, what comes off once, parts and travel."""

    verb: ClassVar[str] = "estimate"

    card: Annotated[str, Ask("Card", place=1)]
    repair: Annotated[
        tuple[str, ...], Ask("Repair", "RULE:question=answer,...,from=PLACE,to=PLACE,finding=1")
    ] = ()
    looking: Annotated[
        Minutes | None, Ask("Looking", "to be billed; what was clocked when nothing is said")
    ] = None
    mechanic: Annotated[
        str, Ask("Who will do it", "counts where past cards are used and tell them apart")
    ] = ""
    fixed: Annotated[bool, Ask("Fixed price", "a quote: the price will not move")] = False
    words: Annotated[str, Ask("Words", lines=True)] = ""

    def work(self, turn: Turn) -> Estimate:
        """Plans the new repairs and keeps a new revision with its number, rules and prices."""
        card = turn.card(self.card)
        loom = loom_of(turn.unit, turn.seeds, turn.facts(card).bike)
        plan_repairs(turn, turn.facts(card), self.repair, loom)
        facts = turn.facts(card)
        if not planned(facts):
            raise WrongUseError(
                f"There is nothing to price on card {card.number}.",
                "Name a repair: --repair RULE; loomcard rules lists them.",
            )
        repairs = asked_of(turn, facts, loom)
        factors, unseen = factors_for(turn, frozenset(one.rule.id for one in repairs), self.mechanic)
        asked = CardAsked(
            repairs=repairs,
            factors=factors,
            unseen=unseen,
            looked_min=looked_minutes(facts, turn) if self.looking is None else self.looking,
            already_off=standing_open(facts),
            bench_minimum_min=turn.shop.bench_minimum_min,
        )
        result = estimate_card(asked, reachable(loom.known, loom.features), TableSizes(electric_tables()))
        travel = Travel(call_out=card.call_out, distance=Decimal(str(card.distance or 0)))
        priced = price(result, turn.shop, turn.unit.all(Part, active=True), travel)
        estimate = self._keep(turn, facts, asked, (result, priced))
        answers = {name: answer for name, answer in loom.features.items() if answer}
        mind = fitting(result.cautions, facts.bike, answers)
        for words in (*result.notes, *self._missing(turn, facts, priced), *mind):
            turn.note(words)
        total = Money(estimate.total_minor, estimate.currency)
        turn.say(f"card {card.number}: {estimate.number}, revision {estimate.revision}, {total}", card)
        return estimate

    def _missing(self, turn: Turn, facts: CardFacts, priced: Priced) -> list[str]:
        return [
            f"“{line.words}” is not in the parts list: its price is still to be put in."
            for line in card_lines(priced, facts, turn.shop)
            if line.missing
        ]

    def _keep(
        self, turn: Turn, facts: CardFacts, asked: CardAsked, worked: tuple[EstimateResult, Priced]
    ) -> Estimate:
        result, priced = worked
        lines = card_lines(priced, facts, turn.shop)
        shop = turn.shop
        bill = bill_for(lines, shop, turn.unit.all(Part))
        high = high_total(bill, priced, shop)
        before = max(facts.estimates, key=lambda e: e.revision, default=None)
        number, _, _ = turn.next_number("estimate")
        totals = bill.totals
        estimate = turn.unit.insert(
            Estimate(
                card=facts.card.id,
                number=number,
                revision=before.revision + 1 if before else 1,
                made_on=turn.today,
                fixed_price=self.fixed,
                currency=shop.currency,
                covers=tuple(one.repair for one in asked.repairs if one.repair is not None),
                least_min=result.minutes.least,
                likely_min=result.minutes.likely,
                most_min=result.minutes.most,
                expected_min=result.minutes.expected,
                low_min=result.band.low,
                high_min=result.band.high,
                net_minor=totals.tax_exclusive,
                tax_minor=totals.tax_total,
                total_minor=totals.tax_inclusive,
                high_total_minor=totals.tax_inclusive if self.fixed else high,
                wire_mm=dict(result.wire_mm),
                frozen=freeze(asked, shop, result, priced),
                words=self.words,
                by=turn.who,
                at=turn.at,
            )
        )
        for position, (line, billed, net) in enumerate(
            zip(lines, bill.lines, totals.line_nets, strict=True), 1
        ):
            turn.unit.insert(estimate_line(estimate, position, line, billed, net))
        if before is not None and before.currency == estimate.currency:
            was = turn.unit.all(EstimateLine, estimate=before.id, order="position")
            now = turn.unit.all(EstimateLine, estimate=estimate.id, order="position")
            turn.note(summary(before, estimate))
            for change in changes(before, was, estimate, now):
                turn.note(change.words)
            for words in reasons(before.frozen, estimate.frozen):
                turn.note(words)
        return estimate


def estimate_line(
    estimate: Estimate, position: int, line: PricedLine, billed: BillLine, net: int
) -> EstimateLine:
    """A priced line as it is kept: without tax, with its sum in words."""
    return EstimateLine(
        estimate=estimate.id,
        position=position,
        repair=line.repair,
        kind=line.kind,
        words=line.words,
        qty=billed.qty,
        unit=billed.unit,
        unit_price=billed.unit_price,
        base_qty=billed.base_qty,
        net_minor=net,
        tax_category=billed.tax.category,
        tax_rate=billed.tax.rate,
        book_min=line.book.expected if line.book else None,
        least_min=line.minutes.least if line.minutes else None,
        likely_min=line.minutes.likely if line.minutes else None,
        most_min=line.minutes.most if line.minutes else None,
        part=line.part,
        why=line.why,
    )


def bill_for(lines: Sequence[PricedLine], shop: Shop, parts: Sequence[Part] = ()) -> Bill:
    """The lines with their tax worked out; raises Mistakes where one cannot be billed."""
    own_rate = {part.id: part.tax_rate for part in parts if part.tax_rate is not None}
    typed = [
        BillLine(
            words=line.words,
            qty=line.qty,
            unit=line.unit,
            unit_price=line.unit_price,
            tax=standard(own_rate.get(line.part or 0, shop.tax_rate)),
            kind=line.kind,
            base_qty=line.base_qty,
        )
        for line in lines
    ]
    if problems := typed_problems(typed):
        raise Mistakes(problems)
    return draw_up(
        typed,
        currency=shop.currency,
        registered=shop.taxed,
        typed_with_tax=shop.taxed and shop.prices_with_tax,
    )


def high_total(bill: Bill, priced: Priced, shop: Shop) -> int:
    """The total at the upper end of the time, with tax, in minor units."""
    more = priced.high - priced.amount
    if shop.taxed and not shop.prices_with_tax:
        more = Money.of(more.major * (100 + shop.tax_rate) / 100, shop.currency)
    return bill.totals.tax_inclusive + more.minor


def card_lines(priced: Priced, facts: CardFacts, shop: Shop) -> tuple[PricedLine, ...]:
    """The rules' lines and those by hand; a part that the list lacks gives way to one put on by hand."""
    own = own_wants(facts, shop)
    by_hand = [line.repair for line in own if line.repair is not None]
    kept: list[PricedLine] = []
    for line in priced.lines:
        if line.missing and line.kind is LineKind.PART and line.repair in by_hand:
            by_hand.remove(line.repair)
        elif line.kind is LineKind.ACCESS:
            kept.append(replace(line, words=f"Off and on again: {line.words}"))
        else:
            kept.append(line)
    return (*kept, *own)


def own_wants(facts: CardFacts, shop: Shop) -> tuple[PricedLine, ...]:
    """Parts that a person put on the card, beside those that the rules ask for."""
    gone = {WantedState.WRONG, WantedState.DROPPED}
    return tuple(
        want_line(wanted, shop)
        for wanted in facts.wanted
        if wanted.estimate is None and wanted.state not in gone
    )


def want_line(wanted: PartWanted, shop: Shop) -> PricedLine:
    """A wanted part as a line; the customer's own costs nothing and says that it has no guarantee."""
    return PricedLine(
        kind=LineKind.PART,
        words=said(wanted),
        qty=wanted.qty,
        unit=wanted.unit,
        unit_price=wanted.unit_price,
        amount=Money.of(wanted.qty * wanted.unit_price, shop.currency),
        repair=wanted.repair,
        part=wanted.part,
        why="Put on the card by hand.",
    )


def looked_minutes(facts: CardFacts, turn: Turn) -> int:
    """Looking as it will be billed: clocked, rounded by the shop's rule."""
    seconds = clocked(facts, turn.at).by_kind.get(TimeKind.LOOKING, 0)
    return billed_minutes(seconds, step_min=turn.shop.rounding_min, way=turn.shop.rounding)


def standing_open(facts: CardFacts) -> frozenset[str]:
    """What is off now: taken off and not put back since."""
    now: dict[str, bool] = {}
    ordered: list[Opened] = sorted(facts.opened, key=lambda o: (o.at, o.id))
    for one in ordered:
        now[one.access] = not one.refitted
    return frozenset(name for name, is_off in now.items() if is_off)
