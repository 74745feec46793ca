"""The fuse: the next rating over 1.25 times the current, and never above what the wire carries."""

from collections.abc import Sequence
from dataclasses import dataclass

from tracker.electrics.ampacity import carries, check_surroundings
from tracker.electrics.arguments import Arguments, cited, doubts, shown
from tracker.records.electrics import FuseRating, Sum, Tables

NEVER_UPRATE = "A fuse that blows is never cured by a bigger one: find what draws the current."


@dataclass(frozen=True, slots=True, kw_only=True)
class FuseSum(Sum):
    """The fuse, or None where the wire is too thin for any; `need_a` is 1.25 times the current."""

    fuse_a: float | None
    colour: str
    family: str
    need_a: float
    carries_a: float


def fuse_families(fuses: Sequence[FuseRating]) -> tuple[str, ...]:
    """The fuse families there are ratings of.

    Formula: none.
    Range: any table.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> fuse_families(electric_tables().fuses)
        ('blade', 'maxi blade')

    Source: none: a list.
    """
    return tuple(dict.fromkeys(row.family for row in fuses))


def next_fuse(current_a: float, tables: Tables, family: str = "blade") -> FuseRating | None:
    """The least rating that is at least 1.25 times the current; None above the largest of the family.

    Formula: least rating F with F >= 1.25 I.
    Range: current over 0 A.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> row = next_fuse(7.0, electric_tables())
        >>> row.rating_a, row.colour
        (10.0, 'red')

    Source: [1] ISO 8820-3 ratings. [2] common practice: a fuse runs at no more than 80 % of its rating.
    """
    need = tables.practice("fuse-margin").low * current_a
    ratings = sorted((row for row in tables.fuses if row.family == family), key=lambda row: row.rating_a)
    return next((row for row in ratings if row.rating_a >= need * (1 - 1e-9)), None)


def fuse(
    *,
    current_a: float,
    tables: Tables,
    wire: str | None = None,
    carries_a: float | None = None,
    together: int = 1,
    ambient_c: float = 30,
    insulation_c: int | None = None,
    family: str = "blade",
) -> FuseSum:
    """The fuse for a steady current in a wire, which is named or whose amps are given.

    Formula: least rating F with F >= 1.25 I; it stands only if F <= what the wire carries where it lies.
    Range: current over 0 to 1000 A; the wire as for its ampacity; ratings of the family.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> fuse(current_a=8, wire="1 mm2 thin wall", tables=electric_tables()).fuse_a
        10.0
        >>> fuse(current_a=10, wire="0.5 mm2 thin wall", tables=electric_tables()).fuse_a is None
        True

    Source: [1] ISO 8820-3 ratings. [2] common practice for 1.25. [3] the wire's ampacity.
    """
    arguments = Arguments()
    arguments.number("current_a", current_a, 0, 1000, "A", over=True)
    arguments.one_of(("wire", "carries_a"), (wire, carries_a))
    arguments.choice("family", family, fuse_families(tables.fuses))
    if carries_a is not None:
        arguments.number("carries_a", carries_a, 0, 1000, "A", over=True)
    why: tuple[str, ...] = ()
    source: tuple[str, ...] = ()
    amps = carries_a or 0.0
    if wire is not None:
        conductor = arguments.wire("wire", wire, tables.conductors)
        check_surroundings(arguments, together, ambient_c, insulation_c, conductor)
        arguments.settle()
        limit = carries(conductor, tables, together=together, ambient_c=ambient_c, insulation_c=insulation_c)
        why, source, amps = limit.why, limit.source, limit.carries_a
    arguments.settle()
    margin = tables.practice("fuse-margin")
    row = next_fuse(current_a, tables, family)
    need = margin.low * current_a
    words = margin_words(current_a, margin.low)
    if row is None:
        verdict = [words, f"No {family} fuse is made that large."]
    elif row.rating_a <= amps:
        verdict = [
            words,
            f"The next is {shown(row.rating_a)} A ({row.colour}), within the wire's {amps:.3g} A.",
        ]
    else:
        verdict = [
            words,
            f"The next is {shown(row.rating_a)} A, above the wire's {amps:.3g} A: no fuse fits.",
        ]
        verdict.append("It would not protect this wire. A thicker wire, or less load.")
    fits = row is not None and row.rating_a <= amps
    return FuseSum(
        fuse_a=row.rating_a if row and fits else None,
        colour=row.colour if row and fits else "",
        family=family,
        need_a=need,
        carries_a=amps,
        why=(
            *why,
            *verdict,
            *(doubts((f"{shown(row.rating_a)} A {row.family} fuse", row)) if row and fits else ()),
        ),
        source=(*cited(*([row] if row else []), margin), *source),
        cautions=(NEVER_UPRATE,),
    )


def margin_words(current_a: float, margin: float) -> str:
    """Why a fuse is larger than the current it passes, in words.

    Formula: need = margin x I.
    Range: any amps.
    Example:
        >>> margin_words(8, 1.25)
        '8 A steady needs a fuse of at least 10 A: it then runs at 80 % of its rating or less.'

    Source: none: a way of writing.
    """
    return (
        f"{current_a:.3g} A steady needs a fuse of at least {margin * current_a:.3g} A: "
        f"it then runs at {100 / margin:.0f} % of its rating or less."
    )
