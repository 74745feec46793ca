"""Tables of wire: sizes of every standard, what they carry, and the factor for company in a bundle."""

import math

from tracker.electrics.conductor import COPPER_OHM_MM2_PER_KM, awg_area_mm2, awg_conductor
from tracker.records.electrics import AmpacityRow, BundlingRow, Conductor
from tracker.records.problem import Problem
from tracker.seedfiles.door import Seeds
from tracker.seedfiles.table_rows import Row, Table, read_table

CLASSES = (60, 75, 80, 90, 105, 125, 200)
"""Insulation classes of the ampacity table, °C."""

VEHICLE_FAMILIES = ("thin wall A", "thin wall", "thick wall", "AVS", "AVSS", "AVSSH", "JIS")
ISO_FAMILIES = VEHICLE_FAMILIES[:3]

SOUND_RATIO = (1.0, 1.12)
"""Resistance x area over 17.241 of every real vehicle wire: the lay makes it longer; outside, a slip."""

SOUND_RATIO_IEC = (1.0, 1.17)
"""The same of IEC class 5, whose nominal area is a name that the resistance limit leaves more room under."""


STRANDS_AGREE = 0.02
"""The area printed may differ so much from the strands' own."""


def vehicle_wires(seeds: Seeds, problems: list[Problem]) -> tuple[Conductor, ...]:
    """ISO, JASO and JIS wire. In a family and strand sort area, diameter and amps rise, resistance falls."""
    columns = ["standard", "family", "size", "strands", "strand_d_mm", "area_mm2", "r_max_mohm_per_m_20c"]
    more = ["od_nominal_mm", "od_max_mm", "amps_published", "insulation_c"]
    table = read_table(seeds, "tables/conductors_vehicle.csv", [*columns, *more])
    rows = []
    for row in table.rows:
        family = row.choice("family", VEHICLE_FAMILIES)
        size, area = row.text("size"), row.number("area_mm2")
        nominal = row.number("size") if family in ISO_FAMILIES else area
        resistance = row.number("r_max_mohm_per_m_20c")
        _check_ratio(row, "r_max_mohm_per_m_20c", resistance * nominal, SOUND_RATIO)
        strands = row.whole("strands", 1) * math.pi / 4 * row.number("strand_d_mm") ** 2
        if abs(strands / area - 1) > STRANDS_AGREE:
            table.wrong(
                row.line, "area_mm2", f"The strands come to {strands:.3f} mm2.", row.cells["area_mm2"]
            )
        outside = row.number("od_max_mm")
        if outside < math.sqrt(4 * area / math.pi):
            table.wrong(row.line, "od_max_mm", "It is thinner than its own copper.", row.cells["od_max_mm"])
        rows.append(
            Conductor(
                name=_name(family, size),
                family=family,
                size=size,
                standard=row.text("standard"),
                area_mm2=area,
                fit_mm2=nominal,
                ohm_per_km=resistance,
                od_mm=outside,
                insulation_c=row.whole("insulation_c"),
                amps_a=row.maybe("amps_published"),
                **row.sourced(),
            )
        )
    for group in table.groups("family"):
        for fine in (False, True):
            _check_order(table, [row for row in group if row.cells["size"].endswith("f") == fine])
    table.once(["family", "size"])
    problems += table.problems
    return tuple(rows)


def awg_wires(seeds: Seeds, problems: list[Problem]) -> tuple[Conductor, ...]:
    """The gauges that are sold; area and resistance must be those of the formula."""
    table = read_table(seeds, "tables/conductors_awg.csv", ["awg", "d_mm", "area_mm2", "ohm_per_km_20c"])
    rows = []
    for row in table.rows:
        wire = awg_conductor(row.whole("awg", 1))
        for column, right in (("area_mm2", wire.area_mm2), ("ohm_per_km_20c", wire.ohm_per_km)):
            if abs(row.number(column) / right - 1) > 0.001:
                table.wrong(row.line, column, f"The gauge formula gives {right:.4f}.", row.cells[column])
        rows.append(
            Conductor(
                name=wire.name,
                family=wire.family,
                size=wire.size,
                standard=wire.standard,
                area_mm2=row.number("area_mm2"),
                fit_mm2=row.number("area_mm2"),
                ohm_per_km=row.number("ohm_per_km_20c"),
                **row.sourced(),
            )
        )
    table.ordered("awg", table.rows, falling=True)
    problems += table.problems
    return tuple(rows)


