"""One card: the life line, the next thing, and a row for each part of its life that opens in place."""

import textwrap
from typing import ClassVar

from textual.content import Content
from textual.widgets import Static

from tracker.desk.show import CardView, card_view
from tracker.errors import LoomcardError
from tracker.papers.twins import card_head, card_rows, card_text, cut, life_line
from tracker.records.money import Money
from tracker.screens.listing import Listing
from tracker.screens.page import background
from tracker.screens.rows import Entry
from tracker.screens.shown import next_words, shown

CLOCK_S = 30
"""A running clock is looked at anew so often."""

PRICE_HINT = "m opens every line to its sum and its rule; o sets ways beside each other"

ALWAYS = frozenset(
    {"Complaint", "Found", "Price", "Agreed", "Fix", "Parts", "Time", "Readings", "Bill", "Recheck"}
)
"""Rows that stand there even while they are empty."""


class CardPage(Listing):
    """A card. Its twin is `loomcard card N`."""

    kind_of_keys: ClassVar[str] = "card"

    def __init__(self, number: str) -> None:
        super().__init__()
        self.number = number
        self._open: set[str] = set()
        self._view: CardView | None = None
        self._contents: list[tuple[str, list[str]]] = []

    def begin(self) -> None:
        """The clock goes on while the card is open."""
        self.head(self.number)
        self.set_interval(CLOCK_S, self._tick)

    @background
    async def _tick(self) -> None:
        if self.is_current and self._view is not None and self._clocks(self._view):
            await self.refresh_page()

    async def refresh_page(self) -> None:
        """Looks at the card anew."""

        def look() -> tuple[CardView, list[tuple[str, list[str]]]]:
            view = card_view(self.desk, self.number)
            return view, card_rows(view, self.desk.clock)

        try:
            view, self._contents = await self.fetch(look)
        except LoomcardError as error:  # taken back meanwhile
            self.say_error(error)
            return
        self._view = view
        self.head(card_head(view))
        self.query_one("#top", Static).update(self._top(view))
        self._fill()

    def on_resize(self) -> None:
        """More room shows more."""
        super().on_resize()
        if self._view is not None:
            self._fill()

    def _top(self, view: CardView) -> Content:
        lines = [shown(life_line(view))]
        if view.stands.next is None:
            lines.append(shown("This card is over."))
        else:
            stops = [stop.words for stop in view.stands.stops]
            lines.append(next_words(view.stands.next.words, stops, self.size.width))
        lines += [shown(cut(f"  also: {thing.words}", 76)) for thing in view.stands.also[:1]]
        if clock := self._clock(view):
            lines.append(shown(clock))
        return Content("\n").join(lines)

    def _clocks(self, view: CardView) -> list[str]:
        clock = self.desk.clock
        return [
            f"{view.mechanics.get(one.mechanic, '')} {one.kind}"
            f" {(clock.now() - one.on_at).total_seconds() / 60:.0f} min"
            for one in view.facts.times
            if one.off_at is None
        ]

    def _clock(self, view: CardView) -> str:
        """Whose clock runs, and what is left of the go-ahead."""
        running, left = self._clocks(view), view.left
        words = []
        if left is not None:
            words += [f"{left.minutes} min"] if left.minutes is not None else []
            words += [str(Money(left.minor, view.facts.shop.currency))] if left.minor is not None else []
        parts = [f"on the clock: {', '.join(running)}"] if running else []
        if running and view.left_words:
            parts.append(view.left_words)
        elif words:
            parts.append(f"left of the go-ahead: {' and '.join(words)}")
        return "   ".join(parts)

    def _fill(self) -> None:
        width = max(60, self.size.width - 4)
        entries = []
        for name, contents in self._contents:
            kept = [content for content in contents if content]
            if not kept and name not in ALWAYS:
                continue
            entries.append(Entry(name, shown(self._row(name, kept or ["-"], width))))
        self.rows.fill(entries)

    def _row(self, name: str, kept: list[str], width: int) -> str:
        if name in self._open:
            kept = [*kept, PRICE_HINT] if name == "Price" and kept != ["-"] else kept
            lines = [line for one in kept for line in (textwrap.wrap(one, width - 13) or [one])]
            return "\n".join(f"{name if n == 0 else '':<11}{line}" for n, line in enumerate(lines))
        more = f"  (+{len(kept) - 1})" if len(kept) > 1 else ""
        return f"{name:<11}{cut(kept[0], width - 11 - len(more))}{more}"

    def card_meant(self) -> str:
        """This card."""
        return self.number

    async def action_open_row(self) -> None:
        """Opens the row under the cursor in place, or closes it."""
        self._open ^= {self.rows.key}
        self._fill()

    async def action_back(self) -> None:
        """Closes an open row first, then the card."""
        if self._open:
            self._open.clear()
            self._fill()
        else:
            await self.loomcard.back()

    async def action_next_thing(self) -> None:
        """Space does the next thing."""
        from tracker.screens.next_thing import open_next

        await open_next(self, self.number)

    async def action_plan_repair(self) -> None:
        """Chooses a repair, or prices what is planned."""
        from tracker.screens.plan import ChooseRulePage

        await self.loomcard.show(ChooseRulePage(self.number))

    async def action_price(self) -> None:
        """The price opened, line by line."""
        from tracker.screens.price import PricePage

        await self.loomcard.show(PricePage(self.number))

    async def action_ways(self) -> None:
        """Ways to mend it, priced beside each other."""
        from tracker.screens.ways import WaysPage

        await self.loomcard.show(WaysPage(self.number))

    async def action_charging(self) -> None:
        """The charging check."""
        from tracker.screens.charging import ChargingPage

        await self.loomcard.show(ChargingPage(self.number))

    async def action_trace(self) -> None:
        """What it can be, and the next check."""
        from tracker.screens.trace import TracePage

        await self.loomcard.show(TracePage(self.number))

    async def action_papers(self) -> None:
        """The papers of this card."""
        from tracker.screens.paper import PapersPage

        await self.loomcard.show(PapersPage(self.number))

    def action_copy_out(self) -> None:
        """Copies the whole card as text."""
        if self._view is not None:
            self.app.copy_to_clipboard(card_text(self._view, self.desk.clock))
            self.say("The card is copied as text.")
