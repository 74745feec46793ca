"""A whole invented card for the papers: two repairs, readings, documents, money, a recheck."""

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

from tracker.billing.bill import draw_up
from tracker.billing.credit import TakeBack, credit_lines
from tracker.billing.deposit import deposit_bill
from tracker.billing.left import set_off_of
from tracker.billing.tax import NOT_REGISTERED, PASSED_ON, standard
from tracker.billing.totals import totals
from tracker.papers.known import Known
from tracker.records.bike import Bike, BikeFeature, Earth
from tracker.records.billing import Bill, BillLine, IssuedBill, TaxKey
from tracker.records.card import (
    Card,
    Finding,
    GoAhead,
    GoAheadFor,
    Phase,
    Reading,
    Symptom,
    SymptomKind,
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
)
from tracker.records.facts import CardFacts
from tracker.records.people import Customer
from tracker.records.recheck import Recheck
from tracker.records.shop import Shop
from tracker.records.stock import PartWanted, WantedState
from tracker.records.work import Repair
from tracker.seedfiles.readings import load_readings

CAME = datetime(2026, 3, 2, 8, 40, tzinfo=UTC)
S20 = standard(Decimal(20))

SHOP = Shop(
    name="Low Gate Motorcycle Electrics",
    address="3 Low Gate\n1200 Sandwick",
    phone="0155 0100 200",
    email="bench@lowgate.example",
    tax_number="XX 204 118 337",
    zone="Europe/Dublin",
)
BIKE = Bike(
    id=1,
    make="Halden",
    model="650 twin",
    year=1998,
    registration="LKM 412",
    vin="HLD65T98K00041207",
    colour="dark green",
    earth=Earth.NEGATIVE,
    volts=12,
    battery_kind="agm",
    battery_ah=12.0,
)
CUSTOMER = Customer(
    id=1,
    name="Adaeze Oyelaran",
    phone="0155 0199 204",
    email="adaeze@post.example",
    address="12 Quay Lane\n1201 Sandwick",
)
CARD = Card(
    id=1,
    token="4f1c8a6e",
    number="26-0412",
    bike=1,
    customer=1,
    complaint="Flat after two days standing. Left rear indicator dead, the others flash fast.",
    came_at=CAME,
    came_how="in a van, would not start",
    odometer=41230,
    promised_on=date(2026, 3, 6),
    marks="left pannier scratched, right mirror cracked",
    keys="1, tag 14",
    stands="bay 2",
    road_test=True,
)
FEATURES = tuple(
    BikeFeature(bike=1, feature=name, answer=answer, at=CAME)
    for name, answer in (
        ("fuel", "carburettor"),
        ("abs", "no"),
        ("electric-start", "yes"),
        ("cooling", "air"),
        ("indicators", "filament"),
        ("turn-warning", "shared"),
        ("stand-switch", "don't know"),
        ("alternator", "three-phase"),
    )
)
SYMPTOMS = (
    Symptom(id=1, card=1, kind=SymptomKind.FLAT_PARKED, when="two days", at=CAME),
    Symptom(id=2, card=1, kind=SymptomKind.DEAD, load="left rear indicator", at=CAME),
    Symptom(id=3, card=1, kind=SymptomKind.FLASHES_FAST, load="left front indicator", at=CAME),
)
FINDINGS = (
    Finding(id=1, card=1, words="regulator plug burnt, one way loose", circuit="charging", at=CAME),
    Finding(id=2, card=1, words="left rear indicator: earth bullet green with corrosion", at=CAME),
    Finding(
        id=3,
        card=1,
        words="front brake hose touches the loom at full lock",
        left="customer has it seen to at the dealer's",
        told_unsafe=True,
        at=CAME,
    ),
)
CONNECTOR = Repair(
    id=1,
    card=1,
    finding=1,
    rule="connector-replaced",
    asked={"ways": "3", "size_mm2": "3"},
    proves=("regulated_volts", "loaded_drop"),
    words="regulator plug replaced, three ways",
    circuit="charging",
    wire_from="regulator plug",
    wire_to="main fuse",
    mm=60,
    mm_end="regulator plug",
    size_mm2=3.0,
    colour="red",
    tracer="white",
    terminal="6.3 mm sealed blade, tinned",
    connector_old="3-way unsealed, burnt",
    connector_new="3-way sealed, 6.3 series",
    keeps_ways=True,
    sleeve="9.5 mm adhesive-lined",
    length_used_mm=450,
    pull_n=185.0,
    pull_tested=True,
    started_at=CAME + timedelta(days=1),
    done_at=CAME + timedelta(days=1, hours=2),
    done_by="Ines",
)
BULLET = Repair(
    id=2,
    card=1,
    finding=2,
    rule="bullet-pair",
    asked={"size_mm2": "0.75"},
    proves=("drop_earth", "flash_rate"),
    words="earth bullet pair renewed",
    circuit="left rear indicator",
    wire_from="left rear indicator",
    wire_to="rear earth",
    mm=140,
    mm_end="left rear indicator",
    size_mm2=0.75,
    colour="black",
    tracer="green",
    colour_code="Japanese",
    splice="open-barrel crimp",
    terminal="3.9 mm bullet, brass",
    sleeve="6.4 mm adhesive-lined",
    length_used_mm=120,
    pull_tested=False,
    started_at=CAME + timedelta(days=1, hours=3),
    done_at=CAME + timedelta(days=1, hours=4),
    done_by="Ines",
)


