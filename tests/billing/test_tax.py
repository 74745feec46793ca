"""Which tax falls on what."""

from decimal import Decimal

from tests.billing.making import S20, line
from tracker.billing.bill import draw_up
from tracker.billing.checks import typed_problems
from tracker.billing.tax import NOT_REGISTERED, PASSED_ON, fee_key, shown_groups, standard
from tracker.records.document import LineKind


def test_a_rate_of_nought_is_zero_rated() -> None:
    assert standard(Decimal(20)).category == "S"
    assert standard(Decimal("0.0")).category == "Z"


def test_a_fee_passed_on_stands_beside_taxed_lines_as_exempt() -> None:
    """Category O may not stand beside S (BR-O-11), so the fee is E with its reason's code."""
    fee = line(1, "54.80", fee_key(registered=True), kind=LineKind.FEE)
    bill = draw_up([line(1, 100), fee], currency="EUR")
    assert typed_problems(bill.lines) == ()
    assert [(group.key.category, group.key.exemption, group.tax) for group in shown_groups(bill.totals)] == [
        ("S", "", 2000),
        ("E", "VATEX-EU-79-C", 0),
    ]
    assert bill.totals.payable == 12000 + 5480


def test_without_registration_a_fee_is_as_untaxed_as_the_rest() -> None:
    assert fee_key(registered=False) == NOT_REGISTERED
    bill = draw_up([line(1, 100, S20), line(1, 54, PASSED_ON)], currency="EUR", registered=False)
    assert (len(bill.totals.groups), bill.totals.payable) == (1, 15400)
    assert typed_problems(bill.lines, registered=False) == ()
