"""The published figures that the sums stand on: loaded from `tables/*.csv`, checked before they are used."""

from functools import cache

from tracker.records.electrics import Practice, Tables
from tracker.records.problem import Problem
from tracker.seedfiles import conductor_tables as wires
from tracker.seedfiles import part_tables as parts
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds
from tracker.seedfiles.table_rows import read_table

PRACTICES = (
    "fuse-margin", "drop-default", "joint-ohm", "filament-light", "ballast-margin",
    "ballast-derate", "ballast-lit", "shrink-pick", "shrink-recover", "shrink-length", "shrink-overlap",
    "splice-strip", "splice-lap", "splice-turns", "splice-barrel", "splice-open-barrel", "splice-clear",
    "crimp-gap-thin", "crimp-gap-thick", "flash-indicator", "flash-hazard-us",
    "flash-settle", "flash-cycles", "switch-amps", "ambient-usual", "ambient-hot", "loom-loaded",
)  # fmt: skip
"""The rules that the sums ask for by name; each must be there."""


@cache
def electric_tables() -> Tables:
    """The tables as they came with the program, loaded once."""
    return load_tables(SHIPPED)


def load_tables(seeds: Seeds) -> Tables:
    """Every table as one shop sees it; raises SeedMistakes, each mistake by file, row and column."""
    problems: list[Problem] = []
    tables = Tables(
        conductors=(
            *wires.vehicle_wires(seeds, problems),
            *wires.awg_wires(seeds, problems),
            *wires.iec_wires(seeds, problems),
        ),
        ampacity=wires.ampacity_rows(seeds, problems),
        bundling=wires.bundling_rows(seeds, problems),
        fuses=parts.fuse_ratings(seeds, problems),
        pulls=parts.crimp_pulls(seeds, problems),
        sleeves=parts.sleeve_sizes(seeds, problems),
        packing=parts.packings(seeds, problems),
        terminals=parts.terminal_sizes(seeds, problems),
        colours=parts.wire_colours(seeds, problems),
        lamps=parts.lamp_types(seeds, problems),
        ballasts=parts.ballast_values(seeds, problems),
        practices=_practices(seeds, problems),
    )
    if problems:
        files = {problem.field.split(" ")[0] for problem in problems}
        raise SeedMistakes(f"tables/{files.pop()}" if len(files) == 1 else "tables", problems)
    return tables


def _practices(seeds: Seeds, problems: list[Problem]) -> dict[str, Practice]:
    table = read_table(seeds, "tables/practice.csv", ["name", "what", "low", "high", "unit"])
    rows = {
        row.cells["name"]: Practice(
            name=row.text("name"),
            what=row.text("what"),
            low=row.number("low"),
            high=row.number("high"),
            unit=row.text("unit"),
            **row.sourced(),
        )
        for row in table.rows
    }
    for row in table.rows:
        if row.number("high", quiet=True) < row.number("low", quiet=True):
            table.wrong(row.line, "high", "This must not be less than “low”.", row.cells["high"])
    table.once(["name"])
    missing = [name for name in PRACTICES if name not in rows]
    if missing and not table.problems:
        table.wrong(1, "name", f"These rules are missing: {', '.join(missing)}.")
    problems += table.problems
    return rows
