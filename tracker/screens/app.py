"""The app: it wires a desk to the screens and nothing more."""

import asyncio
import contextlib
import os
import signal
import threading
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from textual.app import App, SystemCommand
from textual.reactive import Reactive
from textual.screen import Screen
from textual.theme import BUILTIN_THEMES, Theme

from tracker.desk.deeds import DEEDS
from tracker.errors import LoomcardError
from tracker.screens.own_keys import own_keys
from tracker.screens.page import Page
from tracker.screens.shown import shown
from tracker.screens.themes import DARK, OWN, theme_for
from tracker.settings import Preferences

if TYPE_CHECKING:
    from concurrent.futures import ThreadPoolExecutor

    from tracker.desk.desk import Desk

T = TypeVar("T")

PATIENCE_S = 2.0
"""How long an end that was asked for from outside may take before it is an end all the same."""

THEMES = {**BUILTIN_THEMES, **{theme.name: theme for theme in OWN}}

KEPT = "What was acknowledged is kept, and so is what stands half typed in a form."


class LoomcardApp(App[None]):
    """Loomcard on a terminal. `opens` opens the desk, after the first paint and away from the keys.

    `note` is said on the day sheet (a throwaway copy, a new file). `failed` writes the unexpected to a log
    without anybody's data and says where. When the app is over, `refused` is why the file could not be
    opened; `close_desk` closes it.
    """

    desk: "Desk"

    CSS_PATH = "loomcard.tcss"
    TITLE = "Loomcard"
    ENABLE_COMMAND_PALETTE = True
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (72, "-usual"), (110, "-wide")]  # noqa: RUF012 - as it is declared

    theme: Reactive[str] = Reactive(DARK.name)
    """The usual one from the start: another theme means that every style is read twice."""

    def __init__(
        self,
        opens: Callable[[], "Desk"],
        note: str = "",
        preferences: Preferences | None = None,
        failed: Callable[[BaseException], Path] | None = None,
    ) -> None:
        super().__init__()
        given = preferences or Preferences()
        self.opened = asyncio.Event()
        self.refused: LoomcardError | None = None
        self._opens = opens
        self._desk_open: Desk | None = None
        self._opening: asyncio.Task[None] | None = None
        self.note = note
        self.keys, self.wrong_keys = own_keys(given.keys)
        self.waiting = 0
        self._going = False
        self._failed = failed
        self._pool: ThreadPoolExecutor | None = None
        self.theme = theme_for(given.theme, self.available_themes, self.console.color_system, os.environ)

    @property
    def available_themes(self) -> dict[str, Theme]:
        """Our own themes beside those that come with Textual."""
        return THEMES  # asked for with each style that is looked up

    async def away(self, look: Callable[[], T]) -> T:
        """Runs something with the desk in a thread of its own, so that keys and clock go on."""
        if self._pool is None:
            from concurrent.futures import ThreadPoolExecutor

            self._pool = ThreadPoolExecutor(1, thread_name_prefix="loomcard-desk")
        self.waiting += 1
        try:
            return await asyncio.get_running_loop().run_in_executor(self._pool, look)
        finally:
            self.waiting -= 1

    async def on_mount(self) -> None:
        """Leaves cleanly when asked to from outside; paints before anything is read."""
        loop = asyncio.get_running_loop()
        for name in ("SIGTERM", "SIGHUP"):
            with contextlib.suppress(AttributeError, NotImplementedError, ValueError, RuntimeError):
                loop.add_signal_handler(getattr(signal, name), self.leave_now)
        self.call_after_refresh(self._open_soon)

    def get_default_screen(self) -> Screen[Any]:
        """The first paint is the first screen."""
        from tracker.screens.start import StartPage

        return StartPage()

    def _open_soon(self) -> None:
        self._opening = asyncio.create_task(self._open())

    async def _open(self) -> None:
        """Opens the desk and the day sheet, or asks four things first; says why where it cannot be opened."""
        try:
            self.desk, told = await self.away(self._opened)
            from tracker.screens.day import DayPage

            await self.show(DayPage())
            if not told:
                from tracker.screens.first_run import FirstRunPage

                await self.show(await FirstRunPage.first_of_all(self))
        except LoomcardError as error:
            self.refused = error
            self.exit(return_code=1)
        except Exception as error:  # a task has no other way to say so
            self._handle_exception(error)
        finally:
            self.opened.set()

    def _opened(self) -> "tuple[Desk, bool]":
        """The desk, and whether it was told its four things; loads what the day sheet is made of."""
        import tracker.screens.day
        from tracker.desk.shop import set_up

        del tracker
        desk = self._desk_open = self._opens()
        return desk, desk.read(set_up)

    def leave(self) -> None:
        """Leaves; what stands half typed is kept."""
        self.keep_drafts()
        self._let_go()
        self.exit()

    def _let_go(self) -> None:
        """Nobody waits any longer for a page to come up: one that was not up when the app ends never is."""
        self._going = True
        for page in self.screen_stack:
            if isinstance(page, Page):
                page.ready.set()

    def leave_now(self) -> None:
        """Leaves because the machine says so. A terminal that has gone can hold its writer for ever, so that
        the end comes in any case; what was acknowledged and what stands half typed is in the file by then.
        """
        self.leave()
        last = threading.Timer(PATIENCE_S, os._exit, (0,))
        last.daemon = True
        last.start()

    async def action_quit(self) -> None:
        """Ctrl+Q leaves the same way."""
        self.leave()

    def close_desk(self) -> None:
        """Closes what was opened, when the app is over."""
        if self._pool is not None:
            self._pool.shutdown()
        if self._desk_open is not None:
            self._desk_open.close()

    def keep_drafts(self) -> None:
        """Keeps what stands half typed in every open form, at once."""
        if not self.opened.is_set():
            return
        from tracker.screens.form import FormPage

        for page in self.screen_stack:
            if isinstance(page, FormPage):
                page.keep_now()

    async def show(self, page: Page) -> None:
        """Puts a page on top; on return it has the cursor and takes keys."""
        if self._going:
            return
        self.push_screen(page)
        await page.ready.wait()

    async def instead(self, page: Page) -> None:
        """Puts a page in the place of the one on top."""
        if self._going:
            return
        self.switch_screen(page)
        await page.ready.wait()

    async def back(self) -> None:
        """Takes the page on top away; the one below looks anew before it takes the next key."""
        self.pop_screen()
        if isinstance(self.screen, Page):
            self.screen.say("")  # what was said there before may not be the last deed any more
            await self.screen.refresh_page()

    async def is_now(self, who: str) -> None:
        """Somebody else is at the keyboard."""
        self.desk.who = who
        await self.back()

    def get_system_commands(self, screen: Screen[Any]) -> Iterable[SystemCommand]:
        """The palette lists every deed by its verb and help."""
        from tracker.desk.deeds import deed
        from tracker.screens.doing import open_deed

        yield from super().get_system_commands(screen)
        for verb in DEEDS:
            help_text = (deed(verb).__doc__ or "").splitlines()[0]
            yield SystemCommand(verb, help_text, lambda verb=verb: self.call_later(open_deed, self, verb))
        repairs = "Every repair found again: by words, zone, plug, make and model"
        yield SystemCommand("repairs", repairs, lambda: self.call_later(self._show_repairs))

    async def _show_repairs(self) -> None:
        from tracker.screens.lists import list_page

        await self.show(list_page("repairs"))

    def _handle_exception(self, error: Exception) -> None:
        """The unexpected: noted without anybody's data, said plainly; everything acknowledged is kept."""
        with contextlib.suppress(Exception):  # nothing may stand in the way of leaving in order
            self.keep_drafts()
            self._let_go()
        where = self._failed(error) if self._failed else None
        if self._exception is None:
            self._exception = error
            self._exception_event.set()
        noted = f" It is noted in {where}." if where else ""
        words = f"Something went wrong that should not have. {KEPT}{noted}"
        self.exit(return_code=1, message=shown(words).plain)
