"""A form that puts a loom right: what the part is now stands in it, and only what was changed is kept."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from textual.widget import Widget

from tracker.desk.ask import fields_of
from tracker.desk.deeds import deed
from tracker.screens.form import FormPage

if TYPE_CHECKING:
    from tracker.screens.app import LoomcardApp

COLOURS = ("main", "tracer", "code")
"""Fields of a colour: one that changes takes the others along."""


class LoomForm(FormPage):
    """The form of a change to a loom. The cursor is in its first field, though something stands there."""

    def first(self) -> Widget | None:
        """The first field."""
        return next(iter(self.answers()), None)

    def raw(self) -> dict[str, object]:
        """A colour is said whole: main colour, tracer and code set, where one of them changed."""
        raw, typed = super().raw(), self.typed()
        stood = {question.name: question.stood for question in self.asked}
        if "main" in stood and any(typed.get(name, "") != stood.get(name, "") for name in ("main", "tracer")):
            raw |= {name: typed[name] for name in COLOURS if typed.get(name)}
        return raw


async def loom_form(
    app: "LoomcardApp", verb: str, given: Mapping[str, str], note: str = "", also_hidden: Sequence[str] = ()
) -> LoomForm:
    """A form of a change to a loom; what is given of bike, card and part is not asked again."""
    asked = {field.name for field in fields_of(deed(verb))}
    known = {name: text for name, text in given.items() if name in asked}
    hidden = frozenset(known) & {"bike", "card", "part", "fact"} | set(also_hidden)
    form = await LoomForm.made(app, verb, known, hidden)
    form.note = note
    return form
