"""Going from field to field of a page that works something out: round and round, by any of the usual keys."""

from collections.abc import Sequence

from textual.widget import Widget

from tracker.screens.page import Page


class FieldsPage(Page):
    """A page of fields that are gone round."""

    def answers(self) -> Sequence[Widget]:
        """The fields in their order."""
        raise NotImplementedError

    def action_field_on(self) -> None:
        """To the next field."""
        self.move(1)

    def action_field_back(self) -> None:
        """To the field before."""
        self.move(-1)

    def action_down(self) -> None:
        """To the next field."""
        self.move(1)

    def action_up(self) -> None:
        """To the field before."""
        self.move(-1)

    def move(self, step: int) -> None:
        """Among the fields, round and round."""
        stops = list(self.answers())
        if stops:
            at = stops.index(self.focused) if self.focused in stops else -step
            self.set_focus(stops[(at + step) % len(stops)])
