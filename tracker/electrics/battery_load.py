"""The 15 s load test of a battery, at the temperature it has."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from tracker.electrics.arguments import Arguments, shown
from tracker.records.electrics import Sum
from tracker.records.limits import Limit, Limits, Word

COLDEST_C, WARMEST_C = -18.0, 60.0

LOAD_CAUTION = "Goggles, no sparks, leads on before the load; never a battery that is frozen or below 75 %."


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadTestSum(Sum):
    """A load test judged: the least end volts at that temperature; the load to draw, where asked for."""

    word: Word
    end_v: float
    least_v: float
    temperature_c: float
    load_a: float | None


def load_limits(limits: Limits) -> tuple[Limit, ...]:
    """The rows of the load test, coldest first.

    Formula: none.
    Range: the loaded limits.
    Example:
        >>> from tracker.seedfiles.limits import load_limits as shop
        >>> [row.at_c for row in load_limits(shop())][-2:]
        [16.0, 20.0]

    Source: none: a list.
    """
    rows = [row for name, row in limits.rows.items() if name.startswith("load-test") and row.at_c is not None]
    return tuple(sorted(rows, key=lambda row: row.at_c or 0.0))


def load_limit(temperature_c: float, limits: Limits) -> Limit:
    """The limit of the load test at a battery's temperature.

    Formula: 9.6 V from 20 °C up; in a line between the table's temperatures below.
    Range: -18 to 60 °C.
    Example:
        >>> from tracker.seedfiles.limits import load_limits as shop
        >>> load_limit(21, shop()).fault_below, load_limit(7, shop()).fault_below
        (9.6, 9.35)

    Source: [1] TM 9-6115-730-24 WP 0050 at about 21 °C. [2] two car makers' tables for colder batteries.
    """
    rows = load_limits(limits)
    warm = rows[-1]
    table = [(row.at_c or 0.0, limits.figure(row.id)) for row in rows]
    at = min(max(temperature_c, table[0][0]), table[-1][0])
    least_v = round(_between(table, at), 3)
    colder = next(row for row in rows if (row.at_c or 0.0) >= at)
    return replace(warm, fault_below=least_v, needs=(), status=colder.status, source=colder.source)


def load_test(
    *,
    end_v: float,
    temperature_c: float,
    limits: Limits,
    cca_a: float | None = None,
    battery_ah: float | None = None,
) -> LoadTestSum:
    """The volts at the end of a 15 s load test of a 12 V lead-acid battery, judged at its temperature.

    Formula: good at or above the limit; the load is half the cold cranking amps, or 3 x Ah.
    Range: 0 to 16 V; -18 to 60 °C; 10 to 1500 A cold cranking; 1 to 200 Ah. Charged to at least 75 %.
    Example:
        >>> from tracker.seedfiles.limits import load_limits as shop
        >>> answer = load_test(end_v=9.6, temperature_c=21, battery_ah=12, limits=shop())
        >>> answer.word.value, answer.load_a
        ('good', 36)

    Source: [1] TM 9-6115-730-24 WP 0050 (read as end-of-load volts). [2] two car makers' service tables.
    """
    arguments = Arguments()
    arguments.number("end_v", end_v, 0, 16, "V")
    arguments.number("temperature_c", temperature_c, COLDEST_C, WARMEST_C, "°C")
    if cca_a is not None:
        arguments.number("cca_a", cca_a, 10, 1500, "A")
    if battery_ah is not None:
        arguments.number("battery_ah", battery_ah, 1, 200, "Ah")
    arguments.settle()
    limit = load_limit(temperature_c, limits)
    least_v = limit.fault_below or 0.0
    load_a = cca_a / 2 if cca_a is not None else 3 * battery_ah if battery_ah is not None else None
    good = end_v >= least_v
    why = [
        f"{shown(end_v)} V at the end; at {shown(temperature_c)} °C it must be at least {shown(least_v)} V.",
        limit.say_good if good else limit.say_fault,
    ]
    if load_a is not None:
        rule = "half the cold cranking amps" if cca_a is not None else "three times the Ah"
        why.append(f"The load for it is {shown(load_a)} A ({rule}) for 15 s.")
    return LoadTestSum(
        word=Word.GOOD if good else Word.FAULT,
        end_v=end_v,
        least_v=least_v,
        temperature_c=temperature_c,
        load_a=load_a,
        why=tuple(why),
        source=(limit.cited,),
        cautions=(LOAD_CAUTION,),
    )


def _between(table: Sequence[tuple[float, float]], at: float) -> float:
    """The value at `at`, in a line between the table's points."""
    for (low, low_value), (high, high_value) in pairwise(table):
        if low <= at <= high:
            return low_value + (high_value - low_value) * (at - low) / (high - low)
    return table[0][1] if at < table[0][0] else table[-1][1]
