"""Every key, with the person's own."""

from collections.abc import Sequence
from typing import ClassVar

from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from tracker.screens.commands import help_lines
from tracker.screens.page import Page
from tracker.screens.shown import shown

TWINS = {
    "day": "loomcard day",
    "card": "loomcard card N",
    "price": "loomcard estimate N --explain",
    "ways": "loomcard offer N --way …, loomcard choose N NAME",
    "rules": "loomcard rules, loomcard learned",
    "rule": "loomcard rules NAME, rules try NAME FILE, rules change NAME FILE",
    "list": "loomcard bike, customer, stock, owed, due, settings",
    "form": "loomcard VERB --help",
    "choose": "loomcard find WORDS",
    "loom": "loomcard loom BIKE, loom facts BIKE, where NAME",
    "facts": "loomcard loom facts BIKE, loom forget BIKE FACT",
    "charging": "loomcard charging --card N",
    "bike": "loomcard bike N, loomcard readings N --chart",
    "customer": "loomcard customer N, loomcard statement N",
    "rechecks": "loomcard due, loomcard recheck-mail N",
    "trace": "loomcard trace --card N",
    "marks": "loomcard look N --dead NAME --works NAME",
    "sum": "loomcard sums NAME",
    "circuit": "loomcard new-circuit BIKE LOAD --to PLACE",
    "paper": "loomcard find WORDS, and the verb of what is shown",
    "one-paper": "loomcard paper KIND N --pdf FILE",
}
"""The command that shows the same without a screen."""


class KeysPage(Page):
    """The keys of the screen it was opened from first, then all others. Their twin is docs/keys.md."""

    kind_of_keys: ClassVar[str] = "paper"

    def __init__(self, first: str) -> None:
        super().__init__()
        self.of = first

    def body(self) -> Sequence[Widget]:
        """All of them."""
        more = [
            "Ctrl+P finds every deed by its name. Ctrl+Q leaves; what is typed is kept.",
            "On a Choice: left, right, space or a first letter choose.",
        ]
        twin = TWINS.get(self.of, "")
        lines = [f"Without a screen: {twin}", ""] if twin else []
        self.text = "\n".join([*lines, *help_lines(self.loomcard.keys, self.of), *more])
        return (VerticalScroll(Static(shown(self.text)), id="paper"),)

    def first(self) -> Widget:
        """The text scrolls."""
        return self.query_one("#paper")

    def begin(self) -> None:
        """The head."""
        self.head("Keys")

    def action_copy_out(self) -> None:
        """Copies them."""
        self.app.copy_to_clipboard(self.text)
        self.say("Copied.")

    def action_write_text(self) -> None:
        """Nothing to write: the manual has them."""
        self.say("They stand in docs/keys.md.")
