"""The sums: choose one, type, and the answer changes while it is typed, with its reasons and its source."""

import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar, Self

from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from tracker.desk.sums import Answered, all_sums, named_sum, work_out
from tracker.desk.sums_about import as_reading, in_words, known_of
from tracker.electrics.catalogue import NamedSum
from tracker.electrics.catalogue_arguments import Argument, arguments_of, choices_of
from tracker.electrics.catalogue_figures import figures
from tracker.electrics.catalogue_headline import headline
from tracker.records.problem import Mistakes
from tracker.screens.choose import ChoosePage
from tracker.screens.fields import Answer, Choice, Line
from tracker.screens.moving import FieldsPage
from tracker.screens.rows import Entry
from tracker.screens.shown import shown
from tracker.seedfiles.tables import electric_tables

if TYPE_CHECKING:
    from tracker.screens.app import LoomcardApp

YES_NO = ("", "yes", "no")


class ChooseSumPage(ChoosePage):
    """Which sum? Its twin is `loomcard sums`."""

    title_words: ClassVar[str] = "Sums"

    def __init__(self, card: str = "") -> None:
        super().__init__()
        self.card = card

    async def entries(self) -> list[Entry]:
        """Every sum with what it answers."""
        found, also = all_sums()
        return [Entry(one.name, shown(f"{one.name:<16} {one.words}")) for one in (*found, *also)]

    def card_meant(self) -> str:
        """The card whose bike it is asked beside."""
        return self.card

    async def take(self, key: str, typed: str) -> None:
        """Opens it."""
        if key:
            await self.loomcard.instead(await SumPage.of(self.loomcard, key, self.card))
        else:
            self.say(f"No sum holds “{typed}”.", wrong=True)


class SumPage(FieldsPage):
    """One sum. Its twin is `loomcard sums NAME`."""

    kind_of_keys: ClassVar[str] = "sum"

    def __init__(self, named: NamedSum, card: str, known: dict[str, str]) -> None:
        super().__init__()
        self.named = named
        self.card = card
        self.known = known
        self.answered: Answered | None = None
        self._wrong: dict[str, str] = {}

    @classmethod
    async def of(cls, app: "LoomcardApp", name: str, card: str = "") -> Self:
        """The sum of that name, with what the card's bike tells standing in it."""
        named = named_sum(name)
        known = await app.away(lambda: known_of(app.desk, card, named)) if card else {}
        return cls(named, card, known)

    def body(self) -> Sequence[Widget]:
        """The arguments, and the answer below them, or beside them where there is room."""
        rows = [self._row(argument) for argument in arguments_of(self.named)]
        return (
            Vertical(
                VerticalScroll(*rows, id="form", can_focus=False),
                VerticalScroll(Static(id="whole"), id="answer", can_focus=False),
                id="sum",
            ),
        )

    def _row(self, argument: Argument) -> Widget:
        choices = choices_of(self.named, argument, electric_tables())
        value = self.known.get(argument.name, "")
        field: Answer
        if argument.kind is bool or choices:
            field = Choice(YES_NO if argument.kind is bool else ("", *choices), value, name=argument.name)
        else:
            field = Line(value, _hint(argument), name=argument.name)
        field.add_class("field")
        words = argument.name.replace("_", " ") + (" *" if argument.required else "")
        return Horizontal(Static(shown(words), classes="label"), field, classes="row")

    def first(self) -> Widget | None:
        """The first argument."""
        answers = self.answers()
        return answers[0] if answers else None

    def begin(self) -> None:
        """Says what it answers; works out what is known already."""
        beside = f"   {self.card}" if self.card else ""
        self.head(f"{self.named.name}: {self.named.words}{beside}")
        self.work()

    def card_meant(self) -> str:
        """The card whose bike it is asked beside."""
        return self.card

    def answers(self) -> list[Answer]:
        """The fields in their order."""
        return [one for one in self.query(".field") if isinstance(one, Line | Choice)]

    def typed(self) -> dict[str, str]:
        """What stands in them."""
        return {str(one.name): one.value for one in self.answers()}

    def on_input_changed(self, event: Line.Changed) -> None:
        """Works it out anew at each key: a sum takes far less than a paint."""
        event.stop()
        self.work()

    def on_choice_changed(self, event: Choice.Changed) -> None:
        """Another answer, another sum."""
        event.stop()
        self.work()

    def work(self) -> None:
        """The answer to what stands there, or what it still wants."""
        raw = {name: text for name, text in self.typed().items() if text.strip()}
        try:
            self.answered = work_out(self.named, raw, self.desk.seeds)
        except Mistakes as mistakes:
            self.answered = None
            lines = [f"{problem.sentence} {problem.hint}".strip() for problem in mistakes.problems]
            self.query_one("#whole", Static).update(shown("\n".join(f"- {line}" for line in lines)))
            return
        self.query_one("#whole", Static).update(shown(self.text()))

    def text(self) -> str:
        """The answer in words: in short, figures, why, what to mind, from where."""
        if self.answered is None:
            return ""
        answer = self.answered.answer
        width = max(40, min(100, self.size.width - 4))
        lines = textwrap.wrap(headline(answer), width)
        lines += [f"  {one.words:<26} {one.value}" for one in figures(answer)]
        for name, contents in (("Why", answer.why), ("Mind", answer.cautions), ("From", answer.source)):
            for n, content in enumerate(contents):
                wrapped = textwrap.wrap(content, width - 6) or [""]
                lines += [f"{name if n == m == 0 else '':<6}{line}" for m, line in enumerate(wrapped)]
        return "\n".join(lines)

    def action_next_field(self) -> None:
        """Enter goes on."""
        self.move(1)

    def action_copy_out(self) -> None:
        """Copies the answer."""
        self.app.copy_to_clipboard(self.text())
        self.say("The answer is copied." if self.answered else "There is no answer yet.")

    async def action_keep_sum(self) -> None:
        """Puts the answer on a card."""
        if self.answered is None:
            self.say("There is no answer yet.", wrong=True)
            return
        answer = self.answered.answer
        words = in_words(self.named, answer, headline(answer))
        reading = as_reading(self.named, self.typed())
        await self.loomcard.show(KeepSumPage(self.card, words, reading))


