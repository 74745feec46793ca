"""What is dead, weak or works: the loads of a card's loom in a list, each marked with one key."""

from typing import TYPE_CHECKING, ClassVar, Final

from textual.widgets import Static

from tracker.screens.listing import Listing
from tracker.screens.rows import Entry
from tracker.screens.shown import clipped, shown

if TYPE_CHECKING:
    from tracker.records.loom import Device
    from tracker.screens.trace import TracePage

SEEN: Final = ("filament", "led", "motor", "winding", "heater")
"""Kinds of load that anybody sees, hears or feels: they come first."""


class MarksPage(Listing):
    """The loads of a card's loom. Its twin is `loomcard look N --dead NAME --works NAME`."""

    kind_of_keys: ClassVar[str] = "marks"

    def __init__(self, page: "TracePage") -> None:
        super().__init__()
        self.page = page

    def begin(self) -> None:
        """Whose loads they are."""
        self.head(f"Marks  {self.page.card}")

    def card_meant(self) -> str:
        """The trace's card."""
        return self.page.card

    async def refresh_page(self) -> None:
        """Every load with what is said of it, and where it sits."""
        from tracker.desk.trace import card_trace

        told = self.page.told
        if told is None:
            return
        bench = told.kept.trace.bench
        kept = await self.fetch(lambda: card_trace(self.desk, self.page.card, bench))
        said: dict[str, list[str]] = {}
        for mark in kept.trace.marks:
            said.setdefault(mark.load, []).append(str(mark.symptom))
        loom = kept.trace.loom
        loads = sorted((one for one in loom.devices.values() if one.is_load), key=_order)
        self.query_one("#top", Static).update(
            shown("What each does where it should work; what you do not know, leave.")
        )
        width = max(40, self.size.width - 2)
        self.rows.fill([
            Entry(one.id, shown(clipped(f"{', '.join(said.get(one.id, [])) or '-':<16} {one.words}", width)))
            for one in loads
        ])  # fmt: skip

    async def action_mark(self, what: str) -> None:
        """Marks the load under the cursor, and goes on to the next."""
        from tracker.screens.doing import do_now

        load = self.rows.key
        if load and await do_now(self.loomcard, "look", {"card": self.page.card, what: [load]}):
            self.rows.action_cursor_down()

    async def action_more(self) -> None:
        """The other symptoms, and when they show: the form."""
        from tracker.screens.doing import open_deed

        await open_deed(self.loomcard, "look", card=self.page.card)

    async def action_open_row(self) -> None:
        """Back to the trace, which thinks anew."""
        await self.loomcard.back()


def _order(one: "Device") -> tuple[bool, str]:
    return one.kind not in SEEN, one.words
