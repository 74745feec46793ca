"""Other sizes, other themes, sixteen colours and none: every screen opens and says the same."""

import pytest

from tests.desk.conftest import Bench
from tests.screens.driving import Driver, drive
from tracker.screens.card import CardPage
from tracker.screens.day import DayPage
from tracker.screens.form import FormPage
from tracker.screens.lists import ListPage
from tracker.screens.themes import DARK, LIGHT, PLAIN
from tracker.settings import Preferences

LOOKS = [
    ((80, 24), DARK.name),
    ((80, 24), LIGHT.name),
    ((80, 24), PLAIN),
    ((80, 24), "ansi-light"),
    ((60, 18), DARK.name),
    ((132, 43), DARK.name),
    ((200, 60), LIGHT.name),
]


async def round_trip(hand: Driver) -> str:
    """Day, card with a row open, form, list: what they said, blanks left out."""
    said = [hand.text()]
    await hand.press("enter", "enter")
    assert hand.shows(CardPage)
    said.append(hand.text())
    await hand.press("space")
    assert hand.shows(FormPage)
    said.append(hand.text())
    await hand.press("escape", "escape", "escape", "m")
    assert hand.shows(ListPage)
    said.append(hand.text())
    await hand.press("escape")
    assert hand.shows(DayPage)
    return "".join("".join(said).split())


@pytest.mark.parametrize(("size", "theme"), LOOKS, ids=[f"{w}x{h}-{t}" for (w, h), t in LOOKS])
def test_every_look_holds_what_matters(bench: Bench, size: tuple[int, int], theme: str) -> None:
    bench.booked(dead=["horn"])

    async def job(hand: Driver) -> None:
        assert hand.app.theme == theme
        said = await round_trip(hand)
        for words in ("26-0001", "OonaMirek", "[Look]", "next:askforleavetolook", "Halden", "Escback"):
            assert words in said, words

    drive(bench.desk, job, size=size, preferences=Preferences(theme=theme))


def unreadable(hand: Driver) -> list[str]:
    """Words whose letters have the colour of what is behind them."""
    return [
        piece.text
        for strip in hand.app.screen._compositor.render_strips()
        for piece in strip
        if piece.text.strip() and piece.style and piece.style.color == piece.style.bgcolor
        and piece.style.color and not piece.style.color.is_default
    ]  # fmt: skip


def turned_round(hand: Driver) -> list[str]:
    """Rows that are turned round whatever the colours."""
    return [
        strip.text
        for strip in hand.app.screen._compositor.render_strips()
        if any(piece.style and piece.style.reverse and "26-0001" in piece.text for piece in strip)
    ]


@pytest.mark.parametrize("no_colour", [False, True])
@pytest.mark.parametrize("theme", [DARK.name, LIGHT.name, PLAIN, "ansi-light", ""])
def test_the_row_under_the_cursor_is_seen_and_all_words_are(
    bench: Bench, monkeypatch: pytest.MonkeyPatch, theme: str, no_colour: bool
) -> None:
    bench.booked()
    bench.booked(customer="Theo Brandt", registration="AB 1")
    if no_colour:
        monkeypatch.setenv("NO_COLOR", "1")

    async def job(hand: Driver) -> None:
        assert len(turned_round(hand)) == 1, "on the day sheet"
        assert unreadable(hand) == []
        await hand.press("n", "down")
        assert len(turned_round(hand)) == 1, "on a long list"
        assert unreadable(hand) == []

    drive(bench.desk, job, preferences=Preferences(theme=theme))


def test_without_colour_what_is_next_is_still_marked(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    bench.booked()
    monkeypatch.setenv("NO_COLOR", "1")

    async def job(hand: Driver) -> None:
        assert hand.app.theme == DARK.name
        assert hand.app.no_color
        assert "next: ask for leave to look" in hand.text()
        assert "LOOK" in hand.text()

    drive(bench.desk, job)


def test_a_terminal_made_smaller_under_the_program_keeps_what_was_typed(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("space")
        await hand.fill(dead="rear lamp")
        await hand.pilot.resize_terminal(50, 14)
        await hand.quiet()
        await hand.pilot.resize_terminal(120, 40)
        await hand.quiet()
        assert hand.field("dead").value == "rear lamp"

    drive(bench.desk, job)
