"""What every screen shares: a head, a body, what was said last, the key bar; and the way to the desk."""

import asyncio
import contextlib
from collections.abc import Awaitable, Callable, Sequence
from functools import wraps
from typing import TYPE_CHECKING, ClassVar, ParamSpec, TypeVar, cast

from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Static

from tracker.errors import LoomcardError
from tracker.records.problem import Mistakes
from tracker.screens.commands import BY_ID, bar_text, bindings
from tracker.screens.shown import padded, shown

if TYPE_CHECKING:
    from tracker.desk.desk import Desk
    from tracker.screens.app import LoomcardApp

T = TypeVar("T")
P = ParamSpec("P")

PATIENCE_S = 2.0
"""How long to wait for a widget to take its keys before going on all the same."""


WAYS_OUT = frozenset({"back", "quit"})
"""Commands that need not wait for what is looked up."""


def put(line: Static, words: Content) -> None:
    """Other words into a line as high as its words: the screen is laid out anew only where that changes.

    A layout for every row that the cursor passes would paint the screen three times more for each key.
    """
    room = line.content_region
    least = line.styles.min_height
    height = words.get_height(line.styles.get_rules(), room.width) if room.width else 0
    fits = max(height, int(least.value) if least else 0) == room.height
    line.update(words, layout=not room.width or not fits)


class ClosedError(Exception):
    """The page was closed while something was looked up for it."""


def background(method: Callable[P, Awaitable[None]]) -> Callable[P, Awaitable[None]]:
    """For what runs beside the keys (first looks, timers, typing): it ends where its page was closed."""

    @wraps(method)
    async def run(*args: P.args, **given: P.kwargs) -> None:
        with contextlib.suppress(ClosedError):
            await method(*args, **given)

    return run


