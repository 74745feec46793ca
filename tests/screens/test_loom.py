"""The loom on the screen: walked by arrow keys, parts found by name, loads marked; the trace beside."""

from tests.desk.conftest import Bench
from tests.hostile import FINE
from tests.screens.driving import Driver, drive
from tracker.desk.loom_known import loom_known
from tracker.records.card import SymptomKind
from tracker.screens.loom import FindPartPage, LoomPage
from tracker.screens.loom_edit import EditPartPage
from tracker.screens.loom_facts import FactsPage
from tracker.screens.paper import TextPage


def loom_of(hand: Driver) -> LoomPage:
    """The loom that is up."""
    assert isinstance(hand.app.screen, LoomPage)
    return hand.app.screen


def test_where_anything_is_takes_two_keys_and_a_name_from_anywhere(bench: Bench) -> None:
    async def job(hand: Driver) -> None:
        await hand.press("l", "slash")
        assert hand.shows(FindPartPage)
        for name, words in (("reg", "regulator"), ("solenoid", "starter relay"), ("flasher can", "flasher")):
            await hand.put(name)
            assert words in hand.rows.words, name
        await hand.press("enter")
        assert loom_of(hand).here.place
        assert "flasher" in hand.text()
        await hand.press("enter")
        page = hand.app.screen
        assert isinstance(page, TextPage)
        for label in ("Where", "Take off", "Plug", "Wires", "Why there"):
            assert f"\n{label}" in page.text, label

    drive(bench.desk, job)


def test_arrow_keys_walk_along_a_circuit_and_change_it(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("l")
        page = loom_of(hand)
        start = page.here
        await hand.press("right")
        assert page.here.load == start.load
        assert page.here.place != start.place
        await hand.press("left")
        assert page.here == start
        await hand.press("down")
        assert page.here.load != start.load
        await hand.press("up")
        assert page.here.load == start.load
        assert "[" in hand.text(), "the place under the cursor stands in brackets"

    drive(bench.desk, job)


def test_one_key_marks_a_load_on_the_card(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("enter", "l", "slash")
        await hand.put("horn")
        await hand.press("enter", "d")
        assert "[dead]" in hand.head
        await hand.press("slash")
        await hand.put("brake lamp")
        await hand.press("enter", "o")

    drive(bench.desk, job)
    kinds = [(one.kind, one.load) for one in bench.desk.facts(1).symptoms]
    assert (SymptomKind.DEAD, "horn") in kinds
    assert SymptomKind.WORKS in dict(kinds)


def test_without_a_card_nothing_is_marked_and_it_says_where_to(bench: Bench) -> None:
    async def job(hand: Driver) -> None:
        await hand.press("l", "d")
        assert "from a card" in hand.said
        await hand.press("t")
        assert hand.shows(LoomPage)
        await hand.press("slash")
        for text in FINE[:12]:
            await hand.put(text)
        await hand.put("no such part at all")
        await hand.press("enter")
        assert hand.shows(FindPartPage)

    drive(bench.desk, job)


def test_the_loom_is_put_right_at_the_place_under_the_cursor(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("l", "e")
        assert hand.shows(EditPartPage)
        await hand.put("colour")
        await hand.press("enter")
        assert hand.verb() == "loom wire"
        await hand.press("ctrl+s")
        assert "Nothing is said of the wire" in hand.mistake("main")
        await hand.fill(main="green", tracer="[red]", words="as seen")
        await hand.press("ctrl+s")
        assert hand.shows(LoomPage)
        assert "green/[red]" in hand.said
        assert "green/[red]" in hand.text()
        assert "[this bike, 2026-03-02, 26-0001" in " ".join(hand.text().split())
        await hand.press("f")
        assert hand.shows(FactsPage)
        assert "green/[red]" in hand.text()
        await hand.press("escape", "u")
        assert hand.shows(LoomPage)
        assert "green/[red]" not in hand.text().split("taken back")[0]

    drive(bench.desk, job, size=(100, 34))
    assert not loom_known(bench.desk, "1").facts


def test_what_would_hang_loose_is_told_in_the_form_and_kept_as_unfinished_when_wanted(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("l", "e")
        await hand.put("is not there wire")
        await hand.press("enter")
        assert hand.verb() == "loom remove"
        await hand.press("ctrl+s")
        assert "By this:" in hand.mistake("unfinished")
        await hand.fill(unfinished="yes")
        await hand.press("ctrl+s")
        assert hand.shows(LoomPage)
        assert "! Unfinished:" in hand.text()

    drive(bench.desk, job)


def test_a_home_made_loom_is_begun_at_the_screen(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("l", "e")
        await hand.put("home-made")
        await hand.press("enter")
        assert hand.verb() == "loom own"
        await hand.press("ctrl+s")
        assert "e adds the first part" in hand.text()
        await hand.press("e")
        await hand.put("add")
        await hand.press("enter")
        assert hand.verb() == "loom add"
        await hand.fill(name="battery", sort="box", zone="battery", kind="battery")
        await hand.press("ctrl+s")
        assert hand.shows(LoomPage), hand.text()
        await hand.press("slash")
        await hand.put("battery")
        assert "battery" in hand.text()

    drive(bench.desk, job)


def test_the_general_pattern_is_nobodys_bike(bench: Bench) -> None:
    async def job(hand: Driver) -> None:
        await hand.press("l", "e")
        assert "nobody's bike" in hand.said
        await hand.press("f")
        assert "nothing beyond itself" in hand.said

    drive(bench.desk, job)
