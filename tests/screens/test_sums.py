"""The sums on the screen: choose, type, see the answer change; put it on the card."""

from tests.desk.conftest import Bench
from tests.hostile import FINE
from tests.screens.driving import Driver, drive
from tracker.desk.sums import all_sums
from tracker.records.card import Reading
from tracker.screens.card import CardPage
from tracker.screens.fields import Line
from tracker.screens.form import FormPage
from tracker.screens.sums import ChooseSumPage, KeepSumPage, SumPage


def test_an_answer_changes_as_it_is_typed_and_says_why_and_from_where(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("v")
        assert hand.shows(ChooseSumPage)
        await hand.put("tape")
        await hand.press("enter")
        assert hand.shows(SumPage)
        assert "bundle_mm" in hand.text(), "what is still wanted is named"
        await hand.press("1", "0", "enter", "1", "0", "0", "0")
        assert "3307 mm" in hand.text()
        await hand.press("backspace")
        assert "331 mm" in hand.text()
        assert "Why" in hand.text()
        assert "From" in hand.text()

    drive(bench.desk, job, size=(80, 40))


def test_beside_a_card_the_bike_fills_in_and_the_answer_goes_onto_it(bench: Bench) -> None:
    bench.booked(battery_kind="agm", volts="12")
    bench("look", card="26-0001", limit="60")
    bench("read", card="26-0001", kind="standing_volts", value="12.42")

    async def job(hand: Driver) -> None:
        await hand.press("enter", "v")
        await hand.put("battery")
        await hand.press("enter")
        assert hand.field("standing_v").value == "12.42"
        assert hand.field("kind").value == "agm"
        assert "%" in hand.text()
        await hand.press("ctrl+s")
        assert hand.shows(KeepSumPage)
        await hand.press("down", "enter")
        assert isinstance(hand.app.screen, FormPage)
        assert hand.verb() == "finding"
        assert "battery" in hand.field("words").value
        await hand.press("ctrl+s")
        await hand.press("ctrl+s", "enter")
        assert hand.verb() == "read"
        assert hand.field("value").value == "12.42"
        await hand.press("ctrl+s", "escape")
        assert hand.shows(CardPage)

    drive(bench.desk, job)
    facts = bench.desk.facts(1)
    assert facts.findings[0].words.startswith("battery: ")
    kept = bench.desk.read(lambda reader: reader.all(Reading))
    assert [(one.kind, one.value) for one in kept] == [("standing_volts", 12.42)] * 2


def test_without_a_card_it_is_asked_for(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("v")
        await hand.put("vin")
        await hand.press("enter", "ctrl+s")
        assert "no answer yet" in hand.said
        await hand.put("1M8GDM9AXKP042788")
        await hand.press("ctrl+s")
        assert hand.shows(KeepSumPage)
        assert "Oona Mirek" in hand.text()
        await hand.press("enter", "enter")
        assert hand.verb() == "finding"

    drive(bench.desk, job)


def test_any_text_in_any_argument_is_answered_in_words(bench: Bench) -> None:
    found, also = all_sums()

    async def job(hand: Driver) -> None:
        for number, named in enumerate((*found, *also)):
            await hand.app.show(await SumPage.of(hand.app, named.name))
            for line in hand.page.query(Line):
                line.value = FINE[number % len(FINE)]
            await hand.quiet()
            assert hand.shows(SumPage)
            await hand.app.back()

    drive(bench.desk, job)
