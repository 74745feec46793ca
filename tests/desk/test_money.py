"""Estimate, go-ahead, deposit, invoice, credit note, payment: what a card's money does from end to end."""

from decimal import Decimal
from typing import Any

import pytest

from tests.desk.conftest import Bench
from tracker.card.standing import Step
from tracker.desk.day import day_sheet
from tracker.desk.documents import document_whole
from tracker.desk.ledger import ledger
from tracker.errors import StoreRefusedError, WrongUseError
from tracker.records.document import Document, DocumentKind, EstimateLine, LineKind
from tracker.records.problem import Mistakes
from tracker.records.stock import PartWanted, WantedState

EARTH = "earth:zone=seat,words=Main earth cleaned"


def priced(bench: Bench, *repairs: str, **more: Any) -> Any:
    """A card looked at for half an hour, with one finding a repair, priced."""
    card = bench.booked(look_limit="60", **more)
    bench("clock add", card="1", minutes="30", kind="looking")
    for repair in repairs or (EARTH,):
        bench("finding", card="1", words=f"found for {repair[:10]}")
    bench("estimate", card="1", repair=list(repairs or (EARTH,)))
    return card


def mended(bench: Bench, minutes: int = 24, limit: str = "500") -> Any:
    """The same, agreed and done in so many minutes."""
    card = priced(bench)
    bench("agree", card="1", limit=limit)
    bench("fix", card="1", minutes=str(minutes))
    return card


def test_an_estimate_is_numbered_frozen_and_explained(bench: Bench) -> None:
    card = priced(bench)
    (estimate,) = bench.desk.facts(card.id).estimates
    assert (estimate.number, estimate.revision) == ("EST-26-0001", 1)
    assert estimate.low_min <= estimate.expected_min <= estimate.high_min
    assert "earth" in estimate.frozen["rules"]  # type: ignore[operator]
    lines = bench.desk.read(lambda reader: reader.all(EstimateLine, estimate=estimate.id))
    assert estimate.net_minor == sum(line.net_minor for line in lines)
    looking, seat, work = lines[:3]
    assert (looking.kind, looking.net_minor) == (LineKind.DIAGNOSIS, 3000)
    assert (seat.kind, seat.book_min) == (LineKind.ACCESS, 3)
    assert work.kind is LineKind.LABOUR
    assert "min" in work.why
    with pytest.raises(StoreRefusedError):
        bench("undo")


def test_two_repairs_under_one_seat_take_it_off_once(bench: Bench) -> None:
    card = priced(bench, EARTH, "splice-butt:joints=2,zone=seat,words=tail wire")
    (estimate,) = bench.desk.facts(card.id).estimates
    lines = bench.desk.read(lambda reader: reader.all(EstimateLine, estimate=estimate.id))
    assert [line.words for line in lines if line.kind is LineKind.ACCESS] == ["Off and on again: seat"]


def test_every_mistake_in_the_repairs_is_named(bench: Bench) -> None:
    bench.booked()
    with pytest.raises(Mistakes) as caught:
        bench(
            "estimate",
            card="1",
            repair=["splice-butt:joints=many,gap_mm=-5", "magic", "earth:zone=moon,joints=1"],
        )
    fields = {problem.field for problem in caught.value.problems}
    assert fields >= {"repair.joints", "repair.gap_mm", "repair", "repair.zone"}
    assert bench.desk.facts(1).repairs == ()


def test_nothing_is_started_that_nobody_agreed_to(bench: Bench) -> None:
    priced(bench)
    with pytest.raises(Mistakes):
        bench("start", card="1")
    bench("agree", card="1", limit="200")
    assert bench("start", card="1").started_at is not None


def test_what_the_estimate_wants_is_put_by_on_the_go_ahead_and_used_when_done(bench: Bench) -> None:
    bench("stock add", code="GREASE", name="Contact grease", unit="dab", price="0.60", count="5")
    card = priced(bench)
    bench("agree", card="1", limit="200")
    wanted = bench.desk.facts(card.id).wanted
    assert [(w.words, w.state) for w in wanted] == [("contact grease", WantedState.HERE)]
    bench("agree", card="1", limit="250")
    assert len(bench.desk.facts(card.id).wanted) == 1
    bench("fix", card="1", minutes="10")
    assert {w.state for w in bench.desk.read(lambda reader: reader.all(PartWanted))} == {WantedState.FITTED}


