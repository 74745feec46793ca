"""The charging check of a card: its steps in order, what was read, what the readings say together."""

from typing import ClassVar

from textual.widgets import OptionList, Static

from tracker.desk.charging import ChargingCheck, StepTaken, charging_check
from tracker.errors import LoomcardError
from tracker.papers.charging_text import bike_words, check_text, judged_short, step_lines, verdict_lines
from tracker.papers.readings import with_unit
from tracker.screens.listing import Listing
from tracker.screens.rows import Entry
from tracker.screens.shown import fitted, shown


class ChargingPage(Listing):
    """The steps that make sense on this bike, in any order. Its twin is `loomcard charging --card N`."""

    kind_of_keys: ClassVar[str] = "charging"

    def __init__(self, card: str) -> None:
        super().__init__()
        self.card = card
        self._check: ChargingCheck | None = None

    def begin(self) -> None:
        """The head."""
        self.head(f"Charging check  {self.card}")

    def card_meant(self) -> str:
        """This card."""
        return self.card

    async def refresh_page(self) -> None:
        """Looks at the readings anew; the cursor goes to the one that decides next."""
        try:
            check = await self.fetch(lambda: charging_check(self.desk, self.card))
        except LoomcardError as error:
            self.say_error(error)
            return
        self._check = check
        width = max(60, self.size.width - 3)
        lines = verdict_lines(check.now, "What they say")[:6]
        top = [bike_words(check.bike), *(f"! {words}" for words in check.unsaid[:1]), *lines]
        self.query_one("#top", Static).update(shown("\n".join(fitted(line, width).rstrip() for line in top)))
        self.rows.fill([Entry(taken.step.id, shown(_line(taken, check, width))) for taken in check.steps])
        if not check.steps:
            self.say("There is nothing to check: no battery, and nothing that charges.")
        wanted = check.now.next.id if check.now.next else ""
        places = [taken.step.id for taken in check.steps]
        if wanted in places:
            self.rows.highlighted = places.index(wanted)
        self._say_how()

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Says how the step under the cursor is taken."""
        event.stop()
        self._say_how()

    def _taken(self) -> StepTaken | None:
        steps = self._check.steps if self._check else ()
        return next((taken for taken in steps if taken.step.id == self.rows.key), None)

    def _say_how(self) -> None:
        taken = self._taken()
        if taken is not None:
            self.next_line(shown("\n".join(step_lines(taken.step, "how")[1:6])))

    async def action_open_row(self) -> None:
        """Writes the reading of this step down: before the repair, or after it once something was done."""
        from tracker.screens.form import FormPage

        taken, check = self._taken(), self._check
        if taken is None or check is None:
            return
        done = any(repair.done_at is not None for repair in check.facts.repairs)
        step = taken.step
        given = {"card": self.card, "kind": step.kind, "place": step.place, "state": step.engine}
        form = await FormPage.made(
            self.loomcard, "test" if done else "read", given, frozenset({"card", "kind"})
        )
        form.note = f"{step.words}: {step.meter}; {step.leads}"
        await self.loomcard.show(form)

    def action_copy_out(self) -> None:
        """Copies the whole check."""
        if self._check is not None:
            self.app.copy_to_clipboard(check_text(self._check))
            self.say("The check is copied as text.")


def _line(taken: StepTaken, check: ChargingCheck, width: int) -> str:
    read = [*taken.before, *taken.after]
    said = "; ".join(f"{with_unit(one)} {judged_short(check.judged.get(one.id))}" for one in read)
    return fitted(f"{'x' if read else ' '} {fitted(taken.step.words, 40)} {said}", width)
