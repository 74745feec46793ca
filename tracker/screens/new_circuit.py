"""A new circuit or a conversion for a card's bike: pick the load, say where, read it, put it on the card."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar, Self

from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from tracker.desk.new_circuit import NewCircuit, work_out_new
from tracker.desk.new_circuit_asked import LIMITS, asked_from, typed_figures
from tracker.desk.show import card_view
from tracker.errors import LoomcardError
from tracker.papers.new_circuit_text import new_circuit_text
from tracker.records.new_circuit import NewLoad
from tracker.records.problem import Mistakes, Problem
from tracker.screens.choose import ChoosePage
from tracker.screens.fields import Answer, Choice, Line
from tracker.screens.moving import FieldsPage
from tracker.screens.rows import Entry
from tracker.screens.shown import shown
from tracker.seedfiles.new_loads import load_new_loads

if TYPE_CHECKING:
    from tracker.screens.app import LoomcardApp

WORDS = (
    ("to", "Goes to *", "a place, a part or a zone of the loom: left-bar"),
    ("takes", "Takes", "if not the usual: 7 A, 90 W, lamp 110 W"),
    ("feed", "Fed from", "a fuse of the loom; the battery when none is named"),
    ("alternator_w", "Alternator", "its rated watts; the bike's own figure when none is said"),
    ("gives", "It gives", "as measured, several with ;  6 A at 1200"),
    ("length", "Length", "mm, if not the loom's own"),
    ("switch_a", "Its switch carries", "A"),
)
"""What is asked, in this order: name, label, hint."""


class ChooseLoadPage(ChoosePage):
    """Which load? Its twin is `loomcard new-circuit BIKE --list`."""

    title_words: ClassVar[str] = "A new circuit or a conversion: which load?"

    def __init__(self, card: str) -> None:
        super().__init__()
        self.card = card

    async def entries(self) -> list[Entry]:
        """Every load of the table with what it takes."""
        loads = await self.fetch(lambda: tuple(load_new_loads(self.desk.seeds).values()))
        return [
            Entry(one.id, shown(f"{one.id:<18} {one.words}, {one.load.value:g} {one.load.kind}"))
            for one in loads
        ]

    def card_meant(self) -> str:
        """The card for whose bike it is."""
        return self.card

    async def take(self, key: str, typed: str) -> None:
        """Opens it for the card's bike."""
        if not key:
            self.say(f"No load holds “{typed}”.", wrong=True)
            return
        try:
            page = await NewCircuitPage.of(self.loomcard, self.card, key)
        except LoomcardError as error:
            self.say_error(error)
            return
        await self.loomcard.instead(page)


class NewCircuitPage(FieldsPage):
    """One load on the card's bike. Its twin is `loomcard new-circuit BIKE LOAD --to PLACE`."""

    kind_of_keys: ClassVar[str] = "circuit"

    def __init__(self, card: str, bike: str, load: NewLoad) -> None:
        super().__init__()
        self.card = card
        self.bike = bike
        self.load = load
        self.found: NewCircuit | None = None

    @classmethod
    async def of(cls, app: "LoomcardApp", card: str, name: str) -> Self:
        """The load of that name for a card's bike; raises LoomcardError where the card has none."""

        def look() -> tuple[str, NewLoad]:
            bike = card_view(app.desk, card).facts.bike
            if bike is None:
                raise LoomcardError(f"Card {card} has no bike.")
            return str(bike.id), load_new_loads(app.desk.seeds)[name]

        bike, load = await app.away(look)
        return cls(card, bike, load)

    def body(self) -> Sequence[Widget]:
        """What is asked, and the answer below."""
        rows = [self._row(*words) for words in WORDS]
        keyed = Choice(("", "yes", "no"), "", name="keyed")
        keyed.add_class("field")
        rows.append(Horizontal(Static(shown("Off with the key"), classes="label"), keyed, classes="row"))
        return (
            Vertical(
                VerticalScroll(*rows, id="form", can_focus=False),
                VerticalScroll(Static(id="whole"), id="answer", can_focus=False),
                id="sum",
            ),
        )

    def _row(self, name: str, label: str, hint: str) -> Widget:
        line = Line("", hint, name=name)
        line.add_class("field")
        return Horizontal(Static(shown(label), classes="label"), line, classes="row")

    def first(self) -> Widget | None:
        """Where it goes."""
        return self.answers()[0]

    def begin(self) -> None:
        """Which load, for which card."""
        self.head(f"{self.load.words[:1].upper()}{self.load.words[1:]}  {self.card}")
        self._tell("Enter works it out; ^S puts it on the card.")

    def card_meant(self) -> str:
        """This card."""
        return self.card

    def answers(self) -> list[Answer]:
        """The fields in their order."""
        return [one for one in self.query(".field") if isinstance(one, Line | Choice)]

    def _tell(self, text: str) -> None:
        self.query_one("#whole", Static).update(shown(text))

    async def _work(self) -> bool:
        """Works it out from what stands there; False where it is not understood."""
        typed = {str(one.name): one.value.strip() for one in self.answers()}
        width = max(40, min(100, self.size.width - 6))

        def work() -> NewCircuit:
            figures, wrong = typed_figures(typed)
            problems = [
                Problem(name, f"“{typed[name]}” is not a number.", f"In {LIMITS[name][2]}.") for name in wrong
            ]
            if problems:
                raise Mistakes(problems)
            keyed = {"yes": True, "no": False}.get(typed["keyed"])
            gives = [part.strip() for part in typed["gives"].split(";") if part.strip()]
            asked = asked_from(self.load.id, typed, figures, gives=gives, keyed=keyed)
            return work_out_new(self.desk, self.bike, asked)

        try:
            self.found = await self.fetch(work)
        except LoomcardError as error:
            self.found = None
            problems = error.problems if isinstance(error, Mistakes) else ()
            lines = [f"- {p.field}: {p.sentence} {p.hint}".rstrip() for p in problems]
            self._tell("\n".join(lines or [error.sentence]))
            self.say(error.sentence, wrong=True)
            return False
        self.say("")
        self._tell(new_circuit_text(self.found, width))
        return True

    async def action_next_field(self) -> None:
        """Works it out, and goes on."""
        await self._work()
        self.move(1)

    async def action_take_circuit(self) -> None:
        """Puts it on the card as a repair, and prices the card; not what is refused."""
        if not await self._work() or self.found is None:
            return
        if self.found.refused:
            self.say("Refused: " + self.found.refused[0], self.found.refused[1:], wrong=True)
            return
        from tracker.desk.deeds import deed
        from tracker.screens.doing import after

        raw = {"card": self.card, "repair": [self.found.repair]}
        try:
            record = await self.fetch(lambda: self.desk.given(deed("estimate"), raw))
        except LoomcardError as error:
            self.say_error(error)
            return
        await after(self.loomcard, "estimate", record, self.desk.notes)

    def action_copy_out(self) -> None:
        """Copies the answer."""
        self.app.copy_to_clipboard(new_circuit_text(self.found) if self.found else "")
        self.say("The answer is copied." if self.found else "There is no answer yet.")
