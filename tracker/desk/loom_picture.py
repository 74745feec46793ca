"""What a drawing of a bike's loom shows beside the loom: every repair done on it, in order, numbered."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from tracker.desk.bike_loom import is_own, loom_of
from tracker.desk.bikes import bike_named
from tracker.desk.loom_known import is_changed, unfinished_of
from tracker.records.bike import Bike
from tracker.records.card import Card
from tracker.records.work import Repair
from tracker.store.reader import Reader

if TYPE_CHECKING:
    from tracker.desk.desk import Desk
    from tracker.loom.sketch import NumberedRepair
    from tracker.records.loom_made import Loom


@dataclass(frozen=True, slots=True)
class OnBike:
    """A repair done on a bike, with its number on the drawing and the card it was done on."""

    number: int
    repair: Repair
    card: Card


@dataclass(frozen=True, slots=True)
class LoomPicture:
    """A loom with the repairs on it; `bike` is None for the general pattern. `own` is a home-made loom's,
    `unfinished` what hangs loose by what was said of it, in sentences.
    """

    loom: "Loom"
    bike: Bike | None
    repairs: tuple[OnBike, ...] = ()
    unfinished: tuple[str, ...] = ()
    own: bool = False

    @property
    def numbered(self) -> "tuple[NumberedRepair, ...]":
        """The repairs as a sketch takes them."""
        return tuple(numbered(one.number, one.repair) for one in self.repairs)


def loom_picture(desk: "Desk", name: str) -> LoomPicture:
    """The loom of the bike that is named, or the general pattern where none is."""
    seeds = desk.seeds

    def look(reader: Reader) -> tuple[LoomPicture, bool]:
        bike = bike_named(reader, name) if name else None
        done = repairs_on(reader, bike) if bike else ()
        own = bike is not None and is_own(reader, bike)
        picture = LoomPicture(loom_of(reader, seeds, bike), bike, done, own=own)
        return picture, bike is not None and is_changed(reader, bike)

    picture, changed = desk.read(look)
    return replace(picture, unfinished=unfinished_of(picture.loom, changed=changed))


def repairs_on(reader: Reader, bike: Bike) -> tuple[OnBike, ...]:
    """Every repair done on a bike, the first one first."""
    cards = {card.id: card for card in reader.all(Card, bike=bike.id)}
    done = [
        (one.done_at, one.id, one)
        for one in reader.all(Repair, card=tuple(cards))
        if one.done_at is not None and not one.dropped
    ]
    done.sort(key=lambda one: one[:2])
    return tuple(OnBike(number, one, cards[one.card]) for number, (_, _, one) in enumerate(done, 1))


def numbered(number: int, repair: Repair) -> "NumberedRepair":
    """A repair as a sketch takes it: at its splice, the end it was measured from, the other end, what was
    mended; else in the zone it was priced for."""
    from tracker.loom.sketch import NumberedRepair

    splice = f"splice-{repair.id}" if repair.splice else ""
    named = (splice, repair.mm_end, repair.wire_from, repair.wire_to, repair.asked.get("@place", ""))
    return NumberedRepair(
        number,
        tuple(dict.fromkeys(place for place in named if place)),
        repair.asked.get("@zone", ""),
    )
