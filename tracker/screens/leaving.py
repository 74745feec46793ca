"""Leaving a form in which something was typed: what becomes of it."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar

from textual.widget import Widget
from textual.widgets import OptionList, Static

from tracker.screens.page import Page
from tracker.screens.rows import Entry, Rows
from tracker.screens.shown import shown

if TYPE_CHECKING:
    from tracker.screens.form import FormPage


class LeavingPage(Page):
    """Keep it, throw it away, or go on; keeping is the answer that Enter gives."""

    kind_of_keys: ClassVar[str] = "asking"

    def __init__(self, form: "FormPage") -> None:
        super().__init__()
        self.form = form

    def body(self) -> Sequence[Widget]:
        """What was typed, then the answers."""
        typed = [f"  {name.replace('_', ' ')}: {text}" for name, text in self.form.changed().items()]
        return (Static(shown("\n".join(typed[:12])), id="top"), Rows(id="list"))

    def first(self) -> Widget:
        """The answers."""
        return self.query_one(Rows)

    def begin(self) -> None:
        """Asks."""
        name = self.form.title_words
        self.head(f"You typed in “{name}” and did not save it.")
        self.query_one(Rows).fill(
            [
                Entry("keep", shown("Keep it for next time")),
                Entry("throw", shown(f"Throw away what was typed in “{name}”   (x)")),
                Entry("on", shown("Go on typing   (Esc)")),
            ]
        )

    async def action_take(self) -> None:
        """Does as answered."""
        key = self.query_one(Rows).key
        await self.loomcard.back()
        if key != "on":
            await self.form.leave(keep=key == "keep")

    async def action_throw_away(self) -> None:
        """Throws it away."""
        await self.loomcard.back()
        await self.form.leave(keep=False)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """The mouse answers too."""
        event.stop()
        self.app.call_later(self.action_take)
