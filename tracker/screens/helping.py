"""The lower half of a form: what the field under the cursor wants, and the answers that are known for it."""

from collections.abc import Sequence

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widget import Widget
from textual.widgets import Static

from tracker.records.text import fold
from tracker.screens.asking import SEVERAL, Question
from tracker.screens.fields import Answer, Choice, Line, More
from tracker.screens.known import KnownAnswer, known_answers
from tracker.screens.page import Page, background
from tracker.screens.rows import Entry, Rows
from tracker.screens.shown import shown

MOST = 50
"""How many answers are listed at once."""


class Helping(Page):
    """A page of fields with help for the one under the cursor."""

    verb: str
    asked: tuple[Question, ...]
    given: dict[str, str]

    def __init__(self) -> None:
        super().__init__()
        self._known: dict[str, tuple[KnownAnswer, ...]] = {}

    def compose(self) -> ComposeResult:
        """Head, fields, the answers known, what the field wants, what was said, keys."""
        yield Static(id="head")
        yield from self.body()
        with Vertical(id="foot"):
            known = Rows(id="known")
            known.can_focus = False
            known.display = False
            yield known
            yield Static(id="wants")
            yield Static(id="said")
            yield Static(id="keybar")

    def answers(self) -> list[Answer]:
        """The fields in their order."""
        raise NotImplementedError

    def at(self) -> Question | None:
        """The question under the cursor."""
        name = self.focused.name if isinstance(self.focused, Line | Choice) else None
        return next((question for question in self.asked if question.name == name), None)

    @background
    async def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Says what the field wants, and looks up what is known for it."""
        del event
        question = self.at()
        self.query_one("#known", Rows).display = False
        self.query_one("#wants", Static).update(shown(_wants(question)))
        if question is None or question.choices:
            return
        if question.name not in self._known:
            given = {**self.given, **{str(a.name): a.value for a in self.answers()}}
            self._known[question.name] = await self.fetch(
                lambda: known_answers(self.desk, self.verb, question.name, given)
            )
        self.narrow()

    def narrow(self) -> None:
        """Lists the known answers that hold what is typed."""
        rows, question = self.query_one("#known", Rows), self.at()
        known = self._known.get(question.name, ()) if question else ()
        if question is None or not known or not isinstance(self.focused, Line):
            rows.display = False
            return
        typed = fold(self.focused.value.rpartition(SEVERAL)[2] if question.several else self.focused.value)
        words = typed.split()
        fitting = [one for one in known if all(word in one.folded for word in words)]
        if len(fitting) == 1 and fold(fitting[0].value) == typed.strip():
            fitting = []
        rows.fill([Entry(f"k{n}", shown(one.line)) for n, one in enumerate(fitting[:MOST])])
        rows.highlighted = None
        rows.display = bool(fitting)
        self._listed: Sequence[KnownAnswer] = fitting[:MOST]

    def takes_answer(self) -> bool:
        """Puts the answer under the cursor into the field; False where none is under it."""
        rows, question = self.query_one("#known", Rows), self.at()
        if not rows.display or rows.highlighted is None or question is None:
            return False
        line = self.focused
        assert isinstance(line, Line)
        value = self._listed[rows.highlighted].value
        if question.several:
            before, sign, _ = line.value.rpartition(SEVERAL)
            value = f"{before}{sign}{' ' if sign else ''}{value}"
        line.value = value
        line.cursor_position = len(value)
        rows.display = False
        return True

    def closes_help(self) -> bool:
        """Takes the cursor out of the known answers; False where it is not in them."""
        rows = self.query_one("#known", Rows)
        if not rows.display or rows.highlighted is None:
            return False
        rows.highlighted = None
        return True

    def action_down(self) -> None:
        """Into the known answers and down; else to the next field."""
        rows = self.query_one("#known", Rows)
        if rows.display:
            rows.action_cursor_down()
        else:
            self.move(1)

    def action_up(self) -> None:
        """Up in the known answers, out of them at their top; else to the field before."""
        rows = self.query_one("#known", Rows)
        if not rows.display or rows.highlighted is None:
            self.move(-1)
        elif rows.highlighted == 0:
            rows.highlighted = None
        else:
            rows.action_cursor_up()

    def action_field_on(self) -> None:
        """To the next field."""
        self.move(1)

    def action_field_back(self) -> None:
        """To the field before."""
        self.move(-1)

    def move(self, step: int) -> None:
        """Moves the cursor among the fields and the line that opens more, round and round."""
        stops: list[Widget] = list(self.answers())
        stops += [more for more in self.query(More) if more.display]
        if not stops:
            return
        at = stops.index(self.focused) if self.focused in stops else -step
        self.set_focus(stops[(at + step) % len(stops)])

    def action_copy_out(self) -> None:
        """Copies the field out."""
        if isinstance(self.focused, Line | Choice):
            self.app.copy_to_clipboard(self.focused.value)
            self.say("Copied.")


def _wants(question: Question | None) -> str:
    if question is None:
        return ""
    words = question.hint or question.label
    if question.choices:
        return f"{words}   (left, right or a first letter)"
    return f"{words}   (// begins a new line)" if question.lines else words
