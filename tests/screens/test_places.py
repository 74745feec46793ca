"""The screens beside a card's way: charging check, bikes, customers, rechecks, parts, money, settings."""

from datetime import timedelta
from pathlib import Path

import pytest

from tests.desk.conftest import Bench
from tests.screens.driving import Driver, drive
from tracker.records.bike import OwnFigure
from tracker.records.people import Customer
from tracker.records.stock import Part
from tracker.screens.card import CardPage
from tracker.screens.charging import ChargingPage
from tracker.screens.lists import BikePage, CustomerPage, ListPage, RechecksPage
from tracker.screens.loom import LoomPage
from tracker.screens.paper import PaperPage, TextPage


def text_of(hand: Driver) -> str:
    """The text page that is up."""
    assert isinstance(hand.app.screen, TextPage)
    return hand.app.screen.text


def test_a_charging_check_is_taken_in_any_order_and_says_what_it_says(bench: Bench) -> None:
    bench.booked(flat_when_parked="yes", battery_kind="agm", volts="12", look_limit="60")

    async def job(hand: Driver) -> None:
        await hand.press("enter", "h")
        assert hand.shows(ChargingPage)
        assert "NOT ENOUGH" in hand.text()
        assert "battery agm" in hand.text()
        first = hand.rows.key
        await hand.press("enter")
        assert hand.verb() == "read"
        await hand.fill(value="12.75", conditions="hours_standing=12")
        await hand.press("ctrl+s")
        assert hand.shows(ChargingPage)
        assert "x " in hand.text()
        assert hand.rows.key != first, "the cursor goes to the reading that decides next"
        await hand.press("end", "enter", "escape")
        assert hand.shows(ChargingPage)
        await hand.press("escape")
        assert hand.shows(CardPage)

    drive(bench.desk, job, size=(80, 40))
    assert [one.kind for one in bench.desk.facts(1).readings] == ["standing_volts"]


def test_a_bike_is_shown_whole_changed_drawn_and_booked_in(bench: Bench) -> None:
    bench.booked(look_limit="60")
    bench("read", card="26-0001", kind="standing_volts", value="12.6")
    bench.later(days=30)
    bench("read", card="26-0001", kind="standing_volts", value="12.5")

    async def job(hand: Driver) -> None:
        await hand.press("m", "enter")
        assert hand.shows(BikePage)
        await hand.press("e")
        assert hand.verb() == "bike change"
        assert hand.field("registration").value == "LKM 412"
        await hand.fill(registration="LKM 413")
        await hand.press("ctrl+s")
        assert "LKM 413" in text_of(hand)
        await hand.press("l")
        assert hand.shows(LoomPage)
        await hand.press("escape", "g")
        assert "12.6" in text_of(hand)
        await hand.press("escape", "n")
        assert hand.verb() == "bike figure"
        await hand.fill(kind="regulated_volts", least="14.1", most="14.5", source="maker's manual")
        await hand.press("ctrl+s", "b")
        assert hand.verb() == "book-in"
        await hand.press("h", "o", "r", "n", "ctrl+s")
        assert hand.shows(CardPage)

    drive(bench.desk, job)
    assert len(bench.desk.read(lambda reader: reader.all(OwnFigure))) == 1


def test_a_customer_is_changed_and_has_a_statement(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("c", "enter")
        assert hand.shows(CustomerPage)
        await hand.press("e")
        await hand.fill(phone="0155 0199 300")
        await hand.press("ctrl+s", "o")
        assert "Oona Mirek" in text_of(hand)

    drive(bench.desk, job)
    assert bench.desk.read(lambda reader: reader.all(Customer))[0].phone == "0155 0199 300"


def test_rechecks_tell_whom_to_ring_and_what_to_say(bench: Bench) -> None:
    bench.booked(look_limit="60")
    for verb, more in (
        ("finding", {"words": "stator plug burnt"}),
        ("estimate", {"repair": ["stator-plug"]}),
        ("agree", {"how": "phone"}),
        ("waive", {"need": "tests", "reason": "no bench"}),
    ):
        bench(verb, card="26-0001", **more)
    for number in range(1, 9):
        try:
            bench("part drop", card="26-0001", part=str(number))
        except KeyError:
            break
    bench("start", card="26-0001", repair="1")
    bench("fix", card="26-0001", repair="1", words="joined")
    bench("bill", card="26-0001")
    bench("pay", on="26-0001")
    bench("collect", card="26-0001")
    bench.time.move(timedelta(days=60))

    async def job(hand: Driver) -> None:
        await hand.press("r")
        assert hand.shows(RechecksPage)
        assert "Oona Mirek" in hand.text()
        assert "0155 0199 204" in hand.text()
        await hand.press("t")
        assert "Halden" in text_of(hand)
        await hand.press("escape", "enter")
        assert hand.verb() == "recheck"

    drive(bench.desk, job)


def test_parts_are_added_counted_and_come_in(bench: Bench) -> None:
    bench.booked(look_limit="60")
    bench("part want", card="26-0001", part="flasher relay", qty="1", unit_price="9")
    bench("part order", card="26-0001", part="1")

    async def job(hand: Driver) -> None:
        await hand.press("s", "a")
        assert hand.verb() == "stock add"
        await hand.fill(code="FUSE-15", name="Blade fuse 15 A", price="0.60", count="40")
        await hand.press("ctrl+s")
        assert "FUSE-15" in hand.text()
        await hand.press("enter")
        assert hand.field("name").value == "Blade fuse 15 A"
        await hand.press("escape", "escape", "p")
        assert hand.shows(ListPage)
        assert "on order" in hand.text()
        await hand.press("enter")
        assert hand.verb() == "part arrived"
        await hand.press("ctrl+s")
        assert "here" in hand.text()

    drive(bench.desk, job)
    assert [part.code for part in bench.desk.read(lambda reader: reader.all(Part))] == ["FUSE-15"]


def test_a_paper_is_printed_from_the_screen(
    bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench.booked()
    monkeypatch.chdir(tmp_path)

    async def job(hand: Driver) -> None:
        await hand.press("enter", "p", "enter")
        assert hand.shows(PaperPage)
        await hand.press("p")
        assert "Written to" in hand.said

    drive(bench.desk, job)
    [printed] = tmp_path.glob("*.pdf")
    assert printed.read_bytes().startswith(b"%PDF-")
