"""One row of every table, each naming all that it can name."""

from datetime import date
from decimal import Decimal
from typing import TypeVar

from tests.store.making import later
from tracker.records.bike import Bike, BikeFeature, DistanceUnit, Earth, LoomFact, OwnFigure
from tracker.records.card import (
    Attachment,
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
    Opened,
    Phase,
    Reading,
    Symptom,
    SymptomKind,
    Tolerance,
    Waiver,
)
from tracker.records.document import (
    Allocation,
    Document,
    DocumentKind,
    DocumentLine,
    DocumentTax,
    Estimate,
    EstimateLine,
    LineKind,
    Payment,
    WriteOff,
)
from tracker.records.people import Customer, CustomerKind, Mechanic, Ownership, Role
from tracker.records.recheck import Recheck, RecheckState
from tracker.records.row import Row
from tracker.records.shop import Setting, ShopFile
from tracker.records.stock import MoveKind, Part, PartWanted, StockMove, WantedState
from tracker.records.visit import Visit, Way
from tracker.records.work import Repair, TimeEntry, TimeKind
from tracker.store.unit import Unit

R = TypeVar("R", bound=Row)

DAY = date(2026, 3, 9)


class Samples:
    """Keeps one of each and remembers which."""

    def __init__(self, unit: Unit) -> None:
        self.unit = unit
        self.made: dict[type[Row], Row] = {}

    def keep(self, record: R) -> R:
        kept = self.unit.insert(record)
        self.made.setdefault(type(record), kept)
        return kept


def everything(unit: Unit) -> dict[type[Row], Row]:
    """Inserts one row of every table but the journal's own two, which the deed writes itself."""
    samples = Samples(unit)
    for _ in range(2):
        unit.number("card", 2026)
    samples.keep(Setting(name="name", value="Loom & Lamp"))
    samples.keep(ShopFile(name="repairs/splice.toml", text='name = "splice"\n'))
    mechanic = samples.keep(Mechanic(name="Anna", key="a"))
    customer = samples.keep(
        Customer(
            name="Zoë Quill", phone="01 555 0142", email="zoe@example.org", address="1 Lane\nTown",
            kind=CustomerKind.ACCOUNT, tax_number="X1", terms_days=14, reminders=False, notes="rings first",
        )
    )  # fmt: skip
    bike = samples.keep(
        Bike(
            make="Harrow", model="Trail 125", year=1981, registration="AB 12 CDE", vin="HT125-000412",
            colour="green", odometer_unit=DistanceUnit.MILES, earth=Earth.POSITIVE, volts=6,
            battery_kind="flooded", battery_ah=5.5, wheelbase_mm=1310, notes="kick only",
        )
    )  # fmt: skip
    samples.keep(Ownership(bike=bike.id, customer=customer.id, role=Role.RIDER, since=DAY, until=DAY))
    first = unit.insert(Card(number="26-0001", bike=bike.id, complaint="dead horn", came_at=unit.at))
    card = samples.keep(
        Card(
            number="26-0002", bike=bike.id, customer=customer.id, payer=customer.id, rider=customer.id,
            complaint="does not charge", came_at=unit.at, came_how="trailer", odometer=23_412,
            promised_on=DAY, marks="scratch left", keys="2", stands="bay 3", road_test=True, call_out=True,
            distance=12.5, excess_minor=10_000, comeback_of=first.id, comeback_charged=False,
            notes="alarm under the seat", comes_on=DAY, claim="CL-77",
        )
    )  # fmt: skip
    samples.keep(BikeFeature(bike=bike.id, feature="flasher", answer="electronic", card=card.id, at=unit.at))
    samples.keep(
        LoomFact(bike=bike.id, model_of="Harrow Trail", card=card.id, deed="wire",
                 facts={"from": "fuse", "to": "plug"},
                 words="moved by an earlier hand", who="Anna", at=unit.at)
    )  # fmt: skip
    samples.keep(
        OwnFigure(bike=bike.id, model_of="Harrow Trail", kind="regulated volts", least=6.8, most=7.4,
                  unit="V", source="plate on the unit", who="Anna", at=unit.at)
    )  # fmt: skip
    samples.keep(
        Symptom(card=card.id, kind=SymptomKind.WONT_GO_OFF, load="horn", words="sounds alone",
                when="wet", at=unit.at)
    )  # fmt: skip
    finding = samples.keep(
        Finding(card=card.id, words="green plug", circuit="charging", place="plug C4", zone="under tank",
                fault="corroded", left="customer said no", told_unsafe=True, by="Anna", at=unit.at)
    )  # fmt: skip
    repair = samples.keep(
        Repair(
            card=card.id, finding=finding.id, rule="splice", asked={"where": "under tank"},
            proves=("charging",), words="new length in", circuit="charging", wire_from="rectifier",
            wire_to="battery", mm=240, mm_end="battery", size_mm2=2.5, colour="white", tracer="green",
            colour_code="W/G",
            splice="crimped", terminal="6.3", connector_old="C4", connector_new="C4b", keeps_ways=True,
            sleeve="9 mm", length_used_mm=300, pull_n=120.0, pull_tested=True, started_at=unit.at,
            done_at=later(40),
            done_by="Anna", dropped="", sent_out_to="winder",
        )
    )  # fmt: skip
    samples.keep(
        Reading(card=card.id, bike=bike.id, kind="battery volts", value=6.31, unit="V", words="steady",
                place="battery", side="in", state="key on", conditions={"rpm": "3000"}, phase=Phase.AFTER,
                repair=repair.id, by="Anna", at=unit.at)
    )  # fmt: skip
    samples.keep(
        TimeEntry(card=card.id, repair=repair.id, mechanic=mechanic.id, kind=TimeKind.REPAIR, on_at=unit.at,
                  off_at=later(40), typed=True, words="")
    )  # fmt: skip
    part = samples.keep(
        Part(code="TERM-6.3", name="Blade terminal", price=Decimal("0.35"), cost=Decimal("0.1234"),
             tax_rate=Decimal("13.5"), supplier="Stores", place="drawer 4", least=Decimal(50))
    )  # fmt: skip
    wanted = samples.keep(
        PartWanted(card=card.id, part=part.id, words="terminals", qty=Decimal(4), unit_price=Decimal("0.35"),
                   tax_rate=Decimal(20), customers_own=True, exchange=True, repair=repair.id,
                   state=WantedState.ORDERED, supplier="Stores", ordered_on=DAY, expected_on=DAY, by="Anna",
                   at=unit.at)
    )  # fmt: skip
    samples.keep(StockMove(part=part.id, qty=Decimal(100), kind=MoveKind.ARRIVED, at=unit.at))
    samples.made[StockMove] = unit.insert(
        StockMove(part=part.id, qty=Decimal("-4"), kind=MoveKind.USED, card=card.id, repair=repair.id,
                  wanted=wanted.id, unit_cost=Decimal("0.12"), words="", by="Anna", at=unit.at)
    )  # fmt: skip
    _on_the_card(samples, card, bike)
    _papers(samples, card, customer, repair, part)
    return samples.made


