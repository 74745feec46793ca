"""The price of a card opened: every line to its sum and rule, revisions beside each other, ways to choose."""

import textwrap
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, ClassVar

from textual.widgets import Static

from tracker.desk.explain import Explained, ExplainedLine, explain, price_sum
from tracker.desk.show import card_view
from tracker.errors import LoomcardError
from tracker.screens.listing import Listing
from tracker.screens.plan import ChooseRulePage
from tracker.screens.rows import Entry
from tracker.screens.shown import clipped, padded, shown

if TYPE_CHECKING:
    pass

RANGE, SINCE, FACTORS = "@range", "@since", "@factors"


class PricePage(Listing):
    """An estimate, line by line. Its twin is `loomcard estimate N --explain`."""

    kind_of_keys: ClassVar[str] = "price"

    def __init__(self, number: str, revision: int | None = None) -> None:
        super().__init__()
        self.number = number
        self.revision = revision
        self._open: set[str] = set()
        self._found: Explained | None = None
        self._newest = 0

    def begin(self) -> None:
        """Which card."""
        self.head(f"Price  {self.number}")

    def card_meant(self) -> str:
        """This card."""
        return self.number

    async def refresh_page(self) -> None:
        """Looks at the revision anew; the newest where none was chosen."""

        def look() -> tuple[Explained | None, int]:
            newest = max((one.revision for one in self.desk.facts(card).estimates), default=0)
            return (explain(self.desk, self.number, self.revision), newest) if newest else (None, 0)

        view = await self.fetch(lambda: card_view(self.desk, self.number))
        card = view.facts.card.id
        try:
            self._found, self._newest = await self.fetch(look)
        except LoomcardError as error:
            self.say_error(error)
            return
        self._fill()
        if self._found is None:
            self.say("This card has no estimate yet: e chooses a repair, o sets ways beside each other.")
        elif view.left_words:
            self.next_line(shown(view.left_words))

    def _fill(self) -> None:
        found = self._found
        if found is None:
            self.rows.fill([])
            return
        estimate = found.estimate
        width = max(60, self.size.width - 4)
        said = [f"{estimate.number}, revision {estimate.revision} of {self._newest}, {estimate.made_on}"]
        said += textwrap.wrap(f"To the customer: {found.customer}", width)
        said += textwrap.wrap(
            f"Time: expected {estimate.expected_min} min, {estimate.low_min} to {estimate.high_min}"
            f" in 8 of 10; least {estimate.least_min}, likely {estimate.likely_min},"
            f" most {estimate.most_min}.",
            width,
        )
        self.query_one("#top", Static).update(shown("\n".join(said)))
        entries = [Entry(f"line {one.line.position}", shown(self._line(one, width))) for one in found.lines]
        entries.append(
            self._more(RANGE, "How the range comes", [found.treatment, *_rates(found.rates)], width)
        )
        learned = [_factor(name, value) for name, value in found.factors.items() if value.get("n")]
        if learned:
            entries.append(self._more(FACTORS, "From past cards", learned, width))
        if found.since:
            name = f"Since revision {found.against}"
            entries.append(self._more(SINCE, name, found.since, width))
        self.rows.fill(entries)

    def _line(self, one: ExplainedLine, width: int) -> str:
        line, amount = one.line, str(one.amount)
        head = padded(clipped(f"{line.position:>2}. {line.words}", width - 12), width - 12) + f"{amount:>12}"
        if f"line {line.position}" not in self._open:
            return head
        currency = self._found.estimate.currency if self._found else ""
        said = [price_sum(line, currency), line.why]
        if one.rule:
            answers = ", ".join(
                f"{name}={value}{' (assumed)' if name in one.assumed else ''}"
                for name, value in one.answers.items()
            )
            said += [f"Rule {one.rule} (r shows its text). Answers: {answers or 'none'}."]
        return "\n".join([head, *_below(said, width)])

    def _more(self, key: str, name: str, said: Sequence[str], width: int) -> Entry:
        if key not in self._open:
            return Entry(key, shown(clipped(f"  + {name}: {said[0]}", width)))
        return Entry(key, shown("\n".join([f"  - {name}", *_below(said, width)])))

    async def action_open_row(self) -> None:
        """Opens the line under the cursor to its sum, or closes it."""
        self._open ^= {self.rows.key}
        self._fill()

    async def action_revise(self, step: int) -> None:
        """The revision before, or the one after."""
        if self._found is None:
            return
        wanted = self._found.estimate.revision + step
        if not 1 <= wanted <= self._newest:
            self.say("There is no earlier revision." if step < 0 else "This is the revision in force.")
            return
        self.revision = None if wanted == self._newest else wanted
        self.say("")
        self._open |= {SINCE}
        await self.refresh_page()

    async def action_plan_repair(self) -> None:
        """Chooses a repair, or prices what is planned."""
        await self.loomcard.show(ChooseRulePage(self.number))

    async def action_ways(self) -> None:
        """Ways to mend it, beside each other."""
        from tracker.screens.ways import WaysPage

        await self.loomcard.show(WaysPage(self.number))

    async def action_rule(self) -> None:
        """The text of the rule that the line under the cursor came from."""
        from tracker.screens.rules import RulePage

        lines = self._found.lines if self._found else ()
        one = next((one for one in lines if f"line {one.line.position}" == self.rows.key), None)
        if one is None or not one.rule:
            self.say("No rule made this line: stand on a repair.", wrong=True)
            return
        await self.loomcard.show(await RulePage.of(self.loomcard, one.rule, self.number))

    async def action_customer_paper(self) -> None:
        """What the customer reads."""
        from tracker.papers.gather import paper_of
        from tracker.screens.paper import PaperPage

        found = self._found
        if found is None:
            self.say("This card has no estimate yet.", wrong=True)
            return
        number = found.estimate.number
        paper = await self.fetch(lambda: paper_of(self.desk, "estimate", number))
        await self.loomcard.show(PaperPage(number, paper, self.size.width - 4))

    def action_copy_out(self) -> None:
        """Copies the line under the cursor as it stands there."""
        if self.rows.words:
            self.app.copy_to_clipboard(self.rows.words)
            self.say("Copied.")


def _below(said: Sequence[str], width: int) -> list[str]:
    return [
        f"      {line}" for words in said for line in textwrap.wrap(words, width - 6, break_on_hyphens=False)
    ]


def _rates(rates: Mapping[str, str]) -> list[str]:
    said = ", ".join(f"{name.replace('_', ' ')} {value}" for name, value in rates.items() if value != "0")
    return [f"Rates: {said}."] if said else []


def _factor(name: str, value: Mapping[str, float]) -> str:
    return f"{name}: {value['expected_times']:.2f} times the book, from {value['n']:.0f} cards"
