"""A page whose body is a list: the cursor, Enter and the mouse, copying a row."""

from collections.abc import Sequence

from textual.widget import Widget
from textual.widgets import OptionList, Static

from tracker.screens.page import Page
from tracker.screens.rows import Rows


class Listing(Page):
    """Something above, rows below."""

    def body(self) -> Sequence[Widget]:
        """What stands above, then the rows."""
        return (Static(id="top"), Rows(id="list"))

    @property
    def rows(self) -> Rows:
        """The rows."""
        return self.query_one("#list", Rows)

    def first(self) -> Widget:
        """The rows have the cursor."""
        return self.rows

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """The mouse opens too; keys come by their own way, in order."""
        event.stop()
        self.app.call_later(self.action_open_row)

    async def action_open_row(self) -> None:
        """Opens what is under the cursor."""

    def action_copy_out(self) -> None:
        """Copies the row under the cursor."""
        if self.rows.words:
            self.app.copy_to_clipboard(self.rows.words)
            self.say("Copied.")
