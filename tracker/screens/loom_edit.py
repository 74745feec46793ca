"""Putting the loom right from its drawing: what can be said of the place under the cursor, then one form."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar, Literal

from tracker.loom.walk import PlaceCard
from tracker.loom.where import words_of
from tracker.records.loom import What
from tracker.screens.choose import ChoosePage
from tracker.screens.loom_form import loom_form
from tracker.screens.rows import Entry
from tracker.screens.shown import shown

if TYPE_CHECKING:
    from tracker.screens.loom import LoomPage

Offer = tuple[str, What | Literal[""], str, str]
"""Verb, kind and id of the part it is about (empty where it is about none), and the offer in words."""

BACK = "Back to the pattern and to all that was seen before; what was built is kept."
EMPTY = "The loom begins empty. What is known now is kept, and comes back the same way."


class EditPartPage(ChoosePage):
    """What is different here? Its twins are the verbs of `loomcard loom`."""

    title_words: ClassVar[str] = "What is different here on this bike? Enter: say it in a form"

    def __init__(self, page: "LoomPage", card: PlaceCard | None) -> None:
        super().__init__()
        self.page = page
        self.place = card

    async def entries(self) -> list[Entry]:
        """Of the place, of what it sits in, of its wires; then what can be added anywhere."""
        return [Entry(f"{verb}|{what} {id_}", shown(words)) for verb, what, id_, words in self.offers()]

    def offers(self) -> Iterator[Offer]:
        """Every change, the likeliest first."""
        loom, card = self.page.picture.loom, self.place
        if card is not None:
            for wire in card.place.wires:
                words = words_of(loom, "wire", wire.id)
                yield "loom wire", "wire", wire.id, f"colour, size, length of the {_wire(words)}"
            if card.body is not None:
                yield from self._of("body", card.body.id)
            yield from self._of("place", card.place.id)
            for wire in card.place.wires:
                words = _wire(words_of(loom, "wire", wire.id))
                yield "loom move", "wire", wire.id, f"ends elsewhere: the {words}"
                yield "loom remove", "wire", wire.id, f"is not there: the {words}"
            for load in card.through:
                yield "loom rename", "device", load, f"is called otherwise: {words_of(loom, 'device', load)}"
        yield "loom add", "", "", "add a box or plug, a place, a wire, or a part (load, switch, fuse)"
        own = "back to the general pattern" if self.page.picture.own else "home-made: start an empty loom"
        yield "loom own", "", "", f"the whole loom is {own}"

    def _now(self, what: What, id_: str) -> str:
        loom = self.page.picture.loom
        zone = loom.known.zones.get(str(getattr(loom.table(what)[id_], "zone", "")))
        return words_of(loom, what, id_) + (f", {zone.words}" if zone else "")

    def _of(self, what: What, id_: str) -> Iterator[Offer]:
        named = words_of(self.page.picture.loom, what, id_)
        yield "loom move", what, id_, f"sits elsewhere: {named}"
        yield "loom rename", what, id_, f"is called otherwise: {named}"
        if what == "body":
            yield "loom plug", what, id_, f"is plugged otherwise: {named}"
        yield "loom remove", what, id_, f"is not there: {named}"

    async def take(self, key: str, typed: str) -> None:
        """Opens the form with the bike and the part in it."""
        if not key:
            self.say(f"Nothing of that is said here: “{typed}”.", wrong=True)
            return
        verb, _, part = key.partition("|")
        page, bike = self.page, self.page.picture.bike
        assert bike is not None
        given = {"bike": str(bike.id)}
        if part.strip():
            given["part"] = part
        if verb == "loom add" and self.place is not None and self.place.place.zones:
            given["zone"] = self.place.place.zones[0].id
        if verb == "loom own" and page.picture.own:
            given["pattern"] = "yes"
        if page.card and verb != "loom own":
            given["card"] = page.card
        if verb == "loom add" and page.here.place:
            given["start"] = page.here.place
        what, _, id_ = part.partition(" ")
        apart = {"loom move": ("zone",) if what == "wire" else ("start", "end"), "loom own": ("pattern",)}
        note = f"Now: {self._now(what, id_)}" if part.strip() else ""  # type: ignore[arg-type]
        if verb == "loom own":
            note = BACK if page.picture.own else EMPTY
        form = await loom_form(self.loomcard, verb, given, note, apart.get(verb, ()))
        page.stale = True
        await self.loomcard.instead(form)


def _wire(words: str) -> str:
    return words if words.startswith("wire") else f"wire: {words}"
