"""Choosing the repair for what was found: the repair type first, then only what that type asks."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, ClassVar, Self

from tracker.desk.forms import draft_of
from tracker.desk.on_card import in_order
from tracker.desk.repair_asked import Asked, asked_by, repair_text, rule_lines
from tracker.desk.show import card_view
from tracker.desk.trace import repair_for
from tracker.screens.asking import Question
from tracker.screens.choose import ChoosePage
from tracker.screens.form import FormPage
from tracker.screens.rows import Entry
from tracker.screens.shown import shown

if TYPE_CHECKING:
    from tracker.desk.desk import Desk
    from tracker.screens.app import LoomcardApp

PRICE_ONLY = "="
"""The row that adds no repair."""


class ChooseRulePage(ChoosePage):
    """Which repair? Its twin is `loomcard rules`."""

    title_words: ClassVar[str] = "Which repair?"

    def __init__(self, number: str, finding: int | None = None, words: str = "") -> None:
        super().__init__()
        self.number = number
        self.finding = finding
        self.words = words

    def begin(self) -> None:
        """Says for what."""
        self.head(f"{self.title_words}   {self.number}  {self.words}".rstrip())

    async def entries(self) -> list[Entry]:
        """Every repair type; first of all, to price what is planned."""
        lines = await self.fetch(lambda: rule_lines(self.desk))
        price = [Entry(PRICE_ONLY, shown("= no new repair: price what is planned"))]
        rows = [Entry(line.id, shown(f"{line.group:<14} {line.words}")) for line in lines]
        if not self.finding:
            return [*price, *rows]
        usual = await self.fetch(lambda: usual_rules(self.desk, self.number, self.finding or 1))
        first = [row for rule in usual for row in rows if row.key == rule]
        return [*first, *(row for row in rows if row not in first)]

    def card_meant(self) -> str:
        """The card that is priced."""
        return self.number

    async def take(self, key: str, typed: str) -> None:
        """Asks what the type wants to know."""
        if not key:
            self.say(f"No repair type holds “{typed}”.", wrong=True)
        elif key == PRICE_ONLY:
            form = await FormPage.made(
                self.loomcard, "estimate", {"card": self.number}, frozenset({"card", "repair"})
            )
            await self.loomcard.instead(form)
        else:
            await self.loomcard.instead(await RepairForm.of(self.loomcard, self.number, key, self.finding))


def usual_rules(desk: "Desk", number: str, finding: int) -> tuple[str, ...]:
    """The repair types that a finding from a trace asks for, the usual one first; none for any other."""
    found = in_order(card_view(desk, number).facts.findings)[finding - 1]
    asks_for = repair_for(desk, number, found)
    return asks_for.rules if asks_for is not None else ()


class RepairForm(FormPage):
    """What one repair type asks; saved, it is priced with the rest of the card."""

    rule = ""
    does: ClassVar[str] = "estimate"

    @classmethod
    async def of(cls, app: "LoomcardApp", number: str, rule: str, finding: int | None) -> Self:
        """The form, with what the finding tells filled in."""
        subject = f"{number} {rule}"

        def look() -> tuple[tuple[Asked, ...], dict[str, str], str]:
            findings = in_order(card_view(app.desk, number).facts.findings)
            found = findings[finding - 1] if finding else None
            known = {"circuit": found.circuit, "place": found.place, "zone": found.zone} if found else {}
            asks_for = repair_for(app.desk, number, found) if found else None
            if asks_for is not None:
                known |= {name: text for name, text in asks_for.on.items() if name in {"from", "to", "place"}}
                known["place"] = asks_for.on.get("place", "")
            asked = asked_by(app.desk, rule, known)
            return asked, draft_of(app.desk, cls.does, subject), found.words if found else ""

        asked, draft, words = await app.away(look)
        questions = tuple(
            Question(one.name, one.label, one.hint, one.choices, one.value, required=one.required)
            for one in asked
        )
        form = cls(cls.does, questions, {"card": number}, draft)
        form.rule = rule
        form.subject = subject
        form.finding = finding
        form.title_words = f"{rule}  {number}"
        form.note = f"For “{words}”." if words else ""
        return form

    finding: int | None = None

    def repair(self) -> str:
        """The repair in the estimate's own words."""
        typed: Mapping[str, str] = {
            **{name: text for name, text in self.typed().items() if not name.startswith("@")},
            **({"finding": str(self.finding)} if self.finding else {}),
        }
        return repair_text(self.rule, typed)

    def raw(self) -> dict[str, object]:
        """The card with one repair more."""
        return {"card": self.given["card"], "repair": [self.repair()]}

    def field_named(self, field: str) -> str:
        """`repair.joints` stands beside `joints`."""
        return field.removeprefix("repair.")
