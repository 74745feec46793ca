"""Ways to mend the same thing, beside each other: one more added, one chosen, the paper to be ticked."""

from typing import TYPE_CHECKING, ClassVar, Self

from textual.widgets import Static

from tracker.desk.show import card_view
from tracker.errors import NotFoundError
from tracker.papers.one_line import way_line
from tracker.papers.ways import ways_shown
from tracker.records.facts import CardFacts
from tracker.records.money import Money
from tracker.records.visit import Way
from tracker.screens.asking import Question
from tracker.screens.form import FormPage
from tracker.screens.listing import Listing
from tracker.screens.plan import ChooseRulePage, RepairForm
from tracker.screens.rows import Entry
from tracker.screens.shown import clipped, shown

if TYPE_CHECKING:
    from tracker.screens.app import LoomcardApp


class WaysPage(Listing):
    """Ways to mend the same thing. Its twin is `loomcard offer N --way …`, `loomcard choose N NAME`."""

    kind_of_keys: ClassVar[str] = "ways"

    def __init__(self, number: str) -> None:
        super().__init__()
        self.number = number
        self._ways: tuple[Way, ...] = ()

    def begin(self) -> None:
        """Which card."""
        self.head(f"Ways to mend it  {self.number}")

    def card_meant(self) -> str:
        """This card."""
        return self.number

    async def refresh_page(self) -> None:
        """Looks at the ways anew, the cheapest first."""
        found = await self.fetch(lambda: ways_shown(card_view(self.desk, self.number).facts.ways))
        self._ways = tuple(sorted(found, key=lambda one: one.total_minor))
        width = max(60, self.size.width - 4)
        top = "Each amount is for the whole card with that way, tax included."
        self.query_one("#top", Static).update(shown(clipped(top, width)))
        self.rows.fill([Entry(str(one.id), shown(_way_text(one, width))) for one in self._ways])
        if not self._ways:
            self.say("No ways are set beside each other yet: a adds the first.")

    async def action_add_row(self) -> None:
        """One way more: its repair first, then its name and what the repair asks."""
        await self.loomcard.show(ChooseWayRulePage(self.number))

    async def action_open_row(self) -> None:
        """Takes the way under the cursor: asks who chose it."""
        one = next((way for way in self._ways if str(way.id) == self.rows.key), None)
        if one is None:
            return
        if one.chosen_on is not None:
            self.say(f"“{one.name}” is chosen: its repairs are planned.")
            return
        given = {"card": self.number, "way": one.name}
        form = await FormPage.made(self.loomcard, "choose", given, frozenset({"card", "way"}))
        form.title_words = f"choose “{one.name}”  {self.number}"
        await self.loomcard.show(form)

    async def action_customer_paper(self) -> None:
        """What the customer reads, to be ticked."""
        from tracker.papers.gather import paper_of
        from tracker.screens.paper import PaperPage

        try:
            paper = await self.fetch(lambda: paper_of(self.desk, "ways", self.number))
        except NotFoundError as error:
            self.say_error(error)
            return
        await self.loomcard.show(PaperPage(f"ways {self.number}", paper, self.size.width - 4))

    def action_copy_out(self) -> None:
        """Copies the way under the cursor."""
        if self.rows.words:
            self.app.copy_to_clipboard(self.rows.words)
            self.say("Copied.")


class ChooseWayRulePage(ChooseRulePage):
    """Which repair is the way made of? Its twin is `loomcard rules`."""

    title_words: ClassVar[str] = "A way: which repair?"

    async def entries(self) -> list[Entry]:
        """Every repair type."""
        return [one for one in await super().entries() if one.key != "="]

    async def take(self, key: str, typed: str) -> None:
        """Asks its name and what the type wants to know."""
        if key:
            await self.loomcard.instead(await WayForm.of(self.loomcard, self.number, key, None))
        else:
            self.say(f"No repair type holds “{typed}”.", wrong=True)


class WayForm(RepairForm):
    """A way's name and what its repair asks; saved, it is priced beside the others."""

    does: ClassVar[str] = "offer"
    others: tuple[Way, ...] = ()

    @classmethod
    async def of(cls, app: "LoomcardApp", number: str, rule: str, finding: int | None) -> Self:
        """The form, with its name asked first."""
        form = await super().of(app, number, rule, finding)
        hint = "a name the customer knows it by; one that stands there already takes this repair as well"
        name = Question("@name", "Name of the way", hint, required=True)
        form.asked = (name, *form.asked)

        def look() -> CardFacts:
            return card_view(app.desk, number).facts

        facts = await app.away(look)
        form.others = tuple(one for one in ways_shown(facts.ways) if one.chosen_on is None)
        form.title_words = f"A way: {rule}  {number}"
        return form

    def raw(self) -> dict[str, object]:
        """All the ways with this one."""
        name = self.typed().get("@name", "").strip()
        repairs = {one.name: list(one.repairs) for one in self.others}
        known = next((one for one in repairs if one.casefold() == name.casefold()), name)
        repairs.setdefault(known, []).append(self.repair())
        return {
            "card": self.given["card"],
            "way": [f"{way} = {'; '.join(texts)}" for way, texts in repairs.items()],
        }

    def field_named(self, field: str) -> str:
        """`splice: repair.joints` stands beside `joints`; what is wrong with the whole, beside the name."""
        return "@name" if field == "way" else super().field_named(field.rpartition(": ")[2])


def _way_text(way: Way, width: int) -> str:
    lines = [way_line(way), f"   {', '.join(way.words)}"]
    more = way.more_minor != way.total_minor
    range_ = f"   {way.low_min} to {way.high_min} min in 8 of 10"
    if more:
        range_ += f"; {Money(way.more_minor, way.currency)} more than what is planned without it"
    return "\n".join(clipped(line, width) for line in (*lines, range_))
