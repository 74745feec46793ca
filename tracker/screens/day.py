"""The day sheet: cards under their next thing, the oldest wait first, what stops each."""

from collections.abc import Sequence
from typing import ClassVar

from textual.content import Content
from textual.widget import Widget
from textual.widgets import OptionList, Static

from tracker.desk.day import DayRow, DaySheet, day_sheet, waited
from tracker.papers.twins import cut
from tracker.records.money import Money
from tracker.screens.page import Page
from tracker.screens.rows import Entry, Rows
from tracker.screens.shown import shown


class DayPage(Page):
    """Today. Its twin is `loomcard day`."""

    name_in_bar: ClassVar[str] = "day"

    def body(self) -> Sequence[Widget]:
        """Counts, then the cards."""
        return (Static(id="top"), Rows(id="list"))

    async def refresh_page(self) -> None:
        """Looks at every card that still wants something."""
        sheet = await self.fetch(lambda: day_sheet(self.desk))
        who = f"   {self.desk.who}" if self.desk.who else ""
        self.head(f"{sheet.shop or 'Loomcard'}   {sheet.on:%a %d %b %Y}{who}")
        self.query_one("#top", Static).update(shown("\n".join(self._top(sheet))))
        rows = self.query_one(Rows)
        rows.fill(self._entries(sheet, max(60, self.size.width - 2)))
        if self.focused is None:
            rows.focus()

    def _top(self, sheet: DaySheet) -> list[str]:
        lines = [self.loomcard.note] if self.loomcard.note else []
        counts = "  ".join(f"{group.name} {len(group.rows)}" for group in sheet.groups)
        owed = f"   owed {Money(sheet.owed_minor, sheet.currency)}" if sheet.owed_minor else ""
        lines.append((counts or "Nothing is waiting. Press b to book a bike in.") + owed)
        clock = self.desk.clock
        lines += [
            f"on the clock: {on.mechanic}, {on.number} ({on.kind}) since {clock.local(on.since):%H:%M}"
            for on in sheet.on_the_clock
        ]
        promised = ", ".join(f"{row.number} {cut(row.who, 16)}" for row in sheet.promised[:4])
        if promised:
            lines.append(f"promised: {promised}")
        if sheet.rechecks:
            due = ", ".join(f"{row.number} {cut(row.who, 16)}" for row in sheet.rechecks[:4])
            lines.append(f"recheck due: {due}")
        return lines

    def _entries(self, sheet: DaySheet, width: int) -> list[Entry]:
        entries: list[Entry] = []
        now = self.desk.clock.now()
        for group in sheet.groups:
            entries.append(Entry("", shown(group.name.upper(), "bold"), can_stand=False))
            entries += [
                Entry(row.number, self._line(row, waited(row.since, now), width)) for row in group.rows
            ]
        return entries

    def _line(self, row: DayRow, wait: str, width: int) -> Content:
        room = width - 10 - 18 - 22 - 8
        who, bike, complaint = cut(row.who, 16), cut(row.bike, 20), cut(row.complaint, room)
        first = f"{row.number:<9} {who:<17} {bike:<21} {complaint:<{room}} {wait:>6}"
        stops = "; ".join(row.stops)
        stop = f"   ! {stops}" if stops else ""
        return Content.assemble(first, "\n", (f"          > {cut(row.next + stop, width - 12)}", "$accent"))

    def card_meant(self) -> str:
        """The card under the cursor."""
        return self.query_one(Rows).key

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter opens the card."""
        event.stop()
        self.action_open_row()

    def action_open_row(self) -> None:
        """Opens the card under the cursor."""
        from tracker.screens.card import CardPage

        if self.card_meant():
            self.app.push_screen(CardPage(self.card_meant()))

    async def action_next_thing(self) -> None:
        """Space does the next thing on the card under the cursor."""
        if self.card_meant():
            from tracker.screens.next_thing import open_next

            await open_next(self, self.card_meant())

    def action_show_list(self, name: str) -> None:
        """Opens one of the lists."""
        from tracker.screens.lists import ListPage

        self.app.push_screen(ListPage(name))

    def action_choose_who(self) -> None:
        """Chooses who is at the keyboard."""
        from tracker.screens.lists import ListPage

        self.app.push_screen(ListPage("mechanics"))

    def action_leave(self) -> None:
        """Leaves; drafts are kept."""
        self.app.exit()
