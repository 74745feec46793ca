"""Several deposits, deposits credited, money twice: what the invoice takes off, and what stays in hand."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.desk.conftest import Bench
from tests.desk.test_money import priced
from tracker.desk.documents import document_whole
from tracker.desk.ledger import ledger
from tracker.papers.gather import paper_of
from tracker.papers.plain import plain
from tracker.records.document import DocumentKind, LineKind
from tracker.records.problem import Mistakes


def agreed(bench: Bench) -> Any:
    card = priced(bench)
    bench("agree", card="1", limit="500")
    return card


def deposit(bench: Bench, amount: str, *, pay: bool = True) -> Any:
    made = bench("bill", card="1", deposit=amount)
    if pay:
        bench("pay", on=made.number, method="card")
    return made


def final(bench: Bench) -> Any:
    bench("fix", card="1", minutes="24")
    return bench("bill", card="1")


def test_two_deposits_are_each_set_off_under_their_own_number(bench: Bench) -> None:
    agreed(bench)
    first, second = deposit(bench, "20"), deposit(bench, "13.33")
    invoice = final(bench)
    assert (first.number, second.number) == ("DEP-26-0001", "DEP-26-0002")
    assert invoice.payable_minor + 2000 + 1333 == 6480
    lines = document_whole(bench.desk, invoice.number).lines
    set_off = [line for line in lines if line.kind is LineKind.DEPOSIT]
    assert [line.sets_off for line in set_off] == [first.id, second.id]
    assert all(line.qty == Decimal(-1) for line in set_off)
    paper = plain(paper_of(bench.desk, "invoice", invoice.number))
    for made in (first, second):
        assert f"Deposit {made.number} of 2 Mar 2026" in " ".join(paper.split())
    assert ledger(bench.desk)[0].owed == invoice.payable_minor


def test_a_deposit_that_nobody_paid_is_set_off_and_still_owed(bench: Bench) -> None:
    agreed(bench)
    deposit(bench, "20", pay=False)
    invoice = final(bench)
    assert invoice.payable_minor == 6480 - 2000
    assert ledger(bench.desk)[0].owed == 6480


def test_a_deposit_credited_whole_is_not_set_off(bench: Bench) -> None:
    agreed(bench)
    made = deposit(bench, "20")
    credit = bench("bill", credit=made.number, words="asked for too soon")
    assert (credit.kind, credit.payable_minor) == (DocumentKind.CREDIT_NOTE, 2000)
    invoice = final(bench)
    assert invoice.payable_minor == 6480
    assert ledger(bench.desk)[0].in_hand == 2000


def test_a_credited_invoice_frees_its_deposit_for_the_next(bench: Bench) -> None:
    agreed(bench)
    made = deposit(bench, "20")
    first = final(bench)
    bench("bill", credit=first.number)
    second = bench("bill", card="1")
    assert second.payable_minor == first.payable_minor == 6480 - 2000
    lines = document_whole(bench.desk, second.number).lines
    assert [line.sets_off for line in lines if line.sets_off] == [made.id]
    assert ledger(bench.desk)[0].owed == 4480


def test_paid_twice_stays_in_hand_and_goes_back(bench: Bench) -> None:
    agreed(bench)
    invoice = final(bench)
    bench("pay", on=invoice.number)
    bench("pay", on=invoice.number, amount="64.80", method="transfer")
    stands, _ = ledger(bench.desk)
    assert (stands.owed, stands.in_hand, stands.balance) == (0, 6480, -6480)
    bench("pay", on="1", amount="64.80", back="yes", method="transfer")
    stands, _ = ledger(bench.desk)
    assert (stands.owed, stands.in_hand) == (0, 0)
    receipt = plain(paper_of(bench.desk, "receipt", "26-0001/3"))
    assert receipt.startswith("Money given back")
    assert "64.80 EUR" in receipt


def test_no_more_deposit_than_was_agreed(bench: Bench) -> None:
    priced(bench)
    bench("agree", card="1", limit="30")
    deposit(bench, "20")
    with pytest.raises(Mistakes) as caught:
        deposit(bench, "20")
    assert {problem.field for problem in caught.value.problems} == {"deposit"}


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.integers(1, 2000), min_size=1, max_size=3))
def test_whatever_was_paid_ahead_all_papers_together_ask_for_the_work_once(
    bench: Bench, amounts: list[int]
) -> None:
    """Deposits and the invoice together, to the cent; and so do the nets and taxes of all of them."""
    with bench.desk.store.one_transaction():
        card = bench.booked(look_limit="60", registration="")
        bench("clock add", card=card.number, minutes="30", kind="looking")
        bench("finding", card=card.number, words="earth")
        bench("estimate", card=card.number, repair=["earth:zone=seat,words=Main earth cleaned"])
        bench("agree", card=card.number, limit="500")
        for minor in amounts:
            bench("bill", card=card.number, deposit=f"{minor / 100:.2f}")
        bench("fix", card=card.number, minutes="24")
        bench("bill", card=card.number)
        documents = bench.desk.facts(card.id).documents
    assert sum(one.payable_minor for one in documents) == 6480
    wholes = [document_whole(bench.desk, one.number) for one in documents]
    assert sum(tax.taxable_minor for whole in wholes for tax in whole.taxes) == 5400
    assert sum(one.net_minor for one in documents) == 5400
