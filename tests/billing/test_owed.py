"""What is owed, and for how long."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.billing.owed import Ages, account, oldest_first, receipt_problems
from tracker.records.billing import Owing, Receipt
from tracker.records.document import DocumentKind

TODAY = date(2026, 6, 30)


def invoice(number: str, payable: int, days_late: int = 0) -> Owing:
    due = TODAY - timedelta(days=days_late)
    return Owing(DocumentKind.INVOICE, number, due - timedelta(days=14), due, payable)


def credit(number: str, payable: int, settles: str) -> Owing:
    return Owing(DocumentKind.CREDIT_NOTE, number, TODAY, TODAY, payable, settles)


@pytest.mark.parametrize(
    ("days_late", "ages"),
    [
        (-1, Ages(not_due=100)),
        (0, Ages(to_30=100)),
        (30, Ages(to_30=100)),
        (31, Ages(to_60=100)),
        (60, Ages(to_60=100)),
        (61, Ages(to_90=100)),
        (90, Ages(to_90=100)),
        (91, Ages(over_90=100)),
    ],
)
def test_ages_count_from_the_due_date(days_late: int, ages: Ages) -> None:
    assert account([invoice("INV-26-0001", 100, days_late)], [], on=TODAY).ages == ages


def test_paid_in_parts() -> None:
    standing = account(
        [invoice("INV-26-0001", 10000)],
        [Receipt(3000, (("INV-26-0001", 3000),)), Receipt(2500, (("INV-26-0001", 2500),))],
        on=TODAY,
    )
    assert (standing.owed, standing.in_hand, standing.items[0].paid) == (4500, 0, 5500)


def test_paid_twice_is_credit_in_hand() -> None:
    twice = [Receipt(10000, (("INV-26-0001", 10000),))] * 2
    standing = account([invoice("INV-26-0001", 10000)], twice, on=TODAY)
    assert (standing.owed, standing.in_hand, standing.items[0].over) == (0, 10000, 10000)


def test_paid_too_much_is_credit_in_hand_however_it_was_taken_down() -> None:
    for parts in ((("INV-26-0001", 10000),), (("INV-26-0001", 10500),)):
        standing = account([invoice("INV-26-0001", 10000)], [Receipt(10500, parts)], on=TODAY)
        assert (standing.owed, standing.in_hand) == (0, 500)


def test_credit_in_hand_settles_the_next_bill_by_a_receipt_of_nothing() -> None:
    bills = [invoice("INV-26-0001", 10000, 40), invoice("INV-26-0002", 2000)]
    paid = Receipt(10500, (("INV-26-0001", 10500),))
    moved = Receipt(0, (("INV-26-0001", -500), ("INV-26-0002", 500)))
    standing = account(bills, [paid, moved], on=TODAY)
    assert (standing.owed, standing.in_hand) == (1500, 0)
    assert receipt_problems(moved, account(bills, [paid], on=TODAY), "EUR") == ()


def test_a_credit_note_lowers_its_document_even_after_it_was_paid() -> None:
    bills = [invoice("INV-26-0001", 10000), credit("CRN-26-0001", 4000, "INV-26-0001")]
    assert account(bills, [], on=TODAY).owed == 6000
    paid = account(bills, [Receipt(10000, (("INV-26-0001", 10000),))], on=TODAY)
    assert (paid.owed, paid.in_hand, paid.balance) == (0, 4000, -4000)
    back = Receipt(-4000, (("INV-26-0001", -4000),))
    assert receipt_problems(back, paid, "EUR") == ()
    assert account(bills, [Receipt(10000, (("INV-26-0001", 10000),)), back], on=TODAY).balance == 0


def test_what_is_written_off_is_no_longer_owed() -> None:
    standing = account([invoice("INV-26-0001", 10000, 200)], [], on=TODAY, written_off={"INV-26-0001": 10000})
    assert (standing.owed, standing.in_hand, standing.ages.total) == (0, 0, 0)


def test_a_payment_settles_the_longest_due_first() -> None:
    bills = [
        invoice("INV-26-0003", 500, 5),
        invoice("INV-26-0001", 1000, 50),
        invoice("INV-26-0002", 700, 20),
    ]
    standing = account(bills, [], on=TODAY)
    assert oldest_first(standing, 1500) == (("INV-26-0001", 1000), ("INV-26-0002", 500))
    assert sum(part for _, part in oldest_first(standing, 9999)) == 2200


def test_what_cannot_be_taken_down_is_said() -> None:
    standing = account([invoice("INV-26-0001", 1000)], [Receipt(200)], on=TODAY)
    fields = {
        receipt: [problem.field for problem in receipt_problems(receipt, standing, "EUR")]
        for receipt in (
            Receipt(0),
            Receipt(500, (("INV-26-0001", 600),)),
            Receipt(500, (("INV-26-0009", 500),)),
            Receipt(-201),
            Receipt(-200),
            Receipt(5000, (("INV-26-0001", 5000),)),
        )
    }
    assert list(fields.values()) == [["amount"], ["parts"], ["parts"], ["amount"], [], []]


@given(
    st.lists(st.tuples(st.integers(1, 50_000), st.integers(-20, 200)), max_size=5),
    st.lists(st.integers(1, 60_000), max_size=5),
    st.lists(st.integers(1, 100), max_size=3),
)
@settings(max_examples=60, deadline=None)
def test_the_balance_is_what_was_asked_less_what_came(
    asked: list[tuple[int, int]], came: list[int], credited: list[int]
) -> None:
    bills = [invoice(f"INV-26-{at:04}", payable, late) for at, (payable, late) in enumerate(asked, 1)]
    notes = [credit(f"CRN-26-{at:04}", minor, "INV-26-0001") for at, minor in enumerate(credited, 1)]
    receipts: list[Receipt] = []
    for minor in came:
        standing = account([*bills, *notes], receipts, on=TODAY)
        receipts.append(Receipt(minor, oldest_first(standing, minor)))
    standing = account([*bills, *notes], receipts, on=TODAY)
    assert standing.balance == sum(payable for payable, _ in asked) - sum(came) - sum(credited)
    assert standing.owed >= 0
    assert standing.in_hand >= 0
    assert standing.ages.total == standing.owed
