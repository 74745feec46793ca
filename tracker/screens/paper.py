"""Papers as text: read, copied out (OSC 52, over SSH too), or written to a file."""

from collections.abc import Sequence
from pathlib import Path
from typing import ClassVar

from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from tracker.errors import LoomcardError
from tracker.papers.gather import papers_of
from tracker.papers.paper import Paper
from tracker.papers.plain import plain
from tracker.screens.choose import ChoosePage
from tracker.screens.page import Page
from tracker.screens.rows import Entry
from tracker.screens.shown import shown


class TextPage(Page):
    """A text to be read."""

    kind_of_keys: ClassVar[str] = "paper"

    def __init__(self, title: str, text: str = "") -> None:
        super().__init__()
        self.title_words = title
        self.text = text

    def body(self) -> Sequence[Widget]:
        """The text."""
        return (VerticalScroll(Static(shown(self.text), id="whole"), id="paper"),)

    def first(self) -> Widget:
        """The text scrolls."""
        return self.query_one("#paper")

    def begin(self) -> None:
        """The head."""
        self.head(self.title_words)

    def action_copy_out(self) -> None:
        """Copies it to the terminal's clipboard."""
        self.app.copy_to_clipboard(self.text)
        self.say("Copied. A terminal that does not take it: f writes it to a file.")

    def action_write_text(self) -> None:
        """Writes it beside where the program was started; a file that is there is left alone."""
        self.write(beside(self.title_words, "txt"), (self.text + "\n").encode())

    def write(self, path: Path, data: bytes) -> None:
        """Writes a file and says where, or why not."""
        try:
            path.write_bytes(data)
        except OSError as error:
            self.say(f"{path} could not be written: {error.strerror}.", wrong=True)
        else:
            self.say(f"Written to {path}.")


class PaperPage(TextPage):
    """One paper as text, which goes to a file as PDF too. Its twin is `loomcard paper KIND N --pdf FILE`."""

    kind_of_keys: ClassVar[str] = "one-paper"

    def __init__(self, title: str, paper: Paper, width: int) -> None:
        super().__init__(title, plain(paper, max(60, min(100, width))))
        self.paper = paper

    async def action_write_pdf(self) -> None:
        """Prints it to a PDF beside where the program was started."""
        from tracker.papers.printed import printed

        self.say("Printing ...")
        made, notes = await self.fetch(lambda: printed(self.desk, self.paper))
        self.write(beside(self.title_words, "pdf"), made.content)
        if notes:
            self.say("", notes)


def beside(title: str, ending: str) -> Path:
    """A path of that name where the program was started that no file has yet."""
    name = "".join(sign if sign.isalnum() or sign in "-_." else "-" for sign in title)[:80]
    path, number = Path.cwd() / f"{name}.{ending}", 1
    while path.exists():
        number += 1
        path = Path.cwd() / f"{name}-{number}.{ending}"
    return path


class PapersPage(ChoosePage):
    """The papers that a card has by now. Their twin is `loomcard paper KIND N`."""

    title_words: ClassVar[str] = "Papers"

    def __init__(self, number: str) -> None:
        super().__init__()
        self.number = number
        self._papers: dict[str, Paper] = {}

    async def entries(self) -> list[Entry]:
        """Each with its name."""
        try:
            found = await self.fetch(lambda: papers_of(self.desk, self.number))
        except LoomcardError as error:
            self.say_error(error)
            return []
        self._papers = {f"{n} {kind}": paper for n, (kind, paper) in enumerate(found)}
        return [Entry(key, shown(key.partition(" ")[2].replace("-", " "))) for key in self._papers]

    async def take(self, key: str, typed: str) -> None:
        """Shows it."""
        del typed
        if key in self._papers:
            title = f"{key.partition(' ')[2]} {self.number}"
            await self.loomcard.show(PaperPage(title, self._papers[key], self.size.width - 4))
