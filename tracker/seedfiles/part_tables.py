"""Tables of what is fitted: fuses, crimps, sleeves, bundles, terminals, colours, lamps and ballasts."""

from tracker.electrics.conductor import awg_area_mm2
from tracker.records.electrics import (
    BallastValue,
    CrimpPull,
    FuseRating,
    LampType,
    Packing,
    SleeveSize,
    TerminalSize,
    WireColour,
)
from tracker.records.problem import Problem
from tracker.seedfiles.door import Seeds
from tracker.seedfiles.table_rows import read_table

PULL_RULES = ("commercial", "military", "machined contact")
SLEEVE_KINDS = ("2:1", "3:1 adhesive")
TERMINAL_KINDS = ("blade", "bullet", "sleeve", "sleeve as sold", "ring")
CODES = ("IEC 60757", "Japanese", "British", "German")


def fuse_ratings(seeds: Seeds, problems: list[Problem]) -> tuple[FuseRating, ...]:
    """Fuse ratings by family."""
    table = read_table(seeds, "tables/fuses.csv", ["family", "rating_a", "body_colour"])
    rows = tuple(
        FuseRating(
            family=row.text("family"),
            rating_a=row.number("rating_a"),
            colour=row.text("body_colour"),
            **row.sourced(),
        )
        for row in table.rows
    )
    for group in table.groups("family"):
        table.ordered("rating_a", group)
    problems += table.problems
    return rows


def crimp_pulls(seeds: Seeds, problems: list[Problem]) -> tuple[CrimpPull, ...]:
    """Least crimp pulls by rule; each area must be its gauge's."""
    table = read_table(seeds, "tables/crimp_pull.csv", ["rule", "awg", "area_mm2", "least_n"])
    rows = tuple(
        CrimpPull(
            rule=row.choice("rule", PULL_RULES),
            awg=row.whole("awg"),
            area_mm2=row.number("area_mm2"),
            least_n=row.number("least_n"),
            **row.sourced(),
        )
        for row in table.rows
    )
    for row, read in zip(table.rows, rows, strict=True):
        if read.awg and not 0.98 < read.area_mm2 / awg_area_mm2(read.awg) < 1.02:
            table.wrong(
                row.line, "area_mm2", f"This is not the area of AWG {read.awg}.", row.cells["area_mm2"]
            )
    for group in table.groups("rule"):
        table.ordered("awg", group, falling=True)
        table.ordered("least_n", group)
    problems += table.problems
    return rows


def sleeve_sizes(seeds: Seeds, problems: list[Problem]) -> tuple[SleeveSize, ...]:
    """Heat shrink by kind; both diameters must rise."""
    columns = ["expanded_id_min_mm", "recovered_id_max_mm", "recovered_wall_min_mm", "recovered_wall_max_mm"]
    table = read_table(seeds, "tables/heat_shrink.csv", ["kind", "size", *columns])
    rows = tuple(
        SleeveSize(
            kind=row.choice("kind", SLEEVE_KINDS),
            size=row.text("size"),
            expanded_mm=row.number("expanded_id_min_mm"),
            recovered_mm=row.number("recovered_id_max_mm"),
            **row.sourced(),
        )
        for row in table.rows
    )
    for row, read in zip(table.rows, rows, strict=True):
        if read.recovered_mm >= read.expanded_mm:
            table.wrong(row.line, columns[1], "It must be less than as supplied.", row.cells[columns[1]])
    for group in table.groups("kind"):
        for column in columns[:2]:
            table.ordered(column, group)
    problems += table.problems
    return rows


def packings(seeds: Seeds, problems: list[Problem]) -> tuple[Packing, ...]:
    """Smallest circles round equal wires, from one wire up without a gap."""
    table = read_table(seeds, "tables/bundle_packing.csv", ["n_equal_wires", "d_over_d_optimal"])
    rows = tuple(
        Packing(wires=row.whole("n_equal_wires", 1), ratio=row.number("d_over_d_optimal"), **row.sourced())
        for row in table.rows
    )
    for number, (row, read) in enumerate(zip(table.rows, rows, strict=True), 1):
        if read.wires != number:
            table.wrong(row.line, "n_equal_wires", f"This must be {number}.", row.cells["n_equal_wires"])
        if read.ratio < number**0.5:
            table.wrong(
                row.line, "d_over_d_optimal", "The wires would overlap.", row.cells["d_over_d_optimal"]
            )
    table.ordered("d_over_d_optimal", table.rows, equal=True)
    problems += table.problems
    return rows


def terminal_sizes(seeds: Seeds, problems: list[Problem]) -> tuple[TerminalSize, ...]:
    """Blades, bullets, rings and insulated sleeves."""
    table = read_table(
        seeds, "tables/terminals.csv", ["kind", "size", "least_mm2", "most_mm2", "hole_mm", "note"]
    )
    rows = tuple(
        TerminalSize(
            kind=row.choice("kind", TERMINAL_KINDS),
            size=row.text("size"),
            least_mm2=row.maybe("least_mm2"),
            most_mm2=row.maybe("most_mm2"),
            hole_mm=row.maybe("hole_mm"),
            note=row.cells["note"],
            **row.sourced(),
        )
        for row in table.rows
    )
    for row, read in zip(table.rows, rows, strict=True):
        if (read.least_mm2 is None) != (read.most_mm2 is None) or (read.least_mm2 or 0) > (
            read.most_mm2 or 0
        ):
            table.wrong(
                row.line, "most_mm2", "The range must run upwards and have both ends.", row.cells["most_mm2"]
            )
    table.once(["kind", "size"])
    problems += table.problems
    return rows


def wire_colours(seeds: Seeds, problems: list[Problem]) -> tuple[WireColour, ...]:
    """Colours in words and their letters by code set."""
    table = read_table(seeds, "tables/wire_colours.csv", ["code", "colour", "letters"])
    rows = tuple(
        WireColour(
            code=row.choice("code", CODES),
            colour=row.text("colour"),
            letters=row.text("letters"),
            **row.sourced(),
        )
        for row in table.rows
    )
    table.once(["code", "colour"])
    problems += table.problems
    return rows


def lamp_types(seeds: Seeds, problems: list[Problem]) -> tuple[LampType, ...]:
    """Filaments by lamp category."""
    columns = ["category", "filament", "rated_w", "test_w", "max_w", "test_v"]
    table = read_table(seeds, "tables/lamps.csv", columns)
    rows = tuple(
        LampType(
            category=row.text("category"),
            filament=row.choice("filament", ("main", "second")),
            rated_w=row.number("rated_w"),
            test_w=row.maybe("test_w"),
            most_w=row.number("max_w"),
            test_v=row.number("test_v"),
            **row.sourced(),
        )
        for row in table.rows
    )
    for row, read in zip(table.rows, rows, strict=True):
        if read.most_w < max(read.rated_w, read.test_w or 0):
            table.wrong(row.line, "max_w", "The most allowed is less than the rating.", row.cells["max_w"])
    table.once(["category", "filament"])
    problems += table.problems
    return rows


def ballast_values(seeds: Seeds, problems: list[Problem]) -> tuple[BallastValue, ...]:
    """Values that resistors are sold in."""
    table = read_table(seeds, "tables/ballasts.csv", ["what", "value"])
    rows = tuple(
        BallastValue(what=row.choice("what", ("ohm", "watt")), value=row.number("value"), **row.sourced())
        for row in table.rows
    )
    for group in table.groups("what"):
        table.ordered("value", group)
    problems += table.problems
    return rows
