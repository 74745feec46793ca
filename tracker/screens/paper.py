"""Papers as text: read, copied out (OSC 52, over SSH too), or written to a file."""

from collections.abc import Sequence
from pathlib import Path
from typing import ClassVar

from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from tracker.errors import LoomcardError
from tracker.papers.gather import PAPERS, paper_of
from tracker.papers.plain import plain
from tracker.screens.choose import ChoosePage
from tracker.screens.page import Page
from tracker.screens.rows import Entry
from tracker.screens.shown import shown

BY_CARD = ("job-card", "estimate", "receipt", "loom-record", "charging", "recheck-letter")


class TextPage(Page):
    """A text to be read."""

    name_in_bar: ClassVar[str] = "paper"

    def __init__(self, title: str, text: str) -> None:
        super().__init__()
        self.title_words = title
        self.text = text

    def body(self) -> Sequence[Widget]:
        """The text."""
        return (VerticalScroll(Static(shown(self.text)), id="paper"),)

    async def refresh_page(self) -> None:
        """The head."""
        self.head(self.title_words)
        self.query_one("#paper").focus()

    def action_copy_text(self) -> None:
        """Copies it to the terminal's clipboard."""
        self.app.copy_to_clipboard(self.text)
        self.say("Copied. A terminal that does not take it: f writes it to a file.")

    def action_write_text(self) -> None:
        """Writes it beside where the program was started."""
        name = "".join(sign if sign.isalnum() or sign in "-_." else "-" for sign in self.title_words) + ".txt"
        path = Path.cwd() / name
        try:
            path.write_text(self.text + "\n", "utf-8")
        except OSError as error:
            self.say(f"{path} could not be written: {error.strerror}.", wrong=True)
        else:
            self.say(f"Written to {path}.")


class PapersPage(ChoosePage):
    """The papers of a card. Their twin is `loomcard paper KIND N`."""

    title_words: ClassVar[str] = "Papers"

    def __init__(self, number: str) -> None:
        super().__init__()
        self.number = number

    async def entries(self, typed: str) -> list[Entry]:
        """Those that go by the card, then its numbered documents."""
        del typed
        from tracker.desk.show import card_view

        view = await self.fetch(lambda: card_view(self.desk, self.number))
        documents = [(str(d.kind).replace(" ", "-"), d.number) for d in view.facts.documents]
        named = [(kind, self.number) for kind in BY_CARD] + documents
        return [
            Entry(f"{kind}_{name}", shown(f"{kind:<16} {name}")) for kind, name in named if kind in PAPERS
        ]

    async def take(self, key: str, typed: str) -> None:
        """Shows it."""
        del typed
        kind, _, name = key.partition("_")
        try:
            paper = await self.fetch(lambda: paper_of(self.desk, kind, name))
        except LoomcardError as error:
            self.say_error(error)
            return
        self.loomcard.push_screen(
            TextPage(f"{kind} {name}", plain(paper, max(60, min(100, self.size.width - 4))))
        )