def test_the_invoice_bills_what_was_clocked(bench: Bench) -> None:
    mended(bench, minutes=25)
    invoice = bench("bill", card="1")
    whole = document_whole(bench.desk, invoice.number)
    assert [(line.kind, line.qty, line.unit, line.net_minor) for line in whole.lines] == [
        (LineKind.DIAGNOSIS, Decimal("0.5"), "hour", 3000),
        (LineKind.LABOUR, Decimal("0.4"), "hour", 2400),
    ]
    assert (invoice.net_minor, invoice.tax_minor, invoice.payable_minor) == (5400, 1080, 6480)
    with pytest.raises(WrongUseError):
        bench("bill", card="1")


def test_past_the_limit_nothing_is_billed_until_somebody_agrees(bench: Bench) -> None:
    mended(bench, minutes=120, limit="100")
    with pytest.raises(Mistakes) as caught:
        bench("bill", card="1")
    assert {problem.field for problem in caught.value.problems} == {"total"}
    assert bench.desk.read(lambda reader: reader.all(Document)) == ()
    bench("agree", card="1", limit="180")
    assert bench("bill", card="1").number == "INV-26-0001"


def test_a_shop_may_go_a_tenth_over(bench: Bench) -> None:
    bench("settings change", tolerance="percent", tolerance_percent="10")
    mended(bench, minutes=60, limit="100")
    assert bench("bill", card="1").payable_minor == 10800


def test_a_deposit_is_set_off_to_the_cent(bench: Bench) -> None:
    card = priced(bench)
    bench("agree", card="1", limit="200")
    deposit = bench("bill", card="1", deposit="33.33")
    assert (deposit.number, deposit.payable_minor) == ("DEP-26-0001", 3333)
    bench("pay", on=deposit.number, method="card")
    bench("fix", card="1", minutes="24")
    invoice = bench("bill", card="1")
    assert invoice.payable_minor + 3333 == 6480
    whole = document_whole(bench.desk, invoice.number)
    assert [line.sets_off for line in whole.lines if line.kind is LineKind.DEPOSIT] == [deposit.id]
    assert sum(line.net_minor for line in whole.lines) == invoice.net_minor
    assert bench.stands(card).step is Step.TEST


def test_money_paid_before_any_paper_is_taken_off(bench: Bench) -> None:
    priced(bench)
    bench("agree", card="1", limit="200")
    bench("pay", on="26-0001", amount="20")
    bench("fix", card="1", minutes="24")
    invoice = bench("bill", card="1")
    assert (invoice.total_minor, invoice.prepaid_minor, invoice.payable_minor) == (6480, 2000, 4480)
    stands, _ = ledger(bench.desk)
    assert (stands.owed, stands.in_hand) == (4480, 0)


def test_part_payments_overpayment_and_money_back(bench: Bench) -> None:
    mended(bench)
    bench("bill", card="1")
    bench("pay", on="INV-26-0001", amount="40")
    assert ledger(bench.desk)[0].owed == 2480
    bench("pay", on="inv-26-1", amount="30", method="card")
    stands, _ = ledger(bench.desk)
    assert (stands.owed, stands.in_hand) == (0, 520)
    assert any("more than is owed" in note for note in bench.desk.notes)


def test_a_credit_note_in_whole_and_by_line(bench: Bench) -> None:
    mended(bench)
    bench("bill", card="1")
    part = bench("bill", credit="INV-26-0001", line=[1], words="looking was free")
    assert (part.kind, part.number, part.payable_minor) == (DocumentKind.CREDIT_NOTE, "CRN-26-0001", 3600)
    rest = bench("bill", credit="INV-26-0001")
    assert part.payable_minor + rest.payable_minor == 6480
    with pytest.raises(Mistakes):
        bench("bill", credit="INV-26-0001")
    assert ledger(bench.desk)[0].owed == 0


def test_a_write_off_leaves_the_document_as_it_is(bench: Bench) -> None:
    mended(bench)
    bench("bill", card="1")
    bench("pay", on="INV-26-0001", amount="60")
    bench("write-off", document="INV-26-0001", reason="not worth a letter")
    assert ledger(bench.desk)[0].owed == 0
    assert document_whole(bench.desk, "INV-26-0001").document.payable_minor == 6480
    with pytest.raises(Mistakes):
        bench("write-off", document="INV-26-0001", reason="again")


