"""The app: it wires a desk to the screens and nothing more."""

import asyncio
import contextlib
import signal
import traceback
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any, TypeVar

from textual.app import App, SystemCommand
from textual.screen import Screen

from tracker.desk.deeds import DEEDS, deed
from tracker.desk.desk import Desk
from tracker.desk.shop import set_up
from tracker.records.row import Row
from tracker.screens.page import Page
from tracker.screens.shown import shown

T = TypeVar("T")


class LoomcardApp(App[None]):
    """Loomcard on a terminal. `note` is said on the first screen (a throwaway copy, a new file)."""

    CSS_PATH = "loomcard.tcss"
    TITLE = "Loomcard"
    ENABLE_COMMAND_PALETTE = True
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (72, "-usual"), (110, "-wide")]  # noqa: RUF012 - as it is declared

    def __init__(self, desk: Desk, note: str = "", theme: str = "", log: Path | None = None) -> None:
        super().__init__()
        self.desk = desk
        self.note = note
        self.note_once = ""
        self.failure_log = log
        self._pool = ThreadPoolExecutor(1, thread_name_prefix="loomcard-desk")
        if theme in self.available_themes:
            self.theme = theme

    async def away(self, look: Callable[[], T]) -> T:
        """Runs something with the desk in a thread of its own, so that keys and clock go on."""
        return await asyncio.get_running_loop().run_in_executor(self._pool, look)

    async def on_mount(self) -> None:
        """Leaves cleanly when asked to from outside; opens the day sheet, or asks four things first."""
        loop = asyncio.get_running_loop()
        for name in ("SIGTERM", "SIGHUP"):
            with contextlib.suppress(AttributeError, NotImplementedError, ValueError, RuntimeError):
                loop.add_signal_handler(getattr(signal, name), self.exit)
        from tracker.screens.day import DayPage

        await self.push_screen(DayPage())
        if not await self.away(lambda: self.desk.read(set_up)):
            from tracker.screens.first_run import FirstRunPage

            await self.push_screen(FirstRunPage())

    async def done(self, form: Page, record: Row) -> None:
        """After a deed: back to where it was asked for, with what was done in sight."""
        from tracker.records.card import Card
        from tracker.records.journal import JournalEntry

        notes = self.desk.notes
        entry = await self.away(
            lambda: self.desk.read(lambda reader: reader.first(JournalEntry, newest=True))
        )
        words = entry.words if entry else ""
        if isinstance(record, Card) and getattr(form, "verb", "") == "book-in":
            from tracker.screens.card import CardPage

            self.switch_screen(CardPage(record.number))
        else:
            self.pop_screen()
        page = self.screen
        if isinstance(page, Page):
            page.call_after_refresh(page.say, f"{words}   (u takes it back)", notes)

    def get_system_commands(self, screen: Screen[Any]) -> Iterable[SystemCommand]:
        """The palette lists every deed by its verb and help."""
        yield from super().get_system_commands(screen)
        for verb in DEEDS:
            help_text = (deed(verb).__doc__ or "").splitlines()[0]
            yield SystemCommand(verb, help_text, lambda verb=verb: self.open_deed(verb))

    def open_deed(self, verb: str, **given: str) -> None:
        """Opens the form of a deed; the card under the cursor is filled in."""
        from tracker.screens.form import FormPage

        page = self.screen
        card = page.card_meant() if isinstance(page, Page) else ""
        self.push_screen(FormPage(verb, {"card": card, **given} if card else given))

    def _handle_exception(self, error: Exception) -> None:
        """The unexpected: noted without anybody's data, said plainly; everything acknowledged is kept."""
        if self.failure_log is not None:
            with contextlib.suppress(OSError):
                self.failure_log.parent.mkdir(parents=True, exist_ok=True)
                frames = traceback.extract_tb(error.__traceback__)
                lines = [
                    f"{type(error).__name__}",
                    *(f"  {f.filename}:{f.lineno} in {f.name}" for f in frames),
                ]
                with self.failure_log.open("a", encoding="utf-8") as log:
                    log.write("\n".join(lines) + "\n\n")
        if self._exception is None:
            self._exception = error
            self._exception_event.set()
        where = f" It is noted in {self.failure_log}." if self.failure_log else ""
        self.exit(
            return_code=1,
            message=shown(
                f"Something went wrong that should not have. What was acknowledged is kept.{where}"
            ).plain,
        )
