"""The shop: its settings, which are rows in its file and journaled."""

from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from tracker.records.bike import DistanceUnit
from tracker.records.card import Tolerance
from tracker.records.row import Kept


class Mode(StrEnum):
    """How the person works."""

    WORKSHOP = "workshop"
    MOBILE = "mobile"
    PROJECT = "project"


class Rounding(StrEnum):
    """How clocked minutes become billed ones."""

    NEAREST = "nearest"
    UP = "up"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """A shop's settings. Rates are per hour, in major units; `tax_rate` in percent.

    Rates and prices are without tax, or with it where `prices_with_tax` says so.

    `use_learned` lets what past cards say into new estimates; without it they only show it.

    `language` is what its papers speak, a code of ISO 639-1.

    `recheck_words` is what it writes about a recheck, with places as `tracker.records.own_text` names them;
    empty for the program's own.

    Number formats take {yy}, {yyyy} and {n}; the count starts anew each year and has no gaps.
    """

    mode: Mode = Mode.WORKSHOP
    name: str = ""
    address: str = ""
    phone: str = ""
    email: str = ""
    tax_number: str = ""
    currency: str = "EUR"
    zone: str = "UTC"
    country: str = ""
    language: str = "en"
    distance_unit: DistanceUnit = DistanceUnit.KM
    taxed: bool = True
    tax_rate: Decimal = Decimal(20)
    prices_with_tax: bool = False
    labour_rate: Decimal = Decimal(60)
    looking_rate: Decimal = Decimal(60)
    call_out_charge: Decimal = Decimal(0)
    distance_charge: Decimal = Decimal(0)
    rounding: Rounding = Rounding.NEAREST
    rounding_min: int = 6
    bench_minimum_min: int = 0
    cash_rounding_minor: int = 1
    tolerance: Tolerance = Tolerance.NONE
    tolerance_percent: int = 10
    recheck_days: int = 28
    recheck_distance: int = 500
    terms_days: int = 14
    look_limit_min: int = 60
    recheck_words: str = ""
    use_learned: bool = False
    numbers: dict[str, str] = field(
        default_factory=lambda: {
            "card": "{yy}-{n:04}",
            "estimate": "EST-{yy}-{n:04}",
            "deposit": "DEP-{yy}-{n:04}",
            "invoice": "INV-{yy}-{n:04}",
            "credit note": "CRN-{yy}-{n:04}",
        }
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting(Kept):
    """One of the shop's settings as it is kept: `name` is a field of `Shop`, `value` its text."""

    name: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopFile(Kept):
    """The shop's own copy of a seed file (`repairs/splice.toml`), or its picture in base 64 (`picture`)."""

    name: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Counter(Kept):
    """The last number taken in a series in a year; raised inside the transaction that issues."""

    series: str
    year: int
    last: int
