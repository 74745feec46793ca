"""The tax on a paper: its rows in the sum, why an amount bears none, and when nothing of it is shown."""

from collections.abc import Iterable, Sequence

from tracker.papers.paper import Sum
from tracker.papers.say import amount, money, percent
from tracker.papers.tongue import mark, t
from tracker.records.document import DocumentTax

NOT_SUBJECT = "O"
_REASONS = {
    "VATEX-EU-O": mark("No tax is charged: the seller is not registered for it."),
    "VATEX-EU-79-C": mark(
        "Paid in your name and passed on at cost; no part of the amount on which tax falls"
        " (Directive 2006/112/EC, article 79, point c)."
    ),
}
"""Words for codes of the VATEX list that the program itself gives (EN 16931, BT-121)."""
_LABELS = {"Z": mark("Tax 0 % on {taxable}"), "E": mark("No tax on {taxable} (exempt)")}


def is_taxed(categories: Iterable[str]) -> bool:
    """Whether a paper shows tax at all: not where everything is outside it."""
    return any(category != NOT_SUBJECT for category in categories)


def tax_sums(taxes: Sequence[DocumentTax], currency: str) -> tuple[Sum, ...]:
    """One row for each tax group, with the amount that it falls on."""
    rows = []
    for tax in taxes:
        words = _LABELS.get(tax.category, mark("Tax {rate} on {taxable}"))
        label = t(words, rate=percent(tax.rate), taxable=amount(tax.taxable_minor, currency))
        rows.append(Sum(label, money(tax.tax_minor, currency)))
    return tuple(rows)


def rate_words(category: str, rate: str) -> str:
    """What stands in a line's tax column."""
    return {"E": t("exempt"), NOT_SUBJECT: "-"}.get(category, rate)


def reasons(taxes: Sequence[DocumentTax]) -> tuple[str, ...]:
    """Why some amounts bear no tax, each once: the words kept with them, else those of their code."""
    found = [tax.reason or t(_REASONS.get(tax.exemption, tax.exemption)) for tax in taxes]
    return tuple(dict.fromkeys(words for words in found if words))


def several_taxes(taxes: Sequence[DocumentTax]) -> bool:
    """Whether the tax of the groups wants adding up."""
    return sum(1 for tax in taxes if tax.tax_minor) > 1
