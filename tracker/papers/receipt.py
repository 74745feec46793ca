"""A receipt: what money came, how, and what it settles; or what was given back."""

from collections.abc import Sequence

from tracker.papers.paper import (
    Column,
    ColumnKind,
    Pair,
    Pairs,
    Paper,
    Sum,
    Sums,
    Table,
    Words,
    WordsKind,
    some,
)
from tracker.papers.parties import customer_party, shop_party
from tracker.papers.say import amount, day, money
from tracker.papers.tongue import mark, t
from tracker.records.document import Allocation, Document, Payment
from tracker.records.people import Customer
from tracker.records.shop import Shop


def receipt_paper(
    payment: Payment,
    allocations: Sequence[Allocation],
    documents: Sequence[Document],
    *,
    shop: Shop,
    customer: Customer | None = None,
    number: str = "",
    owed: dict[int, int] | None = None,
) -> Paper:
    """The receipt for one payment (money given back where it is negative).

    `allocations` are the payment's own, `documents` those they settle. `owed` is what is still owed on a
    document after it, by id, in minor units. `number` is the payment's own where the shop gives it one.
    """
    back = payment.amount_minor < 0
    sign = -1 if back else 1
    known = {document.id: document for document in documents}
    used = sum(one.amount_minor for one in allocations)
    rest = sign * (payment.amount_minor - used)
    whole = Sum(
        t("Given back") if back else t("Received"),
        money(sign * payment.amount_minor, payment.currency),
        strong=True,
    )
    kept = Sum(t("Of it kept for you"), money(rest, payment.currency))
    return Paper(
        t("Money given back") if back else t("Receipt"),
        number,
        (
            shop_party(shop),
            *((customer_party(customer, mark("To") if back else mark("From whom")),) if customer else ()),
        ),
        some(
            Pairs(
                (
                    Pair(t("Given back") if back else t("Received"), day(payment.received_on)),
                    Pair(t("How"), t(payment.method)),
                )
            ),
            _table(
                [one for one in allocations if one.document in known],
                known,
                owed or {},
                payment.currency,
                sign,
            ),
            Sums((whole, *((kept,) if rest and not back else ()))),
            Words((payment.words,) if payment.words else (), WordsKind.LIST),
            Words(
                (t("This is not an invoice: the tax stands on the documents named."),) if allocations else ()
            ),
        ),
    )


def _table(
    allocations: Sequence[Allocation],
    known: dict[int, Document],
    owed: dict[int, int],
    currency: str,
    sign: int,
) -> Table:
    figures = ColumnKind.FIGURES
    columns = (
        Column(t("For")),
        Column(t("Issued")),
        Column(t("Asked"), figures),
        Column(t("Settled {currency}", currency=currency), figures),
        *((Column(t("Still owed"), figures),) if owed else ()),
    )
    rows = tuple(
        (
            f"{t(document.kind.capitalize())} {document.number}",
            day(document.issued_on),
            amount(document.payable_minor, currency),
            amount(sign * one.amount_minor, currency),
            *((amount(owed[document.id], currency) if document.id in owed else "",) if owed else ()),
        )
        for one in allocations
        for document in [known[one.document]]
    )
    return Table(columns, rows)
