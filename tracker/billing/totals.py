"""A document's totals by EN 16931: every line rounded once, tax once per category and rate.

The rules, as the standard numbers them:

========  ===========================================================================================
BR-CO-10  sum of line nets (BT-106) = sum of BT-131
BR-CO-11  sum of allowances on the document (BT-107) = sum of BT-92
BR-CO-12  sum of charges on the document (BT-108) = sum of BT-99
BR-CO-13  total without tax (BT-109) = BT-106 - BT-107 + BT-108
BR-CO-14  total tax (BT-110) = sum of BT-117
BR-CO-15  total with tax (BT-112) = BT-109 + BT-110
BR-CO-16  due (BT-115) = BT-112 - prepaid (BT-113) + rounding amount (BT-114)
BR-CO-17  tax of a group (BT-117) = its taxable amount (BT-116) x rate (BT-119) / 100, rounded
BR-S-08   taxable amount of a group = its line nets - its allowances + its charges (BR-Z-08, BR-E-08, BR-O-08)
========  ===========================================================================================
"""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from tracker.records.billing import BillLine, DocumentAllowance, LineAllowance, TaxGroup, TaxKey, Totals
from tracker.records.money import Money, round_half_up

_ORDER = "SZEO"
_NO_REASON = ("S", "Z")


def totals(
    lines: Sequence[BillLine],
    allowances: Sequence[DocumentAllowance] = (),
    *,
    currency: str,
    prepaid: int = 0,
    rounding: int = 0,
) -> Totals:
    """The totals of lines priced without tax (BR-CO-10 to BR-CO-16), in minor units of `currency`.

    `prepaid` (BT-113) is money received without a document, `rounding` (BT-114) is added to what is due.
    They do not depend on the order of the lines. Raises `decimal.InvalidOperation` for a quantity or
    price that is no finite number, or a line with base quantity 0: see `tracker.billing.checks`.
    """
    nets = tuple(line_net(line, currency) for line in lines)
    groups = tax_groups(
        [
            *((line.tax, net) for line, net in zip(lines, nets, strict=True)),
            *((row.tax, signed(row)) for row in allowances),
        ]
    )
    line_total = sum(nets)
    allowance_total = sum(row.minor for row in allowances if not row.charge)
    charge_total = sum(row.minor for row in allowances if row.charge)
    tax_exclusive = line_total - allowance_total + charge_total
    tax_total = sum(group.tax for group in groups)
    tax_inclusive = tax_exclusive + tax_total
    return Totals(
        currency=currency,
        line_nets=nets,
        groups=groups,
        line_total=line_total,
        allowance_total=allowance_total,
        charge_total=charge_total,
        tax_exclusive=tax_exclusive,
        tax_total=tax_total,
        tax_inclusive=tax_inclusive,
        prepaid=prepaid,
        rounding=rounding,
        payable=tax_inclusive - prepaid + rounding,
    )


def signed(row: LineAllowance | DocumentAllowance) -> int:
    """What an allowance (negative) or a charge (positive) does to a sum, in minor units."""
    return row.minor if row.charge else -row.minor


def item_amount(line: BillLine, currency: str) -> int:
    """Quantity x price / base quantity, rounded half up once, before anything is taken off; minor units."""
    return Money.of(line.qty * line.unit_price / line.base_qty, currency).minor


def line_net(line: BillLine, currency: str) -> int:
    """The line's net amount (BT-131) in minor units: what it is worth, less its allowances, plus its charges.

    >>> from tracker.records.billing import UNSAID
    >>> line_net(BillLine("Blade terminal", Decimal(3), "piece", Decimal("0.335"), UNSAID), "EUR")
    101
    """
    return item_amount(line, currency) + sum(signed(row) for row in line.allowances)


def tax_of(taxable: int, rate: Decimal) -> int:
    """Tax on a taxable amount in minor units, `rate` in percent, rounded half away from zero (BR-CO-17).

    >>> tax_of(146050, Decimal(25)), tax_of(-146050, Decimal(25))
    (36513, -36513)
    """
    return int(round_half_up(taxable * rate / 100))


def tax_groups(amounts: Iterable[tuple[TaxKey, int]]) -> tuple[TaxGroup, ...]:
    """The tax breakdown (BG-23) of signed amounts in minor units: one group per category and rate (BR-S-08).

    Standard rates first, the highest first; then zero, exempt, not subject. Different reasons of one
    group stand together, because a category without tax may appear only once (BR-E-01, BR-O-01).
    """
    found: dict[tuple[str, Decimal], list[tuple[TaxKey, int]]] = {}
    for key, amount in amounts:
        found.setdefault(key.group, []).append((key, amount))
    groups = []
    for group in sorted(found, key=_place):
        taxable = sum(amount for _, amount in found[group])
        key = _together([key for key, _ in found[group]])
        groups.append(TaxGroup(key, taxable, tax_of(taxable, key.rate)))
    return tuple(groups)


def _place(group: tuple[str, Decimal]) -> tuple[int, str, Decimal]:
    category, rate = group
    at = _ORDER.find(category) if category else -1
    return (at if at >= 0 else len(_ORDER), category, -rate)


def _together(keys: Sequence[TaxKey]) -> TaxKey:
    category = keys[0].category
    rate = min((key.rate for key in keys), key=lambda rate: (len(str(rate)), str(rate)))
    if category in _NO_REASON:  # BR-S-10, BR-Z-10: taxed amounts carry no reason for not being taxed
        return TaxKey(category, rate)
    codes = sorted({key.exemption for key in keys} - {""})
    reasons = sorted({key.reason for key in keys} - {""})
    if len(codes) == 1:
        return TaxKey(category, rate, codes[0], "; ".join(reasons))
    return TaxKey(category, rate, "", "; ".join([*reasons, *codes]))