class Page(Screen[None]):
    """A screen of the program. `kind_of_keys` chooses its keys in `commands.py`."""

    kind_of_keys: ClassVar[str] = "list"
    AUTO_FOCUS = ""

    def __init__(self) -> None:
        super().__init__()
        self.loomcard = cast("LoomcardApp", self.app)  # kept: a page that was closed has no app any more
        self._head = ""
        self.ready = asyncio.Event()
        self.looked = asyncio.Event()
        for binding in bindings(self.kind_of_keys, self.loomcard.keys):
            self._bindings.key_to_bindings.setdefault(binding.key, []).append(binding)

    @property
    def desk(self) -> "Desk":
        """The desk."""
        return self.loomcard.desk

    async def fetch(self, look: Callable[[], T]) -> T:
        """Runs something with the desk away from the event loop: the screen stays alive meanwhile.

        Raises ClosedError where the page was closed before the answer came.
        """
        found = await self.loomcard.away(look)
        if self not in self.loomcard.screen_stack:
            raise ClosedError
        return found

    def compose(self) -> ComposeResult:
        """Head, body, what was said, keys."""
        yield Static(id="head")
        yield from self.body()
        with Vertical(id="foot"):
            yield Static(id="next")
            yield Static(id="said")
            yield Static(id="keybar")

    def body(self) -> Sequence[Widget]:
        """The widgets between head and foot."""
        return ()

    def first(self) -> Widget | None:
        """The widget that has the cursor at the beginning."""
        return None

    def on_mount(self) -> None:
        """Takes keys from the first moment; what has to be looked up comes after the first paint."""
        self.show_keys()
        self.set_focus(self.first())
        self.begin()
        self.ready.set()
        self.call_after_refresh(self.first_look)

    @background
    async def first_look(self) -> None:
        """What is shown is looked up once the page takes keys."""
        try:
            await self.refresh_page()
        finally:
            self.looked.set()

    def begin(self) -> None:
        """What a screen does before its first paint."""

    def on_resize(self) -> None:
        """A narrower bar holds fewer words."""
        self.show_keys()
        self.head(self._head)

    def show_keys(self) -> None:
        """The key bar, as wide as there is room."""
        bars = self.query("#keybar")
        if bars:
            text = bar_text(self.kind_of_keys, max(20, self.size.width - 2), self.loomcard.keys)
            bars.first(Static).update(shown(padded(text, self.size.width - 2)), layout=False)

    async def refresh_page(self) -> None:
        """Looks anew. Screens override it."""

    async def settled(self) -> None:
        """Waits until the widget with the cursor has taken every key that came before this one."""
        if self.focused is None:
            return
        taken = asyncio.Event()
        self.focused.call_later(taken.set)
        try:
            await asyncio.wait_for(taken.wait(), PATIENCE_S)
        except TimeoutError:  # it is going away, and takes nothing more
            return

    def head(self, text: str) -> None:
        """The head line."""
        self._head = text
        self.query_one("#head", Static).update(shown(padded(text, self.size.width - 2)), layout=False)

    def next_line(self, words: Content) -> None:
        """What is next for the row under the cursor, above what was said."""
        put(self.query_one("#next", Static), words)

    def say(self, words: str, notes: Sequence[str] = (), *, wrong: bool = False) -> None:
        """What was done or refused, kept in sight until the next deed."""
        sign = "! " if wrong else ""
        lines = [f"{sign}{words}" if words else "", *(f"  ! {note}" for note in notes[:4])]
        if len(notes) > 4:
            lines.append(f"  and {len(notes) - 4} more")
        said = self.query_one("#said", Static)
        text = "\n".join(line for line in lines if line)
        put(said, shown(text))
        said.display = bool(text)
        said.set_class(wrong, "wrong")

    def say_error(self, error: LoomcardError) -> None:
        """A refusal in words."""
        problems = error.problems if isinstance(error, Mistakes) else ()
        more = [f"{problem.field}: {problem.sentence}" for problem in problems] or (
            [error.hint] if error.hint else []
        )
        self.say(error.sentence, more, wrong=True)

    def card_meant(self) -> str:
        """The number of the card that a deed would be about, where there is one."""
        return ""

    async def action_in_turn(self, command: str) -> None:
        """Runs a command when the widget with the cursor has taken every key that came before its key, and
        when what it is about stands there.
        """
        if command not in WAYS_OUT:
            with contextlib.suppress(TimeoutError):
                await asyncio.wait_for(self.looked.wait(), PATIENCE_S)
        await self.settled()
        if self.is_current:
            await self.run_action(BY_ID[command].calls)

    async def action_back(self) -> None:
        """Goes back."""
        await self.loomcard.back()

    async def action_deed(self, verb: str) -> None:
        """Opens the form of a deed for the card that is meant."""
        from tracker.screens.doing import open_deed

        await open_deed(self.loomcard, verb)

    async def action_keys(self) -> None:
        """Shows every key."""
        from tracker.screens.keys import KeysPage

        await self.loomcard.show(KeysPage(self.kind_of_keys))

    async def action_book_in(self) -> None:
        """Books a bike in."""
        from tracker.screens.book_in import BookInPage

        await self.loomcard.show(BookInPage())

    async def action_find(self) -> None:
        """Finds by a few letters."""
        from tracker.screens.find import FindPage

        await self.loomcard.show(FindPage())

    async def action_deeds(self) -> None:
        """Every deed by name, for the card that is meant."""
        from tracker.screens.deeds import DeedsPage

        await self.loomcard.show(DeedsPage(self.card_meant()))

    async def action_undo(self) -> None:
        """Takes back the last deed of the person at the keyboard, and names it."""
        from tracker.screens.doing import do_now

        await do_now(self.loomcard, "undo", {})

    async def action_show_list(self, name: str) -> None:
        """Opens one of the lists."""
        from tracker.screens.lists import list_page

        await self.loomcard.show(list_page(name))

    async def action_sums(self) -> None:
        """The electrical sums, beside the bike of the card that is meant."""
        from tracker.screens.sums import ChooseSumPage

        await self.loomcard.show(ChooseSumPage(self.card_meant() if self.kind_of_keys == "card" else ""))

    def action_scroll_answer(self, step: int) -> None:
        """The answer further down, from its end to its top again; or further up."""
        answer = self.query_one("#answer", VerticalScroll)
        if step > 0 and answer.scroll_offset.y >= answer.max_scroll_y:
            answer.scroll_home(animate=False)
        elif step > 0:
            answer.scroll_page_down(animate=False)
        else:
            answer.scroll_page_up(animate=False)

    async def action_new_circuit(self) -> None:
        """A new circuit or a conversion for the bike of the card that is meant."""
        from tracker.screens.new_circuit import ChooseLoadPage

        await self.loomcard.show(ChooseLoadPage(self.card_meant()))

    async def action_rules(self) -> None:
        """The repair rules; a text is tried on the bike of the card that is meant."""
        from tracker.screens.rules import RulesPage

        await self.loomcard.show(RulesPage(self.card_meant()))

    async def action_loom(self) -> None:
        """The loom of the bike of the card that is meant; the general pattern where none is."""
        from tracker.screens.loom import LoomPage

        await self.loomcard.show(await LoomPage.of(self.loomcard, card=self.card_meant()))

    async def action_choose_who(self) -> None:
        """Chooses who is at the keyboard."""
        await self.action_show_list("mechanics")

    async def action_clock(self) -> None:
        """On the clock for the card that is meant; off it where it runs on that card already."""
        from tracker.screens.doing import clock

        await clock(self.loomcard, self.card_meant())
