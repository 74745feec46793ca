"""A card's facts for the tests: short to write, and each fact an hour after the one before."""

from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from typing import Any

from tracker.card.standing import Standing
from tracker.card.step import standing
from tracker.records.bike import Bike
from tracker.records.card import (
    Call,
    CallOutcome,
    Card,
    Collection,
    Ending,
    EndKind,
    Finding,
    GoAhead,
    GoAheadFor,
    Need,
    Phase,
    Reading,
    Waiver,
)
from tracker.records.document import Allocation, Document, DocumentKind, Estimate, Payment, WriteOff
from tracker.records.facts import CardFacts
from tracker.records.people import Customer, CustomerKind
from tracker.records.recheck import Recheck, RecheckState
from tracker.records.shop import Shop
from tracker.records.stock import PartWanted
from tracker.records.work import Repair, TimeEntry, TimeKind

MONDAY = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
PREFIXES = {DocumentKind.INVOICE: "INV", DocumentKind.DEPOSIT: "DEP", DocumentKind.CREDIT_NOTE: "CRN"}


def customer(id_: int = 1, kind: CustomerKind = CustomerKind.PRIVATE) -> Customer:
    """Somebody who brings a bike, or pays for one."""
    return Customer(id=id_, name="Adaeze Oyelaran", kind=kind)


