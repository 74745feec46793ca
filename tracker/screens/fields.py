"""The fields of a form: a line to type in, a few answers to choose among, and the row they stand in."""

from collections.abc import Sequence

from rich.cells import cell_len
from textual import events
from textual.content import Content
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget
from textual.widgets import Input, Static

from tracker.screens.shown import shown


class Line(Input):
    """One line. A paste of several lines is joined, since a field has one."""

    def __init__(self, value: str = "", placeholder: str = "", name: str = "", id: str | None = None) -> None:
        super().__init__(
            value=value, placeholder=placeholder, compact=True, name=name, id=id, select_on_focus=False
        )
        self.cursor_position = len(value)

    def _on_paste(self, event: events.Paste) -> None:
        event.text = " ".join(event.text.split())
        super()._on_paste(event)


class Choice(Widget, can_focus=True):
    """A few answers, all in sight as far as there is room; left, right, space or a first letter choose."""

    value: reactive[str] = reactive("")

    class Changed(Message):
        """Another answer was chosen."""

    def __init__(self, choices: Sequence[str], value: str = "", name: str = "") -> None:
        super().__init__(name=name)
        self.choices = tuple(choices)
        self.set_reactive(Choice.value, value if value in choices else self.choices[0])

    def watch_value(self) -> None:
        """Says that it changed."""
        self.post_message(self.Changed())

    def validate_value(self, value: str) -> str:
        """Only its own answers."""
        return value if value in self.choices else self.choices[0]

    def on_key(self, event: events.Key) -> None:
        """Chooses."""
        place = self.choices.index(self.value)
        if event.key in {"right", "space"}:
            place = (place + 1) % len(self.choices)
        elif event.key == "left":
            place = (place - 1) % len(self.choices)
        elif event.key in {"backspace", "delete"}:
            place = 0
        elif event.is_printable and event.character:
            letter = event.character.casefold()
            order = [*range(place + 1, len(self.choices)), *range(place + 1)]
            place = next((n for n in order if self.choices[n].casefold().startswith(letter)), place)
        else:
            return
        event.stop()
        self.value = self.choices[place]

    def render(self) -> Content:
        """The chosen one in brackets, the others beside it; those that do not fit are counted."""
        words = [choice or "-" for choice in self.choices]
        place = self.choices.index(self.value)
        start, room = 0, max(10, self.size.width)
        while cell_len("  ".join(words[start : place + 1])) + 8 > room and start < place:
            start += 1
        parts: list[str | tuple[str, str]] = ["‹ "] if start else []
        used = 2 if start else 0
        for n in range(start, len(words)):
            piece = f"[{words[n]}]" if n == place else f" {words[n]} "
            if n > place and used + cell_len(piece) > room - 2:
                parts.append("›")
                break
            used += cell_len(piece)
            parts.append(
                (piece, "bold reverse" if n == place and self.has_focus else "bold") if n == place else piece
            )
        return Content.assemble(*parts)


class More(Static, can_focus=True):
    """Opens the questions that are seldom asked."""

    def __init__(self, count: int) -> None:
        super().__init__(shown(f"+ {count} more to ask; Enter here opens them"), id="more")


Answer = Line | Choice
