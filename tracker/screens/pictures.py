"""Pictures of the screens, made by the program itself: `python -m tracker.screens.pictures docs/pictures`.

Each shows the demo workshop as of a fixed day, after the keys that are named with it.
"""

import asyncio
import re
import sys
import tempfile
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

from tracker.clock import Clock, MovableTime
from tracker.desk.desk import Desk, open_desk
from tracker.desk.replay import write
from tracker.screens.app import LoomcardApp
from tracker.screens.themes import DARK, LIGHT
from tracker.seedfiles.script import load_script
from tracker.settings import Preferences

FETCHED_FONT = re.compile(r"@font-face\s*\{.*?\}\s*", re.DOTALL)
"""Fonts that a picture would fetch from elsewhere: the reader's own fixed-width font does as well."""

ON = date(2026, 3, 2)
WHO = "Ines Halloran"


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture: its file's name, what is pressed and typed first, its size and theme.

    A key of one word is pressed; one that begins with `=` is typed into the field under the cursor.
    """

    name: str
    keys: tuple[str, ...]
    size: tuple[int, int] = (80, 24)
    theme: str = DARK.name


PICTURES: tuple[Picture, ...] = (
    Picture("day", ()),
    Picture("book-in", ("b", "=lkm")),
    Picture("card", ("enter",)),
    Picture("card-open", ("enter", "down", "down", "enter")),
    Picture("next", ("space",)),
    Picture("sums", ("v", "=wire", "enter", "=3000", "enter", "=8"), (80, 30)),
    Picture("loom", ("enter", "l")),
    Picture("trace", ("enter", "g"), (80, 30)),
    Picture("find", ("slash", "=hal")),
    Picture("rechecks", ("r",)),
    Picture("day-wide", (), (120, 34), LIGHT.name),
)
"""In the order of docs/using.md; never more than twelve."""


async def take(desk: Desk, picture: Picture) -> str:
    """One picture as SVG."""
    from textual.widgets import Input

    app = LoomcardApp(lambda: desk, "DEMO", Preferences(theme=picture.theme))
    async with app.run_test(size=picture.size) as pilot:
        await app.opened.wait()
        await _rest(app, pilot)
        for key in picture.keys:
            if key.startswith("="):
                assert isinstance(app.focused, Input)
                app.focused.value = key[1:]
            else:
                await pilot.press(key)
            await _rest(app, pilot)
        svg = FETCHED_FONT.sub("", app.export_screenshot(title=f"Loomcard: {picture.name}"))
        return svg.replace("<svg ", '<svg xml:space="preserve" ', 1)  # else some viewers drop leading blanks


async def _rest(app: LoomcardApp, pilot: object) -> None:
    for _ in range(100):
        await pilot.pause(0.02)  # type: ignore[attr-defined]
        if not app.waiting:
            return


def main(folder: str) -> None:
    """Writes all of them."""
    into = Path(folder)
    into.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as home:
        path = Path(home) / "demo.loomcard"
        write(path, load_script("workshop"), ON)
        time = MovableTime(datetime(ON.year, ON.month, ON.day, 15, 30, tzinfo=UTC))
        desk = open_desk(path, Clock(UTC, time), who=WHO)
        try:
            for picture in PICTURES:
                svg = asyncio.run(take(desk, picture))
                (into / f"{picture.name}.svg").write_text(svg, "utf-8")
        finally:
            desk.close()


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else "docs/pictures")
