"""Prices typed with tax."""

from decimal import Decimal
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.billing.making import S5, S20, line, many_lines, mixed_lines, some_rows
from tracker.billing.bill import draw_up
from tracker.billing.gross import nearest_net, without_tax
from tracker.billing.tax import PASSED_ON
from tracker.billing.totals import item_amount, signed, tax_of, totals
from tracker.records.billing import BillLine, DocumentAllowance, RoundingPart, Why


def typed_sum(lines: list[BillLine], rows: list[DocumentAllowance]) -> int:
    """What the person added up: every amount as typed."""
    worth = sum(item_amount(each, "EUR") + sum(map(signed, each.allowances)) for each in lines)
    return worth + sum(map(signed, rows))


def test_a_round_price_comes_out_round() -> None:
    bill = draw_up([line(3, "10.00")], currency="EUR", typed_with_tax=True)
    assert bill.lines[0].unit_price == Decimal("8.3333")
    assert (bill.totals.tax_exclusive, bill.totals.tax_total, bill.totals.payable) == (2500, 500, 3000)
    assert bill.rounding == ()


def test_the_odd_cent_is_named() -> None:
    bill = draw_up([line(1, "0.03")], currency="EUR", typed_with_tax=True)
    assert (bill.totals.tax_inclusive, bill.totals.rounding, bill.totals.payable) == (2, 1, 3)
    assert bill.rounding == (RoundingPart(Why.TYPED_WITH_TAX, 1),)


def test_one_amount_in_six_at_20_percent_has_no_net() -> None:
    missed = [
        amount
        for amount in range(1, 6001)
        if (net := nearest_net(amount, Decimal(20))) + tax_of(net, Decimal(20)) != amount
    ]
    assert len(missed) == 1000


def test_twenty_small_lines_stay_within_one_cent_of_what_was_typed() -> None:
    """Each line rounded by itself would drift by up to half a cent a line."""
    bill = draw_up([line(1, "0.99")] * 20, currency="EUR", typed_with_tax=True)
    assert bill.totals.payable == 1980
    assert abs(bill.totals.rounding) <= 1


def test_a_price_without_tax_on_it_stays_as_typed() -> None:
    fee = draw_up([line(1, "54.80", PASSED_ON)], currency="EUR", typed_with_tax=True).lines[0]
    assert str(fee.unit_price) == "54.80"


def test_what_was_typed_with_tax_off_a_line_loses_its_tax_too() -> None:
    net = without_tax([line(1, "120.00", off=1200)], [DocumentAllowance(600, S20, "Off")], "EUR")
    assert net.lines[0].unit_price == 100
    assert (net.lines[0].allowances[0].minor, net.allowances[0].minor, net.typed_total) == (1000, 500, 10200)


def test_a_line_given_away_stays_at_nothing() -> None:
    bill = draw_up([line(1, "0.07", S5, off=7), line(1, "6.50", S5)], currency="EUR", typed_with_tax=True)
    assert bill.totals.line_nets[0] == 0
    assert bill.lines[0].allowances[0].minor == item_amount(bill.lines[0], "EUR")


@given(mixed_lines, some_rows)
@settings(max_examples=80, deadline=None)
def test_what_was_typed_is_what_is_due(lines: list[BillLine], rows: list[DocumentAllowance]) -> None:
    bill = draw_up(lines, rows, currency="EUR", typed_with_tax=True)
    assert bill.totals.payable == typed_sum(lines, rows)
    assert bill.totals == totals(bill.lines, bill.allowances, currency="EUR", rounding=bill.totals.rounding)
    assert abs(bill.totals.rounding) <= len(bill.totals.groups)
    assert bill.totals.rounding == sum(part.minor for part in bill.rounding)


@given(many_lines)
@settings(max_examples=60, deadline=None)
def test_each_line_without_tax_is_within_a_unit_of_its_exact_net(lines: list[BillLine]) -> None:
    net = without_tax(lines, (), "EUR")
    for typed, taken in zip(lines, net.lines, strict=True):
        exact = item_amount(typed, "EUR") / (1 + typed.tax.rate / 100)
        assert abs(item_amount(taken, "EUR") - exact) <= 1
        assert taken.unit_price >= 0
        assert (taken.qty, taken.words, taken.tax) == (typed.qty, typed.words, typed.tax)


@given(st.integers(-300, 300) | st.integers(-100_000, 100_000), st.decimals("0", "100", places=2))
@settings(max_examples=150, deadline=None)
def test_the_nearest_net_is_never_more_than_a_unit_off(amount: int, rate: Decimal) -> None:
    net = nearest_net(amount, rate)
    off = abs(net + tax_of(net, rate) - amount)
    assert off <= 1
    exact = Fraction(amount) / (1 + Fraction(rate) / 100)
    for other in range(net - 3, net + 4):
        other_off = abs(other + tax_of(other, rate) - amount)
        assert (off, abs(net - exact)) <= (other_off, abs(other - exact))


def test_two_rates_each_find_their_own_net() -> None:
    bill = draw_up([line(1, "12.00"), line(1, "10.50", S5)], currency="EUR", typed_with_tax=True)
    assert [group.taxable for group in bill.totals.groups] == [1000, 1000]
