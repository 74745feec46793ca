"""Parts written down when they were used, and what their price and the payer's own number come to."""

from decimal import Decimal

import pytest

from tests.desk.conftest import Bench
from tests.desk.test_money import EARTH
from tracker.desk.documents import document_whole
from tracker.errors import NotFoundError
from tracker.papers.gather import paper_of
from tracker.papers.gather_ubl import einvoice_of
from tracker.papers.plain import plain
from tracker.records.problem import Mistakes
from tracker.records.stock import PartWanted, WantedState


def repaired(bench: Bench, **more: str) -> None:
    """A card with leave, an estimate agreed to and its repair at hand."""
    bench.booked(**more)
    bench("look", card="1", limit="60")
    bench("finding", card="1", words="earth loose")
    bench("estimate", card="1", repair=[EARTH])
    bench("agree", card="1", limit="200")


def test_a_repair_takes_the_parts_it_used_with_their_prices_in_one_form(bench: Bench) -> None:
    bench("stock add", code="RT-M6", name="Ring terminal M6", price="0.60", count="10")
    repaired(bench)
    before = len(bench.desk.read(lambda reader: reader.all(PartWanted)))
    bench("fix", card="1", used=["RT-M6=2", "copper grease=1@1.20", "cable tie"])
    parts = bench.desk.read(lambda reader: reader.all(PartWanted))[before:]
    assert [(part.words, part.qty, part.unit_price, part.state) for part in parts] == [
        ("Ring terminal M6", Decimal(2), Decimal("0.60"), WantedState.FITTED),
        ("copper grease", Decimal(1), Decimal("1.20"), WantedState.FITTED),
        ("cable tie", Decimal(1), Decimal(0), WantedState.FITTED),
    ]
    assert any("cable tie has no price yet" in note for note in bench.desk.notes)
    assert not any("order it" in note for note in bench.desk.notes)


def test_what_cannot_be_read_of_parts_used_is_said_all_at_once(bench: Bench) -> None:
    repaired(bench)
    with pytest.raises(Mistakes) as caught:
        bench("fix", card="1", used=["=2", "tie=none", "tie=0", "tie=1@dear", "fine=1"])
    assert [problem.field for problem in caught.value.problems] == ["used"] * 4


def test_a_part_is_priced_when_it_is_fitted_and_the_customers_own_never(bench: Bench) -> None:
    bench.booked()
    bench("part want", card="1", part="a relay from the drawer")
    fitted = bench("part fit", card="1", unit_price="7.50")
    assert (fitted.unit_price, fitted.state) == (Decimal("7.50"), WantedState.FITTED)
    bench("part want", card="1", part="LED indicators", customers_own="yes")
    with pytest.raises(Mistakes) as caught:
        bench("part fit", card="1", part=2, unit_price="5")
    assert [problem.field for problem in caught.value.problems] == ["unit_price"]


def test_the_payers_own_number_stands_on_the_invoice_and_in_the_e_invoice(bench: Bench) -> None:
    bench("settings change", country="DE")
    bench.booked(claim="CLAIM-77/4")
    bench("look", card="1", limit="60")
    bench("clock add", card="1", minutes="30")
    assert "Their number" in plain(paper_of(bench.desk, "job-card", "1"))
    invoice = bench("bill", card="1")
    assert "CLAIM-77/4" in plain(paper_of(bench.desk, "invoice", invoice.number))
    assert b"<cac:OrderReference>" in einvoice_of(bench.desk, invoice.number).content
    credit = bench("bill", credit=invoice.number, words="by mistake")
    assert "CLAIM-77/4" in plain(paper_of(bench.desk, "credit-note", credit.number))


def test_an_invoice_is_found_by_its_cards_number(bench: Bench) -> None:
    bench.booked()
    bench("look", card="1", limit="60")
    with pytest.raises(NotFoundError, match="Nothing was issued for card 26-0001 yet"):
        document_whole(bench.desk, "26-0001")
    bench("finding", card="1", words="earth loose")
    bench("estimate", card="1", repair=[EARTH])
    bench("agree", card="1", limit="200")
    deposit = bench("bill", card="1", deposit="10")
    assert document_whole(bench.desk, "1").document.number == deposit.number
    bench("fix", card="1", minutes="30")
    invoice = bench("bill", card="1")
    assert document_whole(bench.desk, "26-0001").document.number == invoice.number
    assert invoice.number in plain(paper_of(bench.desk, "invoice", "26-0001"))


def test_a_minute_of_looking_that_no_invoice_would_ask_for_holds_nobodys_bike(bench: Bench) -> None:
    bench.booked()
    bench("look", card="1", limit="60")
    bench("clock on", card="1")
    bench.later(minutes=1)
    with pytest.raises(Mistakes):
        bench("collect", card="1")  # the clock still runs
    bench("clock off")
    bench("end", card="1", kind="declined")
    assert bench("collect", card="1").to_whom == "Oona Mirek"


def test_time_that_rounds_to_a_step_is_billed_first(bench: Bench) -> None:
    bench.booked()
    bench("look", card="1", limit="60")
    bench("clock add", card="1", minutes="3")
    bench("end", card="1", kind="declined")
    with pytest.raises(Mistakes, match="not billed yet"):
        bench("collect", card="1")


def test_all_that_a_card_wants_is_ordered_and_comes_in_one_form_each(bench: Bench) -> None:
    bench.booked()
    for name in ("coil", "plug", "lamp"):
        bench("part want", card="1", part=name)
    bench("part want", card="1", part="the owner's horn", customers_own="yes")
    bench("part order", card="1", part=2, others="yes", supplier="Weir Parts", expected="+3")
    parts = bench.desk.read(lambda reader: reader.all(PartWanted))
    assert [part.state for part in parts] == [WantedState.ORDERED] * 3 + [WantedState.HERE]
    assert {part.supplier for part in parts[:3]} == {"Weir Parts"}
    bench("part arrived", card="1", others="yes")
    assert {part.state for part in bench.desk.read(lambda reader: reader.all(PartWanted))} == {
        WantedState.HERE
    }
    with pytest.raises(Mistakes):
        bench("part order", card="1", others="yes")
    bench("undo")
    assert len(bench.desk.read(lambda reader: reader.all(PartWanted, state=WantedState.ORDERED))) == 3
