"""What has to come off, paid once a visit however many repairs need it."""

from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field
from decimal import Decimal

from tracker.estimating.spread import whole
from tracker.loom.fits import fits
from tracker.records.document import LineKind
from tracker.records.estimating import RepairEstimate, TimeLine
from tracker.records.loom_pattern import Access, Known
from tracker.records.repair_rule import Spread

LEAST, MOST = Decimal("0.8"), Decimal(2)
"""Least and most over the table’s minutes: a rusted bolt doubles them (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Reachable:
    """What comes off on this bike: `off` maps a zone to the accesses that open it, `accesses` by id.

    `doubtful` are accesses that it may have or not, for want of an answer.
    """

    off: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    accesses: Mapping[str, Access] = field(default_factory=dict)
    doubtful: Mapping[str, Access] = field(default_factory=dict)


def reachable(known: Known, features: Mapping[str, str]) -> Reachable:
    """What comes off on a bike of these features; where nobody has answered, as most bikes have it."""
    usual = {name: feature.usual for name, feature in known.features.items()} | dict(features)
    return Reachable(
        off={zone.id: zone.off for zone in known.zones.values()},
        accesses={name: one for name, one in known.accesses.items() if fits(one.when, usual)[0]},
        doubtful={name: one for name, one in known.accesses.items() if fits(one.when, features)[0] is None},
    )


@dataclass(frozen=True, slots=True)
class Wanted:
    """Something that wants zones opened on a visit: a repair, a check, a part to be looked at."""

    words: str
    zones: tuple[str, ...]
    off: tuple[str, ...] = ()
    visit: int = 1
    repair: int | None = None


def wanted_by(repair: RepairEstimate) -> Wanted:
    """What a repair wants opened."""
    asked = repair.asked
    return Wanted(repair.time.words, repair.zones, asked.where.off, asked.visit, asked.repair)


def in_order(open_: Reachable, wanted: Wanted) -> tuple[str, ...]:
    """The accesses that `wanted` needs, each once, whatever must be off first before it.

    Names that the bike's table does not have are passed over (see `notes`).
    """
    order: dict[str, None] = {}

    def take(name: str, above: AbstractSet[str]) -> None:
        access = open_.accesses.get(name)
        if access is None or name in order or name in above:
            return
        for need in access.needs:
            take(need, above | {name})
        order[name] = None

    for name in (*(n for zone in wanted.zones for n in open_.off.get(zone, ())), *wanted.off):
        take(name, frozenset())
    return tuple(order)


def notes(open_: Reachable, wanted: Iterable[Wanted]) -> tuple[str, ...]:
    """What is not known of what comes off: zones without an entry, things the bike may not have."""
    items = tuple(wanted)
    zones = dict.fromkeys(zone for item in items for zone in item.zones)
    named = dict.fromkeys(n for zone in zones for n in open_.off.get(zone, ()))
    named |= dict.fromkeys(n for item in items for n in item.off)
    return (
        *(
            f"What comes off to reach “{zone}” isn’t known, so it is not counted."
            for zone in zones
            if zone not in open_.off
        ),
        *(
            f"Nobody has said whether this bike has this to come off: {access.words}. "
            f"It is {'counted' if name in open_.accesses else 'not counted'}."
            for name, access in open_.doubtful.items()
            if name in named
        ),
    )


def access_lines(
    open_: Reachable, wanted: Sequence[Wanted], already_off: AbstractSet[str] = frozenset()
) -> tuple[TimeLine, ...]:
    """One line for each thing that comes off in each visit, in an order in which it can come off.

    `already_off` are accesses that stand open on the first visit: they cost nothing there.
    """
    lines: list[TimeLine] = []
    for visit in sorted({item.visit for item in wanted}):
        wants: dict[str, list[Wanted]] = {}
        for item in wanted:
            if item.visit == visit:
                for name in in_order(open_, item):
                    wants.setdefault(name, []).append(item)
        free = already_off if visit == 1 else frozenset()
        lines.extend(
            _line(open_.accesses[name], wants[name], visit)
            for name in _needs_first(open_, wants)
            if name not in free
        )
    return tuple(lines)


def _needs_first(open_: Reachable, names: Iterable[str]) -> tuple[str, ...]:
    """In the table's order, whatever must be off first before what needs it: no matter who asked first."""
    known = [name for name in open_.accesses if name in set(names)]
    return in_order(open_, Wanted("", (), tuple(known)))


def _line(access: Access, wants: Sequence[Wanted], visit: int) -> TimeLine:
    minutes = Decimal(access.minutes)
    spread = Spread(minutes * LEAST, minutes, minutes * MOST)
    wanting = ", ".join(sorted({item.words for item in wants}))
    return TimeLine(
        kind=LineKind.ACCESS,
        words=access.words if visit == 1 else f"{access.words}, visit {visit}",
        spread=spread,
        minutes=whole(spread),
        book=whole(spread),
        why=f"Off and on again {access.minutes} min, once for: {wanting}. Figure: {access.cited}.",
        access=access.id,
        visit=visit,
        serves=tuple(sorted({item.repair for item in wants if item.repair is not None})),
    )