def _reading(id_: int, kind: str, value: float | None, unit: str, phase: Phase, **values: object) -> Reading:
    given = {"conditions": {}, "at": CAME + timedelta(hours=id_), "by": "Ines", **values}
    return Reading(id=id_, card=1, bike=1, kind=kind, value=value, unit=unit, phase=phase, **given)  # type: ignore[arg-type]


READINGS = (
    _reading(1, "standing_volts", 12.12, "V", Phase.BEFORE, conditions={"hours_standing": "48"}),
    _reading(2, "regulated_volts", 13.1, "V", Phase.BEFORE, conditions={"rev_min": "5000"}),
    _reading(3, "regulated_volts_lamps", 12.6, "V", Phase.BEFORE, conditions={"rev_min": "5000"}),
    _reading(4, "drain", 0.9, "mA", Phase.BEFORE, state="key off, asleep"),
    _reading(5, "insulation_ohms", None, "ohm", Phase.BEFORE, words="OL", place="stator plug"),
    _reading(6, "drop_earth", 1.42, "V", Phase.BEFORE, place="left rear indicator", repair=2),
    _reading(7, "loaded_drop", 0.88, "V", Phase.BEFORE, place="regulator plug", side="out", repair=1),
    _reading(30, "standing_volts", 12.78, "V", Phase.AFTER, conditions={"hours_standing": "12"}),
    _reading(31, "regulated_volts", 14.3, "V", Phase.AFTER, conditions={"rev_min": "5000"}),
    _reading(32, "regulated_volts_lamps", 14.1, "V", Phase.AFTER, conditions={"rev_min": "5000"}),
    _reading(33, "drop_earth", 0.05, "V", Phase.AFTER, place="left rear indicator", repair=2),
    _reading(34, "flash_rate", 84.0, "/min", Phase.AFTER, place="left rear indicator", repair=2),
    _reading(35, "loaded_drop", 0.06, "V", Phase.AFTER, place="regulator plug", side="out", repair=1),
    _reading(36, "wiggle", 1.0, "yes/no", Phase.AFTER, place="regulator plug", repair=1),
)
JUDGED = {2: "low", 3: "low", 31: "good", 32: "good", 6: "high", 33: "good"}
KNOWN = Known(kinds=load_readings(), places={"rear earth": "earth bolt under the seat"})
WANTED = (
    PartWanted(id=1, card=1, words="3-way sealed connector, 6.3 series", qty=Decimal(1),
               unit_price=Decimal("11.80"), state=WantedState.FITTED, at=CAME),
    PartWanted(id=2, card=1, words="LED tail lamp, brought along", qty=Decimal(1), customers_own=True,
               state=WantedState.HERE, at=CAME),
    PartWanted(id=3, card=1, words="battery, AGM 12 Ah", qty=Decimal(1), unit_price=Decimal("74.50"),
               exchange=True, state=WantedState.ORDERED, expected_on=date(2026, 3, 5), at=CAME),
)  # fmt: skip
GO_AHEADS = (
    GoAhead(id=1, card=1, what=GoAheadFor.LOOK, who="Adaeze Oyelaran", how="at book in", limit_min=90,
            limit_minor=12000, at=CAME),
    GoAhead(id=2, card=1, what=GoAheadFor.WORK, estimate=1, covers=(1, 2), who="Adaeze Oyelaran", how="phone",
            limit_minor=34000, words="Ring before ten if it gets dearer.", at=CAME + timedelta(hours=25)),
)  # fmt: skip
FACTS = CardFacts(
    card=CARD,
    shop=SHOP,
    bike=BIKE,
    customer=CUSTOMER,
    symptoms=SYMPTOMS,
    readings=READINGS,
    findings=FINDINGS,
    go_aheads=GO_AHEADS,
    repairs=(CONNECTOR, BULLET),
    wanted=WANTED,
)
FRESH = replace(FACTS, repairs=tuple(
    replace(one, mm=None, mm_end="", splice="", terminal="", connector_new="", connector_old="", sleeve="",
            keeps_ways=None, length_used_mm=None, pull_n=None, pull_tested=None, done_at=None, done_by="")
    for one in (CONNECTOR, BULLET)
), readings=tuple(one for one in READINGS if one.phase is Phase.BEFORE))  # fmt: skip
"""The same card before anything was mended: what a bench card is printed from."""

