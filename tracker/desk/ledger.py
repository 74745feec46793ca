"""Where a customer, or everybody, stands: worked out from documents, credit notes and money."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from tracker.billing.owed import Account, account
from tracker.desk.desk import Desk
from tracker.records.billing import Owing, Receipt
from tracker.records.document import Allocation, Document, Payment, WriteOff
from tracker.records.people import Customer
from tracker.store.reader import Reader


@dataclass(frozen=True, slots=True)
class _Kept:
    documents: tuple[Document, ...]
    payments: tuple[Payment, ...]
    allocations: tuple[Allocation, ...]
    write_offs: tuple[WriteOff, ...]


def ledger(desk: Desk, customer: Customer | None = None) -> tuple[Account, tuple[Document, ...]]:
    """Where a customer, or everybody, stands today; and the documents it is worked out from."""

    def look(reader: Reader) -> _Kept:
        documents = reader.all(Document) if customer is None else reader.all(Document, customer=customer.id)
        payments = reader.all(Payment) if customer is None else reader.all(Payment, customer=customer.id)
        return _Kept(
            documents,
            payments,
            reader.all(Allocation),
            reader.all(WriteOff, document=tuple(d.id for d in documents)),
        )

    kept = desk.read(look)
    return _stands(kept, desk.today), kept.documents


def owed_after(reader: Reader, payment: Payment, settled: Sequence[Document]) -> dict[int, int]:
    """What was still owed on some documents once a payment was taken down, in minor units, by their ids."""
    ids = tuple(document.id for document in settled)
    notes = [one for one in reader.all(Document, corrects=ids) if one.at <= payment.at]
    parts = [one for one in reader.all(Allocation, document=ids) if (one.payment or 0) <= payment.id]
    came = reader.all(Payment, id=tuple({one.payment for one in parts if one.payment}))
    off = [one for one in reader.all(WriteOff, document=ids) if one.at <= payment.at]
    kept = _Kept((*settled, *notes), came, tuple(parts), tuple(off))
    stands = _stands(kept, payment.received_on)
    owed = {item.number: item.owed for item in stands.items}
    return {document.id: owed[document.number] for document in settled if document.number in owed}


def _stands(kept: _Kept, on: date) -> Account:
    numbers = {document.id: document.number for document in kept.documents}
    owing = [
        Owing(
            kind=d.kind,
            number=d.number,
            on=d.issued_on,
            due=d.due_on,
            payable=d.payable_minor,
            settles=numbers.get(d.corrects or 0, ""),
        )
        for d in kept.documents
    ]
    ahead = _paid_ahead(kept)
    receipts = [
        Receipt(
            payment.amount_minor - ahead.get(payment.id, 0),
            tuple(
                (numbers[part.document], part.amount_minor)
                for part in kept.allocations
                if part.payment == payment.id and part.document in numbers
            ),
        )
        for payment in kept.payments
    ]
    written_off: dict[str, int] = {}
    for one in kept.write_offs:
        written_off[numbers[one.document]] = written_off.get(numbers[one.document], 0) + one.amount_minor
    return account(owing, receipts, on=on, written_off=written_off)


def _paid_ahead(kept: _Kept) -> dict[int, int]:
    """What of each payment an invoice took off as paid ahead (BT-113), so that it is no credit in hand."""
    rest_of_card = {d.card or 0: d.prepaid_minor for d in kept.documents if d.prepaid_minor and d.card}
    found: dict[int, int] = {}
    for payment in kept.payments:
        used = sum(a.amount_minor for a in kept.allocations if a.payment == payment.id)
        part = min(max(0, payment.amount_minor - used), rest_of_card.get(payment.card or 0, 0))
        if part:
            found[payment.id] = part
            rest_of_card[payment.card or 0] -= part
    return found
