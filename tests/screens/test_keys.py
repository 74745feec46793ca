"""One table of keys: bindings, bar, help and the page of keys come from it; a person's own are checked."""

from pathlib import Path

import pytest
from textual.widgets import Static

from tests.desk.conftest import Bench
from tests.screens.driving import Driver, drive
from tracker.desk.deeds import DEEDS
from tracker.screens.app import LoomcardApp
from tracker.screens.book_in import BookInPage
from tracker.screens.commands import COMMANDS, TITLES, bar_text, for_screen, keys_page
from tracker.screens.day import DayPage
from tracker.screens.deeds import DeedsPage
from tracker.screens.keys import TWINS, KeysPage
from tracker.screens.own_keys import own_keys
from tracker.settings import Preferences


def test_the_page_of_keys_is_true() -> None:
    page = Path(__file__).resolve().parents[2] / "docs" / "keys.md"
    assert page.read_text("utf-8") == keys_page()


@pytest.mark.parametrize("kind", list(TITLES))
def test_no_key_means_two_things_on_one_screen(kind: str) -> None:
    keys = [command.key for command in for_screen(kind)]
    assert len(keys) == len(set(keys))


def test_no_command_needs_the_mouse_a_function_key_or_ctrl_enter() -> None:
    for command in COMMANDS:
        assert command.key != "ctrl+enter"
        assert not command.key.startswith("f") or command.key == "f"
        assert command.help
        assert command.word


@pytest.mark.parametrize("kind", [name for name in TITLES if name != "asking"])
def test_every_screen_names_the_command_that_shows_the_same(kind: str) -> None:
    assert TWINS[kind].startswith("loomcard ")


@pytest.mark.parametrize("width", [40, 78, 120, 200])
def test_the_bar_fits_and_always_says_the_way_out(width: int) -> None:
    for kind in TITLES:
        bar = bar_text(kind, width, {})
        assert len(bar) <= width
        if any(command.id == "back" for command in for_screen(kind)):
            assert "Esc back" in bar


def test_own_keys_work_and_those_that_clash_are_passed_over_and_said(bench: Bench) -> None:
    bench.booked()
    keys = {"book-in": "i", "find": "q", "save": "s", "no-such": "z"}

    async def job(hand: Driver) -> None:
        assert hand.said.count("!") >= 3
        await hand.press("i")
        assert hand.shows(BookInPage)
        await hand.press("escape", "b")
        assert hand.shows(DayPage), "the old key is free"
        await hand.press("question_mark")
        assert "i         Book a bike in" in str(hand.app.screen.query_one("#paper Static", Static).render())

    drive(bench.desk, job, preferences=Preferences(keys=keys))


def test_own_keys_that_change_places_are_taken() -> None:
    keys = {"book-in": "i", "read": "b"}
    assert own_keys(keys) == (keys, ())


def test_a_question_mark_shows_the_keys_of_this_screen_first_and_its_command(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("enter", "question_mark")
        assert hand.shows(KeysPage)
        assert "loomcard card N" in hand.text()
        assert hand.text().index("CARD") < hand.text().index("Do the next thing")

    drive(bench.desk, job)


def test_every_deed_is_in_the_list_and_in_the_palette(bench: Bench) -> None:
    async def job(hand: Driver) -> None:
        named = {one.title for one in hand.app.get_system_commands(hand.app.screen)}
        assert set(DEEDS) <= named
        await hand.press("d")
        assert hand.shows(DeedsPage)
        page = hand.app.screen
        assert isinstance(page, DeedsPage)
        assert [one.key for one in page.everything] == list(DEEDS)
        await hand.put("offer")
        assert page.rows.key == "offer", "what is called so comes before what speaks of it"
        await hand.put("part order")
        await hand.press("enter")
        assert hand.verb() == "part order"

    drive(bench.desk, job)


def test_a_field_a_row_and_a_paper_are_copied_out_over_any_line(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench.booked()
    copied: list[str] = []
    monkeypatch.setattr(LoomcardApp, "copy_to_clipboard", lambda _, text: copied.append(text))

    async def job(hand: Driver) -> None:
        await hand.press("y", "enter", "y", "p", "enter", "y", "escape", "escape", "space")
        await hand.fill(dead="rear lamp")
        hand.app.screen.set_focus(hand.field("dead"))
        await hand.press("ctrl+y")

    drive(bench.desk, job)
    row, card, paper, field = copied
    assert "26-0001" in row
    assert "Complaint" in card
    assert "26-0001" in paper
    assert field == "rear lamp"


def test_a_paper_is_written_to_a_file_beside_and_never_over_another(
    bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench.booked()
    monkeypatch.chdir(tmp_path)

    async def job(hand: Driver) -> None:
        await hand.press("enter", "p", "enter", "f", "f")
        assert "Written to" in hand.said

    drive(bench.desk, job)
    written = sorted(tmp_path.glob("*.txt"))
    assert len(written) == 2
    assert "26-0001" in written[0].read_text("utf-8")
