"""A page to choose from: one field to narrow, a list below it; Enter takes."""

from collections.abc import Sequence
from typing import ClassVar

from textual.widget import Widget
from textual.widgets import Input, OptionList

from tracker.records.text import fold
from tracker.screens.fields import Line
from tracker.screens.page import Page, background
from tracker.screens.rows import Entry, Rows
from tracker.screens.shown import shown


class ChoosePage(Page):
    """Narrow by typing, take with Enter; up and down move in the list while the field keeps the letters."""

    kind_of_keys: ClassVar[str] = "choose"
    title_words: ClassVar[str] = ""

    def __init__(self) -> None:
        super().__init__()
        self.everything: list[Entry] = []
        self._for: str | None = None

    def body(self) -> Sequence[Widget]:
        """The field and the list."""
        rows = Rows(id="list")
        rows.can_focus = False
        return (Line("", "type to narrow", id="seek"), rows)

    @property
    def rows(self) -> Rows:
        """The list."""
        return self.query_one("#list", Rows)

    @property
    def line(self) -> Line:
        """The field."""
        return self.query_one("#seek", Line)

    def first(self) -> Widget:
        """The field."""
        return self.line

    def begin(self) -> None:
        """Says what is chosen."""
        self.head(self.title_words)

    async def refresh_page(self) -> None:
        """Fills the list."""
        self.everything = await self.entries()
        await self.list_for(self.line.value)

    async def entries(self) -> list[Entry]:
        """What there is before anything is typed."""
        return []

    @background
    async def on_input_changed(self, event: Input.Changed) -> None:
        """Narrows as it is typed."""
        event.stop()
        if event.value == self.line.value:  # else more was typed meanwhile
            await self.list_for(event.value)

    async def list_for(self, typed: str) -> None:
        """Lists what holds what is typed, unless that is listed already."""
        found = await self.narrowed(typed)
        if typed == self.line.value:
            self.rows.fill(found, from_top=typed != self._for)
            self._for = typed

    async def narrowed(self, typed: str) -> list[Entry]:
        """The entries that hold every word typed."""
        words = fold(typed).split()
        return [e for e in self.everything if all(word in fold(e.words.plain) for word in words)]

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """The mouse takes too."""
        event.stop()
        self.app.call_later(self.action_take)

    def action_down(self) -> None:
        """Down in the list."""
        self.rows.action_cursor_down()

    def action_up(self) -> None:
        """Up in the list."""
        self.rows.action_cursor_up()

    async def action_take(self) -> None:
        """Takes the row under the cursor: of the list for what is typed by now, however quickly it was."""
        if self._for != self.line.value or not self.everything:
            await self.refresh_page()
        await self.take(self.rows.key, self.line.value)

    async def take(self, key: str, typed: str) -> None:
        """What is done with the one taken."""


def hit_line(kind: str, name: str, more: str) -> Entry:
    """Something found as a row."""
    return Entry("", shown(f"{kind:<9} {name:<28} {more}"))
