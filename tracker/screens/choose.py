"""A page to choose from: one field to narrow, a list below it; Enter takes."""

from collections.abc import Sequence
from typing import ClassVar

from textual.widget import Widget
from textual.widgets import Input, OptionList

from tracker.records.text import fold
from tracker.screens.form import Line
from tracker.screens.page import Page
from tracker.screens.rows import Entry, Rows


class ChoosePage(Page):
    """Narrow by typing, take with Enter; up and down move in the list while the field keeps the letters."""

    name_in_bar: ClassVar[str] = "form"
    title_words: ClassVar[str] = ""

    def __init__(self) -> None:
        super().__init__()
        self.everything: list[Entry] = []

    def body(self) -> Sequence[Widget]:
        """The field and the list."""
        return (Line(id="seek", compact=True, placeholder="type to narrow"), Rows(id="list"))

    async def refresh_page(self) -> None:
        """Fills the list."""
        self.head(self.title_words)
        self.everything = await self.entries("")
        self.query_one(Rows).fill(self.everything)
        self.query_one(Line).focus()

    async def entries(self, typed: str) -> list[Entry]:
        """What there is for what is typed."""
        del typed
        return self.everything

    async def on_input_changed(self, event: Input.Changed) -> None:
        """Narrows as it is typed."""
        event.stop()
        self.query_one(Rows).fill(await self.narrowed(event.value), from_top=True)

    async def narrowed(self, typed: str) -> list[Entry]:
        """The entries that hold every word typed."""
        words = fold(typed).split()
        return [e for e in self.everything if all(word in fold(e.words.plain) for word in words)]

    async def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter takes the row under the cursor."""
        event.stop()
        await self.take(self.query_one(Rows).key, event.value)

    async def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter in the list takes too."""
        event.stop()
        await self.take(event.option.id or "", self.query_one(Line).value)

    def on_key(self, event: object) -> None:
        """Up and down move the list while the field has the letters."""
        key = getattr(event, "key", "")
        rows = self.query_one(Rows)
        if key == "down":
            rows.action_cursor_down()
        elif key == "up":
            rows.action_cursor_up()

    async def take(self, key: str, typed: str) -> None:
        """What is done with the one taken."""

    async def action_save(self) -> None:
        """Taking is saving here."""
        await self.take(self.query_one(Rows).key, self.query_one(Line).value)
