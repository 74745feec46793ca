"""Doing deeds from any screen: the form of a deed, one without a form, the clock, and what is said after."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from tracker.errors import LoomcardError
from tracker.records.row import Row
from tracker.screens.page import Page

if TYPE_CHECKING:
    from tracker.screens.app import LoomcardApp


ISSUES = frozenset({"estimate", "choose", "bill", "pay", "write-off"})
"""Deeds that leave something with a number, or money: never taken back, only answered by another."""


async def open_deed(app: "LoomcardApp", verb: str, **given: str) -> None:
    """Opens the form of a deed, the card that is meant filled in; one without fields is done at once."""
    from tracker.desk.ask import fields_of
    from tracker.desk.deeds import deed
    from tracker.desk.forms import about
    from tracker.screens.form import FormPage

    if not fields_of(deed(verb)):
        await do_now(app, verb, {})
        return
    page = page_of(app)
    filled = {**about(verb, page.card_meant()), **given}
    await app.show(await FormPage.made(app, verb, filled, frozenset(filled) & {"card", "on"}))


async def do_now(app: "LoomcardApp", verb: str, raw: dict[str, object]) -> bool:
    """Does a deed without a form and says so on the screen that is up; False where it was refused."""
    from tracker.desk.deeds import deed

    try:
        record = await app.away(lambda: app.desk.given(deed(verb), raw))
    except LoomcardError as error:
        page_of(app).say_error(error)
        return False
    notes = app.desk.notes
    words = await app.away(lambda: words_for(app, record))
    await page_of(app).refresh_page()
    page_of(app).say(f"taken back: {words}" if verb == "undo" else took_back(words, verb), notes)
    return True


async def after(app: "LoomcardApp", verb: str, record: Row, notes: Sequence[str]) -> None:
    """After a form: back to where it was asked for, with what was done in sight."""
    from tracker.records.card import Card
    from tracker.screens.card import CardPage

    words = await app.away(lambda: words_for(app, record))
    if verb == "book-in" and isinstance(record, Card):
        await app.instead(CardPage(record.number))
    else:
        await app.back()
    page_of(app).say(took_back(words, verb), notes)


async def clock(app: "LoomcardApp", card: str) -> None:
    """On the clock on a card; off where this person's clock runs on it already, or no card is meant."""
    from tracker.desk.forms import clock_runs_on

    running = await app.away(lambda: clock_runs_on(app.desk))
    if running and card in ("", running):
        await do_now(app, "clock off", {})
    elif card:
        await do_now(app, "clock on", {"card": card})
    else:
        page_of(app).say("Your clock is not running, and no card is under the cursor.")


def words_for(app: "LoomcardApp", record: Row) -> str:
    """The journal's words for what was just done."""
    from tracker.records.journal import JournalEntry

    if isinstance(record, JournalEntry):
        return record.words
    entry = app.desk.read(lambda reader: reader.first(JournalEntry, newest=True))
    return entry.words if entry else ""


def took_back(words: str, verb: str = "") -> str:
    """What was done, and that it can be taken back where it can: what was issued stands."""
    return words if verb in ISSUES else f"{words}   (u takes it back)"


def page_of(app: "LoomcardApp") -> Page:
    """The page on top, or the one below what lies over it."""
    return next(one for one in reversed(app.screen_stack) if isinstance(one, Page))