@dataclass
class Bench:
    """A card that grows a fact at a time. Each method adds one, an hour on, and returns its id."""

    now: datetime = MONDAY
    facts: CardFacts = field(
        default_factory=lambda: CardFacts(
            card=Card(id=1, number="26-0412", bike=1, customer=1, complaint="flat again", came_at=MONDAY),
            shop=Shop(),
            bike=Bike(id=1, make="Halden", model="650 twin"),
            customer=customer(),
        )
    )
    count: int = 0

    @classmethod
    def of(cls, **head: Any) -> "Bench":
        """A new card with some of its head as given."""
        bench = cls()
        bench.facts = replace(bench.facts, card=replace(bench.facts.card, **head))
        return bench

    def stands(self) -> Standing:
        """Where the card stands now."""
        return standing(self.facts, self.now, self.now.date())

    @property
    def today(self) -> date:
        return self.now.date()

    def _new(self) -> int:
        self.now += timedelta(hours=1)
        self.count += 1
        return self.count

    def add(self, name: str, fact: Any) -> int:
        """Adds a fact to one of the tuples; its id."""
        changes: dict[str, Any] = {name: (*getattr(self.facts, name), fact)}
        self.facts = replace(self.facts, **changes)
        return int(fact.id)

    def change(self, name: str, id_: int, **values: Any) -> None:
        """Edits a kept row of one of the tuples."""
        rows = getattr(self.facts, name)
        changes: dict[str, Any] = {
            name: tuple(replace(row, **values) if row.id == id_ else row for row in rows)
        }
        self.facts = replace(self.facts, **changes)

    def shop(self, **values: Any) -> None:
        self.facts = replace(self.facts, shop=replace(self.facts.shop, **values))

    def leave(self, **values: Any) -> int:
        """Leave to look."""
        id_ = self._new()
        go = GoAhead(id=id_, card=1, what=GoAheadFor.LOOK, who="Adaeze", how="phone", at=self.now, **values)
        return self.add("go_aheads", go)

    def go_ahead(self, *covers: int, **values: Any) -> int:
        """A go-ahead to work."""
        id_ = self._new()
        given = {"who": "Adaeze", "how": "phone", **values}
        return self.add(
            "go_aheads",
            GoAhead(id=id_, card=1, what=GoAheadFor.WORK, covers=covers, at=self.now, **given),
        )

    def reading(self, kind: str = "standing_volts", **values: Any) -> int:
        id_ = self._new()
        given = {"conditions": {}, "at": self.now, "value": 12.4, "unit": "V", **values}
        return self.add("readings", Reading(id=id_, card=1, kind=kind, **given))

    def after(self, kind: str, **values: Any) -> int:
        """A reading after the repair."""
        return self.reading(kind, phase=Phase.AFTER, **values)

    def finding(self, words: str = "regulator plug burnt", **values: Any) -> int:
        id_ = self._new()
        return self.add("findings", Finding(id=id_, card=1, words=words, at=self.now, **values))

    def repair(self, finding: int | None = None, words: str = "new regulator plug", **values: Any) -> int:
        id_ = self._new()
        given = {"rule": "connector_replaced", "asked": {}, **values}
        return self.add("repairs", Repair(id=id_, card=1, finding=finding, words=words, **given))

    def start(self, repair: int) -> None:
        self._new()
        self.change("repairs", repair, started_at=self.now)

    def done(self, repair: int) -> None:
        self._new()
        self.change("repairs", repair, done_at=self.now)

    def estimate(self, *covers: int, total_minor: int = 18640, **values: Any) -> int:
        id_ = self._new()
        return self.add(
            "estimates",
            Estimate(
                id=id_,
                card=1,
                number="EST-26-0001",
                revision=len(self.facts.estimates) + 1,
                made_on=self.today,
                currency="EUR",
                covers=covers,
                least_min=60,
                likely_min=90,
                most_min=120,
                expected_min=90,
                low_min=70,
                high_min=110,
                net_minor=total_minor,
                tax_minor=0,
                total_minor=total_minor,
                high_total_minor=total_minor,
                wire_mm={},
                frozen={},
                at=self.now,
                **values,
            ),
        )

    def part(self, words: str = "regulator plug", **values: Any) -> int:
        id_ = self._new()
        return self.add(
            "wanted", PartWanted(id=id_, card=1, words=words, qty=Decimal(1), at=self.now, **values)
        )

    def time(self, kind: TimeKind, minutes: int | None, **values: Any) -> int:
        """Time clocked from an hour after the last fact on; None leaves the clock running."""
        id_ = self._new()
        on_at = values.pop("on_at", self.now)
        if minutes is not None:
            self.now = max(self.now, on_at + timedelta(minutes=minutes))
        off_at = None if minutes is None else on_at + timedelta(minutes=minutes)
        entry = TimeEntry(id=id_, card=1, mechanic=1, kind=kind, on_at=on_at, off_at=off_at, **values)
        return self.add("times", entry)

    def document(self, kind: DocumentKind, total_minor: int, **values: Any) -> int:
        id_ = self._new()
        given = {"payable_minor": total_minor, "number": f"{PREFIXES[kind]}-26-{id_:04}", **values}
        return self.add(
            "documents",
            Document(
                id=id_,
                kind=kind,
                series=PREFIXES[kind],
                year=2026,
                sequence=id_,
                card=1,
                issued_on=self.today,
                supply_on=self.today,
                due_on=self.today + timedelta(days=14),
                currency="EUR",
                seller={},
                buyer={},
                line_total_minor=total_minor,
                net_minor=total_minor,
                tax_minor=0,
                total_minor=total_minor,
                at=self.now,
                **given,
            ),
        )

    def invoice(self, total_minor: int = 18640, **values: Any) -> int:
        return self.document(DocumentKind.INVOICE, total_minor, **values)

    def credit(self, corrects: int, total_minor: int = 18640, **values: Any) -> int:
        return self.document(DocumentKind.CREDIT_NOTE, total_minor, corrects=corrects, **values)

    def pay(self, document: int, minor: int = 18640, **values: Any) -> int:
        """A payment, all of it for one document."""
        id_ = self._new()
        given = {"customer": 1, "method": "card", **values}
        payment = Payment(
            id=id_, card=1, amount_minor=minor, currency="EUR", received_on=self.today, at=self.now, **given
        )
        self.add("payments", payment)
        return self.allocate(document, minor, payment=id_)

    def allocate(self, document: int, minor: int, **values: Any) -> int:
        id_ = self._new()
        return self.add(
            "allocations", Allocation(id=id_, document=document, amount_minor=minor, at=self.now, **values)
        )

    def write_off(self, document: int, minor: int) -> int:
        id_ = self._new()
        return self.add(
            "write_offs",
            WriteOff(id=id_, document=document, amount_minor=minor, reason="moved away", at=self.now),
        )

    def collect(self, **values: Any) -> int:
        id_ = self._new()
        return self.add("collections", Collection(id=id_, card=1, at=self.now, **values))

    def waive(self, need: Need) -> int:
        id_ = self._new()
        return self.add("waivers", Waiver(id=id_, card=1, need=need, reason="they said so", at=self.now))

    def end(self, kind: EndKind = EndKind.DECLINED) -> int:
        id_ = self._new()
        return self.add("endings", Ending(id=id_, card=1, kind=kind, at=self.now))

    def call(self, outcome: CallOutcome, **values: Any) -> int:
        id_ = self._new()
        given = {"who": "Adaeze", **values}
        return self.add("calls", Call(id=id_, card=1, outcome=outcome, at=self.now, **given))

    def recheck(self, due_in_days: int = 28, state: RecheckState = RecheckState.OPEN) -> int:
        id_ = self._new()
        return self.add(
            "rechecks",
            Recheck(
                id=id_,
                card=1,
                bike=1,
                reason="charging",
                anchor_on=self.today,
                days=due_in_days,
                distance=500,
                due_on=self.today + timedelta(days=due_in_days),
                state=state,
                at=self.now,
            ),
        )


def agreed_card(*repairs: str, **head: Any) -> tuple[Bench, tuple[int, ...]]:
    """A card that was looked at, priced at 186.40 and agreed without a limit; the ids of its repairs."""
    bench = Bench.of(**head)
    bench.leave()
    ids = tuple(bench.repair(bench.finding(words), words) for words in repairs or ("new regulator plug",))
    bench.go_ahead(*ids, estimate=bench.estimate(*ids))
    return bench, ids


def mended_card(**head: Any) -> Bench:
    """A card whose one repair is done."""
    bench, (repair,) = agreed_card(**head)
    bench.start(repair)
    bench.done(repair)
    return bench


def billed_card(total_minor: int = 18640, **head: Any) -> tuple[Bench, int]:
    """A card whose one repair is billed; the id of its invoice."""
    bench = mended_card(**head)
    return bench, bench.invoice(total_minor)
