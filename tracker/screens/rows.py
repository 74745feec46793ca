"""A list that keeps its place: rows by key, refilled without moving the cursor from the row it is on."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rich.style import Style
from textual.content import Content
from textual.strip import Strip
from textual.widgets import OptionList
from textual.widgets.option_list import Option

TURNED_ROUND = Style(reverse=True)


@dataclass(frozen=True, slots=True)
class Entry:
    """One row: its key, what it shows, and whether the cursor can stand on it."""

    key: str
    words: Content
    can_stand: bool = True


class Rows(OptionList):
    """Rows under the cursor. Keys are any text: they are kept here, not given to the widget."""

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id, compact=True)
        self._entries: tuple[Entry, ...] = ()
        self.moved: Callable[[], None] | None = None

    def watch_highlighted(self, highlighted: int | None) -> None:
        """Says at once that the cursor moved, so that what depends on it is painted with it."""
        super().watch_highlighted(highlighted)
        if self.moved is not None:
            self.moved()

    def fill(self, entries: Sequence[Entry], *, from_top: bool = False) -> None:
        """New rows; the cursor stays on the row of its key, else at its height, or goes to the top."""
        before, at = self.key, self.highlighted
        self._entries = tuple(entries)
        self.clear_options()
        self.add_options([Option(e.words, disabled=not e.can_stand) for e in entries])
        keys = [e.key for e in entries]
        standing = [n for n, e in enumerate(entries) if e.can_stand]
        if from_top and standing:
            self.highlighted = standing[0]
        elif before in keys and entries[keys.index(before)].can_stand:
            self.highlighted = keys.index(before)
        elif standing:
            self.highlighted = min(standing, key=lambda n: abs(n - (at or 0)))

    def render_line(self, y: int) -> Strip:
        """The row under the cursor is turned round: seen without colour, and on sixteen of them."""
        strip = super().render_line(y)
        line, lines = self.scroll_offset.y + y, self._line_cache.lines  # up to date while lines are rendered
        if line < len(lines) and lines[line][0] == self.highlighted:
            return strip.apply_style(TURNED_ROUND)
        return strip

    @property
    def key(self) -> str:
        """The key of the row under the cursor; empty where there is none."""
        if self.highlighted is None or self.highlighted >= len(self._entries):
            return ""
        return self._entries[self.highlighted].key

    @property
    def words(self) -> str:
        """What the row under the cursor shows."""
        if self.highlighted is None or self.highlighted >= len(self._entries):
            return ""
        return self._entries[self.highlighted].words.plain
