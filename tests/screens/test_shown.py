"""People's text in rows: columns stay columns, and nothing is wider than its room."""

import pytest
from rich.cells import cell_len

from tests.desk.conftest import Bench
from tests.hostile import FINE
from tests.screens.driving import Driver, drive
from tracker.screens.shown import in_columns


def test_columns_stay_where_they_are() -> None:
    assert in_columns("26-0001   Oona", 12) == "26-0001   O…"
    assert in_columns("a\tb\nc", 8) == "a b c   "


@pytest.mark.parametrize("text", [*FINE, "日本語日本語"])
@pytest.mark.parametrize("width", [0, 1, 2, 5, 80])
def test_any_text_is_exactly_as_wide_as_its_room(text: str, width: int) -> None:
    assert cell_len(in_columns(text, width)) == width


def test_the_rows_of_a_list_stand_under_their_heads_and_need_no_bar_below(bench: Bench) -> None:
    bench.booked(complaint="horn dead")
    bench("book-in", customer="Al", make="Skarde", complaint="no charge", phone="1", address="x")

    async def job(hand: Driver) -> None:
        await hand.press("n")
        lines = hand.text().splitlines()
        at = lines[1].index("complaint")
        assert {lines[2].index("no charge"), lines[3].index("horn dead")} == {at}
        assert not hand.rows.show_horizontal_scrollbar

    drive(bench.desk, job)
