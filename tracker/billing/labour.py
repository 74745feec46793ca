"""From clocked time to what is billed: the shop's rule for rounding minutes."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from tracker.records.billing import BillLine, TaxKey
from tracker.records.document import LineKind
from tracker.records.shop import Rounding

HOUR = "hour"
MINUTE = "minute"


def billed_minutes(
    clocked_s: int, *, step_min: int = 6, way: Rounding = Rounding.NEAREST, least_min: int = 0
) -> int:
    """Clocked seconds as billed minutes: whole steps of `step_min`, `least_min` at least.

    The nearest step (half a step counts up) or the next one up. No time clocked is no time billed, whatever
    the minimum. Give the whole time of one repair: rounding each spell by itself would bill more.
    ValueError for a step under one minute or time below nothing.

    >>> billed_minutes(3700), billed_minutes(3700, way=Rounding.UP), billed_minutes(60, least_min=30)
    (60, 66, 30)
    """
    if step_min < 1 or clocked_s < 0 or least_min < 0:
        raise ValueError("a step is a minute or more, and time is not below nothing")
    if clocked_s == 0:
        return 0
    step_s = step_min * 60
    if way is Rounding.UP:
        steps = -(-clocked_s // step_s)
    else:
        steps = (2 * clocked_s + step_s) // (2 * step_s)
    return max(steps * step_min, least_min)


def labour_line(
    words: str, minutes: int, hour_rate: Decimal, tax: TaxKey, kind: LineKind = LineKind.LABOUR
) -> BillLine:
    """A line for `minutes` at `hour_rate` (major units): in hours where two decimals hold them, else minutes.

    Minutes are priced per 60 of them (base quantity, BT-149), so that no third of an hour is lost.

    >>> from tracker.records.billing import UNSAID
    >>> labour_line("Look for the short", 90, Decimal(60), UNSAID).qty
    Decimal('1.5')
    """
    hours = Decimal(minutes) / 60
    if hours == round(hours, 2):
        return BillLine(words, hours, HOUR, hour_rate, tax, kind)
    return BillLine(words, Decimal(minutes), MINUTE, hour_rate, tax, kind, base_qty=Decimal(60))


def in_one_unit(lines: Sequence[BillLine]) -> tuple[BillLine, ...]:
    """The same lines with all time in minutes where some is: one paper does not count in hours and minutes.

    What each line comes to stays the same.
    """
    if not any(line.unit == MINUTE for line in lines):
        return tuple(lines)
    return tuple(
        replace(line, qty=line.qty * 60, unit=MINUTE, base_qty=line.base_qty * 60)
        if line.unit == HOUR
        else line
        for line in lines
    )
