"""Filament lamps at the volts they really get: current, watts, ohms hot and cold, light."""

from collections.abc import Sequence
from dataclasses import dataclass

from tracker.electrics.arguments import Arguments, cited, doubts, shown
from tracker.records.electrics import LampType, Sourced, Sum, Tables
from tracker.records.network import FILAMENT_COLD_RATIO, FILAMENT_EXPONENT

FILAMENT_SOURCE = (
    "lamp current goes with volts to the power 0.55: Standard Handbook for Electrical Engineers, 11th ed., "
    "p. 22-8, as quoted in Wikipedia ‘Lamp rerating’"
)

NOMINAL_V = 12.0
"""The volts that a lamp's rated watts are for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LampSum(Sum):
    """One lamp at `volts_v`, and `count` of them together; `light_percent` is against its rating."""

    lamp: str
    volts_v: float
    current_a: float
    power_w: float
    hot_ohm: float
    cold_ohm: float
    surge_a: float
    light_percent: float
    count: int
    total_current_a: float
    total_power_w: float
    most_power_w: float | None


def filament_current_a(rated_w: float, rated_v: float, volts: float) -> float:
    """What a filament lamp draws once it is warm, in A.

    Formula: I = (Pr / Ur) x (U / Ur)^0.55.
    Range: about 0.5 to 1.3 times the rated volts; far below that it is a rough figure.
    Example:
        >>> round(filament_current_a(25, 13.5, 13.5), 3), round(filament_current_a(21, 12, 13.5) * 13.5, 1)
        (1.852, 25.2)

    Source: [1] Standard Handbook for Electrical Engineers, 11th ed., p. 22-8, as quoted in Wikipedia
        ‘Lamp rerating’.
    """
    return float(rated_w / rated_v * (volts / rated_v) ** FILAMENT_EXPONENT)


def lamp(
    *,
    volts: float,
    tables: Tables,
    category: str | None = None,
    filament: str = "main",
    watts: float | None = None,
    rated_v: float = NOMINAL_V,
    count: int = 1,
) -> LampSum:
    """A lamp at real volts, named by its category (“P21/5W”, “main” or “second” filament) or by its watts.

    Formula: I = (Pr / Ur) x (U / Ur)^0.55; P = U I; hot U / I; cold 1/12 of Ur^2 / Pr; light (U / Ur)^3.4.
    Range: 1 to 60 V; 0.1 to 1000 W; 1 to 50 lamps.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> answer = lamp(volts=13.5, category="P21/5W", tables=electric_tables())
        >>> round(answer.current_a, 3), round(answer.hot_ohm, 2), answer.most_power_w
        (1.852, 7.29, 26.5)

    Source: [1] Standard Handbook for Electrical Engineers, 11th ed., p. 22-8. [2] UN R37 and Directive
        97/24/EC for the categories. [3] lamp pages: a cold filament takes 10 to 15 times, 12 taken.
    """
    arguments = Arguments()
    arguments.number("volts", volts, 0, 60, "V", over=True)
    arguments.whole("count", count, 1, 50)
    arguments.one_of(("category", "watts"), (category, watts))
    row = _row(arguments, category, filament, tables.lamps) if category is not None else None
    if watts is not None:
        arguments.number("watts", watts, 0.1, 1000, "W")
        arguments.number("rated_v", rated_v, 1, 60, "V")
    arguments.settle()
    rated_w, name = watts or 0.0, f"lamp of {shown(watts or 0.0)} W at {shown(rated_v)} V"
    if row is not None:
        rated_w, rated_v = (row.test_w, row.test_v) if row.test_w else (row.rated_w, NOMINAL_V)
        name = f"{row.category}, {row.filament} filament"
    current = filament_current_a(rated_w, rated_v, volts)
    hot, cold = volts / current, rated_v**2 / rated_w * FILAMENT_COLD_RATIO
    light = 100 * (volts / rated_v) ** tables.practice("filament-light").low
    together = f" {count} of them: {count * current:.3g} A." if count > 1 else ""
    why = [
        f"The {name}, at {shown(volts)} V: {current:.3g} A, {current * volts:.3g} W.{together}",
        f"{shown(rated_w)} W at {shown(rated_v)} V is where its figures start from.",
        f"Hot it is {hot:.3g} ohm, cold about {cold:.2g} ohm: up to {volts / cold:.2g} A when switched on.",
        f"Its light is about {light:.0f} % of that at {shown(rated_v)} V.",
    ]
    rows: tuple[Sourced, ...] = (tables.practice("filament-light"), *([row] if row else []))
    return LampSum(
        lamp=name,
        volts_v=volts,
        current_a=current,
        power_w=current * volts,
        hot_ohm=hot,
        cold_ohm=cold,
        surge_a=volts / cold,
        light_percent=light,
        count=count,
        total_current_a=count * current,
        total_power_w=count * current * volts,
        most_power_w=row.most_w if row else None,
        why=(*why, *(doubts((row.category, row)) if row else ())),
        source=(FILAMENT_SOURCE, *cited(*rows)),
    )


def _row(arguments: Arguments, category: str, filament: str, lamps: Sequence[LampType]) -> LampType | None:
    """The row of a category as people write it (“p21w”, “P21 / 5W”); what does not fit is noted."""
    wanted = "".join(category.upper().split())
    rows = [row for row in lamps if row.category == wanted]
    if not rows:
        arguments.choice("category", category, dict.fromkeys(row.category for row in lamps))
        return None
    arguments.choice("filament", filament, [row.filament for row in rows])
    return next((row for row in rows if row.filament == filament), None)
