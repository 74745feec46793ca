"""Lines and bills for the tests of this room, by hand and by hypothesis."""

from datetime import date
from decimal import Decimal

from hypothesis import strategies as st

from tracker.billing.tax import PASSED_ON, standard
from tracker.records.billing import (
    Bill,
    BillLine,
    DocumentAllowance,
    IssuedBill,
    LineAllowance,
    TaxKey,
    Totals,
)
from tracker.records.document import DocumentKind, LineKind

S20, S10, S5, Z = (standard(Decimal(rate)) for rate in (20, 10, 5, 0))
DAY = date(2026, 3, 2)


def line(
    qty: str | int = 1,
    price: str | int = 100,
    tax: TaxKey = S20,
    *,
    kind: LineKind = LineKind.PART,
    words: str = "Something",
    off: int = 0,
) -> BillLine:
    """A line; `off` minor units of discount on it."""
    rows = (LineAllowance(off, "As agreed"),) if off else ()
    return BillLine(words, Decimal(qty), "piece", Decimal(price), tax, kind, allowances=rows)


def issued(bill: Bill, number: str = "INV-26-0001", kind: DocumentKind = DocumentKind.INVOICE) -> IssuedBill:
    """The bill with a number."""
    return IssuedBill(kind, number, DAY, bill)


def by_group(totals: Totals) -> dict[tuple[str, Decimal], tuple[int, int]]:
    """Taxable and tax per category and rate."""
    return {group.key.group: (group.taxable, group.tax) for group in totals.groups}


keys = st.sampled_from([S20, standard(Decimal(19)), standard(Decimal("5.5")), S5, Z, PASSED_ON])
quantities = st.decimals("0.01", "40", places=2)
prices = st.decimals("0", "900", places=2)


def _line(qty: Decimal, price: Decimal, key: TaxKey, off_percent: int) -> BillLine:
    worth = int(qty * price * 100)
    off = worth * off_percent // 100
    return line(str(qty), str(price), key, off=off)


lines = st.builds(_line, quantities, prices, keys, st.sampled_from([0, 0, 0, 10, 100]))
many_lines = st.lists(lines, min_size=1, max_size=8)
returned = st.builds(lambda qty, price, key: line(str(-qty), str(price), key), quantities, prices, keys)
mixed_lines = st.lists(st.one_of(lines, lines, returned), min_size=1, max_size=8)
rows = st.builds(DocumentAllowance, st.integers(0, 20_000), keys, st.just("As agreed"), charge=st.booleans())
some_rows = st.lists(rows, max_size=3)
