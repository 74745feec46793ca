"""Parts: what is kept, what moved, what a card waits for."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum

from tracker.records.row import Kept, Row


@dataclass(frozen=True, slots=True, kw_only=True)
class Part(Kept):
    """A part in the shop's list. Prices per `unit`, net, in major units; stock is the sum of moves."""

    code: str
    name: str
    unit: str = "piece"
    price: Decimal
    cost: Decimal = Decimal(0)
    tax_rate: Decimal | None = None
    supplier: str = ""
    place: str = ""
    least: Decimal = Decimal(0)
    active: bool = True


class MoveKind(StrEnum):
    """Why stock changed."""

    ARRIVED = "arrived"
    USED = "used"
    RETURNED = "returned"
    COUNTED = "counted"
    SENT_BACK = "sent back"


@dataclass(frozen=True, slots=True, kw_only=True)
class StockMove(Row):
    """Stock in (positive) or out (negative) of one part, with the card it went to."""

    part: int
    qty: Decimal
    kind: MoveKind
    card: int | None = None
    repair: int | None = None
    wanted: int | None = None
    unit_cost: Decimal | None = None
    words: str = ""
    by: str = ""
    at: datetime


class WantedState(StrEnum):
    """Where a wanted part stands."""

    WANTED = "wanted"
    ORDERED = "ordered"
    HERE = "here"
    FITTED = "fitted"
    WRONG = "wrong"
    DROPPED = "dropped"


@dataclass(frozen=True, slots=True, kw_only=True)
class PartWanted(Kept):
    """A part that a card needs. A customer's own part carries no price and no guarantee.

    `unit_price` without tax, in major units, as it will be billed. `estimate` is the one that asked for it,
    None where a person did.
    """

    card: int
    part: int | None = None
    words: str
    qty: Decimal
    unit: str = "piece"
    unit_price: Decimal = Decimal(0)
    tax_rate: Decimal | None = None
    customers_own: bool = False
    exchange: bool = False
    repair: int | None = None
    estimate: int | None = None
    state: WantedState = WantedState.WANTED
    supplier: str = ""
    ordered_on: date | None = None
    expected_on: date | None = None
    by: str = ""
    at: datetime