PRICED = (
    BillLine("Look for the fault", Decimal("1.1"), "hour", Decimal(60), S20, LineKind.DIAGNOSIS),
    BillLine("Seat and left panel off and on", Decimal(20), "minute", Decimal(60), S20, LineKind.ACCESS,
             base_qty=Decimal(60)),
    BillLine("Regulator plug replaced, 3 ways", Decimal("0.9"), "hour", Decimal(60), S20, LineKind.LABOUR),
    BillLine("Earth bullet pair renewed", Decimal("0.4"), "hour", Decimal(60), S20, LineKind.LABOUR),
    BillLine("3-way sealed connector, 6.3 series", Decimal(1), "piece", Decimal("11.80"), S20, LineKind.PART),
    BillLine("Battery, AGM 12 Ah", Decimal(1), "piece", Decimal("74.50"), S20, LineKind.PART),
    BillLine("Wire 3 mm², red/white", Decimal(450), "mm", Decimal("0.0042"), S20, LineKind.WIRE),
    BillLine("Roadworthiness test, as paid", Decimal(1), "piece", Decimal("38.00"), PASSED_ON, LineKind.FEE),
)  # fmt: skip


@dataclass(frozen=True)
class Issued:
    """A document with what hangs on it."""

    document: Document
    lines: tuple[DocumentLine, ...]
    taxes: tuple[DocumentTax, ...]


def issue(
    kind: DocumentKind,
    number: str,
    bill: Bill,
    id_: int,
    on: date,
    *,
    sets_off: int | None = None,
    corrects: int | None = None,
    words: str = "",
) -> Issued:
    """A bill as it is kept once it has its number."""
    sums = bill.totals
    document = Document(
        id=id_,
        kind=kind,
        number=number,
        series=str(kind),
        year=on.year,
        sequence=id_,
        card=1,
        customer=1,
        issued_on=on,
        supply_on=on - timedelta(days=1),
        due_on=on + timedelta(days=14),
        currency=sums.currency,
        seller={
            "name": SHOP.name,
            "address": SHOP.address,
            "tax_number": SHOP.tax_number,
            "phone": SHOP.phone,
        },
        buyer={"name": CUSTOMER.name, "address": CUSTOMER.address},
        corrects=corrects,
        line_total_minor=sums.line_total,
        allowance_total_minor=sums.allowance_total,
        charge_total_minor=sums.charge_total,
        net_minor=sums.tax_exclusive,
        tax_minor=sums.tax_total,
        total_minor=sums.tax_inclusive,
        prepaid_minor=sums.prepaid,
        rounding_minor=sums.rounding,
        rounding_why=", ".join(str(part.why) for part in bill.rounding),
        payable_minor=sums.payable,
        words=words,
        at=datetime(on.year, on.month, on.day, 15, id_, tzinfo=UTC),
    )
    lines = tuple(
        DocumentLine(
            document=id_,
            position=at,
            kind=line.kind,
            words=line.words,
            qty=line.qty,
            unit=line.unit,
            unit_price=line.unit_price,
            base_qty=line.base_qty,
            net_minor=net,
            tax_category=line.tax.category,
            tax_rate=line.tax.rate,
            exemption=line.tax.exemption,
            sets_off=sets_off if line.about else None,
        )
        for at, (line, net) in enumerate(zip(bill.lines, sums.line_nets, strict=True), 1)
    )
    taxes = tuple(
        DocumentTax(
            document=id_,
            category=group.key.category,
            rate=group.key.rate,
            taxable_minor=group.taxable,
            tax_minor=group.tax,
            exemption=group.key.exemption,
            reason=group.key.reason,
        )
        for group in sums.groups
    )
    return Issued(document, lines, taxes)


