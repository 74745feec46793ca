"""Driving the screens by keyboard, and reading them as text."""

import asyncio
from collections.abc import Awaitable, Callable
from typing import Any

from textual import events
from textual.keys import _character_to_key
from textual.pilot import Pilot
from textual.widget import Widget
from textual.widgets import Static

from tracker.desk.desk import Desk
from tracker.screens.app import LoomcardApp
from tracker.screens.fields import Choice, Line
from tracker.screens.form import FormPage
from tracker.screens.page import Page
from tracker.screens.rows import Rows
from tracker.screens.window import Window
from tracker.settings import Preferences

USUAL = (80, 24)


class Driver:
    """Hands on the keyboard and eyes on the screen."""

    def __init__(self, app: LoomcardApp, pilot: "Pilot[None]") -> None:
        self.app = app
        self.pilot = pilot

    async def quiet(self) -> None:
        """Waits until nothing is looked up any more, all messages are taken and all is painted.

        A pilot's own pause sleeps until the processor is idle, a fiftieth of a second and more for each key;
        here every widget is asked whether it has taken what came before, twice in a row.
        """
        still = 0
        for _ in range(2000):
            await self.pilot._wait_for_screen()
            if self.app._exception is not None:  # it falls over: nobody takes messages any more
                return
            screen = self.app.screen
            screen._on_timer_update()
            looking = isinstance(screen, Page) and not screen.looked.is_set()
            widgets = [one for one in screen.walk_children() if isinstance(one, Widget)]
            told = any(one._message_queue.qsize() for one in (self.app, screen, *widgets))
            drawing = any(one._repaint_required or one._layout_required for one in widgets)
            waiting = self.app.waiting or screen._callbacks or screen._dirty_widgets
            still = 0 if looking or told or drawing or waiting else still + 1
            if still == 2:
                return
            await asyncio.sleep(0.001 if looking or self.app.waiting else 0)
        raise AssertionError("the screens do not come to rest")

    async def press(self, *keys: str) -> None:
        """Presses keys, each when the one before is done."""
        for key in keys:
            name = _character_to_key(key) if len(key) == 1 and not key.isalnum() else key
            sign = {"space": " ", "slash": "/", "question_mark": "?"}.get(key, key)
            self.app.post_message(events.Key(name, sign if len(sign) == 1 else None))
            await self.quiet()

    async def put(self, text: str) -> None:
        """Puts a text into the field that has the cursor, as a paste would."""
        line = self.app.focused
        assert isinstance(line, Line), line
        line.value = text
        line.cursor_position = len(text)
        await self.quiet()

    async def fill(self, **typed: str) -> None:
        """Puts answers into the fields of the form that is up."""
        for name, text in typed.items():
            field = self.field(name)
            field.value = text
        await self.quiet()

    def field(self, name: str) -> Line | Choice:
        """A field of the form that is up."""
        for one in self.app.screen.query(".field"):
            if one.name == name and isinstance(one, Line | Choice):
                return one
        raise AssertionError(f"no field {name} in {[one.name for one in self.app.screen.query('.field')]}")

    def verb(self) -> str:
        """The deed whose form is up, or nothing."""
        return self.app.screen.verb if isinstance(self.app.screen, FormPage) else ""

    def shows(self, kind: type[Page]) -> bool:
        """Whether a screen of this kind is up."""
        return isinstance(self.app.screen, kind)

    @property
    def page(self) -> Page:
        """The screen that is up."""
        assert isinstance(self.app.screen, Page), self.app.screen
        return self.app.screen

    @property
    def said(self) -> str:
        """What was said last."""
        return str(self.app.screen.query_one("#said", Static).render())

    @property
    def head(self) -> str:
        """The head line."""
        return str(self.app.screen.query_one("#head", Static).render())

    def mistake(self, name: str) -> str:
        """What stands beside a field."""
        row = next(above for above in self.field(name).ancestors if above.has_class("ask"))
        return str(row.query_one(".error", Static).render())

    @property
    def rows(self) -> Rows | Window:
        """The list on the screen."""
        found = self.app.screen.query_one("#list")
        assert isinstance(found, Rows | Window)
        return found

    def text(self) -> str:
        """The whole screen as text."""
        compositor = self.app.screen._compositor
        return "\n".join(strip.text.rstrip() for strip in compositor.render_strips())


Job = Callable[[Driver], Awaitable[None]]


def drive(desk: Desk, job: Job, *, size: tuple[int, int] = USUAL, **more: Any) -> LoomcardApp:
    """Runs a job on the app and returns the app when it is over."""
    preferences = more.pop("preferences", Preferences())

    async def run() -> LoomcardApp:
        app = LoomcardApp(lambda: desk, preferences=preferences, **more)
        async with app.run_test(size=size) as pilot:
            driver = Driver(app, pilot)
            await app.opened.wait()
            await driver.quiet()
            await job(driver)
            await driver.quiet()
        return app

    return asyncio.run(run())
