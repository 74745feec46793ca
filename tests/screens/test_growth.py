"""Five hundred screens opened and closed leave nothing behind."""

import gc

from textual.widget import Widget

from tests.desk.conftest import Bench
from tests.screens.driving import Driver, drive
from tracker.screens.card import CardPage
from tracker.screens.form import FormPage
from tracker.screens.lists import ListPage
from tracker.screens.page import Page
from tracker.screens.paper import TextPage

OPENS = 500
"""Opened and closed in all, after as many as warm everything up."""

WARM = 20


def left() -> int:
    """Widgets that are alive."""
    gc.collect()
    return sum(isinstance(one, Widget) for one in gc.get_objects())


def test_five_hundred_opens_and_closes_leave_no_widget_behind(bench: Bench) -> None:
    bench.booked()
    counts: list[int] = []

    async def page(hand: Driver, number: int) -> Page:
        if number % 20 == 0:
            return CardPage("26-0001")
        if number % 20 == 1:
            return ListPage("bikes")
        if number % 20 == 2:
            return await FormPage.made(hand.app, "clock on", {"card": "26-0001"}, frozenset({"card"}))
        return TextPage("a page", "of text")

    async def job(hand: Driver) -> None:
        for number in range(WARM + OPENS):
            if number == WARM:
                await hand.quiet()
                counts.append(left())
            await hand.app.show(await page(hand, number))
            await hand.app.back()
        await hand.quiet()
        counts.append(left())

    drive(bench.desk, job)
    before, after = counts
    assert after <= before + 5, (before, after)
