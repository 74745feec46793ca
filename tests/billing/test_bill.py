"""From what was typed to what is printed."""

from tests.billing.making import DAY, S5, S20, line
from tracker.billing.bill import draw_up
from tracker.billing.deposit import deposit_bill
from tracker.billing.left import set_off_of
from tracker.billing.tax import NOT_REGISTERED, shown_groups
from tracker.records.billing import DocumentAllowance, IssuedBill, Why
from tracker.records.document import DocumentKind


def test_a_plain_bill_is_its_totals() -> None:
    bill = draw_up([line(2, "60.00")], [DocumentAllowance(1000, S20, "Off")], currency="EUR", prepaid=2000)
    assert (bill.totals.payable, bill.rounding) == (13200 - 2000, ())


def test_a_trader_not_registered_charges_none_and_shows_none() -> None:
    bill = draw_up(
        [line(1, "60.00"), line(1, "10.00", S5)],
        [DocumentAllowance(500, S20, "Off")],
        currency="EUR",
        registered=False,
        typed_with_tax=True,
    )
    assert {each.tax for each in bill.lines} == {NOT_REGISTERED}
    assert (bill.totals.tax_total, bill.totals.payable, bill.rounding) == (0, 6500, ())
    assert shown_groups(bill.totals) == ()
    assert len(bill.totals.groups) == 1  # BR-CO-18: the e-invoice still has one


def test_every_odd_cent_says_where_it_comes_from() -> None:
    deposit = deposit_bill(draw_up([line(1, 30)], currency="EUR").totals, 1005, "Deposit")
    taken = set_off_of(IssuedBill(DocumentKind.DEPOSIT, "DEP-26-0001", DAY, deposit), (), "Deposit")
    bill = draw_up([line(1, "36.03")], currency="EUR", typed_with_tax=True, deposits=[taken], cash_step=5)
    assert [(part.why, part.minor) for part in bill.rounding] == [
        (Why.TYPED_WITH_TAX, 1),
        (Why.DEPOSIT, -1),
        (Why.CASH, 2),
    ]
    assert bill.totals.payable == 2600
    assert bill.totals.rounding == sum(part.minor for part in bill.rounding)
