"""An estimate in money: minutes by rate, parts and wire by the shop's list; tax is worked out by billing."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from tracker.estimating.materials import MM, part_key, wire_key
from tracker.estimating.price_list import CUT_STEP_MM, Sold, code_key, part_for_wire, price_list, sold_length
from tracker.estimating.words import minutes_of, plain
from tracker.records.document import LineKind
from tracker.records.estimating import (
    EstimateResult,
    PartNeed,
    Priced,
    PricedLine,
    TimeLine,
    Travel,
    WireNeed,
)
from tracker.records.money import Money, zero
from tracker.records.shop import Shop
from tracker.records.stock import Part

HOUR = Decimal(60)
NO_TRAVEL = Travel()


def price(
    result: EstimateResult,
    shop: Shop,
    parts: Sequence[Part],
    travel: Travel = NO_TRAVEL,
    cut_step_mm: int = CUT_STEP_MM,
) -> Priced:
    """The estimate's lines with prices: time, wire, parts, travel; and the range in money.

    Expected minutes are priced, in hours where two decimals hold them, else as minutes at a price for 60.
    The ends of the range are those of the time, at the dearest rate that is uncertain; parts and travel do
    not move. What the list lacks is priced 0 and marked, and a note says so. Amounts are in the shop's
    currency.
    """
    listed = price_list(parts)
    lines = (
        *(_time(line, shop) for line in result.lines),
        *(_wire(need, result, listed, shop.currency, cut_step_mm) for need in result.wire),
        *(
            _part(need, result, listed, shop.currency, cut_step_mm)
            for need in result.parts
            if not need.consumable or code_key(need.code) in listed
        ),
        *_travel(travel, shop),
    )
    amount = sum((line.amount for line in lines), zero(shop.currency))
    uncertain = [line for line in result.lines if line.minutes.most > line.minutes.least]
    rate = max((_rate(line.kind, shop) for line in uncertain), default=shop.labour_rate)
    return Priced(
        lines=lines,
        amount=amount,
        low=amount - _at(result.minutes.expected - result.band.low, rate, shop.currency),
        high=amount + _at(result.band.high - result.minutes.expected, rate, shop.currency),
        notes=tuple(
            f"“{line.words}” is not in the parts list: its price is still to be put in."
            for line in lines
            if line.missing
        ),
    )


def _rate(kind: LineKind, shop: Shop) -> Decimal:
    """Per hour, in major units."""
    return shop.looking_rate if kind is LineKind.DIAGNOSIS else shop.labour_rate


def _at(minutes: int, rate: Decimal, currency: str) -> Money:
    return Money.of(minutes * rate / HOUR, currency)


def _time(line: TimeLine, shop: Shop) -> PricedLine:
    rate, minutes = _rate(line.kind, shop), line.minutes.expected
    hours = Decimal(minutes) / HOUR
    by_hour = hours == round(hours, 2)
    return PricedLine(
        kind=line.kind,
        words=line.words,
        qty=hours if by_hour else Decimal(minutes),
        unit="hour" if by_hour else "minute",
        unit_price=rate,
        base_qty=Decimal(1) if by_hour else HOUR,
        amount=_at(minutes, rate, shop.currency),
        minutes=line.minutes,
        book=line.book,
        repair=line.repair,
        why=f"{line.why} Priced as {minutes_of(line.minutes)}, at {plain(rate)} an hour.",
    )


def _wire(
    need: WireNeed, result: EstimateResult, listed: Mapping[str, Part], currency: str, step_mm: int
) -> PricedLine:
    part = part_for_wire(need, listed)
    sold = sold_length(need.mm, part.unit if part else "m", step_mm)
    words = f"Wire {plain(need.size_mm2)} mm² {need.colour}".strip()
    asking = [
        one.asked.repair
        for one in result.repairs
        if any(wire_key(want) == wire_key(need) for want in one.wire)
    ]
    line = _goods(LineKind.WIRE, words, sold, part, currency)
    return replace(line, repair=_only(asking), why=f"{need.why}; in all {need.mm} mm, {_as_sold(sold)}")


def _part(
    need: PartNeed, result: EstimateResult, listed: Mapping[str, Part], currency: str, step_mm: int
) -> PricedLine:
    part = listed.get(code_key(need.code)) if need.code else None
    sold = Sold(need.qty, need.unit)
    why = need.why
    if need.unit == MM:
        sold = sold_length(int(need.qty), part.unit if part else "m", step_mm)
        why = f"{need.why}; in all {plain(need.qty)} mm, {_as_sold(sold)}"
    asking = [
        one.asked.repair
        for one in result.repairs
        if any(part_key(want) == part_key(need) for want in one.parts)
    ]
    line = _goods(LineKind.PART, need.words, sold, part, currency)
    return replace(line, repair=_only(asking), why=why)


def _goods(kind: LineKind, words: str, sold: Sold, part: Part | None, currency: str) -> PricedLine:
    unit_price = part.price if part else Decimal(0)
    return PricedLine(
        kind=kind,
        words=words,
        qty=sold.qty,
        unit=sold.unit,
        unit_price=unit_price,
        amount=Money.of(sold.qty * unit_price, currency),
        part=part.id if part else None,
        missing=part is None,
    )


def _as_sold(sold: Sold) -> str:
    guess = f" (“{sold.unit}” says nothing of its length: 1 was taken)" if sold.guessed else ""
    return f"sold as {plain(sold.qty)} {sold.unit}{guess}"


def _only(asking: Sequence[int | None]) -> int | None:
    """The repair a line is for, if there is just one."""
    return asking[0] if len(asking) == 1 else None


def _travel(travel: Travel, shop: Shop) -> tuple[PricedLine, ...]:
    there_and_back = travel.distance * 2
    rows = (
        ("Call-out", Decimal(travel.call_out), "call", shop.call_out_charge, "Once a visit."),
        (
            "Distance",
            there_and_back,
            str(shop.distance_unit),
            shop.distance_charge,
            f"{plain(travel.distance)} {shop.distance_unit} there and as far back.",
        ),
    )
    return tuple(
        PricedLine(
            kind=LineKind.TRAVEL,
            words=words,
            qty=qty,
            unit=unit,
            unit_price=charge,
            amount=Money.of(qty * charge, shop.currency),
            why=why,
        )
        for words, qty, unit, charge, why in rows
        if qty and charge
    )
