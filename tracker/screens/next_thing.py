"""One key does the next thing: from where a card stands to the form for it, filled in as far as known."""

from tracker.card.standing import NextThing
from tracker.desk.on_card import place_of
from tracker.desk.show import CardView, card_view
from tracker.records.card import Need
from tracker.records.facts import CardFacts
from tracker.records.row import Row
from tracker.records.stock import WantedState
from tracker.screens.doing import do_now
from tracker.screens.form import FormPage
from tracker.screens.page import Page
from tracker.screens.plan import ChooseRulePage

HIDDEN = frozenset({"card", "on", "repair", "part"})
"""What the card tells and need not be asked again; the form's head names it."""

AT_ONCE = frozenset({"clock on", "start"})
"""Deeds that ask nothing more once the card is known: done with the key itself, and taken back by undo."""


async def open_next(page: Page, number: str) -> None:
    """Opens the form of a card's next thing, or says that there is none."""
    view = await page.fetch(lambda: card_view(page.desk, number))
    thing = view.stands.next
    if thing is None:
        page.say(f"{number} is over; nothing is left to do.")
        return
    verb, given = form_for(view, thing)
    if verb in AT_ONCE:
        await do_now(page.loomcard, verb, dict(given))
        return
    if verb == "estimate" and thing.needs is Need.REPAIRS and thing.about:
        finding = _place(view.facts.findings, thing.about[0])
        words = next(one.words for one in view.facts.findings if one.id == thing.about[0])
        await page.loomcard.show(ChooseRulePage(number, int(finding), words))
        return
    hidden = HIDDEN & given.keys() if verb != "estimate" else frozenset({"card"})
    form = await FormPage.made(page.loomcard, verb, given, hidden)
    form.note = thing.words[:1].upper() + thing.words[1:] + "."
    await page.loomcard.show(form)


def form_for(view: CardView, thing: NextThing) -> tuple[str, dict[str, str]]:
    """The verb and what its form can be filled with."""
    facts, verb = view.facts, str(thing.deed)
    given = {"card": facts.card.number}
    if verb == "part":
        return _part(facts, thing, given)
    if verb == "clock":
        return _clock(facts, thing, given)
    if verb in {"read", "test"} and thing.readings:
        given["kind"] = thing.readings[0]
    if verb in {"start", "fix", "test"} and thing.about and (found := _place(facts.repairs, thing.about[0])):
        given["repair"] = found
    if verb == "pay":
        given["on"] = given.pop("card")
    return verb, given


def _part(facts: CardFacts, thing: NextThing, given: dict[str, str]) -> tuple[str, dict[str, str]]:
    wanted = next((w for w in facts.wanted if thing.about and w.id == thing.about[0]), None)
    if wanted is None:
        return "part want", given
    given["part"] = _place(facts.wanted, wanted.id)
    verbs = {WantedState.ORDERED: "part arrived", WantedState.HERE: "part fit"}
    return verbs.get(wanted.state, "part order"), given


def _clock(facts: CardFacts, thing: NextThing, given: dict[str, str]) -> tuple[str, dict[str, str]]:
    """A clock to be asked about is put right; else it is gone on."""
    if thing.about and (found := _place(facts.times, thing.about[0])):
        return "clock fix", {**given, "entry": found}
    return "clock on", given


def _place(rows: tuple[Row, ...], row_id: int) -> str:
    found = next((row for row in rows if row.id == row_id), None)
    return str(place_of(rows, found)) if found else ""
