"""Every key, with the person's own."""

from collections.abc import Sequence
from typing import ClassVar

from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from tracker.screens.commands import help_lines
from tracker.screens.page import Page
from tracker.screens.shown import shown


class KeysPage(Page):
    """The keys. Their twin is docs/keys.md."""

    name_in_bar: ClassVar[str] = "list"

    def body(self) -> Sequence[Widget]:
        """All of them."""
        more = [
            "",
            "In a form: Tab and Enter go to the next field, Shift+Tab back, Esc keeps what is typed.",
            "Ctrl+P lists every deed. Each screen has its command: loomcard --help.",
        ]
        return (VerticalScroll(Static(shown("\n".join([*help_lines(), *more]))), id="paper"),)

    async def refresh_page(self) -> None:
        """The head."""
        self.head("Keys")
