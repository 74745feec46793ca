"""Totals by EN 16931."""

from dataclasses import replace
from decimal import Decimal
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.billing.making import S5, S10, S20, Z, by_group, line, many_lines, mixed_lines, some_rows
from tracker.billing.tax import PASSED_ON
from tracker.billing.totals import line_net, tax_of, totals
from tracker.records.billing import UNSAID, BillLine, DocumentAllowance, LineAllowance, TaxKey
from tracker.records.money import Money


def test_a_bill_with_two_rates_a_discount_and_a_part_payment() -> None:
    result = totals(
        [line(2, "60.00"), line(1, "12.50", S5), line(1, "30.00", PASSED_ON)],
        [DocumentAllowance(1000, S20, "Old customer")],
        currency="EUR",
        prepaid=5000,
        rounding=-2,
    )
    assert by_group(result) == {
        ("S", Decimal(20)): (11000, 2200),
        ("S", Decimal(5)): (1250, 63),
        ("E", 0): (3000, 0),
    }
    assert (result.line_total, result.allowance_total, result.tax_exclusive) == (16250, 1000, 15250)
    assert (result.tax_total, result.tax_inclusive, result.payable) == (2263, 17513, 17513 - 5000 - 2)


def test_tax_is_rounded_once_per_group_not_per_line() -> None:
    """Three lines of 0.02 at 20 % have 0.012 of tax: 0.01 together, nothing each."""
    result = totals([line(1, "0.02")] * 3, currency="EUR")
    assert result.tax_total == 1
    assert sum(tax_of(net, Decimal(20)) for net in result.line_nets) == 0


def test_a_line_rounds_half_up_and_away_from_nought() -> None:
    assert line_net(line(3, "0.335"), "EUR") == 101
    assert line_net(line(-3, "0.335"), "EUR") == -101


def test_allowances_and_charges_of_a_line_are_in_its_net() -> None:
    rows = (LineAllowance(250, "Scratched"), LineAllowance(100, "Express", charge=True))
    assert line_net(replace(line(1, "20.00"), allowances=rows), "EUR") == 1850


def test_a_price_for_a_thousand() -> None:
    wire = BillLine("Wire 1.5", Decimal(350), "mm", Decimal("1.80"), S20, base_qty=Decimal(1000))
    assert line_net(wire, "EUR") == 63


@pytest.mark.parametrize(
    ("currency", "price", "net", "tax"),
    [("EUR", "10.005", 1001, 200), ("JPY", "1234.5", 1235, 247), ("KWD", "1.2345", 1235, 247)],
)
def test_minor_units_of_other_currencies(currency: str, price: str, net: int, tax: int) -> None:
    result = totals([line(1, price)], currency=currency)
    assert (result.line_total, result.tax_total) == (net, tax)


def test_the_same_rate_written_otherwise_is_one_group() -> None:
    result = totals([line(1, 10, TaxKey("S", Decimal("20.0"))), line(1, 10, S20)], currency="EUR")
    assert [str(group.key.rate) for group in result.groups] == ["20"]


def test_groups_stand_in_one_order_and_an_unsaid_one_comes_last() -> None:
    result = totals([line(tax=key) for key in (UNSAID, PASSED_ON, Z, S5, S20, S10)], currency="EUR")
    assert [group.key for group in result.groups] == [S20, S10, S5, Z, PASSED_ON, UNSAID]


def test_one_exempt_group_says_all_its_reasons_and_a_taxed_one_none() -> None:
    keys = [
        TaxKey("E", exemption="VATEX-EU-132", reason="Lesson"),
        PASSED_ON,
        TaxKey("S", Decimal(20), reason="slipped in"),
    ]
    taxed, exempt = totals([line(tax=key) for key in keys], currency="EUR").groups
    assert exempt.key == TaxKey("E", reason="Lesson; VATEX-EU-132; VATEX-EU-79-C")
    assert taxed.key == S20


@given(mixed_lines, some_rows, st.randoms(use_true_random=False))
@settings(max_examples=60, deadline=None)
def test_totals_do_not_depend_on_the_order_of_lines(
    lines: list[BillLine], rows: list[DocumentAllowance], chance: Random
) -> None:
    shuffled = chance.sample(lines, len(lines))
    one = totals(lines, rows, currency="EUR")
    other = totals(shuffled, rows[::-1], currency="EUR")
    assert replace(one, line_nets=()) == replace(other, line_nets=())
    assert sorted(one.line_nets) == sorted(other.line_nets)


@given(
    mixed_lines,
    some_rows,
    st.integers(0, 10_000),
    st.integers(-50, 50),
    st.sampled_from(["EUR", "JPY", "KWD"]),
)
@settings(max_examples=60, deadline=None)
def test_the_rules_hold_between_the_totals(
    lines: list[BillLine], rows: list[DocumentAllowance], prepaid: int, rounding: int, currency: str
) -> None:
    found = totals(lines, rows, currency=currency, prepaid=prepaid, rounding=rounding)
    assert found.line_total == sum(line_net(each, currency) for each in lines)  # BR-CO-10
    assert found.tax_exclusive == found.line_total - found.allowance_total + found.charge_total  # BR-CO-13
    assert found.tax_exclusive == sum(group.taxable for group in found.groups)  # BR-S-08
    assert found.tax_total == sum(group.tax for group in found.groups)  # BR-CO-14
    assert found.tax_inclusive == sum(group.with_tax for group in found.groups)  # BR-CO-15
    assert found.payable == found.tax_inclusive - prepaid + rounding  # BR-CO-16
    for group in found.groups:
        exact = group.taxable * group.key.rate / 100
        assert abs(group.tax - exact) <= Decimal("0.5")  # BR-CO-17
    assert len({group.key.group for group in found.groups}) == len(found.groups)


@given(many_lines)
@settings(max_examples=40, deadline=None)
def test_nothing_is_below_nought_where_nothing_is_taken_back(lines: list[BillLine]) -> None:
    found = totals(lines, currency="EUR")
    assert min(found.line_nets) >= 0
    assert min(min(group.taxable, group.tax) for group in found.groups) >= 0
    assert found.payable >= found.line_total >= 0


@given(mixed_lines)
@settings(max_examples=40, deadline=None)
def test_a_bill_turned_round_is_the_same_below_nought(lines: list[BillLine]) -> None:
    there = totals([replace(each, allowances=()) for each in lines], currency="EUR")
    back = totals([replace(each, qty=-each.qty, allowances=()) for each in lines], currency="EUR")
    assert back.payable == -there.payable
    assert Money(back.tax_total, "EUR") == -Money(there.tax_total, "EUR")
