"""A list that draws only the rows in sight: it opens as fast with two hundred thousand rows as with ten."""

from collections.abc import Sequence
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from tracker.screens.shown import in_columns

Row = tuple[str, str]
"""A row's key and its words."""


class Window(ScrollView, can_focus=True):
    """Rows of text under a cursor. A row that is not in sight is not asked for."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {"window--cursor"}
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "step(-1)", show=False),
        Binding("down", "step(1)", show=False),
        Binding("pageup", "leaf(-1)", show=False),
        Binding("pagedown", "leaf(1)", show=False),
        Binding("home", "to_start", show=False),
        Binding("end", "to_end", show=False),
    ]

    class Taken(Message):
        """The mouse took the row under the cursor."""

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id)
        self._source: Sequence[Row] = ()
        self._at = 0
        self._looks: tuple[Style, Style] | None = None

    def fill(self, source: Sequence[Row]) -> None:
        """Other rows. The cursor stays on the row of its key where that is near, else at its height."""
        before, at = self.key, self._at
        self._source = source
        self.virtual_size = Size(0, len(source))
        near = range(max(0, at - 20), min(len(source), at + 21))
        self._at = next((n for n in near if before and source[n][0] == before), min(at, len(source) - 1))
        self._at = max(0, self._at)
        self._follow()
        self.refresh()

    @property
    def highlighted(self) -> int | None:
        """The place of the cursor, from 0; None where there are no rows."""
        return self._at if len(self._source) else None

    @property
    def key(self) -> str:
        """The key of the row under the cursor; empty where there is none."""
        return self._source[self._at][0] if self._at < len(self._source) else ""

    @property
    def words(self) -> str:
        """What the row under the cursor shows."""
        return self._source[self._at][1] if self._at < len(self._source) else ""

    @property
    def looks(self) -> tuple[Style, Style]:
        """How a row looks, and the one under the cursor; worked out anew only when the styles change."""
        if self._looks is None:
            self._looks = self.rich_style, self.get_component_rich_style("window--cursor")
        return self._looks

    def notify_style_update(self) -> None:
        """The styles have changed."""
        self._looks = None
        super().notify_style_update()

    def render_line(self, y: int) -> Strip:
        """One row; asked by Textual for those in sight only."""
        place = self.scroll_offset.y + y
        width = self.scrollable_content_region.width
        plain, under_cursor = self.looks
        if place >= len(self._source):
            return Strip.blank(width, plain)
        style = under_cursor if place == self._at else plain
        return Strip([Segment(in_columns(self._source[place][1], width), style)], width)

    def go(self, place: int) -> None:
        """The cursor to a row; beyond either end, to the end."""
        if not len(self._source):
            return
        before, self._at = self._at, max(0, min(place, len(self._source) - 1))
        self._follow()
        width = self.size.width
        for row in {before, self._at}:
            self.refresh(Region(0, row - self.scroll_offset.y, width, 1))

    def _follow(self) -> None:
        """Scrolls so far that the cursor is in sight."""
        top, height = self.scroll_offset.y, max(1, self.scrollable_content_region.height)
        if self._at < top:
            self.scroll_to(y=self._at, animate=False, immediate=True, force=True)
        elif self._at >= top + height:
            self.scroll_to(y=self._at - height + 1, animate=False, immediate=True, force=True)

    def on_resize(self) -> None:
        """The cursor stays in sight."""
        self.virtual_size = Size(0, len(self._source))
        self._follow()

    def action_step(self, by: int) -> None:
        """Rows up or down."""
        self.go(self._at + by)

    def action_leaf(self, by: int) -> None:
        """A screenful up or down."""
        self.go(self._at + by * max(1, self.scrollable_content_region.height - 1))

    def action_to_start(self) -> None:
        """To the first row."""
        self.go(0)

    def action_to_end(self) -> None:
        """To the last row."""
        self.go(len(self._source) - 1)

    def on_click(self, event: events.Click) -> None:
        """The mouse takes too."""
        place = self.scroll_offset.y + event.y
        if place < len(self._source):
            self.go(place)
            self.post_message(self.Taken())