def test_a_fixed_price_is_billed_as_it_was_quoted(bench: Bench) -> None:
    bench.booked(look_limit="60")
    bench("finding", card="1", words="earth")
    bench("estimate", card="1", repair=[EARTH], fixed="yes")
    bench("agree", card="1")
    bench("fix", card="1", minutes="300")
    (quote,) = bench.desk.facts(1).estimates
    assert bench("bill", card="1").total_minor == quote.total_minor


def test_extras_fees_and_a_discount(bench: Bench) -> None:
    mended(bench)
    invoice = bench(
        "bill", card="1", extra=["Bulb, two filaments=5.00"], fee=["Roadworthiness test=45.00"], discount="4"
    )
    groups = {(tax.category, tax.taxable_minor) for tax in document_whole(bench.desk, invoice.number).taxes}
    assert groups == {("S", 5500), ("E", 4500)}
    assert invoice.total_minor == 5500 + 1100 + 4500


def test_a_trader_not_registered_for_tax_shows_none(bench: Bench) -> None:
    bench("settings change", taxed="no")
    mended(bench)
    invoice = bench("bill", card="1")
    assert (invoice.net_minor, invoice.tax_minor, invoice.total_minor) == (5400, 0, 5400)


def test_prices_typed_with_tax_come_out_as_typed(bench: Bench) -> None:
    bench("settings change", prices_with_tax="yes", labour_rate="59.99", looking_rate="59.99")
    card = mended(bench, minutes=60)
    invoice = bench("bill", card="1")
    assert invoice.payable_minor == 3000 + 5999
    (estimate,) = bench.desk.facts(card.id).estimates
    assert estimate.total_minor == estimate.net_minor + estimate.tax_minor


def test_what_is_missing_before_an_invoice_is_said_at_once_and_no_number_is_lost(bare: Bench) -> None:
    bare.booked(look_limit="60", address="")
    bare("clock add", card="1", minutes="30", kind="looking")
    bare("end", card="1", kind="nothing found")
    with pytest.raises(Mistakes) as caught:
        bare("bill", card="1")
    fields = {problem.field for problem in caught.value.problems}
    assert fields == {"seller.name", "seller.address", "seller.tax_number", "buyer.address"}
    bare.set_up()
    assert bare("bill", card="1", small="yes").number == "INV-26-0001"


def test_looking_is_billed_up_to_its_leave(bench: Bench) -> None:
    bench.booked(look_limit="45")
    bench("clock add", card="1", minutes="90", kind="looking")
    bench("end", card="1", kind="declined", told_unsafe="yes")
    assert bench("bill", card="1").net_minor == 4500
    assert any("90 min" in note for note in bench.desk.notes)


def test_a_bike_is_not_handed_over_unpaid_but_an_accounts_is(bench: Bench) -> None:
    card = mended(bench)
    bench("waive", card="1", need="tests", reason="tried on the road")
    bench("bill", card="1")
    assert bench.stands(card).step is Step.PAID
    with pytest.raises(Mistakes):
        bench("collect", card="1")
    bench("customer change", customer="1", kind="account", terms_days="30")
    assert bench("collect", card="1").to_whom == "Oona Mirek"
    assert bench.stands(card).step is Step.PAID


def test_a_free_comeback_and_a_project_are_not_billed(bench: Bench) -> None:
    first = bench.booked()
    bench("book-in", bike="1", complaint="same", comeback_of=first.number, charged="no")
    project = bench("book-in", kind="project", make="Brackwater", complaint="rewire")
    for number in ("26-0002", project.number):
        with pytest.raises(WrongUseError):
            bench("bill", card=number)


def test_a_second_fault_is_priced_and_agreed_while_the_first_goes_on(bench: Bench) -> None:
    card = priced(bench)
    bench("agree", card="1", limit="100")
    bench("start", card="1")
    bench("finding", card="1", words="regulator plug burnt")
    assert bench.stands(card).step is Step.PRICE
    bench("estimate", card="1", repair=["connector:ways=3,zone=left-panel"])
    assert bench.stands(card).step is Step.AGREE
    assert any("Total" in note for note in bench.desk.notes)
    with pytest.raises(Mistakes):
        bench("start", card="1", repair=2)
    bench("agree", card="1", limit="220")
    bench("fix", card="1", repair=1, minutes="12")
    assert bench("start", card="1", repair=2).started_at is not None


