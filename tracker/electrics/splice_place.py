"""Where a splice sits well: clear of bends, flexing, the backs of plugs and the next splice."""

from collections.abc import Sequence

from tracker.records.electrics import Tables


def splice_hints(
    *,
    at_mm: float,
    wire_mm: float,
    tables: Tables,
    bends_mm: Sequence[float] = (),
    flexing_mm: Sequence[tuple[float, float]] = (),
    splices_mm: Sequence[float] = (),
    plug_at_start: bool = True,
    plug_at_end: bool = True,
) -> tuple[str, ...]:
    """Warnings for a splice `at_mm` along a wire of `wire_mm`; empty where it sits well. Never a refusal.

    Bends, stretches that flex (from, to) and splices of the same bundle are given in mm from the same end.

    Formula: a warning where |splice - other| < 50 mm, or it lies in a stretch that flexes or so near it.
    Range: 0 <= at <= wire; any lists.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> splice_hints(at_mm=420, wire_mm=900, splices_mm=[400], tables=electric_tables())
        ('Another splice is 20 mm away: stagger them by 50 mm or more.',)

    Source: [1] NASA workmanship section 4.07 (staggered, clear of flexing, supported). [2] 50 mm: common
        practice. [3] AC 43.13-1B 11-167 asks for 305 mm from a termination on aircraft (from memory).
    """
    clear = tables.practice("splice-clear").low
    ends = [(plug_at_start, at_mm, "start"), (plug_at_end, wire_mm - at_mm, "end")]
    hints = [
        f"It is {away:.0f} mm from the plug's back at the {end}: leave {clear:.0f} mm or more."
        for plug, away, end in ends
        if plug and away < clear
    ]
    hints += [
        f"A bend is {abs(at_mm - bend):.0f} mm away: keep {clear:.0f} mm clear of it."
        for bend in bends_mm
        if abs(at_mm - bend) < clear
    ]
    hints += [
        f"The loom flexes from {start:.0f} to {end:.0f} mm: a splice there breaks; keep {clear:.0f} mm clear."
        for start, end in flexing_mm
        if start - clear < at_mm < end + clear
    ]
    hints += [
        f"Another splice is {abs(at_mm - other):.0f} mm away: stagger them by {clear:.0f} mm or more."
        for other in splices_mm
        if abs(at_mm - other) < clear
    ]
    return tuple(hints)
