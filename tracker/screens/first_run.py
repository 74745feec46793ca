"""The first run asks four things and starts: how you work, the name, currency and tax, km or miles."""

from typing import TYPE_CHECKING, Self

from tracker.desk.ask import fields_of
from tracker.desk.deeds import deed
from tracker.desk.forms import draft_of
from tracker.screens.asking import questions
from tracker.screens.form import FormPage

if TYPE_CHECKING:
    from tracker.screens.app import LoomcardApp

FOUR = ("mode", "name", "currency", "tax_rate", "distance_unit")
"""Four things in five fields: currency and tax are one."""

VERB = "settings change"


class FirstRunPage(FormPage):
    """Four questions; everything else has a default and waits under settings."""

    @classmethod
    async def first_of_all(cls, app: "LoomcardApp") -> Self:
        """The form with its defaults filled in."""
        others = frozenset(field.name for field in fields_of(deed(VERB))) - set(FOUR)
        asked, draft = await app.away(
            lambda: (questions(app.desk, VERB, {}, others), draft_of(app.desk, VERB, ""))
        )
        plain = [q for name in FOUR for q in asked if q.name == name]
        from dataclasses import replace

        return cls(VERB, tuple(replace(q, stood="") for q in plain), {}, draft)

    def begin(self) -> None:
        """Says what it is."""
        super().begin()
        self.head("Welcome to Loomcard. Four things, then it starts.")
        if not self.draft:
            self.say("Everything else has a default and waits under settings (e on the day sheet).")
