"""Papers with a number: estimates, deposits, invoices, credit notes; and the money that came for them."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum

from tracker.records.row import Row


class LineKind(StrEnum):
    """What a line is for."""

    DIAGNOSIS = "diagnosis"
    LABOUR = "labour"
    ACCESS = "access"
    PART = "part"
    WIRE = "wire"
    TRAVEL = "travel"
    FEE = "fee"
    DEPOSIT = "deposit"
    DISCOUNT = "discount"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate(Row):
    """One revision of a card's estimate, frozen with the rules and prices it was made with.

    Minutes are of the work and what comes off; money in minor units of `currency`. `frozen` holds the
    rules' texts, the prices and the settings used, so that the sum can be explained for ever.
    """

    card: int
    number: str
    revision: int
    made_on: date
    fixed_price: bool = False
    currency: str
    covers: tuple[int, ...] = ()
    least_min: int
    likely_min: int
    most_min: int
    expected_min: int
    low_min: int
    high_min: int
    net_minor: int
    tax_minor: int
    total_minor: int
    high_total_minor: int
    wire_mm: dict[str, int]
    frozen: dict[str, object]
    words: str = ""
    by: str = ""
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class EstimateLine(Row):
    """One line of an estimate. `why` is its sum in words; `book_min` is kept apart from shown minutes."""

    estimate: int
    position: int
    repair: int | None = None
    kind: LineKind
    words: str
    qty: Decimal
    unit: str
    unit_price: Decimal
    base_qty: Decimal = Decimal(1)
    net_minor: int
    tax_category: str
    tax_rate: Decimal
    book_min: int | None = None
    least_min: int | None = None
    likely_min: int | None = None
    most_min: int | None = None
    part: int | None = None
    why: str = ""


class DocumentKind(StrEnum):
    """The numbered papers that ask for money or give it back."""

    DEPOSIT = "deposit"
    INVOICE = "invoice"
    CREDIT_NOTE = "credit note"


@dataclass(frozen=True, slots=True, kw_only=True)
class Document(Row):
    """An issued document: never changed afterwards. Amounts in minor units of `currency`.

    `seller` and `buyer` are as they were on that day. `corrects` is the document a credit note names.
    A credit note's amounts are positive, as on the paper. `prepaid_minor` is money received without a
    document (BT-113), `rounding_minor` BT-114, `payable_minor` BT-115 of EN 16931.
    """

    kind: DocumentKind
    number: str
    series: str
    year: int
    sequence: int
    card: int | None = None
    customer: int | None = None
    issued_on: date
    supply_on: date
    due_on: date
    currency: str
    seller: dict[str, str]
    buyer: dict[str, str]
    corrects: int | None = None
    line_total_minor: int
    allowance_total_minor: int = 0
    charge_total_minor: int = 0
    net_minor: int
    tax_minor: int
    total_minor: int
    prepaid_minor: int = 0
    rounding_minor: int = 0
    rounding_why: str = ""
    payable_minor: int
    words: str = ""
    by: str = ""
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class DocumentLine(Row):
    """One line of a document. `unit_price` without tax in major units, `net_minor` rounded (BT-131).

    `sets_off` names the deposit document that a line takes away, `gives_back` the line that a credit returns.
    """

    document: int
    position: int
    kind: LineKind
    words: str
    qty: Decimal
    unit: str
    unit_price: Decimal
    base_qty: Decimal = Decimal(1)
    net_minor: int
    tax_category: str
    tax_rate: Decimal
    exemption: str = ""
    repair: int | None = None
    part: int | None = None
    sets_off: int | None = None
    gives_back: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DocumentTax(Row):
    """One tax group of a document (BG-23). `exemption` is a VATEX code (BT-121), `reason` words (BT-120)."""

    document: int
    category: str
    rate: Decimal
    taxable_minor: int
    tax_minor: int
    exemption: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Payment(Row):
    """Money that came (positive) or went back (negative)."""

    customer: int | None = None
    card: int | None = None
    amount_minor: int
    currency: str
    method: str
    received_on: date
    words: str = ""
    by: str = ""
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Allocation(Row):
    """The part of a payment, or of a credit note, that settles one document."""

    payment: int | None = None
    credit_note: int | None = None
    document: int
    amount_minor: int
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class WriteOff(Row):
    """What is no longer asked for, with the reason; the document itself stays as it is."""

    document: int
    amount_minor: int
    reason: str
    by: str = ""
    at: datetime
