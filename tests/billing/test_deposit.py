"""Deposits: the document, and its lines on the final invoice."""

from decimal import Decimal

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.billing.making import S5, by_group, issued, line, lines, many_lines, mixed_lines, some_rows
from tracker.billing.bill import draw_up
from tracker.billing.deposit import deposit_bill, percent_of
from tracker.billing.left import set_off_of
from tracker.billing.tax import PASSED_ON
from tracker.billing.totals import totals
from tracker.records.billing import Bill, BillLine, DocumentAllowance, RoundingPart, SetOff, Why
from tracker.records.document import DocumentKind, LineKind
from tracker.records.problem import Mistakes

WORDS = "Deposit on estimate EST-26-0007"


def set_off(bill: Bill) -> SetOff:
    return set_off_of(issued(bill, "DEP-26-0001", DocumentKind.DEPOSIT), (), "Deposit DEP-26-0001")


def test_a_deposit_is_shared_over_the_tax_groups_of_the_estimate() -> None:
    estimate = totals([line(1, 300), line(1, 100, S5), line(1, 55, PASSED_ON)], currency="EUR")
    bill = deposit_bill(estimate, 10000, WORDS)
    assert bill.totals.payable == 10000
    assert bill.totals.rounding == 0
    assert [each.kind for each in bill.lines] == [LineKind.DEPOSIT] * 3
    assert [round(group.with_tax / 10000, 3) for group in bill.totals.groups] == [0.692, 0.202, 0.106]


def test_a_percentage_is_of_what_is_asked_with_tax() -> None:
    estimate = totals([line(1, "333.33")], currency="EUR")
    assert (estimate.payable, percent_of(estimate, Decimal(30))) == (40000, 12000)


def test_an_amount_that_no_net_gives_puts_the_cent_into_the_rounding_amount() -> None:
    estimate = totals([line(1, 300)], currency="EUR")
    bill = deposit_bill(estimate, 10005, WORDS)
    assert (bill.totals.payable, bill.totals.rounding) == (10005, 1)
    assert bill.rounding == (RoundingPart(Why.TYPED_WITH_TAX, 1),)


def test_a_deposit_of_everything_never_takes_more_net_than_the_estimate_has() -> None:
    estimate = draw_up([line(1, "10.11")], currency="EUR", cash_step=5).totals
    assert (estimate.tax_inclusive, estimate.payable) == (1213, 1215)
    bill = deposit_bill(estimate, 1215, WORDS)
    assert (bill.totals.tax_exclusive, bill.totals.rounding, bill.totals.payable) == (1011, 2, 1215)


def test_two_rates_make_nearly_every_amount_without_an_odd_cent() -> None:
    estimate = totals([line(1, 300), line(1, 100, S5)], currency="EUR")
    assert all(deposit_bill(estimate, wanted, WORDS).totals.rounding == 0 for wanted in range(10000, 10200))


def test_the_final_invoice_takes_each_group_off_under_the_deposits_number() -> None:
    work = [line(1, 300), line(1, 100, S5)]
    deposit = deposit_bill(totals(work, currency="EUR"), 10000, WORDS)
    final = draw_up(work, currency="EUR", deposits=[set_off(deposit)])
    taken = [each for each in final.lines if each.about == "DEP-26-0001"]
    assert [f"{each.qty} of {each.kind} at {each.tax.rate} %" for each in taken] == [
        "-1 of deposit at 20 %",
        "-1 of deposit at 5 %",
    ]
    assert all(each.unit_price > 0 for each in taken)  # BR-27
    assert final.totals.payable == 46500 - 10000


def test_a_job_that_came_cheaper_than_its_deposit_gives_money_back() -> None:
    deposit = deposit_bill(totals([line(1, 300)], currency="EUR"), 12000, WORDS)
    final = draw_up([line(1, 50)], currency="EUR", deposits=[set_off(deposit)])
    assert final.totals.payable == 6000 - 12000


def test_a_deposit_credited_in_part_is_set_off_for_the_rest() -> None:
    deposit = issued(
        deposit_bill(totals([line(1, 300)], currency="EUR"), 12000, WORDS),
        "DEP-26-0001",
        DocumentKind.DEPOSIT,
    )
    # What was credited without naming a line still counts, by group.
    credit = Bill((line(1, 40),), (), totals([line(1, 40)], currency="EUR"))
    rest = set_off_of(deposit, [credit], "Deposit")
    assert (rest.payable, rest.groups[0].taxable) == (12000 - 4800, 10000 - 4000)


@pytest.mark.parametrize("wanted", [0, -500, 36001])
def test_nothing_and_more_than_the_estimate_are_refused(wanted: int) -> None:
    with pytest.raises(Mistakes) as caught:
        deposit_bill(totals([line(1, 300)], currency="EUR"), wanted, WORDS)
    assert [problem.field for problem in caught.value.problems] == ["deposit"]


@given(mixed_lines, st.integers(1, 10_000))
@settings(max_examples=80, deadline=None)
def test_the_deposit_asks_what_was_wanted_and_no_group_gives_more_than_it_has(
    work: list[BillLine], part: int
) -> None:
    estimate = totals(work, currency="EUR")
    wanted = estimate.payable * part // 10_000
    assume(wanted > 0)
    bill = deposit_bill(estimate, wanted, WORDS)
    assert bill.totals.payable == wanted
    own = by_group(estimate)
    for group in bill.totals.groups:
        assert 0 < group.taxable <= own[group.key.group][0]
        assert group.tax >= 0
    taxed = [group for group in estimate.groups if group.with_tax > 0]
    if len(taxed) == len(estimate.groups):
        assert abs(bill.totals.rounding) <= 1


@given(
    many_lines,
    some_rows,
    st.lists(lines, max_size=2),
    st.integers(1, 10_000),
    st.booleans(),
)
@settings(max_examples=80, deadline=None)
def test_deposit_and_final_invoice_make_the_invoice_without_a_deposit(
    work: list[BillLine],
    rows: list[DocumentAllowance],
    found_later: list[BillLine],
    part: int,
    typed_with_tax: bool,
) -> None:
    estimate = draw_up(work, currency="EUR", typed_with_tax=typed_with_tax).totals
    wanted = estimate.payable * part // 10_000
    assume(wanted > 0)
    deposit = deposit_bill(estimate, wanted, WORDS)
    all_of_it = [*work, *found_later]

    def invoice(deposits: list[SetOff]) -> Bill:
        return draw_up(
            all_of_it,
            rows,
            currency="EUR",
            typed_with_tax=typed_with_tax,
            deposits=deposits,
        )

    without, final = invoice([]), invoice([set_off(deposit)])
    assert deposit.totals.payable + final.totals.payable == without.totals.payable
    first, second, whole = by_group(deposit.totals), by_group(final.totals), by_group(without.totals)
    for key, (taxable, tax) in second.items():
        before = first.get(key, (0, 0))
        assert before[0] + taxable == whole.get(key, (0, 0))[0]
        assert abs(before[1] + tax - whole.get(key, (0, 0))[1]) <= 1  # BR-CO-17 rounds on each paper
