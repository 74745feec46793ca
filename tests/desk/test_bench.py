"""At the bench: looking, the clock, parts, photos, calls, what is set aside, other ends, undo."""

from decimal import Decimal
from pathlib import Path

import pytest

from tests.desk.conftest import Bench
from tracker.card.standing import Step
from tracker.desk.show import stock_rows
from tracker.errors import StoreRefusedError, WrongUseError
from tracker.records.card import Attachment, EndKind, Opened, Phase
from tracker.records.problem import Mistakes
from tracker.records.stock import MoveKind, StockMove, WantedState
from tracker.records.work import TimeEntry, TimeKind


def test_a_reading_is_kept_in_its_kinds_unit_with_how_it_was_typed(bench: Bench) -> None:
    card = bench.booked()
    read = bench("read", card="1", kind="standing volts", value="12,1 V", conditions={"hours_standing": "40"})
    assert (read.kind, read.value, read.unit, read.words) == ("standing_volts", 12.1, "V", "12,1 V")
    assert (read.phase, read.bike, read.conditions) == (Phase.BEFORE, card.bike, {"hours_standing": "40"})
    after = bench("test", card="1", kind="standing_volts", value="12.8")
    assert after.phase is Phase.AFTER


@pytest.mark.parametrize(
    ("kind", "value", "field"), [("standing_volts", "400", "value"), ("warp", "1", "kind")]
)
def test_a_reading_that_no_meter_shows_is_said(bench: Bench, kind: str, value: str, field: str) -> None:
    bench.booked()
    with pytest.raises(Mistakes) as caught:
        bench("read", card="1", kind=kind, value=value)
    assert [problem.field for problem in caught.value.problems] == [field]


def test_a_reading_carries_its_caution(bench: Bench) -> None:
    bench.booked()
    bench("read", card="1", kind="drain", value="4 mA")
    assert any("10 A" in note for note in bench.desk.notes)


def test_a_tank_that_goes_up_twice_is_said(bench: Bench) -> None:
    bench.booked()
    bench("look", card="1", off=["seat", "tank"])
    bench("look", card="1", off=["tank"])  # it is off already: nothing new
    bench("look", card="1", refitted=["tank"])
    bench("look", card="1", off=["tank"])
    assert any("second time" in note for note in bench.desk.notes)
    kept = bench.desk.read(lambda reader: [(o.access, o.refitted) for o in reader.all(Opened)])
    assert kept == [("seat", False), ("tank", False), ("tank", True), ("tank", False)]


def test_the_clock_runs_once_for_each_mechanic(bench: Bench) -> None:
    bench.booked()
    bench("book-in", bike="1", complaint="horn")
    on = bench("clock on", card="1")
    assert (on.kind, on.off_at) == (TimeKind.LOOKING, None)
    bench.later(minutes=25)
    bench("clock on", card="2")
    first, second = bench.desk.read(lambda reader: reader.all(TimeEntry))
    assert first.off_at is not None
    assert (first.off_at - first.on_at).total_seconds() == 25 * 60
    assert second.off_at is None
    bench.later(minutes=5)
    bench("clock off")
    with pytest.raises(WrongUseError):
        bench("clock off")


def test_time_written_in_is_a_fact_and_a_forgotten_clock_is_asked_about(bench: Bench) -> None:
    bench.booked()
    typed = bench("clock add", card="1", minutes="0:40", kind="looking")
    assert (typed.typed, (typed.off_at - typed.on_at).total_seconds()) == (True, 2400)
    bench("clock on", card="1")
    bench.later(hours=15)
    bench("clock off")
    assert any("15.0 h" in note for note in bench.desk.notes)
    mended = bench("clock fix", card="1", entry=2, minutes="30")
    assert (mended.off_at - mended.on_at).total_seconds() == 1800


def test_nobody_unknown_is_on_the_clock(bench: Bench) -> None:
    bench.booked()
    bench.desk.who = "Somebody"
    with pytest.raises(WrongUseError) as caught:
        bench("clock on", card="1")
    assert "Ines, Tobiah" in caught.value.hint


def test_stock_is_the_sum_of_its_moves(bench: Bench) -> None:
    bench("stock add", code="W", name="Wire", unit="m", price="1.10", count="2.5")
    bench("stock arrived", part="W", qty="10")
    bench("stock add", code="W", count="12")
    (row,) = stock_rows(bench.desk)
    assert (row.stock, row.part.price) == (Decimal(12), Decimal("1.10"))
    kinds = bench.desk.read(lambda reader: [(m.kind, m.qty) for m in reader.all(StockMove)])
    assert kinds == [
        (MoveKind.COUNTED, Decimal("2.5")),
        (MoveKind.ARRIVED, Decimal(10)),
        (MoveKind.COUNTED, Decimal("-0.5")),
    ]


