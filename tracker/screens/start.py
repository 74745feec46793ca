"""What stands there while the file is opened: the frame of the day sheet; keys wait until it is ready."""

from collections.abc import Sequence
from typing import ClassVar

from textual.containers import Vertical
from textual.widget import Widget
from textual.widgets import Static

from tracker.screens.page import Page
from tracker.screens.shown import shown


class StartPage(Page):
    """The first paint."""

    kind_of_keys: ClassVar[str] = "day"

    def body(self) -> Sequence[Widget]:
        """What is being opened."""
        return (Static(id="top"), Vertical(id="list"))

    def begin(self) -> None:
        """The name at least."""
        self.head("Loomcard")
        words = [self.loomcard.note] if self.loomcard.note else []
        self.query_one("#top", Static).update(shown("\n".join([*words, "Opening ..."])))

    async def action_in_turn(self, command: str) -> None:
        """What is typed ahead goes to the day sheet, or to the first questions."""
        await self.loomcard.opened.wait()
        page = self.loomcard.screen
        if isinstance(page, Page) and page is not self:
            await page.action_in_turn(command)
