"""What is owed, by whom since when: worked out from documents, credit notes and money, never kept by hand."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from tracker.records.billing import Owing, Receipt
from tracker.records.document import DocumentKind
from tracker.records.money import Money
from tracker.records.problem import Problem


@dataclass(frozen=True, slots=True)
class OpenItem:
    """One document that asks for money, in minor units.

    `owed` is what is still asked, `over` what came beyond it: one of the two is nothing.
    """

    number: str
    due: date
    payable: int
    credited: int
    written_off: int
    paid: int

    @property
    def owed(self) -> int:
        """Payable less credited, written off and paid; 0 once settled."""
        return max(self._rest, 0)

    @property
    def over(self) -> int:
        """Paid or credited beyond what was asked, 0 or more: the customer's."""
        return max(-self._rest, 0)

    @property
    def _rest(self) -> int:
        return self.payable - self.credited - self.written_off - self.paid


@dataclass(frozen=True, slots=True)
class Ages:
    """What is owed by days past the due date, in minor units; `not_due` is owed but later."""

    not_due: int = 0
    to_30: int = 0
    to_60: int = 0
    to_90: int = 0
    over_90: int = 0

    @property
    def total(self) -> int:
        """All of it."""
        return self.not_due + self.to_30 + self.to_60 + self.to_90 + self.over_90


@dataclass(frozen=True, slots=True)
class Account:
    """Where a customer, or everybody, stands on a day. Amounts in minor units of one currency.

    `in_hand` is the customer's money that settles nothing yet: overpaid, paid twice, credited after
    paying, paid without a document.
    """

    items: tuple[OpenItem, ...]
    owed: int
    in_hand: int
    ages: Ages

    @property
    def balance(self) -> int:
        """Owed less credit in hand; below nothing, the shop owes it."""
        return self.owed - self.in_hand


def account(
    documents: Sequence[Owing],
    receipts: Sequence[Receipt],
    *,
    on: date,
    written_off: Mapping[str, int] | None = None,
) -> Account:
    """The account of `documents` and `receipts` as it stands on a day, oldest due date first.

    A credit note lowers the document it names (`settles`), even below nothing; one that names a document not
    among these is credit in hand. `written_off` is what is no longer asked for, by document number. To use
    credit in hand for a later document, add a receipt of 0 that moves it:
    `Receipt(0, (("INV-26-0001", -500), ("INV-26-0002", 500)))`.
    """
    asking = [document for document in documents if document.kind is not DocumentKind.CREDIT_NOTE]
    numbers = {document.number for document in asking}
    credited = dict.fromkeys(numbers, 0)
    paid = dict.fromkeys(numbers, 0)
    loose = 0
    for document in documents:
        if document.kind is DocumentKind.CREDIT_NOTE:
            if document.settles in numbers:
                credited[document.settles] += document.payable
            else:
                loose += document.payable
    for receipt in receipts:
        loose += receipt.minor - sum(minor for _, minor in receipt.parts)
        for number, minor in receipt.parts:
            if number in numbers:
                paid[number] += minor
    off = written_off or {}
    items = tuple(
        OpenItem(
            document.number,
            document.due,
            document.payable,
            credited[document.number],
            off.get(document.number, 0),
            paid[document.number],
        )
        for document in sorted(asking, key=lambda document: (document.due, document.number))
    )
    owed = sum(item.owed for item in items)
    return Account(items, owed, loose + sum(item.over for item in items), ages(items, on))


def ages(items: Sequence[OpenItem], on: date) -> Ages:
    """What is owed by age on a day: 0-30, 31-60, 61-90 and over 90 days from the due date."""
    sums = dict.fromkeys(("not_due", "to_30", "to_60", "to_90", "over_90"), 0)
    for item in items:
        days = (on - item.due).days
        if days < 0:
            sums["not_due"] += item.owed
        elif days <= 30:
            sums["to_30"] += item.owed
        elif days <= 60:
            sums["to_60"] += item.owed
        elif days <= 90:
            sums["to_90"] += item.owed
        else:
            sums["over_90"] += item.owed
    return Ages(**sums)


def oldest_first(standing: Account, minor: int) -> tuple[tuple[str, int], ...]:
    """How a payment of `minor` settles what is owed, the longest due first; the rest of it stays in hand."""
    parts: list[tuple[str, int]] = []
    for item in standing.items:
        part = min(item.owed, minor - sum(used for _, used in parts))
        if part > 0:
            parts.append((item.number, part))
    return tuple(parts)


def receipt_problems(receipt: Receipt, standing: Account, currency: str) -> tuple[Problem, ...]:
    """What is wrong with money about to be taken down; paying too much is a fact and no mistake."""
    problems: list[Problem] = []
    known = {item.number for item in standing.items}
    given = str(Money(receipt.minor, currency))
    used = sum(minor for _, minor in receipt.parts)
    if receipt.minor == 0 and not receipt.parts:
        problems.append(Problem("amount", "An amount of nothing is no payment.", given=given))
    if receipt.minor >= 0 and used > receipt.minor:
        sentence = f"{Money(used, currency)} is settled with {given}."
        problems.append(Problem("parts", sentence, "Settle less, or take down more."))
    if receipt.minor < 0 and -receipt.minor > standing.in_hand:
        sentence = f"More goes back than the {Money(standing.in_hand, currency)} the customer has in hand."
        problems.append(Problem("amount", sentence, "A credit note first, then the money.", given))
    problems.extend(
        Problem("parts", f"No document {number} is on this account.", given=number)
        for number, _ in receipt.parts
        if number not in known
    )
    return tuple(problems)
