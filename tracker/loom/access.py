"""What comes off to reach a place, each thing once, whatever must be off first before it."""

from collections.abc import Callable, Iterable, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field
from types import MappingProxyType

from tracker.loom.fits import fits
from tracker.records.loom_made import Loom
from tracker.records.loom_pattern import Access, Known


@dataclass(frozen=True, slots=True)
class Reachable:
    """What comes off on a bike: `off` maps a zone to the accesses that open it, `accesses` by id.

    `doubtful` are accesses that it may have or not, for want of an answer.
    """

    off: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    accesses: Mapping[str, Access] = field(default_factory=dict)
    doubtful: Mapping[str, Access] = field(default_factory=dict)


def reachable(
    known: Known, features: Mapping[str, str], supposed: Mapping[str, str] = MappingProxyType({})
) -> Reachable:
    """What comes off on a bike of these features; unanswered, as is supposed or as most have it."""
    answers = _as_most(known, features, supposed)
    return Reachable(
        off={zone.id: zone.off for zone in known.zones.values()},
        accesses={name: one for name, one in known.accesses.items() if fits(one.when, answers)[0]},
        doubtful={name: one for name, one in known.accesses.items() if fits(one.when, features)[0] is None},
    )


def in_order(
    names: Iterable[str], access_of: Callable[[str], Access | None], up: AbstractSet[str] = frozenset()
) -> tuple[str, ...]:
    """Some accesses and what must be off before them, each once, in an order in which they can come off.

    Those in `up` are off already: neither they nor what they needed is in it. Names for which `access_of` has
    nothing are passed over; accesses that need each other in a ring are each taken once.
    """
    order: dict[str, None] = {}

    def take(name: str, above: frozenset[str]) -> None:
        if name in up or name in order or name in above:
            return
        access = access_of(name)
        if access is None:
            return
        for need in access.needs:
            take(need, above | {name})
        order[name] = None

    for name in names:
        take(name, frozenset())
    return tuple(order)


@dataclass(frozen=True, slots=True)
class TakenOff:
    """What comes off, in an order in which it can; `minutes` off and on again, all together.

    `doubtful` may be in the way or not, for want of an answer; it is counted where most bikes have it.
    """

    off: tuple[Access, ...]
    minutes: int
    doubtful: tuple[Access, ...] = ()

    @property
    def words(self) -> str:
        """As it is said: “seat, fuel tank (23 min)”."""
        named = ", ".join(access.words for access in self.off)
        return f"{named} ({self.minutes} min)" if named else "nothing"


def to_reach(
    loom: Loom, zones: Iterable[str], also: Iterable[str] = (), up: AbstractSet[str] = frozenset()
) -> TakenOff:
    """What comes off for some zones together. `also` are accesses wanted beyond the zones' own.

    `up` are those that are off already: they cost nothing, and neither does what they needed.
    Zones and accesses that nobody knows are passed over.
    """
    known = loom.known
    answers = _as_most(known, loom.features, loom.supposed)
    doubtful: dict[str, Access] = {}

    def on_this_bike(name: str) -> Access | None:
        access = known.accesses.get(name)
        if access is None:
            return None
        if fits(access.when, loom.features)[0] is None:
            doubtful[name] = access
        return access if fits(access.when, answers)[0] else None

    wanted = [*(name for zone in zones if zone in known.zones for name in known.zones[zone].off), *also]
    off = tuple(known.accesses[name] for name in in_order(wanted, on_this_bike, up))
    return TakenOff(off, sum(access.minutes for access in off), tuple(doubtful.values()))


def zones_open(loom: Loom, off: AbstractSet[str]) -> tuple[str, ...]:
    """The zones, in words, that something comes off for on this bike and that stand open with `off` off."""
    open_ = reachable(loom.known, loom.features, loom.supposed)
    needed = {zone: set(names) & open_.accesses.keys() for zone, names in open_.off.items()}
    return tuple(loom.known.zones[zone].words for zone, names in needed.items() if names and names <= off)


def _as_most(known: Known, features: Mapping[str, str], supposed: Mapping[str, str]) -> dict[str, str]:
    usual = {name: feature.usual for name, feature in known.features.items()}
    return {**usual, **supposed, **features}


def of_part(loom: Loom, id_: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The zones and the accesses beyond them of a body, a place, a device or a wire (both its ends)."""
    if id_ in loom.bodies:
        body = loom.bodies[id_]
        return (body.zone,), body.off
    if id_ in loom.places:
        place = loom.places[id_]
        body_off = loom.bodies[place.body].off if place.body in loom.bodies else ()
        return (place.zone,), (*body_off, *place.off)
    ends = loom.devices.get(id_) or loom.wires.get(id_)
    if ends is None:
        return (), ()
    if id_ in loom.devices and loom.devices[id_].body in loom.bodies:
        return of_part(loom, loom.devices[id_].body)
    parts = [of_part(loom, end.place) for end in (ends.a, ends.b)]
    zones = dict.fromkeys(zone for part in parts for zone in part[0])
    off = dict.fromkeys(name for part in parts for name in part[1])
    return tuple(zones), tuple(off)
