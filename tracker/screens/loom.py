"""The loom of a bike, drawn: arrow keys walk along a circuit, the place under the cursor is told below."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar, Self

from textual.containers import VerticalScroll
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from tracker.desk.desk import Desk
from tracker.desk.loom_picture import LoomPicture, loom_picture
from tracker.errors import LoomcardError
from tracker.loom.draw_text import legend, rows_of
from tracker.loom.find import find, names
from tracker.loom.layout import layout
from tracker.loom.shares import sharing
from tracker.loom.sketch import sketch
from tracker.loom.walk import Here, PlaceCard, Walk, across, along, lit_here, place_card, stand_at, walk_of
from tracker.loom.where import where, words_of
from tracker.papers.where_text import since_words, where_text
from tracker.screens.choose import ChoosePage
from tracker.screens.page import Page
from tracker.screens.paper import TextPage
from tracker.screens.rows import Entry
from tracker.screens.shown import shown

if TYPE_CHECKING:
    from tracker.screens.app import LoomcardApp

LOOKS = {"lit": "bold", "here": "bold reverse", "repair": "bold", "zone": "italic"}
"""How the pieces of the drawing are shown; all of it is in the signs too."""

BELOW = 7
"""Rows kept for what is told of the place under the cursor."""


def bike_of_card(desk: Desk, card: str) -> str:
    """The id of the bike of a card, as a name; empty where there is no card or no bike on it."""
    from tracker.desk.show import card_view

    bike = card_view(desk, card).facts.bike if card else None
    return str(bike.id) if bike else ""


class LoomPage(Page):
    """A loom. Its twins are `loomcard loom BIKE` and `loomcard where NAME`."""

    kind_of_keys: ClassVar[str] = "loom"

    def __init__(self, picture: LoomPicture, walk: Walk, card: str, load: str = "") -> None:
        super().__init__()
        self.picture = picture
        self.walk = walk
        self.card = card
        self.here: Here = stand_at(walk, load)
        self.marked: dict[str, str] = {}
        self.stale = False

    @classmethod
    async def of(cls, app: "LoomcardApp", bike: str = "", card: str = "", load: str = "") -> Self:
        """The loom of a bike, of a card's bike, or the general pattern where neither is named."""
        picture, walk = await app.away(lambda: _walked(app.desk, bike or bike_of_card(app.desk, card)))
        return cls(picture, walk, card, load)

    async def refresh_page(self) -> None:
        """Looks anew once something was said of it; the cursor stays where it was, if that is there."""
        bike = self.picture.bike
        if not self.stale or bike is None:
            return
        self.stale = False
        self.picture, self.walk = await self.fetch(lambda: _walked(self.desk, str(bike.id)))
        here = self.here
        there = here.place if here.place in self.picture.loom.places else ""
        self.here = stand_at(self.walk, here.load, there)
        self.show_loom()

    def body(self) -> Sequence[Widget]:
        """The drawing, and the place below it."""
        place = VerticalScroll(Static(id="whole"), id="place", can_focus=False)
        return (Static(id="drawing"), place)

    def begin(self) -> None:
        """Whose loom it is, then the drawing."""
        self.show_loom()

    def on_resize(self) -> None:
        """More room shows more of the loom."""
        super().on_resize()
        self.show_loom()

    def card_meant(self) -> str:
        """The card it was opened from."""
        return self.card

    def show_loom(self) -> None:
        """Draws the circuit that is walked, and tells of the place under the cursor."""
        width, height = max(60, self.size.width - 2), max(8, self.size.height - BELOW - 3)
        lit = lit_here(self.walk, self.here)
        drawn = layout(
            sketch(self.picture.loom, lit, here=self.here.place, repairs=self.picture.numbered),
            width=width,
            height=height,
        )
        lines = [
            Content.assemble(*((piece.text, LOOKS.get(piece.look, "")) for piece in row))
            for row in rows_of(drawn)
        ]
        said = legend(drawn)
        self.query_one("#drawing", Static).update(
            Content("\n").join([*lines, shown(said)] if said else lines)
        )
        bike = self.picture.bike
        name = f"{bike.name} {bike.registration}".strip() if bike else "the general pattern"
        marked = f"[{self.marked[self.here.load]}]  " if self.here.load in self.marked else ""
        self.head(f"Loom  {marked}{name}   {lit.words or 'no circuit'}   {self.card}".rstrip())
        card = place_card(self.walk, self.here, self.picture.numbered)
        nothing = "No place is here yet. e adds the first part." if self.picture.own else "No place is here."
        self.query_one("#whole", Static).update(shown(self.told(card) if card else nothing))

    def told(self, card: PlaceCard) -> str:
        """The place in a few lines; Enter tells all of it."""
        loom, place, body = self.picture.loom, card.place, card.body
        named = body.words if body else ""
        zones = ", ".join(zone.words for zone in place.zones)
        lines = [f"! Unfinished: {self.picture.unfinished[0]}"] if self.picture.unfinished else []
        lines += [
            f"{place.words}{f'  ({named})' if named and named != place.words else ''}",
            f"Where     {zones or '-'}; {place.off.words}",
            f"Plug      {(body.plug if body else place.plug) or '-'}",
            f"Wires     {'; '.join(self._wire(line) for line in place.wires) or '-'}",
            f"Circuits  {', '.join(words_of(loom, 'device', load) for load in card.through) or '-'}",
        ]
        if card.repairs:
            lines.append(f"Repairs   {', '.join(f'({number})' for number in card.repairs)}")
        return "\n".join(lines)

    @staticmethod
    def _wire(line: object) -> str:
        from tracker.loom.where import WireLine

        assert isinstance(line, WireLine)
        size = f"{line.size_mm2:g} mm2 " if line.size_mm2 else ""
        seen = "" if line.origin.level == "pattern" else f" [{since_words(line.origin)}]"
        return f"{size}{line.colour or ''} {line.length_mm} mm{seen}".strip()

    def go(self, here: Here) -> None:
        """The cursor to a place."""
        self.here = here
        self.show_loom()

    def action_along(self, steps: int) -> None:
        """Along the circuit."""
        self.go(along(self.walk, self.here, steps))

    def action_across(self, steps: int) -> None:
        """To another circuit."""
        self.go(across(self.walk, self.here, steps))

    async def action_open_row(self) -> None:
        """All about the place, and about what it sits in."""
        card = place_card(self.walk, self.here, self.picture.numbered)
        if card is None:
            return
        texts = [where_text(one, ()) for one in (card.body, card.place) if one is not None]
        texts += self._repairs(card)
        await self.loomcard.show(TextPage(card.place.words, "\n\n".join(texts)))

    def _repairs(self, card: PlaceCard) -> list[str]:
        from tracker.papers.twins import repair_line

        done = [one for one in self.picture.repairs if one.number in card.repairs]
        return [f"({one.number}) {repair_line(one.repair)}  {one.card.number}" for one in done]

    async def action_edit(self) -> None:
        """Says what is different here on this bike."""
        if self.picture.bike is None:
            self.say("The general pattern is nobody's bike: open a bike's loom to put it right.", wrong=True)
            return
        from tracker.screens.loom_edit import EditPartPage

        card = place_card(self.walk, self.here, self.picture.numbered)
        await self.loomcard.show(EditPartPage(self, card))

    async def action_undo(self) -> None:
        """Takes the last deed back, and draws the loom as it is then."""
        self.stale = True
        await super().action_undo()

    async def action_facts(self) -> None:
        """All that is known of this loom beyond the pattern, since when and on which card."""
        bike = self.picture.bike
        if bike is None:
            self.say("The general pattern has nothing beyond itself: open a bike's loom.", wrong=True)
            return
        from tracker.screens.loom_facts import FactsPage

        self.stale = True  # what is taken back there changes it
        await self.loomcard.show(FactsPage(str(bike.id), f"{bike.name} {bike.registration}".strip()))

    async def action_find_part(self) -> None:
        """Finds a part by name, by what it does, or by what is wrong with it."""
        await self.loomcard.show(FindPartPage(self))

    async def action_mark(self, what: str) -> None:
        """Marks the load of the circuit on the card: dead, weak or works."""
        from tracker.screens.doing import do_now

        if not self.card:
            self.say("Open the loom from a card (l there) to mark what is dead, weak or works.", wrong=True)
        elif self.here.load and await do_now(
            self.loomcard,
            "look",
            {"card": self.card, what: [words_of(self.picture.loom, "device", self.here.load)]},
        ):
            self.marked[self.here.load] = what
            self.show_loom()

    async def action_trace(self) -> None:
        """The trace of this card beside it."""
        if not self.card:
            self.say("A trace belongs to a card: open the loom from one (l there).", wrong=True)
            return
        from tracker.screens.trace import TracePage

        await self.loomcard.show(TracePage(self.card))

    def action_copy_out(self) -> None:
        """Copies what is told of the place."""
        card = place_card(self.walk, self.here, self.picture.numbered)
        if card is not None:
            self.app.copy_to_clipboard(self.told(card))
            self.say("Copied.")


