"""A statement: what a customer owes on a day, document by document, and how long it has been due."""

from collections.abc import Mapping
from datetime import date

from tracker.billing.owed import Account, OpenItem
from tracker.papers.paper import Column, ColumnKind, Paper, Sum, Sums, Table, Words, some
from tracker.papers.parties import customer_party, shop_party
from tracker.papers.say import amount, day, money
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
    settled = "Nothing is owed. Thank you."
    return Paper(
        "Statement",
        day(on),
        (shop_party(shop), customer_party(customer, "To")),
        some(
            _items(open_items, on, currency, issued or {}),
            Sums(_sums(account, currency)),
            _ages(account, currency),
            Words(() if account.owed else (settled,)),
            Words(
                ("If a payment has crossed with this, please take no notice of it.",) if account.owed else ()
            ),
        ),
    )


def _items(items: list[OpenItem], on: date, currency: str, issued: Mapping[str, date]) -> Table:
    figures = ColumnKind.FIGURES
    columns = {
        "Document": [_document(item, currency, issued) for item in items],
        "Due": [day(item.due) for item in items],
        "Late": [f"{(on - item.due).days} d" if on > item.due and item.owed else "" for item in items],
        "Asked": [amount(item.payable, currency) for item in items],
        "Credited": [amount(item.credited, currency) for item in items],
        "Let off": [amount(item.written_off, currency) for item in items],
        "Paid": [amount(item.paid, currency) for item in items],
        f"Owed {currency}": [amount(item.owed, currency) for item in items],
    }
    if not any(item.credited for item in items):
        del columns["Credited"]
    if not any(item.written_off for item in items):
        del columns["Let off"]
    heads = tuple(Column(head, ColumnKind.WORDS if head in _WORDS else figures) for head in columns)
    return Table(heads, tuple(zip(*columns.values(), strict=True)))


_WORDS = ("Document", "Due")


def _document(item: OpenItem, currency: str, issued: Mapping[str, date]) -> str:
    lines = [
        item.number,
        f"  {day(issued[item.number])}" if item.number in issued else "",
        f"  {money(item.over, currency)} too much" if item.over else "",
    ]
    return "\n".join(line for line in lines if line)


def _sums(account: Account, currency: str) -> tuple[Sum, ...]:
    if not account.in_hand:
        return (Sum("Owed in all", money(account.owed, currency), strong=True),)
    last = "In your favour" if account.balance < 0 else "To pay"
    return (
        Sum("Owed in all", money(account.owed, currency)),
        Sum("Kept for you", money(-account.in_hand, currency)),
        Sum(last, money(abs(account.balance), currency), strong=True),
    )


def _ages(account: Account, currency: str) -> Table:
    ages = account.ages
    by_age = {
        "Not yet due": ages.not_due,
        "To 30 days": ages.to_30,
        "31 to 60": ages.to_60,
        "61 to 90": ages.to_90,
        "Over 90": ages.over_90,
    }
    columns = tuple(Column(words, ColumnKind.FIGURES) for words in by_age)
    row = tuple(amount(minor, currency) for minor in by_age.values())
    return Table(columns, (row,) if account.owed else (), "For how long it has been due")
