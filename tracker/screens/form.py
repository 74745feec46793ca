"""A form of any deed, made from the deed's own fields; mistakes stand beside them, all at once.

What is typed is kept as a draft while it is typed, and offered again when the form is opened next.
"""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, ClassVar, Self

from textual import events
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.timer import Timer
from textual.widget import Widget
from textual.widgets import Static

from tracker.desk.deeds import deed
from tracker.desk.forms import TOKEN, draft_of, drop_draft, fresh_token, keep_draft
from tracker.errors import LoomcardError
from tracker.records.problem import Mistakes
from tracker.screens.asking import LOOM, Question, gathered, questions
from tracker.screens.fields import Answer, Choice, Line, More
from tracker.screens.helping import Helping
from tracker.screens.page import background
from tracker.screens.shown import shown

if TYPE_CHECKING:
    from tracker.screens.app import LoomcardApp

PAUSE_S = 0.3
"""A draft is kept when nothing was typed for so long."""


def subject_of(given: Mapping[str, str]) -> str:
    """What a form is about, for its draft to be offered again there alone: a part of a loom, a card."""
    if "bike" in given and "part" in given:
        return f"{given['bike']} {given['part']}"
    return given.get("card") or given.get("on") or ""


class FormPage(Helping):
    """The form of one deed. `given` is what is known, `hidden` of it what is not shown."""

    kind_of_keys: ClassVar[str] = "form"

    def __init__(
        self, verb: str, asked: tuple[Question, ...], given: Mapping[str, str], draft: Mapping[str, str]
    ) -> None:
        super().__init__()
        self.verb = verb
        self.asked = asked
        self.given = dict(given)
        self.subject = subject_of(given)
        self.draft = {name: text for name, text in draft.items() if name != TOKEN}
        self.token = draft.get(TOKEN) or fresh_token()
        self.title_words = f"{verb}{'  ' + self.subject if self.subject else ''}"
        self.note = ""
        self._began: dict[str, str] = {}
        self._timer: Timer | None = None
        self._over = False

    @classmethod
    async def made(
        cls,
        app: "LoomcardApp",
        verb: str,
        given: Mapping[str, str],
        hidden: frozenset[str] = frozenset(),
    ) -> Self:
        """A form with all that has to be looked up for it, so that it takes keys as soon as it is shown."""

        def look() -> tuple[tuple[Question, ...], dict[str, str]]:
            return questions(app.desk, verb, given, hidden), draft_of(app.desk, verb, subject_of(given))

        asked, draft = await app.away(look)
        return cls(verb, asked, given, draft)

    def body(self) -> list[Widget]:
        """A row for each question; those seldom asked behind a line that opens them."""
        rows = [self._row(question) for question in self.asked]
        later = [row for row, question in zip(rows, self.asked, strict=True) if question.more]
        if not later:
            return [VerticalScroll(*rows, id="form", can_focus=False)]
        shown_first = [row for row in rows if row not in later]
        behind = Vertical(*later, id="later")
        behind.display = any(self.draft.get(q.name) for q in self.asked if q.more)
        more = More(len(later))
        more.display = not behind.display
        return [VerticalScroll(*shown_first, more, behind, id="form", can_focus=False)]

    def _row(self, question: Question) -> Widget:
        value = self.draft.get(question.name, question.value)
        field: Answer
        if question.choices:
            field = Choice(question.choices, value, name=question.name)
        else:
            field = Line(value, question.hint, name=question.name)
        field.add_class("field")
        label = Static(shown(question.label + (" *" if question.required else "")), classes="label")
        return Vertical(
            Horizontal(label, field, classes="row"),
            Static(classes="error"),
            name=question.name,
            classes="ask",
        )

    def first(self) -> Widget | None:
        """The first empty line, else the first field."""
        answers = self.answers()
        empty = [one for one in answers if isinstance(one, Line) and not one.value and one.display]
        return (empty or answers or [None])[0]

    def begin(self) -> None:
        """Says what this is, and what was typed last time."""
        words = (deed(self.verb).__doc__ or "").splitlines()[0]
        self.head(f"{self.title_words}   {words}")
        self._began = {question.name: question.value for question in self.asked}
        if self.draft:
            self._began |= {name: text for name, text in self.draft.items() if name in self._began}
            self.say("What you typed last time and did not save stands here again.")
        elif self.note:
            self.say(self.note)

    def answers(self) -> list[Answer]:
        """The fields that are in sight or can be scrolled to, in their order."""
        found: list[Answer] = []
        for widget in self.query(".field"):
            hidden = any(
                not above.display for above in widget.ancestors_with_self if isinstance(above, Widget)
            )
            if isinstance(widget, Line | Choice) and not hidden:
                found.append(widget)
        return found

    def typed(self) -> dict[str, str]:
        """What stands in all the fields."""
        return {str(one.name): one.value for one in self.query(".field") if isinstance(one, Line | Choice)}

    def changed(self) -> dict[str, str]:
        """What the person changed since the form was opened, or before, as a draft tells."""
        at_first = {question.name: question.value for question in self.asked}
        return {name: text for name, text in self.typed().items() if text != at_first.get(name, "")}

    def on_input_changed(self, event: Line.Changed) -> None:
        """Something was typed."""
        event.stop()
        self._later()
        self.narrow()

    def on_choice_changed(self, event: Choice.Changed) -> None:
        """Something was chosen."""
        event.stop()
        self._later()

    def _later(self) -> None:
        if self._timer is not None:
            self._timer.stop()
        self._timer = self.set_timer(PAUSE_S, self.keep)

    @background
    async def keep(self) -> None:
        """Keeps the draft."""
        if not self._over:
            content = {**self.changed(), TOKEN: self.token}
            await self.fetch(lambda: keep_draft(self.desk, self.verb, self.subject, content))

    def keep_now(self) -> None:
        """Keeps the draft before it returns, for when there is no later."""
        if not self._over and self.is_mounted:
            keep_draft(self.desk, self.verb, self.subject, {**self.changed(), TOKEN: self.token})

    def on_click(self, event: events.Click) -> None:
        """The mouse opens “more” too."""
        if isinstance(event.widget, More):
            self.open_more()

    def open_more(self) -> None:
        """Opens the questions that are seldom asked."""
        later = self.query_one("#later")
        later.display = True
        self.query_one(More).display = False
        after = [one for one in self.answers() if later in one.ancestors]
        self.set_focus(after[0])

    async def action_next_field(self) -> None:
        """Enter: takes the answer under the cursor, or goes on; behind the last field it saves."""
        if isinstance(self.focused, More):
            self.open_more()
        elif self.takes_answer():
            return
        elif not self.answers() or self.focused is self.answers()[-1]:
            await self.action_save()
        else:
            self.move(1)

    async def action_save(self) -> None:
        """Does the deed; mistakes stand beside their fields, and nothing typed goes."""
        for each in self.query(".error").results(Static):
            each.set_class(False, "-on").update("")
        raw = self.raw()
        try:
            record = await self.fetch(lambda: self.desk.given(deed(self.verb), raw, self.token))
        except Mistakes as mistakes:
            self.show_mistakes(mistakes)
            return
        except LoomcardError as error:
            self.say_error(error)
            return
        notes, self._over = self.desk.notes, True
        await self.fetch(lambda: drop_draft(self.desk, self.verb, self.subject))
        await self.saved(record, notes)

    def raw(self) -> dict[str, object]:
        """The deed as the desk takes it: what was known before, and what was typed."""
        asked = {question.name for question in self.asked}
        known = {name: text for name, text in self.given.items() if name not in asked}
        return {**known, **gathered(self.asked, self.typed())}

    def field_named(self, field: str) -> str:
        """The name of the form's field that a mistake is about."""
        return field if field.startswith(LOOM) else field.partition(".")[0]

    async def saved(self, record: Any, notes: tuple[str, ...]) -> None:
        """What follows a deed that is done."""
        from tracker.screens.doing import after

        await after(self.loomcard, self.verb, record, notes)

    def show_mistakes(self, mistakes: Mistakes) -> None:
        """Every mistake beside its field; one that no field has is said below."""
        first: Answer | None = None
        elsewhere: list[str] = []
        by_name = {str(one.name): one for one in self.query(".field")}
        for problem in mistakes.problems:
            name = self.field_named(problem.field)
            words = f"{problem.sentence} {problem.hint}".strip()
            field = by_name.get(name)
            if not isinstance(field, Line | Choice):
                elsewhere.append(f"{problem.field}: {words}" if problem.field else words)
                continue
            if field not in self.answers():
                self.open_more()
            row = next(above for above in field.ancestors if above.has_class("ask"))
            row.query_one(".error", Static).set_class(True, "-on").update(shown(f"! {words}"))
            first = first or field
        self.say(mistakes.sentence, elsewhere, wrong=True)
        if first is not None:
            self.set_focus(first)

    async def action_back(self) -> None:
        """Leaves; asks only when something changed, and keeps what was typed unless told otherwise."""
        if self.closes_help():
            return
        typed = self.typed()
        if all(typed.get(name, "") == text for name, text in self._began.items()):
            await self.loomcard.back()
            return
        from tracker.screens.leaving import LeavingPage

        await self.loomcard.show(LeavingPage(self))

    async def leave(self, *, keep: bool) -> None:
        """Leaves with what was typed kept, or thrown away."""
        if keep:
            await self.keep()
        self._over = True
        if not keep:
            await self.fetch(lambda: drop_draft(self.desk, self.verb, self.subject))
        await self.loomcard.back()