def _walked(desk: Desk, bike: str) -> tuple[LoomPicture, Walk]:
    picture = loom_picture(desk, bike)
    return picture, walk_of(picture.loom, sharing(picture.loom))


class FindPartPage(ChoosePage):
    """Where is it? Its twin is `loomcard where NAME`."""

    title_words: ClassVar[str] = "Where is it: a name, what it does, what is wrong with it"

    def __init__(self, page: LoomPage) -> None:
        super().__init__()
        self.page = page

    async def narrowed(self, typed: str) -> list[Entry]:
        """The likeliest first."""
        loom = self.page.picture.loom
        hits = find(loom, typed) if typed.strip() else names(loom)
        return [Entry(f"{hit.what} {hit.id}", shown(hit.words)) for hit in hits]

    async def take(self, key: str, typed: str) -> None:
        """Walks to it; a part without a circuit is told at once."""
        what, _, id_ = key.partition(" ")
        page, loom = self.page, self.page.picture.loom
        if not key:
            self.say(f"Nothing in the loom is called “{typed}”.", wrong=True)
            return
        load, place = spot(loom_walk=page.walk, what=what, id_=id_)
        if place or load:
            await self.loomcard.back()
            page.go(stand_at(page.walk, load, place))
            return
        try:
            found = where(loom, what, id_, page.walk.shared)  # type: ignore[arg-type]
        except LoomcardError as error:
            self.say_error(error)
            return
        if found is not None:
            await self.loomcard.instead(TextPage(found.words, where_text(found, ())))


def spot(loom_walk: Walk, what: str, id_: str) -> tuple[str, str]:
    """A load and a place to stand at for a part that was found; both empty where no circuit meets it."""
    loom = loom_walk.loom
    if what == "device" and id_ in loom_walk.shared.uses:
        return id_, ""
    if what == "body":
        inside = [one.id for one in loom.devices.values() if one.body == id_]
        load = next((one for one in inside if one in loom_walk.shared.uses), "")
        own = [one for one in (*loom_walk.through, *loom_walk.loose) if loom.places[one].body == id_]
        place = next(iter(own), "")
        return load, "" if load else place
    if what == "place" and id_ in loom.places:
        return "", id_
    return "", ""
