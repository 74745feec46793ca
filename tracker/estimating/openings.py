"""What has to come off, paid once a visit however many repairs need it."""

from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType

from tracker.estimating.spread import whole
from tracker.loom.access import Reachable, in_order
from tracker.records.document import LineKind
from tracker.records.estimating import RepairEstimate, TimeLine
from tracker.records.loom_pattern import Access
from tracker.records.repair_rule import Spread

NEVER: Mapping[str, str] = MappingProxyType({})
"""Nothing came off before."""

LEAST, MOST = Decimal("0.8"), Decimal(2)
"""Least and most over the table’s minutes: a rusted bolt doubles them (common practice, no source)."""


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
    open_: Reachable,
    wanted: Sequence[Wanted],
    already_off: AbstractSet[str] = frozenset(),
    visit_now: int = 1,
    was_off: Mapping[str, str] = NEVER,
) -> tuple[TimeLine, ...]:
    """One line for each thing that comes off in each visit, in an order in which it can come off.

    `already_off` are accesses that stand open on the visit `visit_now`: neither they nor what they needed
    costs anything there. `was_off` says of accesses that came off before when that was, in words.
    """
    lines: list[TimeLine] = []
    for visit in sorted({item.visit for item in wanted}):
        up = already_off if visit == visit_now else frozenset()
        before = was_off if visit >= visit_now else NEVER
        wants: dict[str, list[Wanted]] = {}
        for item in wanted:
            if item.visit == visit:
                names = (*(name for zone in item.zones for name in open_.off.get(zone, ())), *item.off)
                for name in in_order(names, open_.accesses.get, up):
                    wants.setdefault(name, []).append(item)
        # In the table's order, no matter who asked first.
        listed = [name for name in open_.accesses if name in wants]
        lines.extend(
            _line(open_.accesses[name], wants[name], visit, before.get(name, ""))
            for name in in_order(listed, open_.accesses.get, up)
        )
    return tuple(lines)


def _line(access: Access, wants: Sequence[Wanted], visit: int, was_off: str) -> TimeLine:
    minutes = Decimal(access.minutes)
    spread = Spread(minutes * LEAST, minutes, minutes * MOST)
    wanting = ", ".join(sorted({item.words for item in wants}))
    again = f" {was_off[:1].upper()}{was_off[1:]}." if was_off else ""
    return TimeLine(
        kind=LineKind.ACCESS,
        words=access.words if visit == 1 else f"{access.words}, visit {visit}",
        spread=spread,
        minutes=whole(spread),
        book=whole(spread),
        why=f"Off and on again {access.minutes} min, once for: {wanting}.{again} Figure: {access.cited}.",
        access=access.id,
        visit=visit,
        serves=tuple(sorted({item.repair for item in wants if item.repair is not None})),
    )
