"""The loom put right from its drawing: the part under the cursor, its form, told first what breaks."""

from tests.desk.conftest import Bench
from tests.desk.test_repairs_found import mended as mended  # noqa: PLC0414 - a fixture
from tests.screens.driving import Driver, drive
from tracker.desk.loom_known import loom_known
from tracker.desk.loom_picture import loom_picture
from tracker.screens.lists import NarrowPage, ShowPage
from tracker.screens.loom import LoomPage
from tracker.screens.loom_edit import EditPartPage
from tracker.screens.loom_facts import FactsPage
from tracker.screens.loom_form import LoomForm


def loom_page(hand: Driver) -> LoomPage:
    assert isinstance(hand.app.screen, LoomPage)
    return hand.app.screen


async def says(hand: Driver, words: str) -> None:
    """The form for what is said of the part under the cursor."""
    await hand.press("e")
    assert hand.shows(EditPartPage)
    await hand.put(words)
    await hand.press("enter")


async def at(hand: Driver, name: str) -> None:
    """The cursor on a part."""
    await hand.press("slash")
    await hand.put(name)
    await hand.press("enter")


def test_a_box_is_moved_seen_among_the_facts_and_taken_back(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("enter", "l")
        await at(hand, "regulator")
        await says(hand, "sits elsewhere")
        assert isinstance(hand.app.screen, LoomForm)
        assert "Now: regulator" in hand.said
        await hand.put("tail")
        await hand.press("ctrl+s")
        page = loom_page(hand)
        assert "sits at tail" in hand.said
        assert "u takes it back" in hand.said
        assert page.picture.loom.bodies["regulator"].zone == "tail"
        await hand.press("f")
        assert hand.shows(FactsPage)
        assert hand.rows.words.split()[:4] == ["1", "this", "bike", "2026-03-02"]
        assert "26-0001" in hand.rows.words
        await hand.press("enter")
        assert hand.shows(ShowPage)
        await hand.press("escape", "x")
        assert hand.verb() == "loom forget"
        await hand.press("ctrl+s")
        assert hand.shows(FactsPage)
        await hand.press("u", "escape")
        assert page.picture.loom.bodies["regulator"].zone == "tail", "the taking back was taken back"
        await hand.press("u")
        assert loom_page(hand).picture.loom.bodies["regulator"].zone != "tail"

    drive(bench.desk, job)


def test_a_wire_stands_in_its_form_and_only_what_was_changed_is_kept(bench: Bench) -> None:
    bench.booked()
    before = loom_picture(bench.desk, "1").loom

    async def job(hand: Driver) -> None:
        await hand.press("l")
        await at(hand, "tail earth joint")
        await says(hand, "colour")
        form = hand.app.screen
        assert isinstance(form, LoomForm)
        assert hand.field("length").value
        await hand.press("ctrl+s")
        assert "Nothing is said of the wire" in hand.mistake("main")
        await hand.fill(tracer="pink")
        await hand.press("ctrl+s")
        assert hand.shows(LoomPage)

    drive(bench.desk, job)
    (fact,) = loom_known(bench.desk, "1").facts
    assert "/pink" in fact.words
    after = loom_picture(bench.desk, "1").loom
    (id_,) = [one for one in after.wires if after.wires[one].colour != before.wires[one].colour]
    colour, was = after.wires[id_].colour, before.wires[id_].colour
    assert colour is not None
    assert was is not None
    assert (colour.main, colour.tracer) == (was.main, "pink")
    assert after.wires[id_].length_mm == before.wires[id_].length_mm


def test_what_would_hang_loose_stands_in_the_form_before_it_is_kept_and_on_the_loom_after(
    bench: Bench,
) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("l")
        await at(hand, "horn")
        await says(hand, "is not there: horn")
        await hand.press("ctrl+s")
        assert hand.verb() == "loom remove"
        assert "which is not there" in hand.mistake("unfinished")
        await hand.fill(unfinished="yes")
        await hand.press("ctrl+s")
        assert hand.shows(LoomPage)
        assert "horn" not in loom_page(hand).picture.loom.bodies
        assert "! Unfinished: " in hand.text()
        await hand.press("f")
        assert "unfinished" not in hand.rows.key
        await hand.press("end", "x")
        assert hand.shows(FactsPage)
        assert "put right, not taken back" in hand.said

    drive(bench.desk, job)


def test_a_home_made_loom_begins_empty_and_its_first_places_are_walked(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("l")
        await says(hand, "home-made")
        assert hand.verb() == "loom own"
        assert "begins empty" in hand.said
        await hand.press("ctrl+s")
        page = loom_page(hand)
        assert not page.picture.loom.places
        assert "e adds the first part" in hand.text()
        for name, zone in (("plus", "battery"), ("lamp", "headlamp")):
            await says(hand, "add")
            await hand.fill(name=name, sort="place", kind="joint", zone=zone)
            await hand.press("ctrl+s")
            assert hand.shows(LoomPage), hand.said
        assert page.here.place == "plus"
        await hand.press("left")
        assert page.here.place == "lamp", "the front is to the left"
        await says(hand, "add")
        assert hand.field("start").value == "lamp"
        await hand.fill(name="feed", sort="wire", start="plus", end="lamp", length="900", size="1")
        await hand.press("ctrl+s")
        assert page.picture.loom.wires["feed"].length_mm == 900
        assert "Unfinished" in hand.text()
        await says(hand, "back to the general pattern")
        await hand.press("ctrl+s")
        assert "regulator" in page.picture.loom.bodies

    drive(bench.desk, job)


def test_what_is_half_typed_of_one_part_is_not_offered_for_another(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("l")
        await at(hand, "horn")
        await says(hand, "is called otherwise")
        await hand.fill(name="klaxon")
        await hand.press("escape", "enter")
        await at(hand, "flasher")
        await says(hand, "is called otherwise")
        assert hand.field("name").value != "klaxon"
        await hand.press("escape")
        await at(hand, "horn")
        await says(hand, "is called otherwise")
        assert hand.field("name").value == "klaxon"

    drive(bench.desk, job)


def test_repairs_are_found_again_two_keys_away(mended: Bench) -> None:
    async def job(hand: Driver) -> None:
        await hand.press("l", "r")
        assert isinstance(hand.app.screen, NarrowPage)
        assert hand.head.rstrip().endswith("3")
        await hand.put("rear multi halden")
        assert hand.rows.words.split()[1] == "26-0002"
        await hand.put("butt 150 mm")
        await hand.press("enter")
        page = hand.app.screen
        assert isinstance(page, ShowPage)
        assert "Splice       butt connector" in page.text
        assert "150 mm from rear-plug:tail" in page.text
        await hand.press("escape")
        await hand.put("zebra [/b]")
        await hand.press("enter")
        assert "None of them holds" in hand.said

    drive(mended.desk, job)
