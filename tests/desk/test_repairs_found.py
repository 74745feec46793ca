"""Repairs found again over all bikes: by words, zone, connector, make and model, bike."""

import pytest

from tests.desk.conftest import Bench
from tests.desk.test_money import EARTH
from tracker.desk.repairs_found import Wanted, repairs_found
from tracker.errors import NotFoundError
from tracker.papers.repairs_text import found_line


@pytest.fixture
def mended(bench: Bench) -> Bench:
    """Three bikes, a repair on each; the second's rear multi-connector was moved to the tail."""
    for number, (make, model) in enumerate((("Halden", "350"), ("Halden", "350"), ("Skarde", "900")), 1):
        bench(
            "book-in", customer=f"C{number}", phone=f"0155 {number}", make=make, model=model, complaint="tail"
        )
        bench("look", card=str(number), limit="60")
        bench("finding", card=str(number), words="bad")
        bench("estimate", card=str(number), repair=[EARTH])
        bench("agree", card=str(number), limit="900")
    bench("loom move", bike="2", part="rear-plug", zone="tail")
    rear = {"wire_from": "rear-plug:tail", "wire_to": "tail-joint"}
    bench(
        "fix", card="1", words="spliced", splice="butt connector", mm="150", mm_end="rear-plug:tail", **rear
    )
    bench.later(days=1)
    bench("fix", card="2", words="re-pinned", terminal="plug socket", **rear)
    bench.later(days=1)
    bench("fix", card="3", connector_new="six way, sealed", words="new plug at the headstock")
    return bench


@pytest.mark.parametrize(
    ("wanted", "cards"),
    [
        (Wanted(), ["26-0003", "26-0002", "26-0001"]),
        (Wanted(connector="rear multi"), ["26-0002", "26-0001"]),
        (Wanted(connector="rear-plug"), ["26-0002", "26-0001"]),
        (Wanted(connector="six way"), ["26-0003"]),
        (Wanted(zone="tail", connector="rear multi"), ["26-0002", "26-0001"]),
        (Wanted(model="halden 350", words="splice"), ["26-0001"]),
        (Wanted(words="BUTT tail"), ["26-0001"]),
        (Wanted(bike="3"), ["26-0003"]),
        (Wanted(words="headstock"), ["26-0003"]),
        (Wanted(words="zebra [/b] %_'"), []),
    ],
)
def test_all_that_is_said_must_hold(mended: Bench, wanted: Wanted, cards: list[str]) -> None:
    assert [found.card for found in repairs_found(mended.desk, wanted)] == cards


def test_a_place_is_where_it_is_on_that_bike(mended: Bench) -> None:
    found = {one.card: one for one in repairs_found(mended.desk, Wanted(connector="rear multi"))}
    assert found["26-0001"].zones[0] == "seat"
    assert found["26-0002"].zones[0] == "tail"


def test_a_repair_not_done_or_dropped_is_none(mended: Bench) -> None:
    mended("book-in", bike="1", complaint="again")
    mended("look", card="4", limit="60")
    mended("finding", card="4", words="x")
    mended("estimate", card="4", repair=[EARTH])
    assert len(repairs_found(mended.desk, Wanted())) == 3
    with pytest.raises(NotFoundError):
        repairs_found(mended.desk, Wanted(bike="no such bike"))


def test_a_line_says_when_on_which_card_and_bike_and_where(mended: Bench) -> None:
    line = found_line(repairs_found(mended.desk, Wanted(words="spliced"))[0])
    assert line.startswith("2026-03-02  26-0001  Halden 350")
    assert "150 mm from rear-plug:tail" in line


def test_a_splice_near_another_or_where_the_loom_flexes_is_hinted_at_and_kept(bench: Bench) -> None:
    """From the headstock's twig and branch, 60 + 40 mm, the wire flexes; splices want 50 mm between them."""
    bench.booked()
    bench("look", card="1", limit="60")
    bench("finding", card="1", words="chafed")
    bench("estimate", card="1", repair=[EARTH, EARTH, EARTH])
    bench("agree", card="1", limit="900")
    said = {}
    for mm in (550, 580, 80):
        bench(
            "fix", card="1", splice="butt connector", wire_from="small-lamps-joint", wire_to="rear-plug:tail",
            mm=str(mm), mm_end="small-lamps-joint",
        )  # fmt: skip
        said[mm] = [note for note in bench.desk.notes if "flexes" in note or "Another splice" in note]
    assert said[550] == []
    assert said[580] == ["Another splice is 30 mm away: stagger them by 50 mm or more."]
    assert said[80] == ["The loom flexes from 0 to 100 mm: a splice there breaks; keep 50 mm clear."]
    assert len(repairs_found(bench.desk, Wanted(words="splice", zone="headstock"))) == 3
