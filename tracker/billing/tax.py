"""What tax falls on an amount: a standard rate, none because of what it is, none because of who sells."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from tracker.records.billing import BillLine, DocumentAllowance, TaxGroup, TaxKey, Totals

NOT_REGISTERED = TaxKey("O", exemption="VATEX-EU-O")
"""Everything that a trader sells who is not registered for tax: not subject to it (BR-O-10)."""

PASSED_ON = TaxKey("E", exemption="VATEX-EU-79-C")
"""A fee paid in the customer's name and passed on at cost, beside lines of a registered trader.

Such a fee is no part of the taxable amount (Directive 2006/112/EC, article 79, point c). Category O would
say so more plainly, but may stand beside nothing else (BR-O-11, BR-O-12), and asks a registered seller to
leave out the tax number (BR-O-02).
"""


def standard(rate: Decimal) -> TaxKey:
    """The key of an ordinary taxed amount: S, or Z where the rate is nought (BR-S-05, BR-Z-05)."""
    return TaxKey("S" if rate else "Z", rate)


def fee_key(*, registered: bool) -> TaxKey:
    """The key of a fee passed on at cost, outside the tax."""
    return PASSED_ON if registered else NOT_REGISTERED


def tax_off(
    lines: Sequence[BillLine], allowances: Sequence[DocumentAllowance] = ()
) -> tuple[tuple[BillLine, ...], tuple[DocumentAllowance, ...]]:
    """The same lines and allowances as a trader not registered for tax sells them: nothing is taxed."""
    return (
        tuple(replace(line, tax=NOT_REGISTERED) for line in lines),
        tuple(replace(row, tax=NOT_REGISTERED) for row in allowances),
    )


def shown_groups(totals: Totals) -> tuple[TaxGroup, ...]:
    """The tax groups that the paper shows: none at all where nothing is subject to tax.

    The e-invoice still carries its one group (BR-CO-18, BR-O-01).
    """
    return () if all(group.key.category == "O" for group in totals.groups) else totals.groups
