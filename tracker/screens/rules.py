"""The repair rules: listed with what past cards say, a text changed, tried on past cards and a bike, kept."""

import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, ClassVar, Self

from textual.containers import Vertical, VerticalScroll
from textual.widget import Widget
from textual.widgets import Static, TextArea

from tracker.desk.forms import draft_of, drop_draft, keep_draft
from tracker.desk.learned import LearnedView, learned_view
from tracker.desk.repair_asked import RuleLine, rule_lines
from tracker.desk.rule_trial import Trial, as_asked_on, file_of, try_text
from tracker.errors import LoomcardError
from tracker.records.problem import Mistakes
from tracker.screens.listing import Listing
from tracker.screens.page import Page
from tracker.screens.rows import Entry
from tracker.screens.shown import clipped, shown
from tracker.seedfiles.door import SHIPPED, SeedMistakes

if TYPE_CHECKING:
    from tracker.screens.app import LoomcardApp

CHANGE = "rules change"


class RulesPage(Listing):
    """Every repair rule, and the clocks asked about. Its twins: `loomcard rules`, `loomcard learned`."""

    kind_of_keys: ClassVar[str] = "rules"

    def __init__(self, card: str = "") -> None:
        super().__init__()
        self.card = card
        self._learned: LearnedView | None = None

    def begin(self) -> None:
        """The head."""
        self.head("Repair rules")

    def card_meant(self) -> str:
        """The card on whose bike a text is tried."""
        return self.card

    async def refresh_page(self) -> None:
        """The rules by group with what their cards say; first of all the clocks that are asked about."""

        def look() -> tuple[tuple[RuleLine, ...], LearnedView, frozenset[str]]:
            seeds = self.desk.seeds
            lines = rule_lines(self.desk)
            own = frozenset(one.id for one in lines if file_of(one.id) in seeds.own)
            return lines, learned_view(self.desk), own

        try:
            lines, learned, own = await self.fetch(look)
        except SeedMistakes as mistakes:
            own_files = sorted(file for file in self.desk.seeds.own if file.startswith("repairs/"))
            names = [file.removeprefix("repairs/").removesuffix(".toml") for file in own_files]
            self.rows.fill([Entry(name, shown(f"* {name}")) for name in names])
            self.say(f"{mistakes.sentence} Open it here and put it right.", wrong=True)
            return
        except LoomcardError as error:
            self.say_error(error)
            return
        self._learned = learned
        width = max(60, self.size.width - 4)
        used = "used in new estimates" if learned.used else "shown only: settings, “use learned” takes them"
        top = f"{learned.jobs} clocked repairs tell of their rules; {used}. * your own text."
        self.query_one("#top", Static).update(shown("\n".join(textwrap.wrap(top, width))))
        said = {one.rule: one.sentence for one in learned.rules}
        asked = [
            Entry(f"?{n}", shown(_asked_text(f"? card {one.card}: {one.why} Enter says what it was.", width)))
            for n, one in enumerate(learned.asked)
            if not one.counted
        ]
        rows = [
            Entry(
                one.id,
                shown(
                    clipped(
                        f"{'*' if one.id in own else ' '} {one.group:<14} {one.words}"
                        + (f": {said[one.id]}" if one.id in said else ""),
                        width,
                    )
                ),
            )
            for one in lines
        ]
        self.rows.fill([*asked, *rows])

    async def action_open_row(self) -> None:
        """Opens the rule under the cursor; of a clock that is asked about, the form that puts it right."""
        key = self.rows.key
        if key.startswith("?") and self._learned is not None:
            from tracker.screens.form import FormPage

            one = self._learned.asked[int(key[1:])]
            given = {"card": one.card, "entry": one.entry, "minutes": str(one.took_min)}
            form = await FormPage.made(self.loomcard, "clock fix", given, frozenset({"card"}))
            form.note = "The minutes it really was; the same again say that it is right."
            await self.loomcard.show(form)
        elif key:
            await self.loomcard.show(await RulePage.of(self.loomcard, key, self.card))


