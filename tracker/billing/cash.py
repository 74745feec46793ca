"""Cash rounding: what is due, brought to what coins can pay."""


def cash_difference(due: int, step: int) -> int:
    """What to add to `due` so that it is a multiple of `step`, both in minor units; halves away from zero.

    `step` is 1 where every amount can be paid, else as a rule 5, 10 or 100. It goes into the rounding
    amount (BT-114) and never touches the tax. ValueError for a step under 1.

    >>> cash_difference(80178, 100), cash_difference(1233, 5), cash_difference(-1233, 5)
    (22, 2, -2)
    """
    if step < 1:
        raise ValueError("cash is rounded to 1 minor unit or more")
    whole = (2 * abs(due) + step) // (2 * step) * step
    return (whole if due >= 0 else -whole) - due
