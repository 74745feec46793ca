"""What was billed on a card and what is still owed, worked out from documents that never change.

All amounts are minor units of the shop's currency.
"""

from tracker.card.work import planned
from tracker.records.document import Document, DocumentKind
from tracker.records.facts import CardFacts
from tracker.records.people import Customer, CustomerKind
from tracker.records.work import Repair

PAYS_AFTERWARDS = frozenset({CustomerKind.ACCOUNT, CustomerKind.INSURER})


def _in_order(facts: CardFacts, *kinds: DocumentKind) -> tuple[Document, ...]:
    chosen = (each for each in facts.documents if each.kind in kinds)
    return tuple(sorted(chosen, key=lambda each: (each.at, each.id)))


def asking(facts: CardFacts) -> tuple[Document, ...]:
    """The documents that ask for money: deposits and invoices, oldest first."""
    return _in_order(facts, DocumentKind.DEPOSIT, DocumentKind.INVOICE)


def _credits_of(facts: CardFacts, document: Document) -> tuple[Document, ...]:
    return tuple(c for c in _in_order(facts, DocumentKind.CREDIT_NOTE) if c.corrects == document.id)


def live_invoices(facts: CardFacts) -> tuple[Document, ...]:
    """The invoices that were not wholly credited, oldest first."""
    live = []
    for invoice in _in_order(facts, DocumentKind.INVOICE):
        credit_notes = _credits_of(facts, invoice)
        if not credit_notes or sum(each.total_minor for each in credit_notes) < invoice.total_minor:
            live.append(invoice)
    return tuple(live)


def unbilled(facts: CardFacts) -> tuple[Repair, ...]:
    """Done repairs begun after the last live invoice that no line of one names; all, where there is none."""
    live = live_invoices(facts)
    done = tuple(repair for repair in planned(facts) if repair.done_at is not None)
    if not live:
        return done
    ids = {each.id for each in live}
    named = {line.repair for line in facts.document_lines if line.document in ids}
    last_at = live[-1].at
    return tuple(r for r in done if r.id not in named and (r.started_at or r.done_at or last_at) > last_at)


def billed_minor(facts: CardFacts) -> int:
    """All that was billed with tax, deposits once (the invoice takes them off), less what was credited."""
    credit_notes = _in_order(facts, DocumentKind.CREDIT_NOTE)
    return sum(each.total_minor for each in asking(facts)) - sum(each.total_minor for each in credit_notes)


def _unused_minor(facts: CardFacts, credit_note: Document) -> int:
    """What of a credit note was neither set against a document nor paid back."""
    used = sum(each.amount_minor for each in facts.allocations if each.credit_note == credit_note.id)
    paid_back = sum(abs(each.amount_minor) for each in facts.allocations if each.document == credit_note.id)
    return max(0, credit_note.payable_minor - used - paid_back)


def owed_on(facts: CardFacts, document: Document) -> int:
    """Still owed on one deposit or invoice; below 0 when there is money to give back.

    Payable, less what was paid or set against it, less write-offs, less its credit notes as far as those
    were not set against anything themselves.
    """
    settled = sum(each.amount_minor for each in facts.allocations if each.document == document.id)
    written_off = sum(each.amount_minor for each in facts.write_offs if each.document == document.id)
    credited = sum(_unused_minor(facts, each) for each in _credits_of(facts, document))
    return document.payable_minor - settled - written_off - credited


def unpaid(facts: CardFacts) -> tuple[tuple[Document, int], ...]:
    """The documents on which something is owed, oldest first, each with how much."""
    owed = ((each, owed_on(facts, each)) for each in asking(facts))
    return tuple((document, minor) for document, minor in owed if minor > 0)


def owed_minor(facts: CardFacts) -> int:
    """All that is owed on a card. Too much on one document lessens nothing on another of somebody else."""
    return sum(minor for _, minor in unpaid(facts))


def to_give_back_minor(facts: CardFacts) -> int:
    """Money that came and is no longer asked for, as a positive amount."""
    return sum(max(0, -owed_on(facts, each)) for each in asking(facts))


def buyer_of(facts: CardFacts, document: Document) -> Customer | None:
    """Who a document is made out to, where that is one of the card's own people."""
    if document.customer is None:
        return facts.payer or facts.customer
    for person in (facts.payer, facts.customer):
        if person is not None and person.id == document.customer:
            return person
    return None


def pays_afterwards(facts: CardFacts, document: Document) -> bool:
    """Whether a document is paid after the bike is collected: an account's or an insurer's."""
    buyer = buyer_of(facts, document)
    return buyer is not None and buyer.kind in PAYS_AFTERWARDS


def excess_minor(facts: CardFacts) -> int:
    """What of an insurer's excess the customer still has to bring.

    Nothing where the customer has a document of their own for it, and never more than is owed by others.
    """
    excess, customer = facts.card.excess_minor or 0, facts.customer
    if customer is None:
        return 0
    counter = [each for each in asking(facts) if not pays_afterwards(facts, each)]
    if any(each.kind is DocumentKind.INVOICE for each in counter):
        return 0
    theirs = {payment.id for payment in facts.payments if payment.customer == customer.id}
    came = sum(each.amount_minor for each in facts.allocations if each.payment in theirs)
    later = sum(minor for document, minor in unpaid(facts) if pays_afterwards(facts, document))
    return max(0, min(excess - came, later))


def due_before_collecting(facts: CardFacts) -> int:
    """What is to be paid before the bike goes: all that is owed at the counter, and the excess."""
    counter = sum(minor for document, minor in unpaid(facts) if not pays_afterwards(facts, document))
    return counter + excess_minor(facts)
