"""A bike that is to come: its card is written before, waits for it, and is taken when it is here."""

import pytest

from tests.desk.conftest import Bench
from tracker.card.standing import Deed, Step
from tracker.desk.day import day_sheet
from tracker.errors import WrongUseError
from tracker.records.card import Card, Symptom
from tracker.records.problem import Mistakes


def cards(bench: Bench) -> tuple[Card, ...]:
    return bench.desk.read(lambda reader: reader.all(Card))


def test_a_card_written_at_the_phone_call_waits_in_a_group_of_its_own(bench: Bench) -> None:
    card = bench.booked(comes="+3", look_limit="30")
    stands = bench.stands(card)
    assert stands.next is not None
    assert (stands.step, stands.next.deed) == (Step.IN, Deed.CAME)
    (group,) = day_sheet(bench.desk).groups
    assert (group.name, [row.number for row in group.rows]) == ("to come", ["26-0001"])


def test_it_came_and_is_looked_at(bench: Bench) -> None:
    bench.booked(odometer="41000")
    bench("book-in", bike="1", complaint="horn", comes="+3")
    bench.later(days=3)
    came = bench("came", card="2", odometer="40900", keys="one key", stands="first bench", look_limit="1 h")
    assert (came.comes_on, came.odometer, came.keys) == (None, 40900, "one key")
    assert came.came_at == bench.desk.clock.now()
    assert any("41,000 last time" in note for note in bench.desk.notes)
    assert bench.stands(came).step is Step.LOOK
    (leave,) = bench.desk.facts(came.id).go_aheads
    assert leave.limit_min == 60
    with pytest.raises(WrongUseError):
        bench("came", card="2")


def test_a_bike_that_is_expected_is_booked_in_on_its_own_card(bench: Bench) -> None:
    bench.booked()
    bench("book-in", bike="LKM 412", complaint="horn dead", comes="+3")
    bench.later(days=2)
    card = bench("book-in", bike="LKM 412", odometer="500", weak="headlamp", claim="PO 7")
    assert (card.number, card.complaint, card.comes_on, card.odometer) == ("26-0002", "horn dead", None, 500)
    assert card.claim == "PO 7"
    assert any("waiting for this bike" in note for note in bench.desk.notes)
    assert [s.load for s in bench.desk.read(lambda reader: reader.all(Symptom, card=card.id))] == ["headlamp"]
    assert len(cards(bench)) == 2


def test_what_is_told_besides_is_added_to_what_was_said_on_the_phone(bench: Bench) -> None:
    bench.booked(comes="+3", notes="side door")
    card = bench("book-in", bike="1", complaint="tail lamp too")
    assert card.complaint == "flat\ntail lamp too"
    assert card.notes == "side door"


def test_another_card_is_opened_where_that_is_wanted(bench: Bench) -> None:
    bench.booked(comes="+3")
    assert bench("book-in", bike="1", complaint="puncture", another="yes").number == "26-0002"
    assert bench("book-in", bike="1", complaint="later still", comes="+9").number == "26-0003"


def test_a_known_bike_without_a_card_that_waits_still_needs_its_complaint(bench: Bench) -> None:
    bench.booked()
    with pytest.raises(Mistakes) as caught:
        bench("book-in", bike="1")
    assert [problem.field for problem in caught.value.problems] == ["complaint"]


def test_days_that_cannot_be_are_said(bench: Bench) -> None:
    with pytest.raises(Mistakes) as caught:
        bench.booked(comes="+5", promised="+3")
    assert [problem.field for problem in caught.value.problems] == ["promised"]
    with pytest.raises(Mistakes) as caught:
        bench.booked(comes="yesterday")
    assert [problem.field for problem in caught.value.problems] == ["comes"]


def test_a_recheck_booked_for_a_later_day_waits_for_the_bike(bench: Bench) -> None:
    bench.booked(look_limit="30")
    recheck = bench("recheck", card="1")
    bench("recheck", card="1", book="yes", to="+7")
    booked = bench.desk.read(lambda reader: reader.all(Card))[-1]
    assert recheck.card != booked.id
    assert bench.stands(booked).step is Step.IN


def test_the_head_of_a_card_is_changed_and_the_rest_stays(bench: Bench) -> None:
    bench.booked(keys="two keys")
    bench("customer add", name="Gannet Mutual", kind="insurer")
    changed = bench("card change", card="1", payer="Gannet", claim="CL-77", excess="100", promised="+4")
    assert (changed.payer, changed.claim, changed.excess_minor, changed.keys) == (
        2,
        "CL-77",
        10000,
        "two keys",
    )
    with pytest.raises(Mistakes) as caught:
        bench("card change", card="1", comes="+2")
    assert [problem.field for problem in caught.value.problems] == ["comes"]


def test_notes_and_the_payers_number_are_found(bench: Bench) -> None:
    from tracker.desk.show import find

    bench.booked(notes="alarm under the seat", claim="FP-0702")
    bench("customer change", customer="1", notes="rings late")
    bench("bike change", bike="1", notes="frame painted orange")
    for typed, kind in (("alarm", "card"), ("fp0702", "card"), ("late", "customer"), ("orange", "bike")):
        assert [hit.kind for hit in find(bench.desk, typed)] == [kind]
