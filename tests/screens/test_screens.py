"""The screens by keyboard at 80x24: day, card, a form and its draft, booking in; people's text is data."""

import asyncio
from collections.abc import Awaitable, Callable
from pathlib import Path

from textual.pilot import Pilot
from textual.widgets import Static

from tests.desk.conftest import Bench
from tests.hostile import FINE
from tracker.desk.forms import draft_of
from tracker.records.card import Card
from tracker.screens.app import LoomcardApp
from tracker.screens.book_in import BookInPage
from tracker.screens.card import CardPage
from tracker.screens.commands import keys_page
from tracker.screens.day import DayPage
from tracker.screens.form import FormPage, Line
from tracker.screens.rows import Rows

Job = Callable[[LoomcardApp, "Pilot[None]"], Awaitable[None]]


def on_screen(bench: Bench, job: Job) -> None:
    """Runs a job on the app at 80x24."""

    async def run() -> None:
        app = LoomcardApp(bench.desk)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause(0.2)
            await job(app, pilot)

    asyncio.run(run())


def on(app: LoomcardApp) -> type[object]:
    """The kind of screen that is up now."""
    return type(app.screen)


async def settled(pilot: "Pilot[None]") -> None:
    """Waits until what was asked of the desk is on the screen."""
    await pilot.pause(0.3)


def test_a_known_bike_is_booked_in_with_few_keys(bench: Bench) -> None:
    bench.booked()

    async def job(app: LoomcardApp, pilot: "Pilot[None]") -> None:
        assert on(app) is DayPage
        await pilot.press("b")
        await settled(pilot)
        assert on(app) is BookInPage
        app.screen.query_one(Line).value = "lkm"
        await settled(pilot)
        await pilot.press("enter")
        await settled(pilot)
        assert on(app) is FormPage
        app.screen.query_one("#f-complaint", Line).value = "horn"
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert on(app) is CardPage

    on_screen(bench, job)
    cards = bench.desk.read(lambda reader: reader.all(Card))
    assert [card.complaint for card in cards] == ["flat", "horn"]


def test_space_opens_the_form_of_the_next_thing_and_mistakes_stand_beside_their_fields(bench: Bench) -> None:
    bench.booked()

    async def job(app: LoomcardApp, pilot: "Pilot[None]") -> None:
        await pilot.press("space")
        await settled(pilot)
        form = app.screen
        assert isinstance(form, FormPage)
        assert form.verb == "look"
        form.query_one("#f-limit", Line).value = "soon"
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert app.screen is form
        assert "span of time" in str(form.query_one("#e-limit", Static).render())
        form.query_one("#f-limit", Line).value = "45"
        await pilot.press("ctrl+s")
        await settled(pilot)
        assert on(app) is DayPage

    on_screen(bench, job)
    assert [given.limit_min for given in bench.desk.facts(1).go_aheads] == [45]


def test_what_is_typed_and_not_saved_is_offered_again(bench: Bench) -> None:
    bench.booked()

    async def job(app: LoomcardApp, pilot: "Pilot[None]") -> None:
        await pilot.press("space")
        await settled(pilot)
        app.screen.query_one("#f-dead", Line).value = FINE[0]
        await settled(pilot)
        await pilot.press("escape")
        await settled(pilot)
        assert on(app) is DayPage
        await pilot.press("space")
        await settled(pilot)
        assert app.screen.query_one("#f-dead", Line).value == FINE[0]

    on_screen(bench, job)
    assert draft_of(bench.desk, "look", "26-0001") == {"dead": FINE[0]}


def test_any_text_is_shown_as_it_is(bench: Bench) -> None:
    for number, text in enumerate(FINE):
        bench("book-in", customer=f"A{number} {text}", make=text, complaint=text)

    async def job(app: LoomcardApp, pilot: "Pilot[None]") -> None:
        rows = app.screen.query_one(Rows)
        assert rows.option_count > len(FINE)
        await pilot.press("enter")
        await settled(pilot)
        assert on(app) is CardPage
        await pilot.press("enter")
        await settled(pilot)
        for key in ("m", "c", "o"):
            await pilot.press("escape", "escape", key)
            await settled(pilot)

    on_screen(bench, job)


def test_the_page_of_keys_is_true() -> None:
    page = Path(__file__).resolve().parents[2] / "docs" / "keys.md"
    assert page.read_text("utf-8") == keys_page()
