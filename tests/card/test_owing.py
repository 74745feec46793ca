"""Who pays before the bike goes and who afterwards; what is owed, credited, and owed back."""

from dataclasses import replace
from decimal import Decimal

import pytest

from tests.card.asking import words
from tests.card.build import Bench, billed_card, customer, mended_card
from tracker.card.allowed import refusals_to_collect
from tracker.card.owing import (
    billed_minor,
    due_before_collecting,
    excess_minor,
    live_invoices,
    owed_minor,
    owed_on,
    to_give_back_minor,
    unbilled,
)
from tracker.card.standing import Reach, Step
from tracker.records.card import Need
from tracker.records.document import DocumentKind, DocumentLine, LineKind
from tracker.records.people import CustomerKind


def paid_by(kind: CustomerKind, **head: object) -> tuple[Bench, int]:
    """A billed card whose payer (2) is somebody else than who brought it (1)."""
    bench = mended_card(payer=2, **head)
    bench.facts = replace(bench.facts, payer=customer(2, kind))
    return bench, bench.invoice(customer=2)


class TestAccounts:
    @pytest.mark.parametrize("kind", [CustomerKind.ACCOUNT, CustomerKind.INSURER])
    def test_collects_before_paying(self, kind: CustomerKind) -> None:
        bench, invoice = paid_by(kind)
        stands = bench.stands()
        assert (stands.step, stands.reach(Step.PAID)) == (Step.COLLECTED, Reach.AHEAD)
        assert stands.reach(Step.TEST) is Reach.PASSED_OVER
        assert refusals_to_collect(bench.facts, "") == ()
        bench.collect()
        stands = bench.stands()
        assert (stands.step, stands.reach(Step.COLLECTED)) == (Step.PAID, Reach.DONE)
        bench.pay(invoice, customer=2)
        assert bench.stands().over

    def test_an_account_that_brings_its_own_bike(self) -> None:
        bench, _ = billed_card()
        assert bench.stands().step is Step.PAID
        bench.facts = replace(bench.facts, customer=customer(1, CustomerKind.ACCOUNT))
        assert bench.stands().step is Step.COLLECTED

    def test_a_document_made_out_to_nobody_is_the_payers(self) -> None:
        bench, invoice = paid_by(CustomerKind.ACCOUNT)
        bench.change("documents", invoice, customer=None)
        assert bench.stands().step is Step.COLLECTED

    def test_a_private_payer_pays_before_it_goes_though_an_account_brought_it(self) -> None:
        bench, _ = paid_by(CustomerKind.PRIVATE)
        bench.facts = replace(bench.facts, customer=customer(1, CustomerKind.ACCOUNT))
        assert bench.stands().step is Step.PAID

    def test_a_document_made_out_to_a_stranger_is_paid_at_the_counter(self) -> None:
        bench, _ = paid_by(CustomerKind.ACCOUNT)
        bench.pay(bench.facts.documents[0].id)
        bench.invoice(1000, customer=99)
        assert due_before_collecting(bench.facts) == 1000


class TestInsurerAndExcess:
    def test_the_excess_is_taken_first_then_it_goes_then_the_insurer_pays(self) -> None:
        bench, invoice = paid_by(CustomerKind.INSURER, excess_minor=10000)
        assert (bench.stands().step, words(bench)) == (Step.PAID, "take the excess, 100.00")
        assert [p.field for p in refusals_to_collect(bench.facts, " ")] == ["override"]
        bench.pay(invoice, 10000, customer=1)
        assert bench.stands().step is Step.COLLECTED
        bench.collect()
        assert words(bench).startswith("ask for 86.40")
        bench.pay(invoice, 8640, customer=2)
        assert bench.stands().over

    def test_a_document_of_their_own_takes_its_place(self) -> None:
        bench, _ = paid_by(CustomerKind.INSURER, excess_minor=10000)
        own = bench.invoice(10000, customer=1)
        assert (excess_minor(bench.facts), due_before_collecting(bench.facts)) == (0, 10000)
        bench.pay(own, 10000)
        assert bench.stands().step is Step.COLLECTED

    def test_never_more_than_is_owed(self) -> None:
        bench, _ = paid_by(CustomerKind.INSURER, excess_minor=99900)
        assert due_before_collecting(bench.facts) == 18640

    def test_nobody_brings_it_where_nobody_brought_the_bike(self) -> None:
        bench, _ = paid_by(CustomerKind.INSURER, excess_minor=10000)
        bench.facts = replace(bench.facts, customer=None)
        assert due_before_collecting(bench.facts) == 0

    def test_nothing_before_it_is_billed(self) -> None:
        bench = mended_card(excess_minor=10000)
        assert bench.stands().step is Step.BILL
        assert due_before_collecting(bench.facts) == 0


