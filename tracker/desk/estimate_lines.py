"""An estimate's lines as they are kept: priced, with what a person put on the card, with their tax."""

from collections.abc import Sequence
from dataclasses import replace

from tracker.billing.bill import draw_up
from tracker.billing.checks import typed_problems
from tracker.billing.labour import in_one_unit
from tracker.billing.tax import standard
from tracker.desk.wanting import said
from tracker.records.billing import Bill, BillLine
from tracker.records.document import EstimateLine, LineKind
from tracker.records.estimating import Priced, PricedLine
from tracker.records.facts import CardFacts
from tracker.records.money import Money
from tracker.records.problem import Mistakes
from tracker.records.shop import Shop
from tracker.records.stock import Part, PartWanted, WantedState


def estimate_line(position: int, line: PricedLine, billed: BillLine, net: int) -> EstimateLine:
    """A priced line as it will be kept: without tax, with its sum in words, of no estimate yet."""
    return EstimateLine(
        estimate=0,
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
        in_one_unit(typed),
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
