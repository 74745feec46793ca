"""Which terminal takes a wire, or several in one barrel: sleeve, blade or ring, by copper and stud."""

from collections.abc import Sequence
from dataclasses import dataclass

from tracker.electrics.arguments import Arguments, cited, doubts, shown
from tracker.electrics.conductor import awg_area_mm2
from tracker.records.electrics import Conductor, Sum, Tables, TerminalSize

BARREL_GAUGES = (24, 22, 20, 18, 16, 14, 12, 10, 8, 6, 4, 2)
"""Gauges that barrels are sold for."""

SAME = 0.01
"""Copper within a hundredth of a limit counts as within it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TerminalSum(Sum):
    """What fits: insulated sleeve colour, blades, the ring for a stud; empty where nothing listed does."""

    area_mm2: float
    barrel_awg: int | None
    sleeve: str
    blades: tuple[str, ...]
    ring: str
    ring_hole_mm: float | None


def barrel_awg(area_mm2: float) -> int | None:
    """The gauge whose barrel takes so much copper: the least that has as much; None above AWG 2.

    Formula: least even gauge with area >= sum of the areas in the barrel.
    Range: over 0 mm2.
    Example:
        >>> barrel_awg(2 * awg_area_mm2(18))
        14

    Source: [1] NASA-STD-8739.4 p. 86: two or more wires in one barrel count by the sum of their areas.
    """
    return next((awg for awg in BARREL_GAUGES if awg_area_mm2(awg) >= area_mm2 * (1 - 1e-6)), None)


def insulated_sleeve(area_mm2: float, tables: Tables) -> TerminalSize | None:
    """The insulated terminal that takes so much copper, by the standard's range if it can, else as sold.

    Formula: least mm2 <= copper <= most mm2.
    Range: 0.5 to 6 mm2.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> [insulated_sleeve(area, electric_tables()).size for area in (0.75, 1.25, 2.5, 4)]
        ['red', 'red', 'blue', 'yellow']

    Source: [1] DIN 46245. [2] sellers' ranges.
    """
    for kind in ("sleeve", "sleeve as sold"):
        for row in tables.terminals:
            if row.kind == kind and takes(row, area_mm2):
                return row
    return None


def takes(row: TerminalSize, area_mm2: float) -> bool:
    """Whether a terminal's range holds so much copper.

    Formula: least x 0.99 <= copper <= most x 1.01.
    Range: rows with a range; others take nothing.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> takes(electric_tables().terminals[0], 0.35)
        True

    Source: none: a comparison.
    """
    if row.least_mm2 is None or row.most_mm2 is None:
        return False
    return row.least_mm2 * (1 - SAME) <= area_mm2 <= row.most_mm2 * (1 + SAME)


def terminal(*, wires: Sequence[str], tables: Tables, stud: str | None = None) -> TerminalSum:
    """The terminals for one wire, or for several that share a barrel; with a stud (“M6”), the ring for it.

    Formula: the sum of the areas decides; a ring's hole is the clearance hole of the stud.
    Range: 1 to 10 wires; studs M4 to M10.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> answer = terminal(wires=["AWG 18", "AWG 18"], stud="M6", tables=electric_tables())
        >>> answer.barrel_awg, answer.sleeve, answer.ring_hole_mm
        (14, 'blue', 6.4)

    Source: [1] DIN 46245. [2] IEC 61210. [3] DIN 46234/46237 holes from memory. [4] NASA-STD-8739.4 p. 86.
    """
    arguments = Arguments()
    conductors = read_wires(arguments, "wires", wires, tables)
    rings = [row for row in tables.terminals if row.kind == "ring"]
    wanted = "" if stud is None else "".join(stud.upper().split())
    if stud is not None:
        arguments.choice("stud", wanted, [row.size for row in rings])
    arguments.settle()
    area = sum(row.fit_mm2 for row in conductors)
    awg, sleeve_row = barrel_awg(area), insulated_sleeve(area, tables)
    blades = [row for row in tables.terminals if row.kind == "blade" and takes(row, area)]
    ring = next((row for row in rings if row.size == wanted), None)
    names = " and ".join(row.name for row in conductors)
    why = [f"{names}: {area:.2f} mm2 of copper in the barrel."]
    if len(conductors) > 1 and awg is not None:
        why.append(f"Together that is a barrel for AWG {awg}.")
    if sleeve_row is not None:
        limits = f"{shown(sleeve_row.least_mm2 or 0)} to {shown(sleeve_row.most_mm2 or 0)} mm2"
        sold = " as sold" if sleeve_row.kind == "sleeve as sold" else ""
        why.append(f"Insulated terminal: {sleeve_row.size} ({limits}{sold}).")
    else:
        why.append("No insulated terminal is listed for so much copper.")
    why.append(f"Blades: {', '.join(row.size for row in blades) or 'none listed'}.")
    if ring is not None:
        why.append(f"Ring for {ring.size}: hole {shown(ring.hole_mm or 0)} mm.")
    rows = [row for row in (sleeve_row, *blades[:1], ring) if row is not None]
    return TerminalSum(
        area_mm2=area,
        barrel_awg=awg,
        sleeve=sleeve_row.size if sleeve_row else "",
        blades=tuple(row.size for row in blades),
        ring=ring.size if ring else "",
        ring_hole_mm=ring.hole_mm if ring else None,
        why=(*why, *doubts(*((f"{row.kind} {row.size}", row) for row in rows))),
        source=cited(*rows, "NASA-STD-8739.4 p. 86 (sum of areas)"),
    )


def read_wires(arguments: Arguments, name: str, wires: Sequence[str], tables: Tables) -> list[Conductor]:
    """The wires of a list, each mistake noted by its number in it.

    Formula: none.
    Range: 1 to 10 wires.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> [row.name for row in read_wires(Arguments(), "wires", ["0.75"], electric_tables())]
        ['0.75 mm2 thin wall']

    Source: none: a way of reading.
    """
    arguments.whole(name, len(wires), 1, 10, "wires")
    return [arguments.wire(f"{name} {n}", text, tables.conductors) for n, text in enumerate(wires, 1)]