def test_call_out_and_distance_are_lines_of_their_own(bench: Bench) -> None:
    bench("settings change", mode="mobile", call_out_charge="25", distance_charge="0.50")
    bench.booked(call_out="yes", distance="12", look_limit="60")
    bench("clock add", card="1", minutes="60", kind="looking")
    bench("end", card="1", kind="nothing found")
    invoice = bench("bill", card="1")
    travel = [
        line for line in document_whole(bench.desk, invoice.number).lines if line.kind is LineKind.TRAVEL
    ]
    assert [(line.words, line.net_minor) for line in travel] == [("Call-out", 2500), ("Distance", 1200)]


def test_a_charging_repair_sets_its_recheck_on_collection(bench: Bench) -> None:
    bench.booked(odometer="1000", look_limit="60")
    bench("finding", card="1", words="regulator")
    bench("estimate", card="1", repair=["regulator:zone=left-panel"])
    bench("agree", card="1", limit="900")
    bench("fix", card="1", minutes="30")
    bench("waive", card="1", need="tests", reason="done at the gate")
    bench("bill", card="1")
    bench("pay", on="26-0001")
    bench("collect", card="1", odometer="1010")
    (recheck,) = bench.desk.facts(1).rechecks
    assert (recheck.reason, recheck.due_on.isoformat(), recheck.due_odometer) == (
        "charging",
        "2026-03-30",
        1510,
    )
    moved = bench("recheck", card="1", to="+40")
    assert moved.due_on.isoformat() == "2026-04-11"
    assert bench("recheck", card="1", done="yes", outcome="14.2 V, good").state == "done"
    assert bench.stands(moved).over


def test_what_nobody_said_the_loom_says(bench: Bench) -> None:
    bench.booked(features={"indicators": "filament"})
    bench("finding", card="1", words="wire broken")
    bench("estimate", card="1", repair=["wire:from=rear-plug:left,to=indicator-rear-left:feed"])
    (repair,) = bench.desk.facts(1).repairs
    assert repair.asked["size_mm2"] == "0.75"
    assert repair.asked["colour"] == repair.colour == "violet"
    assert int(repair.asked["length_mm"]) > 300
    assert any("from the loom" in note for note in bench.desk.notes)
    (estimate,) = bench.desk.facts(1).estimates
    assert sum(estimate.wire_mm.values()) >= int(repair.asked["length_mm"])


def test_without_an_estimate_a_go_ahead_needs_its_limit(bench: Bench) -> None:
    bench.booked(look_limit="60")
    with pytest.raises(WrongUseError):
        bench("agree", card="1", limit="50")
    bench("waive", card="1", need="estimate", reason="five minutes")
    with pytest.raises(Mistakes) as caught:
        bench("agree", card="1")
    assert [problem.field for problem in caught.value.problems] == ["limit"]
    assert bench("agree", card="1", limit="50").estimate is None


def test_the_day_sheet_keeps_a_card_that_still_wants_something(bench: Bench) -> None:
    card = mended(bench)
    bench("bill", card="1")
    bench("pay", on="26-0001")
    bench("collect", card="1")  # without the readings after: they are still wanted
    assert [row.number for group in day_sheet(bench.desk).groups for row in group.rows] == [card.number]
    bench("waive", card="1", need="tests", reason="gone")
    assert day_sheet(bench.desk).groups == ()
    bench("finding", card="1", words="rang: the horn is dead too")
    assert [row.number for group in day_sheet(bench.desk).groups for row in group.rows] == [card.number]


def test_a_customers_own_part_is_not_wanted_twice(bench: Bench) -> None:
    priced(bench)
    bench("part want", card="1", part="LED set", customers_own="yes")
    bench("estimate", card="1")
    bench("agree", card="1", limit="300")
    wanted = bench.desk.facts(1).wanted
    assert [one.words for one in wanted if "LED" in one.words] == ["LED set"]