class TestCollectingUnpaid:
    def test_wants_somebodys_word(self) -> None:
        bench, _ = billed_card()
        (problem,) = refusals_to_collect(bench.facts, "")
        assert problem.sentence == "186.40 is still to be paid."
        assert refusals_to_collect(bench.facts, "Ida, the owner") == ()

    def test_a_payment_set_aside_wants_nobodys(self) -> None:
        bench, _ = billed_card()
        bench.waive(Need.PAYMENT)
        assert refusals_to_collect(bench.facts, "") == ()

    def test_paid_wants_nobodys(self) -> None:
        bench, invoice = billed_card()
        bench.pay(invoice)
        assert refusals_to_collect(bench.facts, "") == ()


class TestOwed:
    def test_payable_less_paid_written_off_and_credited(self) -> None:
        bench, invoice = billed_card()
        bench.pay(invoice, 10000)
        bench.write_off(invoice, 640)
        bench.credit(invoice, 1000)
        assert owed_minor(bench.facts) == 18640 - 10000 - 640 - 1000

    def test_a_credit_note_set_against_a_document_counts_once(self) -> None:
        bench, invoice = billed_card()
        credit_note = bench.credit(invoice, 1000)
        bench.allocate(invoice, 600, credit_note=credit_note)
        assert owed_minor(bench.facts) == 17640

    def test_a_credit_note_set_against_another_document_lessens_that_one(self) -> None:
        bench, invoice = billed_card()
        bench.pay(invoice)
        credit_note = bench.credit(invoice, 1000)
        other = bench.invoice(3000)
        bench.allocate(other, 1000, credit_note=credit_note)
        assert [owed_on(bench.facts, each) for each in bench.facts.documents if each.id != credit_note] == [
            0,
            2000,
        ]

    def test_too_much_on_one_lessens_nothing_on_another(self) -> None:
        bench, invoice = billed_card()
        bench.pay(invoice, 20000)
        bench.invoice(500)
        assert (owed_minor(bench.facts), to_give_back_minor(bench.facts)) == (500, 1360)

    def test_money_paid_back_against_the_invoice_or_against_the_credit_note(self) -> None:
        for against_invoice in (True, False):
            bench, invoice = billed_card()
            bench.pay(invoice)
            credit_note = bench.credit(invoice, 1000)
            assert to_give_back_minor(bench.facts) == 1000
            bench.pay(invoice if against_invoice else credit_note, -1000)
            assert (owed_minor(bench.facts), to_give_back_minor(bench.facts)) == (0, 0)

    def test_billed_counts_a_deposit_once(self) -> None:
        bench = mended_card()
        bench.document(DocumentKind.DEPOSIT, 5000)
        invoice = bench.invoice(18640 - 5000)
        assert billed_minor(bench.facts) == 18640
        bench.credit(invoice, 640)
        assert billed_minor(bench.facts) == 18000

    def test_an_invoice_of_nothing_lives_until_it_is_credited(self) -> None:
        bench, invoice = billed_card(0)
        assert [each.id for each in live_invoices(bench.facts)] == [invoice]
        bench.credit(invoice, 0)
        assert live_invoices(bench.facts) == ()

    def test_two_credit_notes_together_credit_it_whole(self) -> None:
        bench, invoice = billed_card()
        bench.credit(invoice, 18000)
        assert live_invoices(bench.facts)
        bench.credit(invoice, 640)
        assert live_invoices(bench.facts) == ()


class TestUnbilled:
    def test_a_repair_named_on_a_line_is_billed_even_if_written_down_later(self) -> None:
        bench, invoice = billed_card()
        late = bench.repair(words="earth cleaned")
        bench.done(late)
        assert [repair.id for repair in unbilled(bench.facts)] == [late]
        line = DocumentLine(
            document=invoice,
            position=1,
            kind=LineKind.LABOUR,
            words="earth cleaned",
            qty=Decimal(1),
            unit="h",
            unit_price=Decimal(60),
            net_minor=6000,
            tax_category="S",
            tax_rate=Decimal(20),
            repair=late,
        )
        bench.facts = replace(bench.facts, document_lines=(line,))
        assert unbilled(bench.facts) == ()

    def test_a_repair_begun_before_the_bill_is_on_it(self) -> None:
        bench = mended_card()
        repair = bench.repair(words="earth cleaned")
        bench.start(repair)
        bench.invoice()
        bench.done(repair)
        assert unbilled(bench.facts) == ()
