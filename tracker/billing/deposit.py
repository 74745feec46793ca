"""A deposit: its own numbered document with tax, and its lines on the final invoice.

Tax on a deposit falls due when the deposit comes in (Directive 2006/112/EC, article 65), so it is shared
over the estimate's tax groups, and the final invoice takes the same groups off again under its number.
"""

from collections.abc import Sequence
from decimal import Decimal
from itertools import combinations, product

from tracker.billing.gross import nearest_net
from tracker.billing.priced import major
from tracker.billing.share import share
from tracker.billing.totals import tax_of, totals
from tracker.records.billing import Bill, BillLine, RoundingPart, SetOff, TaxGroup, Totals, Why
from tracker.records.document import LineKind
from tracker.records.money import Money, round_half_up
from tracker.records.problem import Mistakes, Problem


def percent_of(estimate: Totals, percent: Decimal) -> int:
    """`percent` of what an estimate asks with tax, in minor units, rounded half up."""
    return int(round_half_up(estimate.payable * percent / 100))


def deposit_problems(estimate: Totals, wanted: int) -> tuple[Problem, ...]:
    """What speaks against a deposit of `wanted` minor units, tax included."""
    given = str(Money(wanted, estimate.currency))
    if wanted <= 0:
        return (Problem("deposit", "A deposit is more than nothing.", given=given),)
    if wanted > estimate.payable:
        whole = Money(estimate.payable, estimate.currency)
        sentence = f"The deposit is more than the whole estimate of {whole}."
        return (Problem("deposit", sentence, f"Ask for {whole} at most.", given),)
    return ()


def deposit_bill(estimate: Totals, wanted: int, words: str) -> Bill:
    """The deposit document that asks for exactly `wanted` minor units, tax included.

    One line per tax group of the estimate, in proportion to what the group asks with its tax. Where no
    nets give `wanted` (one amount in six at a single rate of 20 %), the odd cent stands in the rounding
    amount. `words` stand on each line. Raises Mistakes for nothing, or for more than the estimate.
    """
    problems = deposit_problems(estimate, wanted)
    if problems:
        raise Mistakes(problems)
    groups = [group for group in estimate.groups if group.with_tax > 0]
    nets = _nets_that_make(wanted, groups)
    currency = estimate.currency
    lines = tuple(
        BillLine(words, Decimal(1), "piece", major(net, currency), group.key, LineKind.DEPOSIT)
        for group, net in zip(groups, nets, strict=True)
        if net
    )
    odd = wanted - totals(lines, currency=currency).payable
    parts = (RoundingPart(Why.TYPED_WITH_TAX, odd),) if odd else ()
    return Bill(lines, (), totals(lines, currency=currency, rounding=odd), parts)


def set_off_lines(deposit: SetOff, currency: str) -> tuple[BillLine, ...]:
    """The final invoice's lines that take a deposit off again: one per tax group, each naming its number.

    The quantity is -1, because a price may not be negative (BR-27).
    """
    return tuple(
        BillLine(
            deposit.words,
            Decimal(-1),
            "piece",
            major(group.taxable, currency),
            group.key,
            LineKind.DEPOSIT,
            about=deposit.number,
        )
        for group in deposit.groups
        if group.taxable > 0
    )


def _nets_that_make(wanted: int, groups: Sequence[TaxGroup]) -> list[int]:
    """Nets per group, none above the group's own, whose sum with tax is `wanted` or next to it."""
    shares = share(wanted, [group.with_tax for group in groups])
    nets = [
        min(nearest_net(part, group.key.rate), group.taxable)
        for part, group in zip(shares, groups, strict=True)
    ]

    def with_tax(place: int, net: int) -> int:
        return net + tax_of(net, groups[place].key.rate)

    missing = wanted - sum(with_tax(place, net) for place, net in enumerate(nets))
    if not missing:
        return nets
    moves = sorted(product((-2, -1, 0, 1, 2), repeat=2), key=lambda move: sum(map(abs, move)))
    pairs = list(combinations(range(len(nets)), 2)) or [(0, 0)]
    for (first_move, second_move), (first, second) in product(moves, pairs):
        moved = list(nets)
        moved[first] += first_move
        moved[second] += second_move
        if all(0 <= moved[place] <= groups[place].taxable for place in (first, second)) and wanted == sum(
            with_tax(place, net) for place, net in enumerate(moved)
        ):
            return moved
    return nets
