"""Whole cents out of fractions of cents, so that nothing is lost or made up on the way."""

from collections.abc import Sequence
from fractions import Fraction


def round_to_sum(exact: Sequence[Fraction], total: int) -> tuple[int, ...]:
    """Each exact amount rounded down or up so that together they make `total` (largest remainders first).

    Amounts and result in minor units. `total` must lie between the sum of all rounded down and the sum of
    all rounded up; ValueError otherwise. Equal remainders: the earlier one is rounded up.

    >>> round_to_sum([Fraction(10, 3), Fraction(10, 3), Fraction(10, 3)], 10)
    (4, 3, 3)
    """
    rounded = [amount.__floor__() for amount in exact]
    remainders = [amount - floor for amount, floor in zip(exact, rounded, strict=True)]
    ups = total - sum(rounded)
    if not 0 <= ups <= sum(1 for remainder in remainders if remainder):
        raise ValueError(f"{total} cannot be reached by rounding {len(rounded)} amounts down or up")
    for place in sorted(range(len(rounded)), key=lambda place: -remainders[place])[:ups]:
        rounded[place] += 1
    return tuple(rounded)


def share(total: int, weights: Sequence[int]) -> tuple[int, ...]:
    """`total` minor units shared in proportion to `weights`; the shares add up to `total` exactly.

    ValueError where the weights add up to nothing and there is something to share.

    >>> share(100, [1, 1, 1])
    (34, 33, 33)
    """
    whole = sum(weights)
    if whole == 0:
        if total:
            raise ValueError("nothing to share by")
        return (0,) * len(weights)
    return round_to_sum([Fraction(total * weight, whole) for weight in weights], total)
