"""The estimate: repairs by rule on a named wire, priced, numbered, frozen; a revision is the whole card."""

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Annotated, Any, ClassVar

from tracker.billing.labour import billed_minutes
from tracker.card.minding import fitting
from tracker.card.time import clocked
from tracker.card.visits import standing_open, visit_now
from tracker.card.work import planned
from tracker.desk.ask import Ask, Minutes
from tracker.desk.bike_loom import loom_of
from tracker.desk.estimate_lines import bill_for, card_lines, estimate_line, high_total
from tracker.desk.openings import was_off
from tracker.desk.planning import asked_of, plan_repairs
from tracker.desk.turn import Turn
from tracker.desk.wanting import want_unasked
from tracker.desk.working_out import Worked, work_out
from tracker.errors import WrongUseError
from tracker.estimating.card_total import CardAsked
from tracker.estimating.freeze import freeze
from tracker.estimating.revision import changes, is_same, reasons, summary
from tracker.records.document import Estimate, EstimateLine
from tracker.records.estimating import EstimateResult, Priced, Travel
from tracker.records.facts import CardFacts
from tracker.records.money import Money
from tracker.records.stock import Part, WantedState
from tracker.records.work import TimeKind

ON_ITS_WAY = frozenset({WantedState.ORDERED, WantedState.HERE, WantedState.FITTED})


@dataclass(frozen=True, slots=True, kw_only=True)
class MakeEstimate:
    """Price the card: new repairs by rule, what was planned before, what comes off once, parts and travel."""

    verb: ClassVar[str] = "estimate"

    card: Annotated[str, Ask("Card", place=1)]
    repair: Annotated[
        tuple[str, ...],
        Ask("Repair", "RULE:question=answer,from=PLACE,to=PLACE,finding=1,fit=CODE,own_part=WORDS"),
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
        """Plans the new repairs and keeps a new revision with its number, rules and prices.

        Where nothing has changed the revision in force stands: no number is taken for the same again.
        """
        card = turn.card(self.card)
        loom = loom_of(turn.unit, turn.seeds, turn.facts(card).bike)
        plan_repairs(turn, turn.facts(card), self.repair, loom)
        facts = turn.facts(card)
        if not planned(facts):
            raise WrongUseError(
                f"There is nothing to price on card {card.number}.",
                "Name a repair: --repair RULE; loomcard rules lists them.",
            )
        worked = work_out(
            turn,
            loom,
            asked_of(turn, facts, loom),
            travel=Travel(call_out=card.call_out, distance=Decimal(str(card.distance or 0))),
            looked_min=looked_minutes(facts, turn) if self.looking is None else self.looking,
            already_off=free_now(facts),
            visit_now=visit_now(facts),
            was_off=was_off(facts),
            mechanic=self.mechanic,
            model=facts.bike.name if facts.bike else "",
            had=had_already(facts),
        )
        estimate = self._keep(turn, facts, worked)
        want_unasked(turn, facts, estimate, estimate.covers)
        answers = {name: answer for name, answer in loom.features.items() if answer}
        for words in (
            *(() if facts.estimates else again_in(worked.result, worked.asked)),
            *worked.result.notes,
            *self._missing(turn, facts, worked.priced),
            *(one.sentence for one in worked.orders),
            *fitting(worked.result.cautions, facts.bike, answers),
        ):
            turn.note(words)
        total = Money(estimate.total_minor, estimate.currency)
        stands = " stands, nothing has changed" if estimate in facts.estimates else f", {total}"
        turn.say(f"card {card.number}: {estimate.number}, revision {estimate.revision}{stands}", card)
        return estimate

    def _missing(self, turn: Turn, facts: CardFacts, priced: Priced) -> list[str]:
        return [
            f"“{line.words}” is not in the parts list: its price is still to be put in."
            for line in card_lines(priced, facts, turn.shop)
            if line.missing
        ]

    def _keep(self, turn: Turn, facts: CardFacts, worked: Worked) -> Estimate:
        asked, result, priced = worked.asked, worked.result, worked.priced
        lines = card_lines(priced, facts, turn.shop)
        shop = turn.shop
        bill = bill_for(lines, shop, turn.unit.all(Part))
        high = high_total(bill, priced, shop)
        before = max(facts.estimates, key=lambda e: e.revision, default=None)
        totals = bill.totals
        drawn = Estimate(
            card=facts.card.id,
            number="",
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
        drawn_lines = [
            estimate_line(position, line, billed, net)
            for position, (line, billed, net) in enumerate(
                zip(lines, bill.lines, totals.line_nets, strict=True), 1
            )
        ]
        was = turn.unit.all(EstimateLine, estimate=before.id, order="position") if before else ()
        if before is not None and is_same(before, was, drawn, drawn_lines):
            return before
        number, _, _ = turn.next_number("estimate")
        estimate = turn.unit.insert(replace(drawn, number=number))
        now = [turn.unit.insert(replace(line, estimate=estimate.id)) for line in drawn_lines]
        if before is not None and before.currency == estimate.currency:
            turn.note(summary(before, estimate))
            for change in changes(before, was, estimate, now):
                turn.note(change.words)
            for words in reasons(before.frozen, estimate.frozen):
                turn.note(words)
        return estimate


def again_in(result: EstimateResult, asked: CardAsked) -> tuple[str, ...]:
    """What comes off in this estimate though it was off before, with its minutes."""
    return tuple(
        f"{line.words[:1].upper()}{line.words[1:]}, {line.minutes.expected} min:"
        f" {asked.was_off[line.access]}."
        for line in result.lines
        if line.access in asked.was_off and line.visit >= asked.visit_now
    )


def looked_minutes(facts: CardFacts, turn: Turn) -> int:
    """Looking as it will be billed: clocked, rounded by the shop's rule."""
    seconds = clocked(facts, turn.at).by_kind.get(TimeKind.LOOKING, 0)
    return billed_minutes(seconds, step_min=turn.shop.rounding_min, way=turn.shop.rounding)


def had_already(facts: CardFacts) -> dict[int, Decimal]:
    """What of each part of the list the card has put by, on order or fitted."""
    found: dict[int, Decimal] = {}
    for wanted in facts.wanted:
        if wanted.part is not None and wanted.state in ON_ITS_WAY:
            found[wanted.part] = found.get(wanted.part, Decimal(0)) + wanted.qty
    return found


def free_now(facts: CardFacts) -> frozenset[str]:
    """What is off now and was never priced for this visit: it came off while looking, or for nothing asked.

    What a revision before this one asked for stays in it: it is paid once, not forgotten once it is off.
    """
    now = visit_now(facts)
    priced = {
        str(row["access"])
        for estimate in facts.estimates
        for row in _opens(estimate)
        if int(row["visit"]) == now
    }
    return standing_open(facts) - priced


def _opens(estimate: Estimate) -> list[dict[str, Any]]:
    rows = estimate.frozen.get("opens", [])
    return rows if isinstance(rows, list) else []
