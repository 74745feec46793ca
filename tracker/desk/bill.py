"""Billing: a deposit, the final invoice with deposits set off, a credit note in whole or by line."""

from dataclasses import dataclass
from datetime import date
from typing import Annotated, ClassVar

from tracker.billing.bill import draw_up
from tracker.billing.checks import typed_problems
from tracker.billing.credit import TakeBack, credit_lines, credit_rest
from tracker.billing.deposit import deposit_bill, deposit_problems
from tracker.billing.left import set_off_of
from tracker.card.allowed import refusals_to_bill
from tracker.card.loose_ends import left_when_billed
from tracker.card.needs import is_charged
from tracker.card.owing import live_invoices
from tracker.card.time import on_the_clock
from tracker.card.words import several
from tracker.card.work import ending_in_force
from tracker.desk.ask import Ask
from tracker.desk.bill_checks import all_said
from tracker.desk.billing_lines import Gathering, ToBill, extra_lines
from tracker.desk.documents import ToIssue, buyer_of, credit_notes_of, document_named, issue, issued
from tracker.desk.openings import again_notes, again_words
from tracker.desk.turn import Turn
from tracker.desk.typed import amount
from tracker.errors import WrongUseError
from tracker.records.billing import Bill as Drawn
from tracker.records.billing import BillLine, SetOff, TaxKey
from tracker.records.card import Card
from tracker.records.document import Allocation, Document, DocumentKind, EstimateLine, Payment
from tracker.records.facts import CardFacts
from tracker.records.money import Money
from tracker.records.people import Customer, CustomerKind, Mechanic
from tracker.records.problem import Mistakes, Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Bill:
    """Issue the card's invoice; with --deposit a deposit, with --credit NUMBER a credit note."""

    verb: ClassVar[str] = "bill"

    card: Annotated[str, Ask("Card", "or the number of the document to credit", place=1)] = ""
    deposit: Annotated[Money | None, Ask("Deposit", "an amount with tax", least=1)] = None
    credit: Annotated[str, Ask("Credit", "the number of the document it takes back")] = ""
    line: Annotated[tuple[int, ...], Ask("Line to credit", "its number; the whole when none is named")] = ()
    by: Annotated[str, Ask("Time by", "clock or estimate", choices=("clock", "estimate"))] = ""
    extra: Annotated[tuple[str, ...], Ask("Extra line", "words=amount")] = ()
    fee: Annotated[tuple[str, ...], Ask("Fee passed on at cost", "words=amount, outside the tax")] = ()
    discount: Annotated[Money | None, Ask("Discount", "an amount off")] = None
    supply: Annotated[date | None, Ask("Supplied on", "today when nothing is said")] = None
    due: Annotated[date | None, Ask("To be paid by")] = None
    cash: Annotated[bool, Ask("Round to cash")] = False
    small: Annotated[
        bool, Ask("Without the customer's address", "where local law lets a small bill go so")
    ] = False
    words: Annotated[str, Ask("Words", "why it is credited; a note", lines=True)] = ""
    because: Annotated[str, Ask("Billed all the same because", "while a clock runs on it", lines=True)] = ""

    def work(self, turn: Turn) -> Document:
        """Checks all of it, then takes the next number. What was issued is never changed."""
        if self.credit:
            return self._credit_note(turn)
        if not self.card:
            raise Mistakes([Problem("card", "Which card?", "Its number.")])
        card = turn.card(self.card)
        facts = turn.facts(card)
        if not is_charged(facts):
            raise WrongUseError(
                f"Card {card.number} is not charged: a project of one's own, or a free comeback."
            )
        kind = DocumentKind.INVOICE if self.deposit is None else DocumentKind.DEPOSIT
        customer = facts.payer or facts.customer
        with all_said(turn, kind, customer, buyer_of(customer), due=self.due, small=self.small):
            if self.deposit is not None:
                return self._deposit(turn, card, facts, self.deposit)
            return self._invoice(turn, card, facts)

    def _invoice(self, turn: Turn, card: Card, facts: CardFacts) -> Document:
        shop = turn.shop
        extras = self._amounts(turn, "extra", self.extra) + self._amounts(turn, "fee", self.fee)
        by_clock = None if not self.by else self.by == "clock"
        gathered = Gathering(turn, facts, by_clock).everything()
        taxed, fees = extras[: len(self.extra)], extras[len(self.extra) :]
        lines = (*gathered.lines, *extra_lines(turn, taxed, fees, self.discount))
        if not lines:
            self._nothing(facts, card)
        if problems := typed_problems(lines):
            raise Mistakes(problems)
        bill = draw_up(
            lines,
            currency=shop.currency,
            registered=shop.taxed,
            typed_with_tax=shop.taxed and shop.prices_with_tax,
            deposits=set_offs(turn, facts),
            prepaid=prepaid(turn, facts),
            cash_step=shop.cash_rounding_minor if self.cash else 1,
        )
        refused = refusals_to_bill(facts, bill.totals.tax_inclusive, gathered.bench_min)
        running = self._running(turn, facts)
        if running and not self.because.strip():
            refused = (*refused, *running)
        if refused:
            raise Mistakes(refused)
        document = issue(
            turn, self._to_issue(turn, facts, DocumentKind.INVOICE, bill), gathered.repairs, gathered.parts
        )
        use_prepaid(turn, facts, document)
        self._compare(turn, facts, gathered)
        for sentence in left_when_billed(facts):
            turn.note(sentence)
        payable = Money(document.payable_minor, document.currency)
        why = f" (a clock ran: {self.because[:60]})" if running else ""
        turn.say(f"card {card.number}: {document.number}, {payable} to pay{why}", card)
        return document

    def _running(self, turn: Turn, facts: CardFacts) -> tuple[Problem, ...]:
        """A clock that runs on the card: its time is cut off here, so the reason is asked for."""
        running = on_the_clock(facts)
        if not running:
            return ()
        names = several(turn.unit.get(Mechanic, entry.mechanic).name for entry in running)
        sentence = f"{names} is on the clock on this card: what comes after now would not be billed."
        return (Problem("because", sentence, "loomcard clock off first; or say why it is billed now."),)

    def _deposit(self, turn: Turn, card: Card, facts: CardFacts, wanted: Money) -> Document:
        if not facts.estimates:
            raise WrongUseError("A deposit is asked on an estimate.", "Price the card first.")
        latest = max(facts.estimates, key=lambda e: e.revision)
        lines = turn.unit.all(EstimateLine, estimate=latest.id, order="position")
        estimated = draw_up(
            [
                BillLine(
                    x.words,
                    x.qty,
                    x.unit,
                    x.unit_price,
                    TaxKey(x.tax_category, x.tax_rate),
                    x.kind,
                    base_qty=x.base_qty,
                )
                for x in lines
            ],
            currency=latest.currency,
            registered=turn.shop.taxed,
        ).totals
        if problems := deposit_problems(estimated, wanted.minor):
            raise Mistakes(problems)
        if refused := refusals_to_bill(facts, wanted.minor):
            raise Mistakes([Problem("deposit", r.sentence, r.hint, r.given) for r in refused])
        bill = deposit_bill(estimated, wanted.minor, f"Deposit on estimate {latest.number}")
        document = issue(turn, self._to_issue(turn, facts, DocumentKind.DEPOSIT, bill))
        turn.say(f"card {card.number}: {document.number}, deposit {wanted}", card)
        return document

    def _credit_note(self, turn: Turn) -> Document:
        original = document_named(turn.unit, turn.shop, self.credit)
        if original.kind is DocumentKind.CREDIT_NOTE:
            raise Mistakes(
                [Problem("credit", f"{original.number} is a credit note itself.", given=self.credit)]
            )
        customer = turn.unit.get(Customer, original.customer) if original.customer else None
        small = self.small or not original.buyer.get("address")
        kind, buyer = DocumentKind.CREDIT_NOTE, original.buyer
        with all_said(turn, kind, customer, buyer, due=self.due, small=small):
            return self._credited(turn, original, customer, small=small)

    def _credited(
        self, turn: Turn, original: Document, customer: Customer | None, *, small: bool
    ) -> Document:
        before = [issued(turn.unit, note).bill for note in credit_notes_of(turn.unit, original)]
        whole = issued(turn.unit, original)
        bill = (
            credit_lines(whole, [TakeBack(number) for number in self.line], before)
            if self.line
            else credit_rest(whole, before)
        )
        card = turn.unit.get(Card, original.card) if original.card else None
        document = issue(
            turn,
            ToIssue(
                kind=DocumentKind.CREDIT_NOTE,
                bill=bill,
                card=card,
                customer=customer,
                supply_on=original.supply_on,
                due_on=self.due,
                corrects=original,
                small=small,
                words=self.words,
            ),
        )
        given = Money(document.payable_minor, document.currency)
        turn.say(f"{document.number} credits {original.number}: {given}", card)
        return document

    def _to_issue(self, turn: Turn, facts: CardFacts, kind: DocumentKind, bill: Drawn) -> ToIssue:
        return ToIssue(
            kind=kind,
            bill=bill,
            card=facts.card,
            customer=facts.payer or facts.customer,
            supply_on=self.supply or turn.today,
            due_on=self.due,
            small=self.small,
            words="\n".join(part for part in (self.words, *_notes(turn, facts, kind)) if part),
        )

    def _amounts(self, turn: Turn, field: str, typed: tuple[str, ...]) -> list[tuple[str, Money]]:
        found: list[tuple[str, Money]] = []
        problems = []
        for text in typed:
            words, sign, figure = text.rpartition("=")
            value = amount(field, figure, turn.shop.currency, least=1) if sign else None
            if value is None or not words.strip():
                problems.append(
                    Problem(field, "Write it as words=amount.", "Roadworthiness test=45.00", text[:60])
                )
            elif isinstance(value, Problem):
                problems.append(value)
            else:
                found.append((words.strip(), value))
        if problems:
            raise Mistakes(problems)
        return found

    def _nothing(self, facts: CardFacts, card: Card) -> None:
        live = live_invoices(facts)
        if live:
            raise WrongUseError(
                f"Card {card.number} is billed already: {live[-1].number}.", "Credit it, or add --extra."
            )
        raise WrongUseError(
            f"There is nothing to bill on card {card.number} yet.", "No time, no repair done, no part fitted."
        )

    def _compare(self, turn: Turn, facts: CardFacts, gathered: ToBill) -> None:
        latest = max(facts.estimates, key=lambda e: e.revision, default=None)
        if latest is not None and gathered.bench_min is not None and ending_in_force(facts) is None:
            turn.note(f"Estimated {latest.expected_min} min, billed {gathered.bench_min} min.")
        for words in again_notes(turn, facts):
            turn.note(words)