class RulePage(Page):
    """One rule's text, to be changed here. Its twins: `loomcard rules NAME`, `rules try`, `rules change`."""

    kind_of_keys: ClassVar[str] = "rule"

    def __init__(self, name: str, kept: str, text: str, told: str, card: str) -> None:
        super().__init__()
        self.rule_name = name
        self.kept = kept
        self.at_first = text
        self.told = told
        self.card = card

    @classmethod
    async def of(cls, app: "LoomcardApp", name: str, card: str = "") -> Self:
        """The rule as the shop has it, or as it was left half changed."""

        def look() -> tuple[str, str, str]:
            seeds = app.desk.seeds
            text = seeds.text(file_of(name))
            half = draft_of(app.desk, CHANGE, name).get("text", "")
            own = "Your own text. " if file_of(name) in seeds.own else ""
            try:
                row = next((one for one in learned_view(app.desk).rules if one.rule == name), None)
            except SeedMistakes as mistakes:
                said = [f"! {p.field}: {p.sentence} {p.hint}".rstrip() for p in mistakes.problems]
                return text, half or text, "\n".join(said)
            return text, half or text, own + (row.sentence if row else "No clocked card tells of it yet.")

        kept, text, told = await app.away(look)
        return cls(name, kept, text, told, card)

    def body(self) -> Sequence[Widget]:
        """The text, and below it what was said of it."""
        area = TextArea(self.at_first, id="text", theme="css", soft_wrap=False, show_line_numbers=True)
        area.indent_type = "spaces"
        return (Vertical(area, VerticalScroll(Static(id="whole"), id="answer", can_focus=False), id="rule"),)

    @property
    def area(self) -> TextArea:
        """The text."""
        return self.query_one("#text", TextArea)

    def first(self) -> Widget:
        """The text has the cursor."""
        return self.area

    def card_meant(self) -> str:
        """The card on whose bike it is tried."""
        return self.card

    def begin(self) -> None:
        """Which rule, and what cards say of it."""
        beside = f"   tried beside card {self.card}" if self.card else ""
        self.head(f"Rule {self.rule_name}{beside}")
        self._tell(self.told.split("\n"))
        if self.at_first != self.kept:
            self.say("What you changed last time and did not keep stands here again.")

    def _tell(self, lines: Sequence[str]) -> None:
        width = max(40, self.size.width - 4)
        wrapped = [part for line in lines for part in (textwrap.wrap(line, width) or [""])]
        self.query_one("#whole", Static).update(shown("\n".join(wrapped)))

    def action_try_rule(self) -> Any:
        """Tries the text on past cards of its kind, and on the card's bike; nothing is kept."""
        return self._trial(keep=False)

    def action_keep_rule(self) -> Any:
        """Tries it, then keeps it as the shop's own."""
        return self._trial(keep=True)

    async def _trial(self, *, keep: bool) -> None:
        text, name, card = self.area.text, self.rule_name, self.card

        def tried() -> tuple[Trial, str]:
            bike, repairs = as_asked_on(self.desk, card, name) if card else ("", ())
            try:
                return try_text(self.desk, name, text, bike, repairs), ""
            except Mistakes as mistakes:
                why = "; ".join(problem.sentence for problem in mistakes.problems)
                return try_text(self.desk, name, text), f"It could not be tried on the bike: {why}"

        try:
            trial, why = await self.fetch(tried)
        except SeedMistakes as mistakes:
            self._tell([f"! {p.field}: {p.sentence} {p.hint}".rstrip() for p in mistakes.problems])
            self.say(mistakes.sentence, wrong=True)
            return
        self._tell([*trial_lines(trial), *([why] if why else [])])
        if not keep:
            self.say("Tried; nothing is kept yet. ^S keeps it.")
            return
        if text == self.kept:
            self.say("Nothing was changed.")
            return
        await self._keep(text)

    async def _keep(self, text: str) -> None:
        from tracker.desk.deeds import deed
        from tracker.screens.doing import took_back, words_for

        fields = {"rule": self.rule_name, "text": text}
        try:
            record = await self.fetch(lambda: self.desk.given(deed(CHANGE), fields))
        except LoomcardError as error:
            self.say_error(error)
            return
        self.kept = text
        await self.fetch(lambda: drop_draft(self.desk, CHANGE, self.rule_name))
        words = await self.fetch(lambda: words_for(self.loomcard, record))
        self.say(f"Kept: {took_back(words)}. New estimates use it; ^R gives the program's own text back.")

    async def action_as_it_was(self) -> None:
        """Back to the text that is kept; pressed again, to the one that came with the program."""
        if self.area.text != self.kept:
            self.area.text = self.kept
            await self.fetch(lambda: drop_draft(self.desk, CHANGE, self.rule_name))
            self.say("The text that is kept stands here again.")
            return
        file = file_of(self.rule_name)
        shipped = SHIPPED.text(file) if file in SHIPPED.names("repairs", ".toml") else ""
        if not shipped or shipped == self.kept:
            self.say(
                "This is the text that came with the program." if shipped else "It is a rule of your own."
            )
            return
        self.area.text = shipped
        self.say("The program's own text stands here; ^S keeps it.")

    async def action_back(self) -> None:
        """Leaves; what is changed and not kept stands here again next time."""
        text = self.area.text
        if text != self.kept:
            await self.fetch(lambda: keep_draft(self.desk, CHANGE, self.rule_name, {"text": text}))
        else:
            await self.fetch(lambda: drop_draft(self.desk, CHANGE, self.rule_name))
        await self.loomcard.back()

    def action_copy_out(self) -> None:
        """Copies the whole text."""
        self.app.copy_to_clipboard(self.area.text)
        self.say("The text is copied.")


def trial_lines(trial: Trial) -> list[str]:
    """What a trial says: the bike before and after, the sentences, then card by card."""
    lines = ["The text is sound."]
    for name, tried in (("As it is", trial.bike_before), ("With this text", trial.bike_after)):
        if tried is not None:
            minutes, band = tried.worked.result.minutes, tried.worked.result.band
            lines.append(
                f"{name}, {tried.bike.name} {tried.bike.registration}: expected {minutes.expected} min,"
                f" {band.low} to {band.high} in 8 of 10; {tried.total} {tried.total.currency} with tax."
            )
    lines += trial.sentences
    if trial.past:
        lines.append("card       was   would be   took")
        lines += [
            f"{row.card:<9} {_min(row.before_min):>5} {_min(row.after_min):>10} {_min(row.took_min):>6}"
            for row in trial.past
        ]
    return lines


def _min(minutes: float | None) -> str:
    return "-" if minutes is None else f"{minutes:.0f}"


def _asked_text(words: str, width: int) -> str:
    return "\n".join(textwrap.wrap(words, width, subsequent_indent="  "))
