"""An estimate tried on a bike without a card: nothing is kept, nothing takes a number."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from decimal import Decimal
from typing import Any

from tracker.card.minding import fitting
from tracker.desk.bike_loom import loom_of
from tracker.desk.bikes import bike_named
from tracker.desk.desk import Desk
from tracker.desk.estimate_lines import bill_for, high_total
from tracker.desk.planning import tried_repairs
from tracker.desk.turn import Turn
from tracker.desk.working_out import NO_TRAVEL, Worked, work_out
from tracker.estimating.customer_words import fixed_words, for_customer
from tracker.records.bike import Bike
from tracker.records.document import LineKind
from tracker.records.estimating import Travel
from tracker.records.money import Money
from tracker.records.problem import Mistakes, Problem
from tracker.records.stock import Part
from tracker.seedfiles.door import Seeds


@dataclass(frozen=True, slots=True)
class Tried:
    """What some repairs would take on a bike: worked out, in money with tax, and in a customer's words."""

    bike: Bike
    worked: Worked
    net: Money
    tax: Money
    total: Money
    high: Money
    notes: tuple[str, ...]

    @property
    def customer(self) -> str:
        """As a customer hears it."""
        same = self.high == self.total
        return fixed_words(self.total) if same else for_customer(self.total, self.high)


def try_on_bike(
    desk: Desk,
    name: str,
    repairs: Sequence[str],
    *,
    travel: Travel = NO_TRAVEL,
    looked_min: int = 0,
    already_off: Sequence[str] = (),
    mechanic: str = "",
    seeds: Seeds | None = None,
) -> Tried:
    """Works repairs out for a bike by its number, registration or frame number.

    `seeds` stand for the shop's own, to try a rule before it is kept.
    Raises Mistakes with every mistake in all of them, NotFoundError where there is no such bike.
    """

    def work(turn: Turn) -> Tried:
        if seeds is not None:
            turn.seeds = seeds
        bike = bike_named(turn.unit, name)
        loom = loom_of(turn.unit, turn.seeds, bike)
        _known(already_off, loom.known.accesses)
        if not repairs:
            raise Mistakes([Problem("repair", "Which repairs?", "--repair RULE; loomcard rules lists them.")])
        asked = tried_repairs(turn, repairs, loom)
        worked = work_out(
            turn,
            loom,
            asked,
            travel=travel,
            looked_min=looked_min,
            already_off=frozenset(already_off),
            mechanic=mechanic,
            model=bike.name,
        )
        answers = {question: answer for question, answer in loom.features.items() if answer}
        return priced_up(turn, bike, worked, answers)

    return desk.look(work)


def priced_up(turn: Turn, bike: Bike, worked: Worked, answers: Mapping[str, str]) -> Tried:
    """What was worked out, with its tax and all that there is to say of it."""
    bill = bill_for(worked.priced.lines, turn.shop, turn.unit.all(Part))
    totals, currency = bill.totals, turn.shop.currency
    for words in (
        *worked.result.notes,
        *worked.priced.notes,
        *(one.sentence for one in worked.orders),
        *fitting(worked.result.cautions, bike, answers),
    ):
        turn.note(words)
    return Tried(
        bike=bike,
        worked=worked,
        net=Money(totals.tax_exclusive, currency),
        tax=Money(totals.tax_total, currency),
        total=Money(totals.tax_inclusive, currency),
        high=Money(high_total(bill, worked.priced, turn.shop), currency),
        notes=tuple(turn.notes),
    )


def _known(names: Sequence[str], accesses: Any) -> None:
    strange = [name for name in names if name not in accesses]
    if strange:
        listed = ", ".join(accesses)
        raise Mistakes(
            [
                Problem("off", "Nothing of that name comes off.", f"One of: {listed}.", name)
                for name in strange
            ]
        )


def tried_record(tried: Tried) -> dict[str, Any]:
    """As JSON has it. Minutes whole; `p10` and `p90` are the ends of the 8-in-10 band; wire in mm by mm²."""
    result, priced = tried.worked.result, tried.worked.priced
    wire: dict[str, int] = {}
    for need in result.wire:
        size = f"{need.size_mm2:f}"
        wire[size] = wire.get(size, 0) + need.mm
    orders = {one.part: one for one in tried.worked.orders}
    parts = [
        {
            "words": line.words,
            "kind": line.kind,
            "qty": line.qty,
            "unit": line.unit,
            "unit_price": line.unit_price,
            "amount": line.amount,
            "part": line.part,
            "listed": not line.missing,
            "order": orders[line.part].qty if line.part in orders else Decimal(0),
        }
        for line in priced.lines
        if line.kind in {LineKind.PART, LineKind.WIRE}
    ]
    return {
        "bike": {"id": tried.bike.id, "name": tried.bike.name, "registration": tried.bike.registration},
        "minutes": {
            **asdict(result.minutes),
            "p10": result.band.low,
            "p90": result.band.high,
            "treatment": result.band.treatment,
        },
        "access": [
            {
                "id": line.access,
                "words": line.words,
                "visit": line.visit,
                "minutes": asdict(line.minutes),
                "serves": line.serves,
                "why": line.why,
            }
            for line in result.lines
            if line.access
        ],
        "repairs": [
            {
                "repair": one.asked.repair,
                "rule": one.asked.rule.id,
                "words": one.time.words,
                "minutes": asdict(one.time.minutes),
                "book": asdict(one.time.book),
                "why": one.time.why,
            }
            for one in result.repairs
        ],
        "wire_mm": dict(sorted(wire.items(), key=lambda row: Decimal(row[0]))),
        "wire": [asdict(need) for need in result.wire],
        "parts": parts,
        "needs": [asdict(need) for need in result.parts],
        "orders": [asdict(one) for one in tried.worked.orders],
        "money": {
            "net": tried.net,
            "tax": tried.tax,
            "total": tried.total,
            "high": tried.high,
            "customer": tried.customer,
        },
        "lines": [
            {
                "kind": line.kind,
                "words": line.words,
                "qty": line.qty,
                "unit": line.unit,
                "unit_price": line.unit_price,
                "base_qty": line.base_qty,
                "amount": line.amount,
                "why": line.why,
            }
            for line in priced.lines
        ],
        "proves": result.proves,
        "rechecks": result.rechecks,
        "notes": tried.notes,
    }
