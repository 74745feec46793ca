"""The documents of the invented card: deposit, invoice, credit note, estimate, payment."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

from tests.papers import build
from tracker.billing.bill import draw_up
from tracker.billing.credit import TakeBack, credit_lines
from tracker.billing.deposit import deposit_bill
from tracker.billing.left import set_off_of
from tracker.billing.tax import NOT_REGISTERED, PASSED_ON, standard
from tracker.billing.totals import totals
from tracker.records.billing import Bill, BillLine, IssuedBill
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

S20 = standard(Decimal(20))
NOBODY = NOT_REGISTERED
"""What a trader who is not registered for tax puts on every line."""

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
            "name": build.SHOP.name,
            "address": build.SHOP.address,
            "tax_number": build.SHOP.tax_number,
            "phone": build.SHOP.phone,
        },
        buyer={"name": build.CUSTOMER.name, "address": build.CUSTOMER.address},
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
        at=build.CAME + timedelta(hours=18),
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
    words="Handed over at the counter.", at=build.CAME + timedelta(days=4),
)  # fmt: skip
ALLOCATIONS = (
    Allocation(id=1, payment=1, document=1, amount_minor=10000, at=PAYMENT.at),
    Allocation(id=2, payment=1, document=2, amount_minor=14000, at=PAYMENT.at),
)