def iec_wires(seeds: Seeds, problems: list[Problem]) -> tuple[Conductor, ...]:
    """IEC 60228 class 5, plain copper; the nominal size stands for the area."""
    columns = ["size_mm2", "plain_max_ohm_per_km_20c", "tinned_max_ohm_per_km_20c"]
    table = read_table(seeds, "tables/conductors_iec60228.csv", columns)
    rows = []
    for row in table.rows:
        size, plain, tinned = (row.number(column) for column in columns)
        _check_ratio(row, columns[1], size * plain, SOUND_RATIO_IEC)
        if tinned < plain:
            table.wrong(
                row.line, columns[2], "Tinned wire is never the better conductor.", row.cells[columns[2]]
            )
        rows.append(
            Conductor(
                name=f"IEC {size:g} mm2",
                family="IEC",
                size=f"{size:g}",
                standard="IEC 60228 class 5",
                area_mm2=size,
                fit_mm2=size,
                ohm_per_km=plain,
                **row.sourced(),
            )
        )
    table.ordered("size_mm2", table.rows)
    table.ordered(columns[1], table.rows, falling=True)
    problems += table.problems
    return tuple(rows)


def ampacity_rows(seeds: Seeds, problems: list[Problem]) -> tuple[AmpacityRow, ...]:
    """Amps by gauge and insulation class; rising with size and never falling with class."""
    columns = [f"{c}C" for c in CLASSES]
    table = read_table(seeds, "tables/ampacity.csv", ["awg", *columns])
    rows = tuple(
        AmpacityRow(
            awg=row.whole("awg"),
            area_mm2=awg_area_mm2(row.whole("awg")),
            amps_a={c: row.number(f"{c}C") for c in CLASSES},
            **row.sourced(),
        )
        for row in table.rows
    )
    table.ordered("awg", table.rows, falling=True)
    for column in columns:
        table.ordered(column, table.rows)
    for row in table.rows:
        amps = [row.number(column, quiet=True) for column in columns]
        for column, low, high in zip(columns[1:], amps, amps[1:], strict=False):
            if high < low:
                table.wrong(row.line, column, "Better insulation must not carry less.", row.cells[column])
    problems += table.problems
    return rows


def bundling_rows(seeds: Seeds, problems: list[Problem]) -> tuple[BundlingRow, ...]:
    """Factors by number of wires, from one up without a gap, the last row open."""
    table = read_table(seeds, "tables/bundling.csv", ["wires_from", "wires_to", "factor"])
    rows = tuple(
        BundlingRow(
            least=row.whole("wires_from", 1),
            most=row.whole("wires_to", 1) if row.cells["wires_to"] else None,
            factor=row.number("factor", most=1),
            **row.sourced(),
        )
        for row in table.rows
    )
    expected: int | None = 1
    for row, read in zip(table.rows, rows, strict=True):
        if read.least != expected:
            table.wrong(row.line, "wires_from", f"This must follow on: {expected}.", row.cells["wires_from"])
        expected = None if read.most is None else read.most + 1
    if table.rows and expected is not None:
        table.wrong(table.rows[-1].line, "wires_to", "The last row must be open: no upper number.")
    table.ordered("factor", table.rows, falling=True)
    problems += table.problems
    return rows


def _name(family: str, size: str) -> str:
    return f"{size} mm2 {family}" if family in ISO_FAMILIES else f"{family} {size}"


def _check_ratio(row: Row, column: str, product: float, limits: tuple[float, float]) -> None:
    ratio = product / COPPER_OHM_MM2_PER_KM
    if ratio < limits[0] or ratio > limits[1]:
        row.table.wrong(
            row.line,
            column,
            f"Resistance times area is {ratio:.2f} times copper's; a real wire lies within "
            f"{limits[0]:g} to {limits[1]:g}.",
            row.cells[column],
        )


def _check_order(table: Table, rows: list[Row]) -> None:
    table.ordered("area_mm2", rows)
    table.ordered("r_max_mohm_per_m_20c", rows, falling=True)
    table.ordered("od_max_mm", rows, equal=True)
    table.ordered("amps_published", rows, equal=True)
