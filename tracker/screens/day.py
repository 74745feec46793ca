"""The day sheet: cards under their next thing, the oldest wait first, what stops each."""

from typing import ClassVar

from textual.content import Content
from textual.widgets import Static

from tracker.desk.day import DayRow, DaySheet, day_sheet, waited
from tracker.desk.forms import left_typed
from tracker.papers.twins import cut
from tracker.records.money import Money
from tracker.screens.listing import Listing
from tracker.screens.rows import Entry
from tracker.screens.shown import fitted, next_words, shown

WIDE = 110
"""Columns from which on what stops a card has a column of its own."""


class DayPage(Listing):
    """Today. Its twin is `loomcard day`."""

    kind_of_keys: ClassVar[str] = "day"

    def __init__(self) -> None:
        super().__init__()
        self._sheet: DaySheet | None = None
        self._by_number: dict[str, DayRow] = {}

    def begin(self) -> None:
        """Says first what a person must know of this file."""
        self.head("Loomcard")
        self.rows.moved = self._say_next
        if self.loomcard.wrong_keys:
            self.say("Your own keys:", self.loomcard.wrong_keys, wrong=True)

    async def refresh_page(self) -> None:
        """Looks at every card that still wants something."""
        sheet, typed = await self.fetch(lambda: (day_sheet(self.desk), left_typed(self.desk)))
        self._sheet = sheet
        self._by_number = {row.number: row for group in sheet.groups for row in group.rows}
        who = f"   {self.desk.who}" if self.desk.who else "   (w: who are you?)"
        self.head(f"{sheet.shop or 'Loomcard'}   {sheet.on:%a %d %b %Y}{who}")
        self.query_one("#top", Static).update(shown("\n".join(self._top(sheet, typed))))
        self._fill()

    def on_resize(self) -> None:
        """More room shows more."""
        super().on_resize()
        self._fill()

    def _fill(self) -> None:
        if self._sheet is not None:
            self.rows.fill(self._entries(self._sheet, max(60, self.size.width - 3)))
            self._say_next()

    def _top(self, sheet: DaySheet, typed: tuple[tuple[str, str], ...]) -> list[str]:
        width = max(60, self.size.width - 2)
        lines = [self.loomcard.note] if self.loomcard.note else []
        counts = "  ".join(f"{group.name} {len(group.rows)}" for group in sheet.groups)
        owed = (
            f"   owed {Money(sheet.owed_minor, sheet.currency)} {sheet.currency}" if sheet.owed_minor else ""
        )
        lines.append((counts or "Nothing is waiting. Press b to book a bike in.") + owed)
        clock = self.desk.clock
        on = [
            f"{one.mechanic} {one.number} {one.kind} since {clock.local(one.since):%H:%M}"
            for one in sheet.on_the_clock
        ]
        lines += [f"on the clock: {'; '.join(on)}"] if on else []
        promised = ", ".join(f"{row.number} {cut(row.who, 16)}" for row in sheet.promised)
        lines += [f"promised by today: {promised}"] if promised else []
        due = ", ".join(f"{row.number} {cut(row.who, 16)} {row.phone}" for row in sheet.rechecks)
        lines += [f"recheck due: {due}"] if due else []
        half = ", ".join(f"{form} {subject}".strip() for form, subject in typed)
        lines += [f"half typed: {half}"] if half else []
        return [cut(line, width) for line in lines]

    def _entries(self, sheet: DaySheet, width: int) -> list[Entry]:
        entries: list[Entry] = []
        now = self.desk.clock.now()
        for group in sheet.groups:
            entries.append(Entry("", shown(group.name.upper(), "bold"), can_stand=False))
            entries += [Entry(row.number, _line(row, waited(row.since, now), width)) for row in group.rows]
        return entries

    def _say_next(self) -> None:
        """Says the next thing of the card under the cursor."""
        row = self._by_number.get(self.card_meant())
        self.next_line(next_words(row.next, row.stops, self.size.width - 2) if row else Content(""))

    def card_meant(self) -> str:
        """The card under the cursor."""
        return self.rows.key

    async def action_open_row(self) -> None:
        """Opens the card under the cursor."""
        from tracker.screens.card import CardPage

        if self.card_meant():
            await self.loomcard.show(CardPage(self.card_meant()))

    async def action_next_thing(self) -> None:
        """Space does the next thing on the card under the cursor."""
        from tracker.screens.next_thing import open_next

        if self.card_meant():
            await open_next(self, self.card_meant())
        else:
            await self.action_book_in()

    def action_leave(self) -> None:
        """Leaves; drafts are kept."""
        self.loomcard.leave()


def _line(row: DayRow, wait: str, width: int) -> Content:
    """Number, who, bike, complaint, how long; what stops it by a sign, in words where there is room."""
    stop = "; ".join(row.stops)
    beside = max(0, width - WIDE + 30) if width >= WIDE else 0
    room = width - beside - 10 - 16 - 19 - 9
    cells = [
        fitted(row.number, 9), fitted(row.who, 15), fitted(row.bike, 18), fitted(row.complaint, room),
        f"{wait:>6}", "!" if stop else " ",
    ]  # fmt: skip
    return shown(" ".join(cells) + (f" {fitted(stop, beside - 1)}" if beside else ""))