def test_an_excess_is_paid_by_the_customer_and_the_rest_by_the_insurer(bench: Bench) -> None:
    bench("customer add", name="Gannet Mutual", kind="insurer", address="Quay 1")
    card = bench.booked(payer="Gannet Mutual", excess="20", look_limit="60")
    bench("clock add", card="1", minutes="60", kind="looking")
    bench("end", card="1", kind="nothing found")
    bench("bill", card="1")
    with pytest.raises(Mistakes):
        bench("collect", card="1")
    bench("pay", on="INV-26-0001", amount="20", by="Oona Mirek")
    bench("collect", card="1")
    assert bench.stands(card).step is Step.PAID


def test_a_free_comebacks_parts_leave_the_shelf_and_are_not_billed(bench: Bench) -> None:
    bench("stock add", code="GREASE", name="Contact grease", unit="dab", price="0.60", count="5")
    mended(bench)
    again = bench("book-in", bike="1", complaint="again", comeback_of="1", charged="no")
    bench("finding", card="2", words="earth loose again")
    bench("estimate", card="2", repair=[EARTH])
    assert {one.state for one in bench.desk.facts(again.id).wanted} == {WantedState.HERE}
    bench("fix", card="2", minutes="10")
    assert {one.state for one in bench.desk.facts(again.id).wanted} == {WantedState.FITTED}


def test_parts_are_put_by_when_the_go_ahead_was_set_aside(bench: Bench) -> None:
    bench("stock add", code="GREASE", name="Contact grease", unit="dab", price="0.60", count="5")
    card = priced(bench)
    bench("waive", card="1", need="go-ahead", reason="our own loan bike")
    bench("start", card="1")
    assert {one.state for one in bench.desk.facts(card.id).wanted} == {WantedState.HERE}


def test_two_repairs_agreed_one_by_one_want_no_part_twice(bench: Bench) -> None:
    bench("stock add", code="GREASE", name="Contact grease", unit="dab", price="0.60", count="5")
    card = priced(bench, EARTH, "earth:zone=tail,words=Tail earth cleaned")
    bench("agree", card="1", limit="200", repairs=["2"])
    bench("agree", card="1", limit="200", repairs=["1"])
    assert sum(one.qty for one in bench.desk.facts(card.id).wanted) == 2


def test_a_part_of_a_done_repair_that_never_came_is_said(bench: Bench) -> None:
    priced(bench)
    bench("agree", card="1", limit="200")
    bench("part want", card="1", part="Ring terminal", unit_price="2", repair="1")
    bench("fix", card="1", minutes="10")
    assert any("Ring terminal is wanted still, and not billed" in note for note in bench.desk.notes)


def test_a_repair_takes_several_parts_and_the_customers_own(bench: Bench) -> None:
    bench("stock add", code="RELAY", name="Relay", price="9.50", count="5")
    repair = EARTH + ",fit=2 x RELAY,fit=Earth strap, braided,own_part=Chrome bolt"
    card = priced(bench, repair)
    wanted = [(w.words, w.qty, w.customers_own, w.state) for w in bench.desk.facts(card.id).wanted]
    assert wanted == [
        ("Relay", Decimal(2), False, WantedState.HERE),
        ("Earth strap, braided", Decimal(1), False, WantedState.WANTED),
        ("Chrome bolt", Decimal(1), True, WantedState.HERE),
    ]
    lines = bench.desk.read(lambda reader: reader.all(EstimateLine, kind=LineKind.PART))
    prices = {line.words: line.net_minor for line in lines}
    assert prices["Relay"] == 1900
    assert prices["Chrome bolt (customer's own, no guarantee)"] == 0
    bench("agree", card="1", limit="500")
    bench("fix", card="1", minutes="10")
    whole = document_whole(bench.desk, bench("bill", card="1").number)
    assert "Chrome bolt (customer's own, no guarantee)" in {line.words for line in whole.lines}


def test_what_is_said_twice_of_a_repair_is_a_mistake_unless_it_is_a_part(bench: Bench) -> None:
    bench.booked()
    with pytest.raises(Mistakes) as caught:
        bench("estimate", card="1", repair=[EARTH + ",zone=tail"])
    assert caught.value.problems[0].sentence == "“zone” is said twice."
