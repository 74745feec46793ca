"""A statement: what a customer owes on a day, document by document, and how long it has been due."""

from collections.abc import Mapping
from datetime import date

from tracker.billing.owed import Account, OpenItem
from tracker.papers.paper import Column, ColumnKind, Paper, Sum, Sums, Table, Words, some
from tracker.papers.parties import customer_party, shop_party
from tracker.papers.say import amount, day, money
from tracker.papers.tongue import mark, t
from tracker.records.people import Customer
from tracker.records.shop import Shop


def statement_paper(
    account: Account,
    *,
    on: date,
    shop: Shop,
    customer: Customer,
    issued: Mapping[str, date] | None = None,
) -> Paper:
    """What `customer` owes on a day, in the shop's currency; settled documents are left out.

    `issued` are the documents' dates of issue by number, where they are to be shown.
    """
    currency = shop.currency
    open_items = [item for item in account.items if item.owed or item.over]
    settled = t("Nothing is owed. Thank you.")
    return Paper(
        t("Statement"),
        day(on),
        (shop_party(shop), customer_party(customer, mark("To"))),
        some(
            _items(open_items, on, currency, issued or {}),
            Sums(_sums(account, currency)),
            _ages(account, currency),
            Words(() if account.owed else (settled,)),
            Words(
                (t("If a payment has crossed with this, please take no notice of it."),)
                if account.owed
                else ()
            ),
        ),
    )


def _items(items: list[OpenItem], on: date, currency: str, issued: Mapping[str, date]) -> Table:
    figures = ColumnKind.FIGURES
    credited, let_off = t("Credited"), t("Let off")
    columns = {
        t("Document"): [_document(item, currency, issued) for item in items],
        t("Due"): [day(item.due) for item in items],
        t("Late"): [
            t("{days} d", days=(on - item.due).days) if on > item.due and item.owed else "" for item in items
        ],
        t("Asked"): [amount(item.payable, currency) for item in items],
        credited: [amount(item.credited, currency) for item in items],
        let_off: [amount(item.written_off, currency) for item in items],
        t("Paid"): [amount(item.paid, currency) for item in items],
        t("Owed {currency}", currency=currency): [amount(item.owed, currency) for item in items],
    }
    if not any(item.credited for item in items):
        del columns[credited]
    if not any(item.written_off for item in items):
        del columns[let_off]
    words = (t("Document"), t("Due"))
    heads = tuple(Column(head, ColumnKind.WORDS if head in words else figures) for head in columns)
    return Table(heads, tuple(zip(*columns.values(), strict=True)))


def _document(item: OpenItem, currency: str, issued: Mapping[str, date]) -> str:
    lines = [
        item.number,
        f"  {day(issued[item.number])}" if item.number in issued else "",
        "  " + t("{amount} too much", amount=money(item.over, currency)) if item.over else "",
    ]
    return "\n".join(line for line in lines if line)


def _sums(account: Account, currency: str) -> tuple[Sum, ...]:
    if not account.in_hand:
        return (Sum(t("Owed in all"), money(account.owed, currency), strong=True),)
    last = t("In your favour") if account.balance < 0 else t("To pay")
    return (
        Sum(t("Owed in all"), money(account.owed, currency)),
        Sum(t("Kept for you"), money(-account.in_hand, currency)),
        Sum(last, money(abs(account.balance), currency), strong=True),
    )


def _ages(account: Account, currency: str) -> Table:
    ages = account.ages
    by_age = {
        t("Not yet due"): ages.not_due,
        t("To 30 days"): ages.to_30,
        t("31 to 60"): ages.to_60,
        t("61 to 90"): ages.to_90,
        t("Over 90"): ages.over_90,
    }
    columns = tuple(Column(words, ColumnKind.FIGURES) for words in by_age)
    row = tuple(amount(minor, currency) for minor in by_age.values())
    return Table(columns, (row,) if account.owed else (), t("For how long it has been due"))
