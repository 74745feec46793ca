"""The trace of a card: what it can be, the next check in one sentence, one field for what was read."""

from collections.abc import Sequence
from typing import ClassVar

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from tracker.desk.trace import finding_fields, probe_fields
from tracker.desk.trace_read import figure
from tracker.errors import LoomcardError
from tracker.screens.choose import ChoosePage
from tracker.screens.fields import Line
from tracker.screens.page import Page
from tracker.screens.rows import Entry, Rows
from tracker.screens.shown import clipped, fitted, shown
from tracker.screens.trace_told import Told, likeliest, tell

SAID = 2
"""Of what does not fit so many are said, the newest first."""


class TracePage(Page):
    """A card's trace. Its twin is `loomcard trace --card N`."""

    kind_of_keys: ClassVar[str] = "trace"

    def __init__(self, card: str) -> None:
        super().__init__()
        self.card = card
        self.told: Told | None = None

    def body(self) -> Sequence[Widget]:
        """What was seen, the next check, what it may show, the field, the suspects."""
        wants = Rows(id="list")
        wants.can_focus = False
        return (
            Static(id="top"),
            Static(id="check"),
            wants,
            Line("", "what it reads or shows", id="seek"),
            Static(id="suspects"),
        )

    def first(self) -> Widget:
        """The field."""
        return self.line

    @property
    def line(self) -> Line:
        """The one field."""
        return self.query_one("#seek", Line)

    @property
    def rows(self) -> Rows:
        """What the check may show."""
        return self.query_one("#list", Rows)

    def begin(self) -> None:
        """It takes a moment to think."""
        self.head(f"Trace  {self.card}")
        self.query_one("#check", Static).update(shown("Working out what it can be ..."))

    def card_meant(self) -> str:
        """This card."""
        return self.card

    async def refresh_page(self) -> None:
        """Thinks anew, on the bench it has thought on before."""
        bench = self.told.kept.trace.bench if self.told else None
        try:
            self.told = await self.fetch(lambda: tell(self.desk, self.card, bench))
        except LoomcardError as error:
            self.say_error(error)
            return
        self._show(self.told)

    def on_resize(self) -> None:
        """More room shows more."""
        super().on_resize()
        if self.told is not None:
            self._show(self.told)

    def _show(self, told: Told) -> None:
        width = max(40, self.size.width - 2)
        self.query_one("#top", Static).update(
            shown("\n".join(line for line in (told.seen, told.left) if line))
        )
        lines = [Content.styled(told.next, "bold $accent")]
        newest = [*reversed(told.problems)]
        more = [f"and {len(newest) - SAID} more that does not fit"] if len(newest) > SAID else []
        lines += [shown(f"  ! {line}") for line in (*told.mind[:2], *newest[:SAID], *more)]
        self.query_one("#check", Static).update(Content("\n").join(lines))
        self.rows.fill(
            [Entry(outcome, shown(fitted(words, width - 1))) for outcome, words in told.wants], from_top=True
        )
        self.rows.highlighted = None
        suspects = [clipped(line, width) for line in (told.promise, *told.suspects) if line]
        self.query_one("#suspects", Static).update(shown("\n".join([*told.ended, *suspects])))

    def action_down(self) -> None:
        """Among what the check may show."""
        self.rows.action_cursor_down()

    def action_up(self) -> None:
        """Up again; above the first, to the field alone."""
        if self.rows.highlighted == 0:
            self.rows.highlighted = None
        else:
            self.rows.action_cursor_up()

    async def action_take(self) -> None:
        """Writes down what was read, or the answer under the cursor, and moves on."""
        if self.told is None:
            return
        check = self.told.kept.trace.now.next
        read = self.line.value.strip() or (self.rows.key if self.rows.highlighted is not None else "")
        if check is None:
            await self.action_write_finding()
        elif not read:
            self.say("Type what it reads, or go down to what it shows.", wrong=True)
        elif check.metered and figure(self.line.value) is None:
            self.say("Type the figure that the meter shows.", wrong=True)
        elif not check.metered and read not in (shows := [outcome for outcome, _ in self.told.wants]):
            self.say(f"It shows one of: {', '.join(shows)}.", wrong=True)
        elif await self._do("probe", probe_fields(self.told.kept, check, read)):
            self.line.value = ""

    async def _do(self, verb: str, raw: dict[str, object]) -> bool:
        from tracker.screens.doing import do_now

        return await do_now(self.loomcard, verb, raw)

    async def action_step_back(self) -> None:
        """The last reading that counts is doubted: kept, and counting for nothing."""
        if self.told is None:
            return
        readings = self.told.kept.trace.readings
        counting = [number for number, one in enumerate(readings, 1) if not one.doubted]
        if counting:
            await self._do("doubt", {"card": self.card, "step": str(counting[-1])})
        else:
            self.say("No reading has been taken yet.")

    async def action_cannot_reach(self) -> None:
        """The check is taken out; another way is looked for."""
        check = self.told.kept.trace.now.next if self.told else None
        if check is not None:
            await self._do("bar", {"card": self.card, "place": check.part})

    async def action_off_anyway(self) -> None:
        """What is off already costs nothing more."""
        await self.loomcard.show(OffPage(self))

    async def action_mark_loads(self) -> None:
        """Dead, weak, works and the other symptoms: the loads in a list, one key each."""
        from tracker.screens.marks import MarksPage

        if self.told is not None:
            await self.loomcard.show(MarksPage(self))

    async def action_trail(self) -> None:
        """The trail as a paper."""
        from tracker.papers.gather import paper_of
        from tracker.screens.paper import PaperPage

        paper = await self.fetch(lambda: paper_of(self.desk, "trail", self.card))
        await self.loomcard.show(PaperPage(f"trail {self.card}", paper, self.size.width - 4))

    async def action_loom(self) -> None:
        """The loom, with the likeliest suspect's circuit lit."""
        from tracker.screens.loom import LoomPage

        marks = self.told.kept.trace.marks if self.told else ()
        load = next((mark.load for mark in marks), "")
        await self.loomcard.show(await LoomPage.of(self.loomcard, card=self.card, load=load))

    async def action_write_finding(self) -> None:
        """Stops with the likeliest as the finding: repair type, circuit, wire and places go with it."""
        from tracker.screens.form import FormPage

        if self.told is None:
            return
        fields = {name: str(value) for name, value in finding_fields(self.told.kept).items()}
        given = fields or {"card": self.card, "words": likeliest(self.told)}
        form = await FormPage.made(self.loomcard, "finding", given, frozenset({"card"}))
        if not fields:
            form.note = "It is not proved yet: what is likeliest stands here."
        await self.loomcard.show(form)

    def action_copy_out(self) -> None:
        """Copies how it stands."""
        if self.told is not None:
            told = self.told
            self.app.copy_to_clipboard("\n".join((told.seen, told.next, *told.suspects, told.promise)))
            self.say("Copied.")


class OffPage(ChoosePage):
    """What is off anyway?"""

    title_words: ClassVar[str] = "What is off already?"

    def __init__(self, page: TracePage) -> None:
        super().__init__()
        self.page = page

    async def entries(self) -> list[Entry]:
        """Everything that can come off, with its minutes."""
        if self.page.told is None:
            return []
        trace = self.page.told.kept.trace
        return [
            Entry(one.id, shown(f"{one.words}, {one.minutes} min"))
            for one in trace.loom.known.accesses.values()
            if one.id not in trace.opened
        ]

    async def take(self, key: str, typed: str) -> None:
        """Notes it on the card."""
        del typed
        await self.loomcard.back()
        if key:
            await self.page._do("look", {"card": self.page.card, "off": [key]})
