"""A flooded battery's acid: gravity corrected for temperature, cell against cell, the cost of standing."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from tracker.electrics.arguments import Arguments, shown
from tracker.records.electrics import Sum
from tracker.records.limits import Limits

DEGREES_PER_STEP = 10 / 1.8
"""Ten degrees Fahrenheit in kelvins: the step of the hydrometer's correction."""

BASE_C = (80 - 32) / 1.8
"""80 °F, where a hydrometer reads true."""

ACID = "Acid: goggles and gloves, water to hand, no sparks."


@dataclass(frozen=True, slots=True, kw_only=True)
class HydrometerSum(Sum):
    """Each cell's gravity at 80 °F and the widest difference; `serviceable` None unless it was charged."""

    corrected: tuple[float, ...]
    spread: float
    weakest_cell: int
    spread_limit: float
    serviceable: bool | None


def corrected_gravity(gravity: float, temperature_c: float, limits: Limits) -> float:
    """A hydrometer's reading brought to 80 °F (26.7 °C).

    Formula: SG + 0.004 x (T - 80 °F) / 10 °F.
    Range: SG 1.0 to 1.4; -20 to 60 °C.
    Example:
        >>> from tracker.seedfiles.limits import load_limits
        >>> round(corrected_gravity(1.240, 37.8, load_limits()), 4)
        1.248

    Source: [1] TM 5-3895-349-14P worked example.
    """
    return gravity + limits.figure("sg-temp") * (temperature_c - BASE_C) / DEGREES_PER_STEP


def hydrometer(
    *, cells: Sequence[float], temperature_c: float, limits: Limits, charged: bool = False
) -> HydrometerSum:
    """Cells against each other, corrected for the acid's temperature.

    Formula: SG + 0.004 x (T - 80 °F) / 10 °F; unserviceable when the widest difference is over 0.025.
    Range: 1 to 12 cells of SG 1.0 to 1.4; -20 to 60 °C. Only a charged battery is judged by its spread.
    Example:
        >>> from tracker.seedfiles.limits import load_limits
        >>> answer = hydrometer(cells=(1.270, 1.268, 1.265, 1.270, 1.262, 1.244), temperature_c=26.7,
        ...                     charged=True, limits=load_limits())
        >>> answer.spread, answer.weakest_cell, answer.serviceable
        (0.026, 6, False)

    Source: [1] TM 5-3895-349-14P (correction). [2] TM 9-6140-200-14 paras 4-6 to 4-8 (spread).
    """
    arguments = Arguments()
    arguments.whole("cells", len(cells), 1, 12)
    for number, gravity in enumerate(cells, 1):
        arguments.number(f"cells {number}", gravity, 1.0, 1.4, "SG")
    arguments.number("temperature_c", temperature_c, -20, 60, "°C")
    arguments.settle()
    corrected = tuple(round(corrected_gravity(cell, temperature_c, limits), 4) for cell in cells)
    spread = round(max(cells) - min(cells), 4)
    weakest = min(range(len(cells)), key=lambda number: cells[number]) + 1
    limit = limits.rows["sg-spread"]
    most = limits.figure("sg-spread")
    serviceable = spread <= most if charged and len(cells) > 1 else None
    listed = ", ".join(f"{gravity:.3f}" for gravity in corrected)
    why = [f"At {shown(temperature_c)} °C the readings become {listed} at 26.7 °C (80 °F)."]
    if len(cells) > 1:
        why.append(f"Widest difference {spread:.3f}; a charged battery stays within {most:.3f}.")
        why.append(f"Cell {weakest} is the weakest." if spread else "All cells are alike.")
    if serviceable is None:
        why.append("Charge it first: only a charged battery is judged by its cells.")
    elif not serviceable:
        why.append(limit.say_fault)
    return HydrometerSum(
        corrected=corrected,
        spread=spread,
        weakest_cell=weakest,
        spread_limit=most,
        serviceable=serviceable,
        why=tuple(why),
        source=(limits.rows["sg-temp"].cited, limit.cited),
        cautions=(ACID,),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SelfDischargeSum(Sum):
    """Gravity after standing, and what it loses a day."""

    gravity_after: float
    per_day: float


def self_discharge(*, gravity: float, days: float, temperature_c: float, limits: Limits) -> SelfDischargeSum:
    """What a flooded battery that stands disconnected keeps of its gravity.

    Formula: SG - days x rate; the rate 0.0003, 0.001, 0.0025 a day at 50, 80, 100 °F, between them by its
        logarithm.
    Range: SG 1.0 to 1.4; 0 to 365 days; 10 to 37.8 °C.
    Example:
        >>> from tracker.seedfiles.limits import load_limits
        >>> answer = self_discharge(gravity=1.265, days=10, temperature_c=26.67, limits=load_limits())
        >>> round(answer.gravity_after, 3)
        1.255

    Source: [1] TM 9-6140-200-14 para 4-7; between its three temperatures: ours.
    """
    rows = [row for name, row in limits.rows.items() if name.startswith("self-discharge")]
    table = sorted((row.at_c or 0.0, row.figure or 0.0) for row in rows)
    arguments = Arguments()
    arguments.number("gravity", gravity, 1.0, 1.4, "SG")
    arguments.number("days", days, 0, 365, "days")
    arguments.number("temperature_c", temperature_c, table[0][0], table[-1][0], "°C")
    arguments.settle()
    per_day = _log_between(table, temperature_c)
    after = max(1.0, gravity - days * per_day)
    return SelfDischargeSum(
        gravity_after=after,
        per_day=per_day,
        why=(
            f"At {shown(temperature_c)} °C it loses {per_day:.4f} a day.",
            f"{gravity:.3f} becomes {after:.3f} in {shown(days)} days.",
            "A fresh, clean battery; an old or dirty one loses more.",
        ),
        source=tuple(dict.fromkeys(row.cited for row in rows)),
        cautions=(ACID,),
    )


def _log_between(table: Sequence[tuple[float, float]], at: float) -> float:
    for (low, low_rate), (high, high_rate) in pairwise(table):
        if at <= high:
            share = (at - low) / (high - low)
            return math.exp(math.log(low_rate) * (1 - share) + math.log(high_rate) * share)
    return table[-1][1]
