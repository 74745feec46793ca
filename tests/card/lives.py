"""Lives of cards for the properties: who only ever does the next thing, and all that happens meanwhile."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from typing import TypeVar

from tests.card.build import Bench, customer
from tracker.card.needs import in_play
from tracker.card.owing import asking, due_before_collecting, owed_on, unpaid
from tracker.card.standing import Deed, NextThing
from tracker.card.work import latest_estimate, planned, to_do
from tracker.records.card import CallOutcome, CardKind, EndKind, Need
from tracker.records.document import DocumentKind
from tracker.records.people import CustomerKind
from tracker.records.recheck import RecheckState
from tracker.records.stock import WantedState
from tracker.records.work import TimeKind

PROVES = ((), ("charging_volts",), ("charging_volts", "standing_drain"))


def do(bench: Bench, thing: NextThing) -> None:
    """Adds the fact, or the facts of one form, that a next thing asks for."""
    match thing.deed:
        case Deed.CAME:
            here = replace(bench.facts.card, came_at=bench.now, comes_on=None)
            bench.facts = replace(bench.facts, card=here)
        case Deed.LOOK:
            bench.leave()
        case Deed.READ:
            bench.reading()
        case Deed.FINDING:
            bench.finding()
        case Deed.ESTIMATE if thing.needs is Need.REPAIRS:
            for finding in thing.about:
                bench.repair(finding, proves=PROVES[finding % 3])
        case Deed.ESTIMATE:
            bench.estimate(*(repair.id for repair in in_play(bench.facts)))
        case Deed.AGREE:
            estimate = latest_estimate(bench.facts)
            bench.go_ahead(*thing.about, estimate=estimate.id if estimate else None)
        case Deed.START:
            bench.start(thing.about[0])
        case Deed.FIX:
            bench.done(thing.about[0])
        case Deed.PART:
            (part,) = (each for each in bench.facts.wanted if each.id == thing.about[0])
            arrived = part.state is WantedState.ORDERED or part.customers_own
            bench.change("wanted", part.id, state=WantedState.HERE if arrived else WantedState.ORDERED)
        case Deed.TEST:
            for kind in thing.readings:
                bench.after(kind)
        case Deed.BILL:
            bench.invoice(12000)
        case Deed.PAY:
            _pay(bench, thing)
        case Deed.COLLECT:
            bench.collect()
        case Deed.RECHECK:
            bench.change("rechecks", thing.about[0], state=RecheckState.DONE)
        case Deed.CLOCK:
            bench.time(TimeKind.REPAIR, 10, repair=thing.about[0])


def _pay(bench: Bench, thing: NextThing) -> None:
    """What is asked for, document by document; what came too much goes back."""
    named = [(each, owed) for each, owed in unpaid(bench.facts) if each.id in thing.about]
    if not named:
        for document in asking(bench.facts):
            if (owed := owed_on(bench.facts, document)) < 0:
                bench.pay(document.id, owed)
        return
    here = not bench.facts.collections and not thing.words.startswith(("ask", "take the deposit"))
    left = due_before_collecting(bench.facts) if here else sum(owed for _, owed in named)
    for document, owed in named:
        if (part := min(owed, left)) > 0:
            bench.pay(document.id, part)
            left -= part


def head(kind: CardKind = CardKind.BIKE, payer: CustomerKind | None = None, **values: object) -> Bench:
    """A new card of some kind, with somebody else as payer where one is given."""
    bench = Bench.of(kind=kind, payer=None if payer is None else 2, **values)
    if payer is not None:
        bench.facts = replace(bench.facts, payer=customer(2, payer))
    return bench


NEW_CARDS: dict[str, Callable[[], Bench]] = {
    "bike": head,
    "bike to come": lambda: head(comes_on=Bench().today + timedelta(days=2)),
    "called out": lambda: head(call_out=True, distance=12.5),
    "account": lambda: head(payer=CustomerKind.ACCOUNT),
    "insurer": lambda: head(payer=CustomerKind.INSURER, excess_minor=5000),
    "insurer, great excess": lambda: head(payer=CustomerKind.INSURER, excess_minor=90000),
    "unit": lambda: head(CardKind.UNIT, bike=None, unit="stator"),
    "project": lambda: head(CardKind.PROJECT, customer=None),
    "free comeback": lambda: head(comeback_of=7, comeback_charged=False),
    "charged comeback": lambda: head(comeback_of=7),
}


T = TypeVar("T")


def _one(rows: Sequence[T], pick: int) -> T | None:
    return rows[pick % len(rows)] if rows else None


def _plan(bench: Bench, pick: int) -> None:
    bench.repair(words="fit grips", proves=PROVES[pick % 3])


def _drop(bench: Bench, pick: int) -> None:
    if repair := _one(planned(bench.facts), pick):
        bench.change("repairs", repair.id, dropped="the customer said no")


def _send_out(bench: Bench, pick: int) -> None:
    if repair := _one(to_do(bench.facts), pick):
        bench.change("repairs", repair.id, sent_out_to="Brandvik Winding")


def _mend_unasked(bench: Bench, pick: int) -> None:
    if repair := _one(to_do(bench.facts), pick):
        bench.done(repair.id)


def _leave_finding(bench: Bench, pick: int) -> None:
    if finding := _one(bench.facts.findings, pick):
        bench.change("findings", finding.id, left="not now")


def _want_part(bench: Bench, pick: int) -> None:
    repair = _one(planned(bench.facts), pick)
    bench.part(
        repair=repair.id if repair and pick % 2 else None,
        state=list(WantedState)[pick % len(WantedState)],
        customers_own=pick % 5 == 0,
        unit_price=Decimal(pick),
    )


def _revise(bench: Bench, pick: int) -> None:
    bench.estimate(*(repair.id for repair in planned(bench.facts)), total_minor=500 * pick)


def _credit(bench: Bench, pick: int) -> None:
    if document := _one(asking(bench.facts), pick):
        bench.credit(document.id, document.total_minor // (1 + pick % 2))


def _bounce(bench: Bench, pick: int) -> None:
    if allocation := _one(bench.facts.allocations, pick):
        bench.pay(allocation.document, -abs(allocation.amount_minor))


def _write_off(bench: Bench, pick: int) -> None:
    if document := _one(asking(bench.facts), pick):
        bench.write_off(document.id, max(0, owed_on(bench.facts, document)))


def _days_pass(bench: Bench, pick: int) -> None:
    bench.now += timedelta(days=pick)


def _agree_narrowly(bench: Bench, pick: int) -> None:
    bench.go_ahead(
        *(repair.id for repair in planned(bench.facts)), limit_min=pick * 3, limit_minor=pick * 500
    )


HAPPENINGS: dict[str, Callable[[Bench, int], object]] = {
    "second fault": lambda bench, _: bench.finding("bullets corroded"),
    "fault that is left": lambda bench, _: bench.finding("tyre worn", left="not ours"),
    "finding left": _leave_finding,
    "repair planned": _plan,
    "repair dropped": _drop,
    "repair sent out": _send_out,
    "repair done unasked": _mend_unasked,
    "part wanted": _want_part,
    "revision": _revise,
    "narrow leave": lambda bench, pick: bench.leave(limit_min=pick),
    "narrow go-ahead": _agree_narrowly,
    "looking": lambda bench, pick: bench.time(TimeKind.LOOKING, pick),
    "repairing": lambda bench, pick: bench.time(TimeKind.REPAIR, pick),
    "travel": lambda bench, pick: bench.time(TimeKind.TRAVEL, pick),
    "clock on": lambda bench, _: bench.time(TimeKind.REPAIR, None),
    "reading": lambda bench, _: bench.reading(),
    "reading after": lambda bench, pick: bench.after(PROVES[2][pick % 2]),
    "call": lambda bench, pick: bench.call(list(CallOutcome)[pick % len(CallOutcome)]),
    "waiver": lambda bench, pick: bench.waive(list(Need)[pick % len(Need)]),
    "ending": lambda bench, pick: bench.end(list(EndKind)[pick % len(EndKind)]),
    "deposit": lambda bench, _: bench.document(DocumentKind.DEPOSIT, 3000),
    "invoice": lambda bench, pick: bench.invoice(100 * pick, customer=1 + pick % 3),
    "credit note": _credit,
    "payment bounced": _bounce,
    "write-off": _write_off,
    "collected": lambda bench, _: bench.collect(),
    "recheck": lambda bench, pick: bench.recheck(pick),
    "days pass": _days_pass,
}
"""What may happen to a card beside the next thing; each takes a number from 0 to 99 to choose by."""
