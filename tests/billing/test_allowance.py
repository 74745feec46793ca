"""Discounts by percent."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.billing.making import S5, S20, Z, line, mixed_lines
from tracker.billing.allowance import NOT_DISCOUNTED, as_lines, percent_off, percent_off_line
from tracker.billing.bill import draw_up
from tracker.billing.tax import PASSED_ON
from tracker.billing.totals import line_net, signed, totals
from tracker.records.billing import BillLine
from tracker.records.document import LineKind
from tracker.records.money import round_half_up
from tracker.records.problem import Mistakes


def test_off_a_line() -> None:
    cheaper = percent_off_line(line(3, "3.35"), Decimal("12.5"), "Scratched", "EUR")
    assert (cheaper.allowances[0].minor, line_net(cheaper, "EUR")) == (126, 879)


def test_off_the_document_by_group_and_never_off_fees_or_deposits() -> None:
    rows = percent_off(
        [
            line(1, 100),
            line(1, 50, S5),
            line(1, 54, PASSED_ON, kind=LineKind.FEE),
            line(-1, 20, kind=LineKind.DEPOSIT),
        ],
        Decimal(10),
        "Old customer",
        "EUR",
    )
    assert [(row.tax, row.minor, row.charge) for row in rows] == [(S20, 1000, False), (S5, 500, False)]


def test_a_group_that_gives_back_gets_less_back() -> None:
    rows = percent_off([line(1, 100), line(-1, 20, Z)], Decimal(10), "Old customer", "EUR")
    assert [(row.tax, signed(row)) for row in rows] == [(S20, -1000), (Z, 200)]


def test_ten_percent_of_prices_typed_with_tax_is_ten_percent_of_what_is_due() -> None:
    lines = [line(1, "119.90"), line(2, "5.25", S5)]
    rows = percent_off(lines, Decimal(10), "Old customer", "EUR")
    bill = draw_up(lines, rows, currency="EUR", typed_with_tax=True)
    assert bill.totals.payable == 13040 - 1304


@pytest.mark.parametrize("percent", ["-1", "100.01", "NaN"])
def test_only_within_0_to_100(percent: str) -> None:
    with pytest.raises(Mistakes):
        percent_off([line()], Decimal(percent), "Off", "EUR")
    with pytest.raises(Mistakes):
        percent_off_line(line(), Decimal(percent), "Off", "EUR")


@given(mixed_lines, st.decimals("0", "100", places=1))
@settings(max_examples=60, deadline=None)
def test_the_rows_make_the_whole_discount_to_the_cent(lines: list[BillLine], percent: Decimal) -> None:
    worth = sum(line_net(each, "EUR") for each in lines if each.kind not in NOT_DISCOUNTED)
    rows = percent_off(lines, percent, "Old customer", "EUR")
    assert -sum(map(signed, rows)) == round_half_up(worth * percent / 100)
    assert all(row.minor > 0 for row in rows)


@given(mixed_lines, st.decimals("0", "100", places=1))
@settings(max_examples=40, deadline=None)
def test_as_lines_they_leave_tax_and_sum_as_they_were(lines: list[BillLine], percent: Decimal) -> None:
    rows = percent_off(lines, percent, "Old customer", "EUR")
    beside = totals(lines, rows, currency="EUR")
    within = totals([*lines, *as_lines(rows, "EUR")], currency="EUR")
    assert within.groups == beside.groups
    assert (within.tax_exclusive, within.payable) == (beside.tax_exclusive, beside.payable)
    assert within.allowance_total == within.charge_total == 0
