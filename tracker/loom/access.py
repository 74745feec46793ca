"""What comes off to reach a place, each thing once, whatever must be off first before it."""

from collections.abc import Iterable
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from tracker.loom.fits import fits
from tracker.records.loom_made import Loom
from tracker.records.loom_pattern import Access


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
    wanted = [*(name for zone in zones if zone in known.zones for name in known.zones[zone].off), *also]
    usual = {name: feature.usual for name, feature in known.features.items()}
    answers = {**usual, **loom.supposed, **loom.features}
    order: dict[str, Access] = {}
    doubtful: dict[str, Access] = {}

    def take(name: str, above: frozenset[str]) -> None:
        access = known.accesses.get(name)
        if access is None or name in up or name in order or name in above:
            return
        if fits(access.when, loom.features)[0] is None:
            doubtful[name] = access
        if not fits(access.when, answers)[0]:
            return
        for need in access.needs:
            take(need, above | {name})
        order[name] = access

    for name in wanted:
        take(name, frozenset())
    return TakenOff(
        tuple(order.values()), sum(access.minutes for access in order.values()), tuple(doubtful.values())
    )


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
