"""Heat shrink over a joint: the size that goes over it and still grips the wire, and where to cut."""

import math
from dataclasses import dataclass

from tracker.electrics.arguments import Arguments, cited, doubts, shown
from tracker.records.electrics import Sum, Tables

HEAT = "Shrink it away from fuel and its vapour; the joint and the tube burn skin."


@dataclass(frozen=True, slots=True, kw_only=True)
class SleeveSum(Sum):
    """The size and the piece to cut; `tight_to_mm` is the thickest it should be left round when shrunk."""

    kind: str
    size: str
    expanded_mm: float
    recovered_mm: float
    tight_to_mm: float
    cut_mm: int
    also_fit: tuple[str, ...]


def tight_to_mm(expanded_mm: float, recovered_mm: float, part_percent: float = 75) -> float:
    """The thickest that a tube should be left round: it must take up three quarters of its shrinkage.

    Formula: D - p (D - d), p 75 %.
    Range: recovered under expanded.
    Example:
        >>> tight_to_mm(1.0, 0.5)
        0.625

    Source: [1] buyheatshrink.com ‘The geometry of heat shrink tubing, part 2’, a seller's rule of thumb.
    """
    return expanded_mm - part_percent / 100 * (expanded_mm - recovered_mm)


def cut_length_mm(covered_mm: float, overlap_mm: float, lost_percent: float) -> int:
    """The piece to cut, so that it still covers joint and overlaps when it has grown shorter; whole mm, up.

    Formula: (joint + 2 x overlap) / (1 - loss).
    Range: loss 0 to under 100 %.
    Example:
        >>> cut_length_mm(15, 10, 15)
        42

    Source: [1] geometry; the loss of length from sellers' guides.
    """
    return math.ceil((covered_mm + 2 * overlap_mm) / (1 - lost_percent / 100) - 1e-9)


def sleeve(
    *,
    widest_mm: float,
    narrowest_mm: float,
    covered_mm: float,
    tables: Tables,
    overlap_mm: float | None = None,
    kind: str = "any",
) -> SleeveSum:
    """Heat shrink for a joint: over `widest_mm`, gripping `narrowest_mm`, on `covered_mm` of joint.

    Formula: smallest tube with supplied inside >= 1.2 x widest and shrunk inside <= narrowest;
        cut (joint + 2 x overlap) / (1 - 15 %).
    Range: 0.5 to 50 mm; narrowest not above widest; joint 0 to 2000 mm; overlap 0 to 100 mm.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> answer = sleeve(widest_mm=3.4, narrowest_mm=1.9, covered_mm=15, tables=electric_tables())
        >>> answer.size, answer.cut_mm
        ('4.8/1.5', 42)

    Source: [1] a sleeving maker's guide (1.2 to 1.3 times the widest part). [2] two sellers' guides (5 to
        15 % of length lost). [3] a maker's control drawing for 2:1 sizes; 3:1 adhesive sizes from memory.
    """
    kinds = tuple(dict.fromkeys(row.kind for row in tables.sleeves))
    pick, recover = tables.practice("shrink-pick"), tables.practice("shrink-recover")
    lost, usual = tables.practice("shrink-length"), tables.practice("shrink-overlap")
    overlap = usual.low if overlap_mm is None else overlap_mm
    arguments = Arguments()
    arguments.number("widest_mm", widest_mm, 0.5, 50, "mm")
    arguments.number("narrowest_mm", narrowest_mm, 0.5, 50, "mm")
    arguments.number("covered_mm", covered_mm, 0, 2000, "mm")
    arguments.number("overlap_mm", overlap, 0, 100, "mm")
    arguments.choice("kind", kind, ("any", *kinds))
    if not arguments.problems and narrowest_mm > widest_mm:
        arguments.number("narrowest_mm", narrowest_mm, 0.5, widest_mm, "mm")
    arguments.settle()
    least = pick.low * widest_mm
    fits = [
        row
        for row in sorted(tables.sleeves, key=lambda row: (kinds.index(row.kind), row.expanded_mm))
        if kind in ("any", row.kind) and row.expanded_mm >= least - 1e-9 and row.recovered_mm <= narrowest_mm
    ]
    if not fits:
        arguments.wrong(
            "widest_mm",
            shown(widest_mm),
            f"No {'' if kind == 'any' else kind + ' '}tube goes over {shown(widest_mm)} mm "
            f"and shrinks to {shown(narrowest_mm)} mm.",
            "Build the thin end up with a short inner sleeve first, or make a slimmer joint.",
        )
        arguments.settle()
    best = fits[0]
    cut = cut_length_mm(covered_mm, overlap, lost.high)
    limit = tight_to_mm(best.expanded_mm, best.recovered_mm, recover.low)
    grip = f"It has taken up three quarters of its shrinkage at {limit:.1f} mm"
    if narrowest_mm > limit:
        grip += f"; round {shown(narrowest_mm)} mm it has not: heat it evenly, it may still draw in later"
    return SleeveSum(
        kind=best.kind,
        size=best.size,
        expanded_mm=best.expanded_mm,
        recovered_mm=best.recovered_mm,
        tight_to_mm=limit,
        cut_mm=cut,
        also_fit=tuple(f"{row.kind} {row.size}" for row in fits[1:]),
        why=(
            f"To go over {shown(widest_mm)} mm with room it must be {least:.1f} mm inside as supplied.",
            f"{best.kind} {best.size}: {shown(best.expanded_mm)} mm, shrunk {shown(best.recovered_mm)} mm.",
            f"{grip}.",
            f"{shown(covered_mm)} mm of joint, {shown(overlap)} mm of insulation covered at each side.",
            f"It may lose {shown(lost.high)} % of its length: cut {cut} mm.",
            *doubts((f"{best.kind} {best.size}", best)),
        ),
        source=cited(best, pick, recover, lost, *([usual] if overlap_mm is None else [])),
        cautions=(HEAT,),
    )
