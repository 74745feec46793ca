"""What a bill is worked out from, and what comes out of it.

The names in brackets are the terms of EN 16931-1 (BT: one term, BG: a group of terms). Amounts are whole
minor units of the bill's currency; quantities, unit prices and percentages are Decimal.
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from tracker.records.document import DocumentKind, LineKind


@dataclass(frozen=True, slots=True)
class TaxKey:
    """What tax falls on an amount, and why none does.

    `category` is a code of UNCL 5305 as EN 16931 uses it: S standard rate, Z zero rate, E exempt, O not
    subject to tax; empty while nobody has said. `rate` is in percent (BT-119). `exemption` is a VATEX
    code (BT-121), `reason` its words (BT-120).
    """

    category: str
    rate: Decimal = Decimal(0)
    exemption: str = ""
    reason: str = ""

    @property
    def group(self) -> tuple[str, Decimal]:
        """What amounts must share to be taxed together (BR-S-08): category and rate, not the words."""
        return self.category, self.rate


UNSAID = TaxKey("")
"""Nobody has said yet what tax falls on it: the totals take it as untaxed, the checks refuse to issue it."""


@dataclass(frozen=True, slots=True)
class LineAllowance:
    """An amount off one line (BG-27), or onto it when `charge` (BG-28); positive, already rounded."""

    minor: int
    words: str
    charge: bool = False
    percent: Decimal | None = None


@dataclass(frozen=True, slots=True)
class BillLine:
    """One line (BG-25).

    `unit_price` (BT-146) is in major units for `base_qty` units (BT-149): without tax, or with it where
    the shop types its prices so (see `tracker.billing.gross`). What is taken back has a negative quantity,
    never a negative price (BR-27). `about` names the document a line sets off; `of_line` is the line,
    counted from 1, that a credit note's line gives back.
    """

    words: str
    qty: Decimal
    unit: str
    unit_price: Decimal
    tax: TaxKey
    kind: LineKind = LineKind.OTHER
    base_qty: Decimal = Decimal(1)
    allowances: tuple[LineAllowance, ...] = ()
    about: str = ""
    of_line: int = 0


@dataclass(frozen=True, slots=True)
class DocumentAllowance:
    """An amount off the whole document within one tax group (BG-20), or onto it when `charge` (BG-21).

    `minor` is positive. `of_row` is the row, counted from 1, that a credit note's row gives back.
    """

    minor: int
    tax: TaxKey
    words: str
    charge: bool = False
    percent: Decimal | None = None
    of_row: int = 0


@dataclass(frozen=True, slots=True)
class TaxGroup:
    """One row of the tax breakdown (BG-23): `taxable` BT-116, `tax` BT-117, in minor units."""

    key: TaxKey
    taxable: int
    tax: int

    @property
    def with_tax(self) -> int:
        """Taxable amount and its tax, in minor units."""
        return self.taxable + self.tax


@dataclass(frozen=True, slots=True)
class Totals:
    """A document's totals (BG-22) and tax breakdown (BG-23), in minor units of `currency`."""

    currency: str
    line_nets: tuple[int, ...]
    """BT-131, in the order of the lines."""
    groups: tuple[TaxGroup, ...]
    line_total: int
    """BT-106"""
    allowance_total: int
    """BT-107"""
    charge_total: int
    """BT-108"""
    tax_exclusive: int
    """BT-109"""
    tax_total: int
    """BT-110"""
    tax_inclusive: int
    """BT-112"""
    prepaid: int
    """BT-113: money received without a document."""
    rounding: int
    """BT-114"""
    payable: int
    """BT-115"""


class Why(StrEnum):
    """Why an amount stands in the rounding amount (BT-114); the paper says it in the shop's language."""

    TYPED_WITH_TAX = "prices typed with tax"
    DEPOSIT = "deposit set off"
    CREDIT = "credit made whole"
    CASH = "cash rounding"


@dataclass(frozen=True, slots=True)
class RoundingPart:
    """A part of the rounding amount (BT-114), in minor units, and what it comes from."""

    why: Why
    minor: int


@dataclass(frozen=True, slots=True)
class Bill:
    """A document worked out: lines without tax, what is taken off the whole, the totals, the odd cents."""

    lines: tuple[BillLine, ...]
    allowances: tuple[DocumentAllowance, ...]
    totals: Totals
    rounding: tuple[RoundingPart, ...] = ()


@dataclass(frozen=True, slots=True)
class IssuedBill:
    """A bill with its number: what a credit note takes back from, what a deposit is set off as."""

    kind: DocumentKind
    number: str
    on: date
    bill: Bill


@dataclass(frozen=True, slots=True)
class SetOff:
    """What is left of an issued deposit, to be set off on the final invoice; `words` stand on its lines."""

    number: str
    groups: tuple[TaxGroup, ...]
    payable: int
    words: str


@dataclass(frozen=True, slots=True)
class Party:
    """Seller or buyer as the paper shows them."""

    name: str
    address: str
    tax_number: str = ""


@dataclass(frozen=True, slots=True)
class Owing:
    """An issued document as the ledger sees it: `payable` (BT-115) in minor units, positive on a credit note.

    `settles` is the number of the document that a credit note names (BT-25).
    """

    kind: DocumentKind
    number: str
    on: date
    due: date
    payable: int
    settles: str = ""


@dataclass(frozen=True, slots=True)
class Receipt:
    """Money that came, or went back (negative), and the parts of it that settle documents by number.

    What no part uses stays the customer's credit in hand.
    """

    minor: int
    parts: tuple[tuple[str, int], ...] = ()