ESTIMATED = draw_up(PRICED, currency="EUR").totals
_DEPOSIT_BILL = deposit_bill(ESTIMATED, 10000, "Deposit on EST-26-0112")
DEPOSIT = issue(DocumentKind.DEPOSIT, "DEP-26-0007", _DEPOSIT_BILL, 1, date(2026, 3, 3))
_SET_OFF = set_off_of(
    IssuedBill(DocumentKind.DEPOSIT, "DEP-26-0007", date(2026, 3, 3), _DEPOSIT_BILL),
    (),
    "Deposit paid before",
)
_INVOICE_BILL = draw_up(PRICED, currency="EUR", deposits=[_SET_OFF], prepaid=2000, cash_step=5)
INVOICE = issue(
    DocumentKind.INVOICE,
    "INV-26-0042",
    _INVOICE_BILL,
    2,
    date(2026, 3, 6),
    sets_off=1,
    words="The old battery stays with us for recycling.",
)
_CREDIT_BILL = credit_lines(
    IssuedBill(DocumentKind.INVOICE, "INV-26-0042", date(2026, 3, 6), _INVOICE_BILL), [TakeBack(6)]
)
CREDIT_NOTE = issue(
    DocumentKind.CREDIT_NOTE,
    "CRN-26-0003",
    _CREDIT_BILL,
    3,
    date(2026, 3, 9),
    corrects=2,
    words="Battery brought back unused.",
)


def untaxed(lines: tuple[BillLine, ...] = PRICED) -> Issued:
    """The same work billed by a trader who is not registered for tax."""
    bill = draw_up(lines, currency="EUR", registered=False)
    return issue(DocumentKind.INVOICE, "INV-26-0043", bill, 4, date(2026, 3, 6))


def estimate_of(
    lines: tuple[BillLine, ...] = PRICED, *, fixed: bool = False, currency: str = "EUR", revision: int = 1
) -> tuple[Estimate, tuple[EstimateLine, ...]]:
    """Lines without tax as an estimate keeps them."""
    sums = totals(lines, currency=currency)
    estimate = Estimate(
        id=1,
        card=1,
        number="EST-26-0112",
        revision=revision,
        made_on=date(2026, 3, 3),
        fixed_price=fixed,
        currency=currency,
        covers=(1, 2),
        least_min=120,
        likely_min=164,
        most_min=260,
        expected_min=170,
        low_min=140,
        high_min=215,
        net_minor=sums.tax_exclusive,
        tax_minor=sums.tax_total,
        total_minor=sums.payable,
        high_total_minor=sums.payable * 6 // 5,
        wire_mm={},
        frozen={},
        words="The battery was weak when it came in; a charge may save it.",
        at=CAME + timedelta(hours=18),
    )
    return estimate, tuple(
        EstimateLine(
            estimate=1,
            position=at,
            kind=line.kind,
            words=line.words,
            qty=line.qty,
            unit=line.unit,
            unit_price=line.unit_price,
            base_qty=line.base_qty,
            net_minor=net,
            tax_category=line.tax.category,
            tax_rate=line.tax.rate,
        )
        for at, (line, net) in enumerate(zip(lines, sums.line_nets, strict=True), 1)
    )


PAYMENT = Payment(
    id=1, customer=1, card=1, amount_minor=25000, currency="EUR", method="card", received_on=date(2026, 3, 6),
    words="Handed over at the counter.", at=CAME + timedelta(days=4),
)  # fmt: skip
ALLOCATIONS = (
    Allocation(id=1, payment=1, document=1, amount_minor=10000, at=PAYMENT.at),
    Allocation(id=2, payment=1, document=2, amount_minor=14000, at=PAYMENT.at),
)
RECHECK = Recheck(
    id=1,
    token="a81e2f05",
    card=1,
    bike=1,
    reason="charging",
    anchor_on=date(2026, 3, 6),
    days=28,
    distance=500,
    due_on=date(2026, 4, 3),
    due_odometer=41730,
    by="Ines",
    at=CAME + timedelta(days=4),
)


def tax_key_of_nobody() -> TaxKey:
    """What a trader who is not registered puts on every line."""
    return NOT_REGISTERED