def _on_the_card(samples: Samples, card: Card, bike: Bike) -> None:
    at = samples.unit.at
    repair = samples.made[Repair].id
    samples.keep(Waiver(card=card.id, need=Need.GO_AHEAD, reason="own bike", by="Anna", at=at))
    samples.keep(Ending(card=card.id, kind=EndKind.CANT_MAKE_IT, words="dry now", told_unsafe=True, at=at))
    samples.keep(Collection(card=card.id, to_whom="Zoë", odometer=23_415, override="on account", at=at))
    samples.keep(
        Call(card=card.id, who="Zoë", inward=True, outcome=CallOutcome.LEFT_WORD, words="ring", at=at)
    )
    visit = samples.keep(Visit(card=card.id, began_at=at, ended_at=at, why="the plug came later", by="Anna"))
    samples.keep(Opened(card=card.id, access="tank", refitted=True, visit=visit.id, by="Anna", at=at))
    samples.keep(
        Attachment(
            card=card.id, bike=bike.id, repair=repair, name="plug.png", mime="image/png",
            content=bytes(range(256)),
            sha256="40aff2e9d2d8922e47afd4648e6967497158785fbd1da870e7110266bf944880",
            words="green", by="Anna", at=at,
        )
    )  # fmt: skip
    samples.keep(
        Recheck(
            card=card.id, bike=bike.id, reason="charging", anchor_on=DAY, days=28, distance=500, due_on=DAY,
            due_odometer=23_915, state=RecheckState.BOOKED, outcome="", booked_card=card.id, by="Anna", at=at,
        )
    )  # fmt: skip


