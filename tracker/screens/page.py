"""What every screen shares: a head, a body, what was said last, the key bar; and the way to the desk."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, ClassVar, TypeVar, cast

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Static

from tracker.desk.desk import Desk
from tracker.errors import LoomcardError
from tracker.records.problem import Mistakes
from tracker.screens.commands import bar_text, bindings
from tracker.screens.shown import shown

if TYPE_CHECKING:
    from tracker.screens.app import LoomcardApp

T = TypeVar("T")


class Page(Screen[None]):
    """A screen of the program. `name_in_bar` chooses its keys in `commands.py`."""

    name_in_bar: ClassVar[str] = "list"

    def __init__(self) -> None:
        super().__init__()
        for binding in bindings(self.name_in_bar, self.loomcard_keys()):
            self._bindings.key_to_bindings.setdefault(binding.key, []).append(binding)

    @staticmethod
    def loomcard_keys() -> dict[str, str]:
        """The person's own keys."""
        from tracker.settings import read_preferences

        return read_preferences().keys

    @property
    def loomcard(self) -> "LoomcardApp":
        """The app, as what it is."""
        return cast("LoomcardApp", self.app)

    @property
    def desk(self) -> Desk:
        """The desk."""
        return self.loomcard.desk

    async def fetch(self, look: Callable[[], T]) -> T:
        """Runs something with the desk away from the event loop: the screen stays alive meanwhile."""
        return await self.loomcard.away(look)

    def compose(self) -> ComposeResult:
        """Head, body, what was said, keys."""
        yield Static(id="head")
        yield from self.body()
        with Vertical(id="foot"):
            yield Static(id="said")
            yield Static(id="keybar")

    def body(self) -> Sequence[Widget]:
        """The widgets between head and foot."""
        return ()

    def on_mount(self) -> None:
        """Paints first, then looks."""
        self.show_keys()
        self.call_after_refresh(self.refresh_page)

    def on_resize(self) -> None:
        """A narrower bar holds fewer words."""
        self.show_keys()

    def show_keys(self) -> None:
        """The key bar, as wide as there is room."""
        bars = self.query("#keybar")
        if bars:
            bars.first(Static).update(shown(bar_text(self.name_in_bar, max(20, self.size.width - 2))))

    async def refresh_page(self) -> None:
        """Looks anew. Screens override it."""

    async def on_screen_resume(self) -> None:
        """What was done elsewhere shows at once."""
        await self.refresh_page()

    def head(self, text: str) -> None:
        """The head line."""
        self.query_one("#head", Static).update(shown(text))

    def say(self, words: str, notes: Sequence[str] = (), *, wrong: bool = False) -> None:
        """What was done or refused, kept in sight until the next deed."""
        sign = "! " if wrong else ""
        lines = [f"{sign}{words}", *(f"  ! {note}" for note in notes[:3])]
        said = self.query_one("#said", Static)
        said.update(shown("\n".join(lines)))
        said.set_class(wrong, "wrong")

    def say_error(self, error: LoomcardError) -> None:
        """A refusal in words."""
        problems = error.problems if isinstance(error, Mistakes) else ()
        more = [f"{problem.field}: {problem.sentence}" for problem in problems] or (
            [error.hint] if error.hint else []
        )
        self.say(error.sentence, more, wrong=True)

    def action_back(self) -> None:
        """Goes back."""
        self.app.pop_screen()

    def action_keys(self) -> None:
        """Shows every key."""
        from tracker.screens.keys import KeysPage

        self.app.push_screen(KeysPage())

    def action_book_in(self) -> None:
        """Books a bike in."""
        from tracker.screens.book_in import BookInPage

        self.app.push_screen(BookInPage())

    def action_find(self) -> None:
        """Finds by a few letters."""
        from tracker.screens.find import FindPage

        self.app.push_screen(FindPage())

    async def action_undo(self) -> None:
        """Takes back the last deed of the person at the keyboard."""
        from tracker.desk.undoing import Undo

        try:
            entry = await self.fetch(lambda: self.desk.do(Undo()))
        except LoomcardError as error:
            self.say_error(error)
            return
        self.say(f"taken back: {entry.words}")
        await self.refresh_page()

    def action_deeds(self) -> None:
        """Every deed by name, for the card that is meant."""
        from tracker.screens.deeds import DeedsPage

        self.app.push_screen(DeedsPage(self.card_meant()))

    def card_meant(self) -> str:
        """The number of the card under the cursor, where there is one."""
        return ""
