"""More than one fault at once, where no single one explains: the fewest that do, by product of rates."""

from collections.abc import Callable, Sequence
from itertools import combinations
from typing import TYPE_CHECKING, Final

from tracker.trace.bench import Row, Theory
from tracker.trace.rates import Rates

if TYPE_CHECKING:
    from tracker.loom.network_table import Floats

FIRST: Final = 14
"""So many of the likeliest explanations of each thing seen are tried with each other."""

MOST: Final = 400
"""Sets of faults tried in the network."""


def combined(
    rates: Rates,
    rows: Sequence[Row],
    seen: "Sequence[Callable[[tuple[Row, ...]], tuple[Floats, Floats]]]",
    enough: float,
) -> list[Row]:
    """Pairs of single faults that explain between them all of `seen`, or threes where no pair does.

    The likeliest MOST of them by their rates; what they really do together is for the network to say.
    """
    asked = tuple(rows)
    if len(seen) < 2 or not asked:
        return []
    said = [one(asked)[1].tolist() for one in seen]
    covers: dict[Theory, frozenset[int]] = {}
    for number, row in enumerate(asked):
        mine = frozenset(n for n in range(len(seen)) if said[n][number] >= enough)
        covers[row.theory] = covers.get(row.theory, frozenset()) | mine
    everything = frozenset(n for n in range(len(seen)) if any(n in mine for mine in covers.values()))
    short: dict[Theory, None] = {}
    for one in everything:
        able = [theory for theory, mine in covers.items() if one in mine and len(theory) == 1]
        able.sort(key=lambda theory: (-rates.prior(theory), theory))
        short |= dict.fromkeys(able[:FIRST])
    for size in (2, 3):
        found = [
            tuple(sorted(single for theory in some for single in theory))
            for some in combinations(short, size)
            if frozenset().union(*(covers[theory] for theory in some)) == everything
            and not any(covers[theory] == everything for theory in some)
            and len({single.part for theory in some for single in theory}) == size
        ]
        if found:
            found.sort(key=lambda theory: (-_product(rates, theory), theory))
            return [Row(theory) for theory in found[:MOST]]
    return []


def _product(rates: Rates, theory: Theory) -> float:
    product = 1.0
    for single in theory:
        product *= rates.prior((single,))
    return product