def _papers(samples: Samples, card: Card, customer: Customer, repair: Repair, part: Part) -> None:
    unit = samples.unit
    unit.number("estimate", 2026)
    estimate = samples.keep(
        Estimate(
            card=card.id, number="EST-26-0001", revision=1, made_on=DAY, fixed_price=True, currency="EUR",
            covers=(repair.id,), least_min=20, likely_min=30, most_min=60, expected_min=33, low_min=22,
            high_min=55, net_minor=3000, tax_minor=600, total_minor=3600, high_total_minor=6000,
            wire_mm={"W/G 2.5": 300}, frozen={"rules": {"splice": "..."}, "rate": "60"}, words="", at=unit.at,
        )
    )  # fmt: skip
    samples.keep(
        EstimateLine(
            estimate=estimate.id, position=1, repair=repair.id, kind=LineKind.LABOUR, words="splice",
            qty=Decimal("0.5"), unit="h", unit_price=Decimal(60), net_minor=3000, tax_category="S",
            tax_rate=Decimal(20), book_min=30, least_min=20, likely_min=30, most_min=60, part=part.id,
            why="30 min",
        )
    )  # fmt: skip
    samples.keep(
        Way(
            card=card.id, name="new plug", repairs=("connector:ways=3",), words=("Connector replaced",),
            currency="EUR", expected_min=40, low_min=30, high_min=60, total_minor=4800, high_total_minor=7200,
            more_minor=4800, offered_on=DAY, chosen_on=DAY, chosen_by="Zoë", estimate=estimate.id,
            planned=(repair.id,),
            withdrawn=True, by="Anna", at=unit.at,
        )
    )  # fmt: skip
    samples.keep(
        GoAhead(card=card.id, what=GoAheadFor.WORK, estimate=estimate.id, covers=(repair.id,), who="Zoë",
                how="phone", limit_minor=5000, limit_min=90, tolerance=Tolerance.PERCENT,
                tolerance_percent=10,
                at=unit.at)
    )  # fmt: skip
    invoice = samples.keep(_document(unit, card, DocumentKind.INVOICE, "INV", None))
    credit = unit.insert(_document(unit, card, DocumentKind.CREDIT_NOTE, "CRN", invoice.id))
    line = samples.keep(_line(invoice, repair, part, sets_off=invoice.id, gives_back=None))
    samples.made[DocumentLine] = unit.insert(
        _line(credit, repair, part, sets_off=invoice.id, gives_back=line.id)
    )
    samples.keep(
        DocumentTax(document=invoice.id, category="S", rate=Decimal(20), taxable_minor=3000, tax_minor=600)
    )
    payment = samples.keep(
        Payment(customer=customer.id, card=card.id, amount_minor=3600, currency="EUR", method="cash",
                received_on=DAY, at=unit.at)
    )  # fmt: skip
    samples.keep(Allocation(payment=payment.id, document=invoice.id, amount_minor=3000, at=unit.at))
    unit.insert(Allocation(credit_note=credit.id, document=invoice.id, amount_minor=300, at=unit.at))
    samples.keep(WriteOff(document=invoice.id, amount_minor=300, reason="a long friendship", at=unit.at))
    samples.made[Document] = credit


def _document(unit: Unit, card: Card, kind: DocumentKind, code: str, corrects: int | None) -> Document:
    series = kind.value
    sequence = unit.number(series, 2026)
    return Document(
        kind=kind, number=f"{code}-26-{sequence:04}", series=series, year=2026, sequence=sequence,
        card=card.id, customer=card.customer, issued_on=DAY, supply_on=DAY, due_on=DAY, currency="EUR",
        seller={"name": "Loom & Lamp"}, buyer={"name": "Zoë Quill"}, corrects=corrects,
        line_total_minor=3000, net_minor=3000, tax_minor=600, total_minor=3600, payable_minor=3600,
        at=unit.at,
    )  # fmt: skip


def _line(
    document: Document, repair: Repair, part: Part, sets_off: int | None, gives_back: int | None
) -> DocumentLine:
    return DocumentLine(
        document=document.id, position=1, kind=LineKind.LABOUR, words="splice", qty=Decimal("0.5"), unit="h",
        unit_price=Decimal(60), net_minor=3000, tax_category="S", tax_rate=Decimal(20), exemption="",
        repair=repair.id, part=part.id, sets_off=sets_off, gives_back=gives_back,
    )  # fmt: skip
