"""Booking in: a known bike in a word, a new one with its few answers, and every mistake at once."""

from typing import Any

import pytest

from tests.desk.conftest import Bench
from tests.hostile import FINE, REFUSED
from tracker.desk.show import card_view, find
from tracker.errors import NotFoundError
from tracker.records.bike import Bike
from tracker.records.card import Card, CardKind, Symptom, SymptomKind
from tracker.records.people import Customer, Ownership
from tracker.records.problem import Mistakes


def fields(mistakes: Mistakes) -> set[str]:
    return {problem.field for problem in mistakes.problems}


def test_a_new_customer_with_a_new_bike(bench: Bench) -> None:
    card = bench.booked(dead="left rear indicator", look_limit="1.5 h", look_amount="120", odometer="41,230")
    assert card.number == "26-0001"
    assert card.odometer == 41230
    facts = bench.desk.facts(card.id)
    assert facts.customer is not None
    assert facts.customer.name == "Oona Mirek"
    assert facts.bike is not None
    assert facts.bike.registration == "LKM 412"
    assert [(s.kind, s.load) for s in facts.symptoms] == [(SymptomKind.DEAD, "left rear indicator")]
    (leave,) = facts.go_aheads
    assert (leave.limit_min, leave.limit_minor) == (90, 12000)


def test_a_known_bike_takes_its_registration_and_a_word(bench: Bench) -> None:
    first = bench.booked()
    card = bench("book-in", bike="lkm412", complaint="horn")
    assert (card.bike, card.customer) == (first.bike, first.customer)
    assert card.number == "26-0002"
    assert len(bench.desk.read(lambda reader: reader.all(Bike))) == 1


@pytest.mark.parametrize("typed", ["oona", "0199204", "LKM", "412", "lkm412"])
def test_a_few_letters_find_who_and_which(bench: Bench, typed: str) -> None:
    bench.booked()
    assert find(bench.desk, typed)


def test_a_frame_numbers_tail_finds_the_bike(bench: Bench) -> None:
    bench.booked(vin="HALDEN00042017")
    assert bench("book-in", bike="42017", complaint="x").bike == 1


def test_every_mistake_is_named_at_once_and_nothing_is_written(bench: Bench) -> None:
    with pytest.raises(Mistakes) as caught:
        bench(
            "book-in",
            make="Halden",
            year="1700",
            volts="400",
            promised="3/12",
            odometer="many",
            email="nobody",
            comeback_of="26-0099",
            features={"fuel": "steam", "wings": "two"},
        )
    assert fields(caught.value) >= {
        "complaint", "customer", "year", "volts", "promised", "odometer", "email", "comeback_of",
        "features.fuel", "features.wings",
    }  # fmt: skip
    assert bench.desk.read(lambda reader: (reader.all(Card), reader.all(Customer), reader.all(Bike))) == (
        (),
        (),
        (),
    )
    assert bench.booked().number == "26-0001"


def test_an_odometer_that_went_back_is_kept_and_said(bench: Bench) -> None:
    bench.booked(odometer="41230")
    bench("book-in", bike="lkm412", complaint="x", odometer="3000")
    assert any("41,230" in note for note in bench.desk.notes)


def test_dont_know_is_an_answer_to_every_question(bench: Bench) -> None:
    card = bench.booked(
        features={"fuel": "don't know", "abs": "don't know"}, earth="don't know", battery_kind="don't know"
    )
    assert bench.desk.facts(card.id).bike is not None


def test_a_unit_comes_without_a_bike_and_a_project_without_a_customer(bench: Bench) -> None:
    unit = bench("book-in", unit="stator, three-phase", customer="Bram Ost", complaint="rewind?")
    assert (unit.kind, unit.bike) == (CardKind.UNIT, None)
    project = bench("book-in", kind="project", make="Brackwater", complaint="rewire from nothing")
    assert (project.kind, project.customer) == (CardKind.PROJECT, None)