def _notes(turn: Turn, facts: CardFacts, kind: DocumentKind) -> tuple[str, ...]:
    """What the program notes on a document: the excess, and what came off more than once."""
    again = again_words(turn, facts) if kind is DocumentKind.INVOICE else ()
    return (_excess_words(facts, kind), *again)


def _excess_words(facts: CardFacts, kind: DocumentKind) -> str:
    """What stands on an insurer's invoice of the part that the customer pays."""
    excess, payer, customer = facts.card.excess_minor, facts.payer, facts.customer
    if kind is not DocumentKind.INVOICE or not excess or payer is None or customer is None:
        return ""
    if payer.kind is not CustomerKind.INSURER or payer.id == customer.id:
        return ""
    amount = f"{Money(excess, facts.shop.currency)} {facts.shop.currency}"
    return f"Of this the excess of {amount} is paid by {customer.name}."


def set_offs(turn: Turn, facts: CardFacts) -> list[SetOff]:
    """The card's deposits that no standing invoice has set off yet, less what was credited of them."""
    live = {invoice.id for invoice in live_invoices(facts)}
    used = {line.sets_off for line in facts.document_lines if line.document in live and line.sets_off}
    found = []
    for deposit in sorted(facts.documents, key=lambda d: d.id):
        if deposit.kind is not DocumentKind.DEPOSIT or deposit.id in used:
            continue
        before = [issued(turn.unit, note).bill for note in credit_notes_of(turn.unit, deposit)]
        left = set_off_of(
            issued(turn.unit, deposit), before, f"Deposit {deposit.number} of {deposit.issued_on}"
        )
        if left.payable > 0:
            found.append(left)
    return found


def loose_payments(turn: Turn, facts: CardFacts) -> list[tuple[Payment, int]]:
    """Payments on a card with what of each settles no document yet."""
    found = []
    for payment in sorted(facts.payments, key=lambda p: p.id):
        parts = turn.unit.all(Allocation, payment=payment.id)
        rest = payment.amount_minor - sum(part.amount_minor for part in parts)
        if rest > 0:
            found.append((payment, rest))
    return found


def prepaid(turn: Turn, facts: CardFacts) -> int:
    """Money that came on a card without a document (BT-113)."""
    asked = any(document.kind is not DocumentKind.CREDIT_NOTE for document in facts.documents)
    return 0 if asked else sum(rest for _, rest in loose_payments(turn, facts))


def use_prepaid(turn: Turn, facts: CardFacts, document: Document) -> None:
    """Notes that money paid ahead is on this invoice; the invoice asks for the rest only."""
    if document.prepaid_minor:
        names = ", ".join(str(payment.received_on) for payment, _ in loose_payments(turn, facts))
        turn.note(f"{Money(document.prepaid_minor, document.currency)} paid ahead ({names}) is taken off.")
