"""A new circuit by keyboard: pick the load, say where, read what it does, put it on the card; or why not."""

from tests.desk.conftest import Bench
from tests.screens.driving import Driver, drive
from tracker.screens.card import CardPage
from tracker.screens.new_circuit import ChooseLoadPage, NewCircuitPage


def one_line(hand: Driver) -> str:
    return " ".join(hand.text().split())


def test_heated_grips_from_the_card_to_its_estimate(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("enter", "n")
        assert hand.shows(ChooseLoadPage)
        await hand.put("heated grips")
        await hand.press("enter")
        assert hand.shows(NewCircuitPage)
        await hand.press("enter")
        assert "!" in hand.said, "where it goes is wanted"
        await hand.fill(to="left-bar", alternator_w="280")
        await hand.press("enter")
        text = one_line(hand)
        assert "fuse 4 A" in text
        assert "with a relay" in text
        assert "At idle" in text
        assert "To" in text
        await hand.press("ctrl+s")
        assert hand.shows(CardPage)
        assert "EST-26-0001" in one_line(hand)

    drive(bench.desk, job, size=(80, 60))
    (repair,) = bench.desk.facts(1).repairs
    assert (repair.rule, repair.asked["fuse_a"]) == ("new-feed", "4")


def test_a_long_answer_is_read_by_page_at_the_usual_size(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("enter", "n")
        await hand.put("heated grips")
        await hand.press("enter")
        await hand.fill(to="left-bar", alternator_w="280")
        await hand.press("enter")
        first = hand.text()
        await hand.press("pagedown")
        assert hand.text() != first
        for _ in range(6):
            await hand.press("pagedown")
            if "Total with tax" in hand.text():
                break
        assert "Total with tax" in hand.text()
        for _ in range(8):
            await hand.press("pageup")
        assert hand.text().splitlines()[10:20] == first.splitlines()[10:20]

    drive(bench.desk, job)


def test_what_the_alternator_cannot_carry_is_refused_in_words_and_not_planned(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("enter", "n")
        await hand.put("auxiliary lamps with")
        await hand.press("enter")
        await hand.fill(to="headlamp", gives="4 A at 1200; 9 A at 4500", length="much")
        await hand.press("ctrl+s")
        assert "not a number" in hand.text()
        await hand.fill(length="")
        await hand.press("ctrl+s")
        assert hand.shows(NewCircuitPage)
        assert "The alternator cannot carry" in one_line(hand)

    drive(bench.desk, job)
    assert bench.desk.facts(1).repairs == ()
