"""A form of any deed, made from the deed's own fields: label, field and hint on a line, mistakes beneath it.

What is typed is kept as a draft while it is typed, and offered again when the form is opened next.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

from textual import events
from textual.containers import Horizontal, VerticalScroll
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input, Static

from tracker.desk.ask import Field, fields_of
from tracker.desk.deeds import deed
from tracker.desk.forms import draft_of, drop_draft, keep_draft
from tracker.errors import LoomcardError
from tracker.records.problem import Mistakes
from tracker.records.row import Row
from tracker.screens.page import Page
from tracker.screens.shown import shown

SEVERAL = ";"
"""What stands between several values in one field."""


class Line(Input):
    """One field. A paste of several lines is joined, since a field has one."""

    @dataclass
    class Left(Message):
        """The field was left with Enter."""

        line: "Line"

    def _on_paste(self, event: events.Paste) -> None:
        event.text = " ".join(event.text.split())
        super()._on_paste(event)


class FormPage(Page):
    """The form of one deed. `given` fills fields in; `subject` names what the draft is about."""

    name_in_bar: ClassVar[str] = "form"
    BINDINGS: ClassVar[list[Any]] = []

    def __init__(
        self, verb: str, given: Mapping[str, str] | None = None, hidden: frozenset[str] = frozenset()
    ) -> None:
        super().__init__()
        self.verb = verb
        self.kind = deed(verb)
        self.given = dict(given or {})
        self.fields: list[Field] = [f for f in fields_of(self.kind) if f.name not in hidden]
        self.hidden = hidden
        self.subject = self.given.get("card", "")
        self._asked = False

    def body(self) -> list[Widget]:
        """A row for each field."""
        return [VerticalScroll(*[self._row(field) for field in self.fields], id="form")]

    def _row(self, field: Field) -> Widget:
        return Horizontal(
            Static(shown(field.ask.label + (" *" if field.required else "")), classes="label"),
            Line(value=self.given.get(field.name, ""), compact=True, id=f"f-{field.name}", classes="field"),
            Static(shown(self._hint(field)), classes="hint"),
            Static("", id=f"e-{field.name}", classes="error"),
            classes="row",
        )

    def _hint(self, field: Field) -> str:
        words = [field.ask.hint]
        if field.kind is bool and not field.ask.hint:
            words.append("yes or no")
        if field.many or field.pairs:
            words.append(f"several with {SEVERAL}")
        return ", ".join(word for word in words if word)

    async def refresh_page(self) -> None:
        """Head, draft, and the cursor in the first empty field."""
        about = f"  {self.subject}" if self.subject else ""
        self.head(f"{self.verb}{about}   {(self.kind.__doc__ or '').splitlines()[0]}")
        if self._asked:
            return
        self._asked = True
        kept = await self.fetch(lambda: draft_of(self.desk, self.verb, self.subject))
        filled = [name for name, text in kept.items() if self._put(name, text)]
        if filled:
            self.say(f"What you typed last time is here again ({len(filled)} fields). Esc keeps it.")
        elif self.loomcard.note_once:
            self.say(self.loomcard.note_once)
        self.loomcard.note_once = ""
        empty = [line for line in self.query(Line) if not line.value]
        (empty or list(self.query(Line)))[0].focus()

    def _put(self, name: str, text: str) -> bool:
        lines = self.query(f"#f-{name}")
        if not lines or lines.first(Line).value == text:
            return False
        lines.first(Line).value = text
        return True

    def typed(self) -> dict[str, str]:
        """What stands in the fields."""
        return {field.name: self.query_one(f"#f-{field.name}", Line).value for field in self.fields}

    def raw(self) -> dict[str, object]:
        """The fields as the desk reads them."""
        found: dict[str, object] = {name: self.given[name] for name in self.hidden if name in self.given}
        for field in self.fields:
            text = self.query_one(f"#f-{field.name}", Line).value
            if not text.strip():
                continue
            several = field.many or field.pairs
            found[field.name] = (
                [part.strip() for part in text.split(SEVERAL) if part.strip()] if several else text
            )
        return found

    async def on_input_changed(self, event: Input.Changed) -> None:
        """Keeps the draft as it is typed."""
        event.stop()
        if self._asked:
            typed = {name: text for name, text in self.typed().items() if text != self.given.get(name, "")}
            await self.fetch(lambda: keep_draft(self.desk, self.verb, self.subject, typed))

    async def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter goes to the next field; on the last it saves."""
        event.stop()
        lines = list(self.query(Line))
        if event.input is lines[-1]:
            await self.action_save()
        else:
            lines[lines.index(event.input) + 1].focus()  # type: ignore[arg-type]

    async def action_save(self) -> None:
        """Does the deed; mistakes stand beside their fields, all at once, and nothing typed goes."""
        for field in self.fields:
            self.query_one(f"#e-{field.name}", Static).set_class(False, "-on").update("")
        raw = self.raw()
        try:
            record = await self.fetch(lambda: self.desk.given(self.kind, raw))
        except Mistakes as mistakes:
            self._show(mistakes)
            return
        except LoomcardError as error:
            self.say_error(error)
            return
        await self.fetch(lambda: drop_draft(self.desk, self.verb, self.subject))
        await self.loomcard.done(self, record)

    def _show(self, mistakes: Mistakes) -> None:
        first: Line | None = None
        elsewhere: list[str] = []
        for problem in mistakes.problems:
            name = problem.field.partition(".")[0]
            places = self.query(f"#e-{name}") if name.isidentifier() else self.query("#none")
            words = f"{problem.sentence} {problem.hint}".strip()
            if places:
                places.first(Static).set_class(True, "-on").update(shown(f"! {words}"))
                first = first or self.query_one(f"#f-{name}", Line)
            else:
                elsewhere.append(f"{problem.field}: {words}")
        self.say(mistakes.sentence, elsewhere, wrong=True)
        if first is not None:
            first.focus()

    def action_back(self) -> None:
        """Leaves; what was typed is kept as a draft and offered again."""
        self.app.pop_screen()


def made(record: Row) -> str:
    """The number a record goes by, where it has one."""
    return str(getattr(record, "number", ""))