def test_a_new_part_needs_a_name_and_a_price_and_both_are_said(bench: Bench) -> None:
    with pytest.raises(Mistakes) as caught:
        bench("stock add", code="X")
    assert {problem.field for problem in caught.value.problems} == {"name", "price"}


def test_a_part_is_wanted_ordered_comes_and_is_fitted(bench: Bench) -> None:
    bench.booked()
    bench("stock add", code="REG", name="Regulator", price="90")
    wanted = bench("part want", card="1", part="REG")
    assert wanted.state is WantedState.WANTED
    ordered = bench("part order", card="1", expected="+3")
    assert ordered.state is WantedState.ORDERED
    assert bench("part arrived", card="1").state is WantedState.HERE
    (row,) = stock_rows(bench.desk)
    assert (row.stock, row.free) == (Decimal(1), Decimal(0))
    assert bench("part fit", card="1").state is WantedState.FITTED
    (row,) = stock_rows(bench.desk)
    assert row.stock == 0
    with pytest.raises(WrongUseError):
        bench("part fit", card="1", part=1)


def test_a_part_put_by_for_one_card_is_not_there_for_another(bench: Bench) -> None:
    bench.booked()
    bench("book-in", bike="1", complaint="again")
    bench("stock add", code="R", name="Relay", price="9", count="1")
    assert bench("part want", card="1", part="R").state is WantedState.HERE
    assert bench("part want", card="2", part="R").state is WantedState.WANTED


def test_a_wrong_part_goes_back_and_the_customers_own_has_no_guarantee(bench: Bench) -> None:
    bench.booked()
    bench("stock add", code="R", name="Relay", price="9")
    bench("part want", card="1", part="R")
    bench("part arrived", card="1", part=1)
    assert bench("part wrong", card="1", part=1).state is WantedState.WRONG
    (row,) = stock_rows(bench.desk)
    assert row.stock == 0
    own = bench("part want", card="1", part="LED indicators", customers_own="yes", unit_price="40")
    assert (own.unit_price, own.state) == (Decimal(0), WantedState.HERE)
    assert any("guarantee" in note for note in bench.desk.notes)


def test_a_photo_is_kept_in_the_file(bench: Bench, tmp_path: Path) -> None:
    bench.booked()
    picture = tmp_path / "before.jpg"
    picture.write_bytes(b"\xff\xd8not really")
    kept = bench("photo", card="1", picture=str(picture), words="burnt plug")
    picture.unlink()
    stored = bench.desk.read(lambda reader: reader.get(Attachment, kept.id))
    assert (stored.content, stored.mime, stored.name) == (b"\xff\xd8not really", "image/jpeg", "before.jpg")
    with pytest.raises(Mistakes):
        bench("photo", card="1", picture=str(picture))


def test_a_call_without_an_answer_is_written_down(bench: Bench) -> None:
    bench.booked()
    call = bench("call", card="1", outcome="no answer")
    assert (call.who, call.outcome) == ("Oona Mirek", "no answer")


@pytest.mark.parametrize("kind", list(EndKind))
def test_a_card_can_end_another_way(bench: Bench, kind: EndKind) -> None:
    card = bench.booked(look_limit="60")
    bench("clock add", card="1", minutes="30", kind="looking")
    bench("end", card="1", kind=str(kind))
    stands = bench.stands(card)
    assert stands.ended is kind
    assert stands.step is Step.BILL


def test_a_need_set_aside_is_not_asked_for(bench: Bench) -> None:
    card = bench.booked()
    assert bench.stands(card).step is Step.LOOK
    bench("waive", card="1", need="leave to look", reason="our own loan bike")
    assert all("leave" not in stop.words for stop in bench.stands(card).stops)


def test_undo_takes_back_ones_own_last_deed(bench: Bench) -> None:
    bench.booked()
    bench("customer change", customer="1", phone="999")
    bench.desk.who = "Tobiah"
    bench("customer change", customer="1", notes="rings late")
    bench.desk.who = "Ines"
    with pytest.raises(StoreRefusedError):
        bench("undo")
    bench.desk.who = "Tobiah"
    bench("undo")
    bench.desk.who = "Ines"
    bench("undo")
    from tracker.records.people import Customer

    customer = bench.desk.read(lambda reader: reader.get(Customer, 1))
    assert (customer.phone, customer.notes) == ("0155 0199 204", "")


def test_settings_are_checked_together(bench: Bench) -> None:
    with pytest.raises(Mistakes) as caught:
        bench(
            "settings change",
            zone="Mars/Base",
            currency="EURO",
            country="X",
            tax_rate="120",
            rounding="down",
            numbers={"invoice": "INV", "what": "{n}"},
        )
    fields = {problem.field.partition(".")[0] for problem in caught.value.problems}
    assert fields == {"zone", "currency", "country", "tax_rate", "rounding", "numbers"}
    assert bench.desk.shop.zone == "UTC"
