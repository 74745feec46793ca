"""The size of a new wire: the smallest that meets drop, ampacity and fuse, and which of the three decided."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from tracker.electrics.ampacity import AmpacitySum, carries, check_surroundings
from tracker.electrics.arguments import Arguments, cited, doubts, sentence, shown
from tracker.electrics.conductor import families, solid_words
from tracker.electrics.drop import HIGHEST_V, Way, check_way, operating_current_a
from tracker.electrics.fuse import NEVER_UPRATE, fuse_families, margin_words, next_fuse
from tracker.electrics.load import check_load, load_of
from tracker.records.electrics import Conductor, FuseRating, Load, Sum, Tables
from tracker.records.problem import Mistakes

Decider = Literal["drop", "ampacity", "fuse", "smallest made"]

TRUST_THE_MAKER = "The maker's manual and wiring diagram come first."


@dataclass(frozen=True, slots=True, kw_only=True)
class WireSum(Sum):
    """The wire and its fuse; `smallest_for_*` is the smallest size that each demand alone would take."""

    wire: str
    area_mm2: float
    current_a: float
    drop_v: float
    drop_percent: float
    limit_v: float
    carries_a: float
    fuse_a: float
    fuse_colour: str
    decided_by: Decider
    smallest_for_drop: str
    smallest_for_ampacity: str
    smallest_for_fuse: str


@dataclass(frozen=True, slots=True)
class Tried:
    """One size with the load on."""

    conductor: Conductor
    current_a: float | None
    drop_v: float
    limit: AmpacitySum
    fuse: FuseRating | None


def size_wire(
    *,
    length_mm: float,
    tables: Tables,
    current_a: float | None = None,
    resistance_ohm: float | None = None,
    power_w: float | None = None,
    lamp_w: float | None = None,
    rated_v: float = 12.0,
    supply_v: float = 12.0,
    limit_v: float | None = None,
    limit_percent: float | None = None,
    family: str = "thin wall",
    together: int = 1,
    ambient_c: float = 30,
    insulation_c: int | None = None,
    returns: str = "frame",
    return_length_mm: float | None = None,
    frame_ohm: float = 0.0,
    joints: int = 0,
    joint_ohm: float | None = None,
    fuse_family: str = "blade",
) -> WireSum:
    """The smallest wire of a family for a new circuit, with its fuse.

    The load is given once, as for `drop`; the drop allowed once, in volts or per cent (3 % where neither is).
    The copper is taken at the temperature of the air around it.

    Formula: smallest size with drop <= limit, I <= its amps here, next fuse over 1.25 I <= its amps here.
    Range: length over 0 to 200 000 mm; supply 1 to 60 V; drop over 0 to 100 %; else as `drop`, `ampacity`.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> answer = size_wire(current_a=8, length_mm=1800, tables=electric_tables())
        >>> answer.wire, answer.fuse_a, answer.decided_by
        ('1 mm2 thin wall', 10.0, 'drop')

    Source: [1] Ohm's law and the wire's own table. [2] 33 CFR 183.425, JASO D611, JIS C 3406, NEC 310.15(B).
        [3] ISO 8820-3 ratings over 1.25 x the current (common practice). [4] ABYC 3 % where the drop matters.
    """
    arguments = Arguments()
    load = check_load(
        arguments,
        current_a=current_a,
        resistance_ohm=resistance_ohm,
        power_w=power_w,
        lamp_w=lamp_w,
        rated_v=rated_v,
    )
    way = Way(
        length_mm=length_mm,
        supply_v=supply_v,
        returns=returns,
        return_length_mm=return_length_mm,
        frame_ohm=frame_ohm,
        joints=joints,
        joint_ohm=tables.practice("joint-ohm").high if joint_ohm is None else joint_ohm,
    )
    check_way(arguments, way)
    arguments.choice("family", family, families(tables.conductors))
    arguments.choice("fuse_family", fuse_family, fuse_families(tables.fuses))
    sizes = sorted((row for row in tables.conductors if row.family == family), key=lambda row: row.area_mm2)
    check_surroundings(arguments, together, ambient_c, insulation_c, (sizes or list(tables.conductors))[0])
    percent, default = _percent(arguments, limit_v, limit_percent, tables)
    arguments.settle()
    limit = supply_v * percent / 100 if limit_v is None else limit_v
    tried = []
    for size in sizes:
        ohm = sum(way.ohms(size, ambient_c))
        amps = operating_current_a(load, supply_v, ohm)
        capacity = carries(size, tables, together=together, ambient_c=ambient_c, insulation_c=insulation_c)
        rating = None if amps is None else next_fuse(amps, tables, fuse_family)
        tried.append(Tried(size, amps, (amps or 0.0) * ohm, capacity, rating))
    fits = [_meets(one, limit) for one in tried]
    number = next((number for number, meets in enumerate(fits) if all(meets.values())), None)
    if number is None:
        raise _refusal(fits, load, family, f"{limit:.3g} V over {shown(length_mm)} mm")
    chosen, forced = (
        tried[number],
        [name for name, good in fits[number - 1].items() if not good] if number else [],
    )
    current = chosen.current_a
    assert current is not None
    assert chosen.fuse is not None
    smallest = {name: _smallest(name, tried, fits).conductor.name for name in fits[0]}
    margin = tables.practice("fuse-margin")
    name, fused = chosen.conductor.name, f"{shown(chosen.fuse.rating_a)} A"
    why = (
        f"{sentence(load_of(load))}, {shown(length_mm)} mm away, return by {returns}: {current:.3g} A.",
        *((f"No drop was asked for: {percent:g} % of {shown(supply_v)} V is taken.",) if default else ()),
        f"For the drop {smallest['drop']} would do.",
        f"{name} drops {chosen.drop_v:.3f} V of the {limit:.3g} V allowed, its copper at {ambient_c:g} °C.",
        *solid_words(chosen.conductor),
        f"For the current {smallest['ampacity']} would do.",
        *chosen.limit.why,
        f"For the fuse {smallest['fuse']} would do. {margin_words(current, margin.low)}",
        f"So {name} and a fuse of {fused} ({chosen.fuse.colour}): {_decided_words(forced)}",
        *doubts((f"{fused} {fuse_family} fuse", chosen.fuse)),
    )
    return WireSum(
        wire=chosen.conductor.name,
        area_mm2=chosen.conductor.area_mm2,
        current_a=current,
        drop_v=chosen.drop_v,
        drop_percent=100 * chosen.drop_v / supply_v,
        limit_v=limit,
        carries_a=chosen.limit.carries_a,
        fuse_a=chosen.fuse.rating_a,
        fuse_colour=chosen.fuse.colour,
        decided_by=forced[0] if forced else "smallest made",
        smallest_for_drop=smallest["drop"],
        smallest_for_ampacity=smallest["ampacity"],
        smallest_for_fuse=smallest["fuse"],
        why=why,
        source=tuple(
            dict.fromkeys(
                (
                    *cited(chosen.conductor),
                    *chosen.limit.source,
                    *cited(chosen.fuse, margin, *([tables.practice("drop-default")] if default else [])),
                )
            )
        ),
        cautions=(NEVER_UPRATE, TRUST_THE_MAKER),
    )


def _percent(
    arguments: Arguments, limit_v: float | None, limit_percent: float | None, tables: Tables
) -> tuple[float, bool]:
    """The drop allowed in per cent, and whether nobody gave one."""
    if limit_v is not None:
        arguments.number("limit_v", limit_v, 0, HIGHEST_V, "V", over=True)
        if limit_percent is not None:
            arguments.one_of(("limit_v", "limit_percent"), (limit_v, limit_percent))
    if limit_percent is not None:
        arguments.number("limit_percent", limit_percent, 0, 100, "%", over=True)
    default = limit_v is None and limit_percent is None
    return limit_percent or tables.practice("drop-default").low, default


def _meets(tried: Tried, limit_v: float) -> dict[Decider, bool]:
    """Which of the three demands a size meets; none where the load cannot even be had through it."""
    amps, most = tried.current_a, tried.limit.carries_a
    return {
        "drop": amps is not None and tried.drop_v <= limit_v * (1 + 1e-9),
        "ampacity": amps is not None and amps <= most,
        "fuse": tried.fuse is not None and tried.fuse.rating_a <= most,
    }


def _smallest(name: Decider, tried: Sequence[Tried], fits: Sequence[dict[Decider, bool]]) -> Tried:
    return next(one for one, meets in zip(tried, fits, strict=True) if meets[name])


def _decided_words(forced: Sequence[Decider]) -> str:
    if not forced:
        return "the smallest made of this kind is enough."
    words = {
        "drop": "the drop",
        "ampacity": "what the wire may carry",
        "fuse": "the fuse, which must not be above what the wire may carry,",
    }
    return f"{' and '.join(words[name] for name in forced)} decided."


def _refusal(fits: Sequence[dict[Decider, bool]], load: Load, family: str, drop_words: str) -> Mistakes:
    """Names each demand that no size of the family meets."""
    arguments, what = Arguments(), load_of(load)
    hint = "Another kind of wire that is made thicker, less load, or the load split over two circuits."
    missed = [name for name in fits[0] if not any(meets[name] for meets in fits)]
    if "drop" in missed:
        arguments.wrong("length_mm", "", f"No {family} wire keeps {what} within {drop_words}.", hint)
    if "ampacity" in missed:
        arguments.wrong("family", family, f"No {family} wire carries {what} here.", hint)
    if "fuse" in missed or not missed:
        arguments.wrong("family", family, f"No fuse suits {what} in any {family} wire here.", hint)
    return Mistakes(arguments.problems)
