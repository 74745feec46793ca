"""Credit notes, in whole and by line."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.billing.making import S5, S20, Z, by_group, issued, line, many_lines, mixed_lines, some_rows
from tracker.billing.bill import draw_up
from tracker.billing.credit import TakeBack, credit_lines, credit_rest
from tracker.billing.left import beyond_billed, left_to_credit
from tracker.records.billing import Bill, BillLine, DocumentAllowance, IssuedBill, Why
from tracker.records.problem import Mistakes

INVOICE = issued(
    draw_up(
        [line(3, "10.00"), line(2, "60.00", off=2000), line(1, "20.00", S5), line(3, "0.335", S5)],
        [DocumentAllowance(1300, S20, "Old customer")],
        currency="EUR",
        prepaid=5000,
        cash_step=5,
    )
)


def how_much(credit: Bill) -> str:
    """Quantity and price of its first line."""
    return f"{credit.lines[0].qty.normalize():f} x {credit.lines[0].unit_price:.2f}"


def problems_of(wanted: list[TakeBack], before: list[Bill] | None = None) -> list[tuple[str, str]]:
    with pytest.raises(Mistakes) as caught:
        credit_lines(INVOICE, wanted, before or [])
    return [(problem.field, problem.sentence) for problem in caught.value.problems]


def test_in_whole_it_has_the_documents_own_lines_and_takes_back_what_was_asked() -> None:
    credit = credit_rest(INVOICE)
    assert [(each.qty, each.unit_price, each.of_line) for each in credit.lines] == [
        (each.qty, each.unit_price, number) for number, each in enumerate(INVOICE.bill.lines, 1)
    ]
    assert credit.totals.groups == INVOICE.bill.totals.groups
    assert INVOICE.bill.totals.payable == 11245
    assert credit.totals.payable == 16245  # before the 50.00 that were paid ahead
    assert credit.totals.prepaid == 0  # it was the customer's before, and is again
    assert [part.why for part in credit.rounding] == [Why.CREDIT]


def test_a_part_of_a_line_takes_its_share_of_the_discount_along() -> None:
    credit = credit_lines(INVOICE, [TakeBack(1, qty=Decimal(1))])
    assert how_much(credit) == "1 x 10.00"
    assert credit.allowances[0].minor == 100  # 13.00 x 10.00 / 130.00
    assert credit.totals.payable == 1080


def test_the_rest_of_a_line_is_as_many_as_are_left() -> None:
    first = credit_lines(INVOICE, [TakeBack(1, qty=Decimal(1))])
    second = credit_lines(INVOICE, [TakeBack(1)], [first])
    assert how_much(second) == "2 x 10.00"


def test_a_discounted_line_comes_back_for_what_was_paid_for_it() -> None:
    credit = credit_lines(INVOICE, [TakeBack(2, qty=Decimal(1))])
    assert how_much(credit) == "1 x 50.00"


def test_an_amount_off_a_line_brings_no_quantity_back() -> None:
    credit = credit_lines(INVOICE, [TakeBack(2, net=1500)])
    assert how_much(credit) == "1 x 15.00"


def test_three_parts_of_a_cent_and_a_third_close_without_a_cent_too_many() -> None:
    notes: list[Bill] = []
    for _ in range(3):
        notes.append(credit_lines(INVOICE, [TakeBack(4, qty=Decimal(1))], notes))
    assert [note.totals.line_total for note in notes] == [34, 34, 33]
    assert INVOICE.bill.totals.line_nets[3] == 101


def test_a_discount_goes_back_once_however_its_shares_round() -> None:
    two_cents = [DocumentAllowance(2, S20, "Old customer")]
    invoice = issued(draw_up([line(1, 10)] * 4, two_cents, currency="EUR"))
    notes: list[Bill] = []
    for number in (1, 2, 3, 4):
        notes.append(credit_lines(invoice, [TakeBack(number)], notes))
    assert [note.totals.allowance_total for note in notes] == [1, 1, 0, 0]
    assert left_to_credit(invoice, notes).asked == 0


def test_the_rest_of_a_document_has_only_what_is_left_of_it() -> None:
    first = credit_lines(INVOICE, [TakeBack(1), TakeBack(2)])
    rest = credit_rest(INVOICE, [first])
    assert ([each.of_line for each in rest.lines], rest.allowances) == ([3, 4], ())
    assert first.totals.payable + rest.totals.payable == 16245


def test_more_than_is_left_is_refused_with_what_is_left() -> None:
    first = credit_lines(INVOICE, [TakeBack(1, qty=Decimal(2))])
    assert problems_of([TakeBack(1, qty=Decimal(2))], [first]) == [
        ("lines.1.qty", "Line 1 has 10.00 left to credit.")
    ]
    assert problems_of([TakeBack(3, net=2001)]) == [("lines.3.net", "Line 3 has 20.00 left to credit.")]


def test_everything_that_is_wrong_is_said_at_once() -> None:
    whole = credit_lines(INVOICE, [TakeBack(3)])
    wanted = [
        TakeBack(9),
        TakeBack(3),
        TakeBack(1, qty=Decimal(-1)),
        TakeBack(1),
        TakeBack(2, qty=Decimal(1), net=5),
        TakeBack(4, qty=Decimal("NaN")),
    ]
    assert [field for field, _ in problems_of(wanted, [whole])] == [
        "lines.9",
        "lines.3",
        "lines.1.qty",
        "lines.1",
        "lines.2",
        "lines.4.qty",
    ]
    assert problems_of([]) == [("credit", "No line is named.")]


def test_nothing_left_is_said_so() -> None:
    with pytest.raises(Mistakes) as caught:
        credit_rest(INVOICE, [credit_rest(INVOICE)])
    assert caught.value.problems[0].field == "credit"


def test_a_line_beside_one_that_was_taken_back_cannot_give_more_than_the_document() -> None:
    """100.00 of parts and 80.00 of the other rate taken back: the document stands for 40.00 in all."""
    invoice = issued(draw_up([line(1, 100), line(-1, 80, Z)], currency="EUR"))
    with pytest.raises(Mistakes) as caught:
        credit_lines(invoice, [TakeBack(1)])
    assert "more than INV-26-0001 still stands for" in caught.value.problems[0].sentence
    assert credit_rest(invoice).totals.payable == 4000


def test_a_credit_note_made_by_hand_is_measured_by_group() -> None:
    lines = (line(1, 19, Z), line(1, 5, S5))
    credit = Bill(lines, (), draw_up(lines, currency="EUR").totals)
    assert [problem.sentence for problem in beyond_billed(INVOICE, (), credit)] == [
        "The credit note takes back more than INV-26-0001 still stands for (no tax)."
    ]


@given(mixed_lines, some_rows, st.booleans(), st.sampled_from([1, 5, 10]))
@settings(max_examples=60, deadline=None)
def test_credit_in_whole_nets_to_nothing_per_group(
    lines: list[BillLine], rows: list[DocumentAllowance], typed_with_tax: bool, cash_step: int
) -> None:
    bill = draw_up(lines, rows, currency="EUR", typed_with_tax=typed_with_tax, cash_step=cash_step)
    invoice = issued(bill)
    if not any(bill.totals.line_nets) and not any(row.minor for row in rows):
        return
    credit = credit_rest(invoice)
    assert by_group(credit.totals) == by_group(bill.totals)
    assert left_to_credit(invoice, [credit]).asked == 0
    assert beyond_billed(invoice, (), credit) == ()


def take_back_all(invoice: IssuedBill, parts: int) -> list[Bill]:
    """Every line in up to `parts` credit notes of its own; a part worth less than half a cent is left out."""
    notes: list[Bill] = []
    for number, each in enumerate(invoice.bill.lines, 1):
        some = (each.qty / parts).quantize(Decimal("0.001"))
        worth = invoice.bill.totals.line_nets[number - 1] * some / each.qty
        for _ in range(parts - 1 if worth >= 1 else 0):
            notes.append(credit_lines(invoice, [TakeBack(number, qty=some)], notes))
        if left_to_credit(invoice, notes).lines[number - 1]:
            notes.append(credit_lines(invoice, [TakeBack(number)], notes))
    return notes


@given(many_lines, some_rows, st.integers(1, 3), st.booleans())
@settings(max_examples=60, deadline=None)
def test_line_by_line_it_never_takes_back_more_and_together_exactly_all(
    lines: list[BillLine], rows: list[DocumentAllowance], parts: int, typed_with_tax: bool
) -> None:
    charges = [row for row in rows if row.charge]
    bill = draw_up(lines, charges, currency="EUR", typed_with_tax=typed_with_tax, cash_step=5)
    invoice = issued(bill)
    notes = take_back_all(invoice, parts)
    assert all(note.totals.payable >= 0 for note in notes)
    assert all(left_to_credit(invoice, notes[:at]).asked >= 0 for at in range(len(notes)))
    if notes:
        left = left_to_credit(invoice, notes)
        assert (left.asked, set(left.lines), set(left.allowances) - {0}) == (0, {0}, set())
        assert [group.taxable for group in left.groups] == [0] * len(left.groups)