class KeepSumPage(ChoosePage):
    """As what, and on which card?"""

    title_words: ClassVar[str] = "Put it on the card as"

    def __init__(self, card: str, words: str, reading: dict[str, str]) -> None:
        super().__init__()
        self.card = card
        self.as_words = words
        self.reading = reading

    async def entries(self) -> list[Entry]:
        """A reading where the sum was fed with one; a finding, a line of the estimate."""
        if not self.card:
            return await self.fetch(self._open_cards)
        found = [Entry("finding", shown(f"a finding         {self.as_words}"))]
        found.append(Entry("part want", shown(f"an estimate line  {self.as_words}")))
        if self.reading:
            words = f"{self.reading['kind'].replace('_', ' ')} {self.reading['value']}"
            found.insert(0, Entry("read", shown(f"a reading         {words}")))
        return found

    def _open_cards(self) -> list[Entry]:
        from tracker.desk.day import day_sheet

        return [
            Entry(row.number, shown(f"{row.number}  {row.who}  {row.bike}  {row.complaint}"))
            for group in day_sheet(self.desk).groups
            for row in group.rows
        ]

    def begin(self) -> None:
        """Asks which card first, where none is meant."""
        self.head(f"{self.title_words}   {self.card}" if self.card else "On which card?")

    async def take(self, key: str, typed: str) -> None:
        """Opens the form with it filled in."""
        del typed
        if not key:
            self.say("No card holds that.", wrong=True)
            return
        if not self.card:
            await self.loomcard.instead(KeepSumPage(key, self.as_words, self.reading))
            return
        from tracker.screens.form import FormPage

        given = {
            "read": self.reading,
            "finding": {"words": self.as_words},
            "part want": {"part": self.as_words, "qty": "1"},
        }[key]
        form = await FormPage.made(self.loomcard, key, {"card": self.card, **given}, frozenset({"card"}))
        await self.loomcard.instead(form)


def _hint(argument: Argument) -> str:
    words = [argument.words]
    if argument.unit:
        words.append(argument.unit)
    if argument.many:
        words.append("several with blanks" if argument.kind is not str else "several with ;")
    if argument.default not in (None, (), "") and not isinstance(argument.default, bool):
        words.append(f"{argument.default} where none is said")
    return ", ".join(words)
