"""What a crimp must hold: the pull by size, a pulled sample judged, the gap at the barrel."""

from collections.abc import Sequence
from dataclasses import dataclass

from tracker.electrics.ampacity import CLOSE, on_line
from tracker.electrics.arguments import Arguments, cited, shown
from tracker.electrics.conductor import awg_area_mm2
from tracker.records.electrics import CrimpPull, Sum, Tables

SAMPLE_ONLY = (
    "Pull a sample made with the same wire, terminal and tool; the crimp that is fitted is only tugged."
)
NEVER_CRIMP = "Never crimp solid wire, or strands tinned with solder: they creep and the crimp works loose."


@dataclass(frozen=True, slots=True, kw_only=True)
class CrimpSum(Sum):
    """The least pull, and verdicts that are None where nothing was measured."""

    wire: str
    rule: str
    least_n: float
    derived: bool
    pulled_n: float | None
    holds: bool | None
    least_gap_mm: float
    most_gap_mm: float
    gap_mm: float | None
    gap_sound: bool | None


def pull_rules(pulls: Sequence[CrimpPull]) -> tuple[str, ...]:
    """The rules there are pulls of.

    Formula: none.
    Range: any table.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> pull_rules(electric_tables().pulls)
        ('commercial', 'military', 'machined contact')

    Source: none: a list.
    """
    return tuple(dict.fromkeys(row.rule for row in pulls))


def least_pull_n(area_mm2: float, pulls: Sequence[CrimpPull]) -> tuple[float, bool]:
    """The least pull for so much copper, and whether it had to be worked out between two gauges; in N.

    Formula: by table at a gauge; on the straight line between two gauges by area.
    Range: from the smallest to the largest gauge of the rule.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> commercial = [row for row in electric_tables().pulls if row.rule == "commercial"]
        >>> least_pull_n(awg_area_mm2(18), commercial)
        (89.0, False)

    Source: [1] UL 486A, MIL-T-7928 class 2, IPC/WHMA-A-620B table 19-12.
    """
    points = sorted((awg_area_mm2(row.awg), row.least_n) for row in pulls)
    return on_line(area_mm2, points)


def crimp(
    *,
    wire: str,
    tables: Tables,
    rule: str = "commercial",
    pulled_n: float | None = None,
    gap_mm: float | None = None,
) -> CrimpSum:
    """A crimp on a wire: the least pull by a rule, a pulled sample and a measured insulation gap judged.

    Formula: holds where pull >= least; gap 0.25 to 0.75 mm up to AWG 20, 0.25 to 1.25 mm from AWG 18 up.
    Range: AWG 26 to 2 (commercial), 26 to 10 (military), 28 to 12 (machined contact), or as thick;
        0 to 5000 N; gap 0 to 20 mm.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> answer = crimp(wire="AWG 18", pulled_n=95, tables=electric_tables())
        >>> answer.least_n, answer.holds
        (89.0, True)

    Source: [1] UL 486A, MIL-T-7928 class 2, IPC/WHMA-A-620B table 19-12. [2] NASA-STD-8739.4 10.1 and 4.3.4.
    """
    arguments = Arguments()
    conductor = arguments.wire("wire", wire, tables.conductors)
    arguments.choice("rule", rule, pull_rules(tables.pulls))
    if pulled_n is not None:
        arguments.number("pulled_n", pulled_n, 0, 5000, "N")
    if gap_mm is not None:
        arguments.number("gap_mm", gap_mm, 0, 20, "mm")
    rows = sorted((row for row in tables.pulls if row.rule == rule), key=lambda row: row.area_mm2)
    area = conductor.fit_mm2
    low, high = (awg_area_mm2(rows[0].awg), awg_area_mm2(rows[-1].awg)) if rows else (0.0, area)
    if not low * (1 - CLOSE) <= area <= high * (1 + CLOSE):
        limits = f"AWG {rows[0].awg} to AWG {rows[-1].awg}"
        words = f"“wire” is {conductor.name}, {area:.2f} mm2; the {rule} pulls run from {limits}."
        arguments.wrong("wire", wire, words, f"{rows[0].area_mm2:.2f} to {rows[-1].area_mm2:.2f} mm2.")
    arguments.settle()
    least, derived = least_pull_n(area, rows)
    thin = area < awg_area_mm2(18) * (1 - CLOSE)
    gap = tables.practice("crimp-gap-thin" if thin else "crimp-gap-thick")
    holds = None if pulled_n is None else pulled_n >= least
    sound = None if gap_mm is None else gap.low <= gap_mm <= gap.high
    between = ", between two gauges by area (derived)" if derived else ""
    why = [f"{conductor.name}: a sample must hold {least:.3g} N ({rule}){between}."]
    if pulled_n is not None:
        why.append(f"It held {shown(pulled_n)} N: {'it passes' if holds else 'it fails'}.")
    why.append(f"Insulation ends {shown(gap.low)} to {shown(gap.high)} mm from the barrel.")
    if gap_mm is not None:
        where = "right" if sound else "too close" if gap_mm < gap.low else "too far back"
        why.append(f"It ends {shown(gap_mm)} mm from it: {where}.")
    return CrimpSum(
        wire=conductor.name,
        rule=rule,
        least_n=least,
        derived=derived,
        pulled_n=pulled_n,
        holds=holds,
        least_gap_mm=gap.low,
        most_gap_mm=gap.high,
        gap_mm=gap_mm,
        gap_sound=sound,
        why=tuple(why),
        source=cited(rows[0], gap, "NASA-STD-8739.4 4.3.4 (no solid or tinned wire)"),
        cautions=(SAMPLE_ONLY, NEVER_CRIMP),
    )