def test_an_owner_builders_shop_books_in_projects(bare: Bench) -> None:
    bare("settings change", mode="project", name="Shed")
    card = bare("book-in", make="Brackwater", complaint="no spark")
    assert card.kind is CardKind.PROJECT


def test_payer_owner_and_rider_are_three_people(bench: Bench) -> None:
    for name in ("Trade Ltd", "Rider Person"):
        bench("customer add", name=name, kind="account" if "Trade" in name else "private")
    card = bench.booked(payer="Trade Ltd", rider="Rider Person", excess="150")
    facts = bench.desk.facts(card.id)
    assert facts.payer is not None
    assert (facts.payer.name, facts.card.excess_minor) == ("Trade Ltd", 15000)
    roles = bench.desk.read(lambda reader: [tie.role for tie in reader.all(Ownership)])
    assert sorted(roles) == ["owner", "rider"]


def test_a_name_that_several_have_is_asked_again(bench: Bench) -> None:
    bench("customer add", name="Jo Ash", phone="1")
    bench("customer add", name="Jo Ash", phone="2")
    with pytest.raises(Mistakes) as caught:
        bench("book-in", customer="Jo Ash", make="Halden", complaint="x")
    assert fields(caught.value) == {"customer"}
    assert bench("book-in", customer="Jo Ash", phone="2", make="Halden", complaint="x").customer == 2


def test_a_comeback_points_to_the_first_card_of_that_bike(bench: Bench) -> None:
    first = bench.booked()
    again = bench("book-in", bike="lkm412", complaint="same again", comeback_of=first.number, charged="no")
    assert (again.comeback_of, again.comeback_charged) == (first.id, False)
    bench("book-in", customer="Other", make="Tessaly", complaint="x")
    with pytest.raises(Mistakes):
        bench("book-in", bike="3", complaint="x", comeback_of=first.number)


@pytest.mark.parametrize("text", FINE, ids=range(len(FINE)))
def test_any_text_that_can_be_shown_is_kept_as_it_is(bench: Bench, text: str) -> None:
    card = bench("book-in", customer=text, make=text, complaint=text, marks=text)
    view = card_view(bench.desk, card.number)
    from tracker.records.text import clean_text

    assert view.facts.card.complaint == clean_text("c", text, lines=True)


@pytest.mark.parametrize("text", REFUSED, ids=range(len(REFUSED)))
def test_what_cannot_be_shown_is_refused_beside_its_field(bench: Bench, text: str) -> None:
    with pytest.raises(Mistakes) as caught:
        bench("book-in", customer="A", make="B", complaint=f"x{text}y")
    assert fields(caught.value) == {"complaint"}


def test_the_same_deed_sent_twice_makes_one_card(bench: Bench) -> None:
    bench.token = "sent-twice"
    first = bench.booked()
    again = bench.booked()
    assert first == again
    assert len(bench.desk.read(lambda reader: reader.all(Symptom))) == 0
    assert len(bench.desk.read(lambda reader: reader.all(Card))) == 1


def test_nobody_has_that_bike(bench: Bench) -> None:
    with pytest.raises(Mistakes) as caught:
        bench("book-in", bike="ZZ 999", complaint="x")
    assert fields(caught.value) == {"bike"}
    with pytest.raises(NotFoundError):
        bench("look", card="26-0404")


def test_a_bikes_answers_can_be_changed_and_are_kept_once(bench: Bench) -> None:
    bench.booked(features={"fuel": "carburettor"})
    changed: Any = bench("bike change", bike="1", colour="blue", features={"fuel": "injection", "abs": "yes"})
    assert changed.colour == "blue"
    from tracker.records.bike import BikeFeature

    kept = bench.desk.read(lambda reader: {f.feature: f.answer for f in reader.all(BikeFeature)})
    assert kept == {"fuel": "injection", "abs": "yes"}
