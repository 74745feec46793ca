"""What is wrong with the lines of a bill before it is issued, all of it at once."""

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from tracker.records.billing import BillLine, DocumentAllowance, LineAllowance, TaxKey
from tracker.records.problem import Problem

MOST_QTY = Decimal(100_000)
"""A longer line is a slip of the hand: 100,000 mm is a hundred metres of wire."""

LEAST_BASE = Decimal("0.001")
"""The least quantity that a price is for; nothing is priced for less than a thousandth of it."""

MOST_PRICE = Decimal(100_000_000)
"""In major units; high, because there are currencies in which a set of looms costs millions."""

MOST_MINOR = 10**12
"""An allowance in minor units; beyond it exact sums would need more digits than the store keeps."""

UNTAXED = ("Z", "E", "O")


def line_problems(lines: Sequence[BillLine]) -> Iterator[Problem]:
    """The mistakes of each line; fields `lines.N.` with words, qty, price, base_qty, tax, allowances."""
    for number, line in enumerate(lines, 1):
        field = f"lines.{number}"
        if not line.words.strip():  # BR-25
            yield Problem(f"{field}.words", "The line does not say what it is for.")
        yield from _quantity(field, line)
        yield from _price(field, line)
        if not line.base_qty.is_finite() or not LEAST_BASE <= line.base_qty <= MOST_QTY:
            sentence = f"A price is for a quantity between {LEAST_BASE} and {MOST_QTY:f}."
            yield Problem(f"{field}.base_qty", sentence, given=str(line.base_qty))
        yield from _tax(f"{field}.tax", line.tax)
        yield from _rows(f"{field}.allowances", line.allowances)


def allowance_problems(allowances: Sequence[DocumentAllowance]) -> Iterator[Problem]:
    """The mistakes of what is taken off or put onto the whole document; fields `allowances.N`, from 1."""
    for number, row in enumerate(allowances, 1):
        yield from _rows(f"allowances.{number}", [row])
        yield from _tax(f"allowances.{number}.tax", row.tax)


def mixed_problems(keys: Iterable[TaxKey]) -> Iterator[Problem]:
    """Amounts not subject to tax may stand beside no others (BR-O-11 to BR-O-14)."""
    categories = {key.category for key in keys} - {""}
    if "O" in categories and len(categories) > 1:
        yield Problem(
            "lines",
            "Amounts not subject to tax cannot stand on one paper with amounts that are.",
            "Bill a fee passed on at cost as exempt, with its reason.",
        )


def _quantity(field: str, line: BillLine) -> Iterator[Problem]:
    if not line.qty.is_finite():
        yield Problem(f"{field}.qty", "The quantity is not a number.", given=str(line.qty))
    elif abs(line.qty) > MOST_QTY:
        sentence = f"The quantity is beyond {MOST_QTY:f}."
        yield Problem(f"{field}.qty", sentence, "Is the unit right?", f"{line.qty:f}")


def _price(field: str, line: BillLine) -> Iterator[Problem]:
    given = str(line.unit_price)
    if not line.unit_price.is_finite():
        yield Problem(f"{field}.price", "The price is not a number.", given=given)
    elif line.unit_price < 0:  # BR-27
        hint = "Take something back with a quantity below 0."
        yield Problem(f"{field}.price", "A price is not below 0.", hint, given)
    elif line.unit_price > MOST_PRICE:
        yield Problem(f"{field}.price", f"The price is beyond {MOST_PRICE:f}.", given=given)


def _tax(field: str, key: TaxKey) -> Iterator[Problem]:
    if not key.category:  # BR-CO-04
        hint = "Choose a rate, or say why there is no tax."
        yield Problem(field, "Nobody has said what tax falls on it.", hint)
    elif not key.rate.is_finite() or not 0 <= key.rate <= 100:
        yield Problem(field, "A tax rate lies between 0 and 100 %.", given=str(key.rate))
    elif key.rate != round(key.rate, 4):
        yield Problem(field, "A tax rate has four decimals at most.", given=str(key.rate))
    elif key.category == "S" and key.rate == 0:  # BR-S-05
        yield Problem(field, "A standard rate is above 0 %.", "At 0 % it is zero-rated or exempt.")
    elif key.category in UNTAXED and key.rate:  # BR-Z-05, BR-E-05, BR-O-05
        yield Problem(field, "What is not taxed has no rate.", given=f"{key.rate:f}")
    elif key.category in ("E", "O") and not (key.exemption or key.reason):  # BR-E-10, BR-O-10
        yield Problem(field, "It is not taxed, and no reason stands with it.", "Give the reason.")


def _rows(field: str, rows: Sequence[LineAllowance | DocumentAllowance]) -> Iterator[Problem]:
    for row in rows:
        if not row.words.strip():  # BR-33, BR-38, BR-42, BR-44
            yield Problem(field, "A discount or charge does not say what it is for.")
        if not 0 <= row.minor <= MOST_MINOR:
            yield Problem(field, "A discount or charge is an amount above 0.", given=str(row.minor))
