"""What a wire may carry: by gauge and insulation, less for company in the bundle and for heat around it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from tracker.electrics.arguments import Arguments, cited
from tracker.records.electrics import BundlingRow, Conductor, Sum, Tables

TABLE_AMBIENT_C = 30
"""The air the published amps are for (33 CFR 183.425; taken for the wire standards' own amps too)."""

TABLE_CLASS_C = 80
"""The insulation class that the wire standards' own amps are for (PVC, JASO D611 and JIS C 3406)."""

CLOSE = 1e-3
"""Two areas within a thousandth are the same size."""

UNKNOWN_CLASS_C = 80
"""Insulation class taken where the size does not say and nobody gave one: ordinary PVC vehicle wire."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AmpacitySum(Sum):
    """What one wire carries: amps of the table, the two factors, and the amps left."""

    wire: str
    insulation_c: int
    table_a: float
    bundling_factor: float
    ambient_factor: float
    carries_a: float
    derived: bool


def bundling_factor(together: int, rows: Sequence[BundlingRow]) -> float:
    """The factor on ampacity for wires that are loaded together in one bundle.

    Formula: by table: to 3 wires 1, to 6 0.8, to 9 0.7, to 20 0.5, to 30 0.45, to 40 0.4, more 0.35.
    Range: 1 wire or more; only those loaded at the same time count.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> bundling_factor(5, electric_tables().bundling)
        0.8

    Source: [1] NEC table 310.15(B)(3)(a). [2] common practice: count only the wires loaded together.
    """
    return next(
        row.factor for row in rows if row.least <= together and (row.most is None or together <= row.most)
    )


def ambient_factor(ambient_c: float, insulation_c: float) -> float:
    """The factor on ampacity for air hotter than the table's 30 °C; never more than 1.

    Formula: sqrt((Tc - Ta) / (Tc - 30)), Tc the insulation's class, Ta the air around.
    Range: Ta below Tc; at 30 °C and below the factor is 1.
    Example:
        >>> round(ambient_factor(50, 105), 3)
        0.856

    Source: [1] NEC 310.15(B) ambient correction: heat made goes with the square of the current.
    """
    if ambient_c <= TABLE_AMBIENT_C:
        return 1.0
    return math.sqrt((insulation_c - ambient_c) / (insulation_c - TABLE_AMBIENT_C))


def table_amps(
    conductor: Conductor, insulation_c: int, tables: Tables
) -> tuple[float, bool, str, tuple[str, ...]]:
    """The amps of the tables for one wire alone at 30 °C: amps, whether derived, how in words, sources.

    Formula: from 0.82 mm2 by gauge and class, on the straight line between two gauges; below it the amps of
        the JIS and JASO sizes by area likewise (times sqrt((Tc - 30) / 50) for a class under 80 °C, and never
        above AWG 18). A wire's own published amps are never passed. Above AWG 4 its amps stand.
    Range: any size; below the smallest JASO size (0.37 mm2) in proportion to the area.
    Example:
        >>> from tracker.electrics.conductor import awg_conductor
        >>> from tracker.seedfiles.tables import electric_tables
        >>> table_amps(awg_conductor(16), 105, electric_tables())[:2]
        (25.0, False)

    Source: [1] 33 CFR 183.425 table 5. [2] JASO D611 and JIS C 3406 as reprinted by wire makers.
    """
    gauges = tables.ampacity
    column = max((c for c in gauges[0].amps_a if c <= insulation_c), default=min(gauges[0].amps_a))
    points = [(row.area_mm2, row.amps_a[column]) for row in gauges]
    area, (least_area, least_a) = conductor.area_mm2, points[0]
    if area >= least_area * (1 - CLOSE):
        amps, derived = on_line(area, points)
        beyond = ", its largest size" if area > points[-1][0] else ", between two gauges by area"
        how = f"{gauges[0].source}, {column} °C insulation{beyond if derived else ''}"
        sources = cited(gauges[0])
    else:
        amps, derived = on_line(area, published_amps(tables.conductors))
        amps = min(amps * math.sqrt(min(1.0, (insulation_c - TABLE_AMBIENT_C) / 50)), least_a)
        derived = derived or conductor.amps_a is None
        how = "the amps published for JIS and JASO wire, by area"
        sources = cited("JASO D611 and JIS C 3406 amps as reprinted in wire makers' data sheets")
    if conductor.amps_a is not None and conductor.amps_a <= amps:
        return conductor.amps_a, False, f"the amps published for {conductor.standard}", cited(conductor)
    return amps, derived, f"{how}{' (derived)' if derived else ''}", sources


def published_amps(conductors: Sequence[Conductor]) -> list[tuple[float, float]]:
    """Area and amps of thin JIS and JASO wire of 80 °C, made to rise: no wire above a thicker one's amps.

    Formula: at each area the least amps printed for it or for any thicker one.
    Range: areas under 0.9 mm2; (mm2, A) pairs in order of area.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> published_amps(electric_tables().conductors)[0]
        (0.372, 8.0)

    Source: [1] JASO D611 and JIS C 3406 as reprinted by wire makers.
    """
    points: list[tuple[float, float]] = []
    rows = [row for row in conductors if row.insulation_c == TABLE_CLASS_C and row.area_mm2 < 0.9]
    for row in sorted(rows, key=lambda row: row.area_mm2, reverse=True):
        if row.amps_a is not None:
            amps = min(row.amps_a, points[-1][1]) if points else row.amps_a
            if points and points[-1][0] == row.area_mm2:
                points.pop()
            points.append((row.area_mm2, amps))
    return points[::-1]


def on_line(area_mm2: float, points: Sequence[tuple[float, float]]) -> tuple[float, bool]:
    """The figure at an area on the straight line between its neighbours, and whether it had to be worked out.

    Formula: y = y1 + (y2 - y1) (A - A1) / (A2 - A1); under the first point in proportion to the area; above
        the last, the last.
    Range: points in order of area.
    Example:
        >>> on_line(1.5, [(1, 10), (2, 20)]), on_line(2, [(1, 10), (2, 20)])
        ((15.0, True), (20, False))

    Source: [1] arithmetic; what copper carries or holds rises ever slower with its area, so that the line
        lies on the safe side.
    """
    for point, figure in points:
        if abs(area_mm2 - point) <= CLOSE * point:
            return figure, False
    below = [(0.0, 0.0), *(p for p in points if p[0] < area_mm2)][-1]
    above = next((p for p in points if p[0] > area_mm2), None)
    if above is None:
        return below[1], True
    return below[1] + (above[1] - below[1]) * (area_mm2 - below[0]) / (above[0] - below[0]), True


def carries(
    conductor: Conductor,
    tables: Tables,
    *,
    together: int = 1,
    ambient_c: float = 30,
    insulation_c: int | None = None,
) -> AmpacitySum:
    """What a wire carries among others loaded with it, in air of a temperature; arguments already checked.

    Formula: amps = table amps x bundling factor x ambient factor.
    Range: as `ampacity`.
    Example:
        >>> from tracker.electrics.conductor import awg_conductor
        >>> from tracker.seedfiles.tables import electric_tables
        >>> carries(awg_conductor(12), electric_tables(), together=4, insulation_c=105).carries_a
        36.0

    Source: [1] 33 CFR 183.425 table 5. [2] NEC table 310.15(B)(3)(a) and 310.15(B) ambient correction.
    """
    class_c = insulation_class(conductor, insulation_c)
    table_a, derived, how, sources = table_amps(conductor, class_c, tables)
    bundle = bundling_factor(together, tables.bundling)
    ambient = ambient_factor(ambient_c, class_c)
    amps = table_a * bundle * ambient
    why = [f"{conductor.name} alone in air of 30 °C: {table_a:.3g} A, {how}."]
    if insulation_c is None and conductor.insulation_c is None:
        why.append(f"Its insulation is not known: ordinary PVC of {UNKNOWN_CLASS_C} °C is taken.")
    if bundle < 1:
        why.append(f"{together} wires loaded together in the bundle: times {bundle:.2f}.")
    if ambient < 1:
        why.append(f"Air of {ambient_c:g} °C around {class_c} °C insulation: times {ambient:.2f}.")
    if bundle < 1 or ambient < 1:
        why.append(f"It carries {amps:.3g} A here.")
    return AmpacitySum(
        wire=conductor.name,
        insulation_c=class_c,
        table_a=table_a,
        bundling_factor=bundle,
        ambient_factor=ambient,
        carries_a=amps,
        derived=derived,
        why=tuple(why),
        source=(
            *sources,
            *(cited(tables.bundling[0]) if bundle < 1 else ()),
            *(("NEC 310.15(B) ambient correction",) if ambient < 1 else ()),
        ),
    )


def insulation_class(conductor: Conductor, insulation_c: int | None) -> int:
    """The insulation class that counts: the wire's own, the one given, and of both the lower.

    Formula: the least of those known; 80 °C where none is.
    Range: 60 to 200 °C.
    Example:
        >>> from tracker.electrics.conductor import awg_conductor
        >>> insulation_class(awg_conductor(18), None), insulation_class(awg_conductor(18), 105)
        (80, 105)

    Source: [1] common practice: unmarked vehicle wire is ordinary PVC.
    """
    known = [value for value in (conductor.insulation_c, insulation_c) if value is not None]
    return min(known, default=UNKNOWN_CLASS_C)


def check_surroundings(
    arguments: Arguments,
    together: int,
    ambient_c: float,
    insulation_c: int | None,
    conductor: Conductor,
) -> None:
    """Notes what is wrong with company, air and insulation.

    Formula: none.
    Range: together 1 to 200; insulation 60 to 200 °C; air -40 °C to 5 °C under the insulation's class.
    Example:
        >>> from tracker.electrics.conductor import awg_conductor
        >>> arguments = Arguments()
        >>> check_surroundings(arguments, 0, 90, None, awg_conductor(18))
        >>> [problem.field for problem in arguments.problems]
        ['together', 'ambient_c']

    Source: none: a check of arguments.
    """
    arguments.whole("together", together, 1, 200, "wires")
    if insulation_c is not None:
        arguments.whole("insulation_c", insulation_c, 60, 200, "°C")
        insulation_c = min(max(insulation_c, 60), 200) if isinstance(insulation_c, int) else None
    arguments.number("ambient_c", ambient_c, -40, insulation_class(conductor, insulation_c) - 5, "°C")


def ampacity(
    *, wire: str, together: int = 1, ambient_c: float = 30, insulation_c: int | None = None, tables: Tables
) -> AmpacitySum:
    """What a wire named as the trade writes it may carry.

    Formula: amps = table amps x bundling factor x ambient factor.
    Range: together 1 to 200 wires; air -40 °C to 5 °C under the insulation's class; class 60 to 200 °C.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> ampacity(wire="AWG 16", insulation_c=105, tables=electric_tables()).carries_a
        25.0

    Source: [1] 33 CFR 183.425 table 5. [2] NEC table 310.15(B)(3)(a) and 310.15(B) ambient correction.
    """
    arguments = Arguments()
    conductor = arguments.wire("wire", wire, tables.conductors)
    check_surroundings(arguments, together, ambient_c, insulation_c, conductor)
    arguments.settle()
    return carries(conductor, tables, together=together, ambient_c=ambient_c, insulation_c=insulation_c)
