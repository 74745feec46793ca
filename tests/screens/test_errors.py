"""What goes wrong is said: the store's refusals in words; the unexpected is noted and says what is kept."""

from pathlib import Path

import pytest

from tests.desk.conftest import Bench
from tests.screens.driving import Driver, drive
from tracker.cli.context import Context
from tracker.cli.opening import open_screens
from tracker.desk import day
from tracker.desk.forms import draft_of
from tracker.errors import LoomcardError, StoreRefusedError
from tracker.screens.card import CardPage
from tracker.screens.day import DayPage
from tracker.screens.first_run import FirstRunPage


def test_a_refusal_of_the_store_is_said_and_nothing_typed_is_lost(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench.booked()

    def locked(*_: object, **__: object) -> None:
        raise StoreRefusedError("Another program is writing to this file.", "Try again in a moment.")

    async def job(hand: Driver) -> None:
        await hand.press("space")
        await hand.fill(limit="60", dead="rear lamp")
        with monkeypatch.context() as patch:
            patch.setattr(type(bench.desk), "given", locked)
            await hand.press("ctrl+s")
        assert hand.verb() == "look"
        assert "Another program is writing" in hand.said
        assert "Try again" in hand.said
        assert hand.field("dead").value == "rear lamp"
        await hand.press("ctrl+s")
        assert hand.shows(DayPage)

    drive(bench.desk, job)
    assert [one.load for one in bench.desk.facts(1).symptoms] == ["rear lamp"]


def test_the_unexpected_keeps_what_was_typed_is_noted_and_says_so(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench.booked()
    noted: list[BaseException] = []

    def note(error: BaseException) -> Path:
        noted.append(error)
        return Path("loomcard.log")

    def broken(*_: object) -> None:
        raise ZeroDivisionError("Oona Mirek, 0155 0199 204")

    async def job(hand: Driver) -> None:
        await hand.press("space")
        await hand.fill(dead="rear lamp")
        monkeypatch.setattr(type(bench.desk), "given", broken)
        await hand.press("ctrl+s")

    with pytest.raises(ZeroDivisionError):
        drive(bench.desk, job, failed=note)
    assert [type(error) for error in noted] == [ZeroDivisionError]
    assert draft_of(bench.desk, "look", "26-0001")["dead"] == "rear lamp"


def test_a_card_that_was_taken_back_meanwhile_is_said(bench: Bench) -> None:
    bench.booked()

    async def job(hand: Driver) -> None:
        await hand.press("enter")
        assert hand.shows(CardPage)
        bench("undo")
        await hand.page.refresh_page()
        assert "26-0001" in hand.said

    drive(bench.desk, job)


def test_a_file_that_cannot_be_opened_is_refused_in_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "no.loomcard"
    path.write_bytes(b"this is no Loomcard file" * 100)
    monkeypatch.setattr("tracker.screens.app.LoomcardApp.run", _headless)
    with pytest.raises(LoomcardError) as raised:
        open_screens(Context(file=str(path)))
    assert "Loomcard" in raised.value.sentence


def _headless(app: object) -> None:
    import asyncio

    async def run() -> None:
        async with app.run_test(size=(80, 24)):  # type: ignore[attr-defined]
            await app.opened.wait()  # type: ignore[attr-defined]

    asyncio.run(run())


def test_the_first_run_asks_four_things_and_starts(bare: Bench) -> None:
    async def job(hand: Driver) -> None:
        assert hand.shows(FirstRunPage)
        assert [one.name for one in hand.app.screen.query(".field")] == [
            "mode", "name", "currency", "tax_rate", "distance_unit",
        ]  # fmt: skip
        await hand.fill(name="Weir Bench", currency="nothing", tax_rate="a lot")
        await hand.press("ctrl+s")
        assert hand.mistake("currency")
        assert hand.mistake("tax_rate")
        await hand.fill(currency="GBP", tax_rate="0", mode="project", distance_unit="mi")
        await hand.press("ctrl+s")
        assert hand.shows(DayPage)
        assert "Weir Bench" in hand.head

    drive(bare.desk, job)
    shop = bare.desk.shop
    assert (shop.currency, shop.distance_unit, shop.mode) == ("GBP", "mi", "project")
    assert day.day_sheet(bare.desk).groups == ()
