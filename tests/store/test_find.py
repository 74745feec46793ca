"""Finding by what one remembers: a piece of a name, the end of a phone or frame number, a registration."""

from decimal import Decimal
from functools import partial

import pytest

from tests.hostile import FINE, LINES, PAIRS, REFUSED
from tests.store.making import NOW, add, asked, customer, do, opened, rows
from tracker.records.bike import Bike
from tracker.records.card import Card
from tracker.records.people import Customer
from tracker.records.row import Row
from tracker.records.stock import Part
from tracker.records.text import fold
from tracker.store.store import Store
from tracker.store.tables import FOUND_BY
from tracker.store.unit import Unit

EVERYTHING: tuple[type[Row], ...] = (Customer, Bike, Card, Part)


@pytest.fixture
def full(store: Store) -> Store:
    add(store, customer("Zoë Quill-O'Dare", phone="+353 (01) 555-0142", email="zoe.q@example.org"))
    add(store, customer("Tomás Reed", phone="0155 0199"))
    add(
        store, Bike(make="Harrow", model="Trail 125", year=1981, registration="AB·12 cde", vin="HT125-000412")
    )
    add(store, Bike(make="Kestrel", model="Nine", registration="ZZ 99 QQ", vin="KN9-771204"))
    add(
        store,
        Card(number="26-0412", bike=1, complaint="Won't charge above 3000, dead horn", unit="", came_at=NOW),
    )
    add(store, Part(code="TERM-6.3", name="Blade terminal, tinned", price=Decimal(0)))
    return store


HELD = {("customer", 1), ("customer", 2), ("bike", 1), ("bike", 2), ("card", 1), ("part", 1)}


def found(store: Store, typed: str) -> list[tuple[str, int]]:
    return list(store.read(lambda reader: reader.find(typed, EVERYTHING)))


@pytest.mark.parametrize(
    ("typed", "what"),
    [
        ("zoe", ("customer", 1)),
        ("ZOË quill", ("customer", 1)),
        ("quill zo", ("customer", 1)),
        ("odare", ("customer", 1)),
        ("tomas", ("customer", 2)),
        ("0142", ("customer", 1)),
        ("555 0142", ("customer", 1)),
        ("555-01 42", ("customer", 1)),
        ("50199", ("customer", 2)),
        ("example.org", ("customer", 1)),
        ("trail 125", ("bike", 1)),
        ("1981", ("bike", 1)),
        ("ab12cde", ("bike", 1)),
        ("AB 12 CDE", ("bike", 1)),
        ("12-cde", ("bike", 1)),
        ("a b 1 2 c d e", ("bike", 1)),
        ("000412", ("bike", 1)),
        ("1204", ("bike", 2)),
        ("26-0412", ("card", 1)),
        ("260412", ("card", 1)),
        ("dead horn", ("card", 1)),
        ("wont charge", ("card", 1)),
        ("term 6", ("part", 1)),
        ("term63", ("part", 1)),
        ("tinned blade", ("part", 1)),
    ],
)
def test_it_is_found(full: Store, typed: str, what: tuple[str, int]) -> None:
    assert what in found(full, typed)


@pytest.mark.parametrize(
    "typed", ["", "  ", "%", "_", "%%", "*", "'", '"', "[/]", "zoe reed", "harrow nine", "xyzzy"]
)
def test_it_is_not_found(full: Store, typed: str) -> None:
    assert found(full, typed) == []


def test_anything_may_be_typed(full: Store) -> None:
    for typed in (*FINE, *LINES, *REFUSED):
        for asked_for in (typed, typed * 50, " ".join(typed[:2000])):
            assert set(found(full, asked_for)) <= HELD


def test_hostile_names_are_found_by_themselves(store: Store) -> None:
    for text in FINE:
        kept = add(store, customer(text))
        if fold(text):
            assert ("customer", kept.id) in found(store, text)


@pytest.mark.parametrize(("composed", "decomposed"), PAIRS)
def test_composed_and_decomposed_find_each_other(store: Store, composed: str, decomposed: str) -> None:
    add(store, customer(composed))
    add(store, customer(decomposed))
    assert len(found(store, composed)) == len(found(store, decomposed)) == 2


def test_the_newest_comes_first_within_a_kind_and_kinds_come_in_the_order_asked(store: Store) -> None:
    for _ in range(3):
        add(store, customer("Harrow Reed"))
        add(store, Bike(make="Harrow"))
    assert found(store, "harrow") == [
        ("customer", 3), ("customer", 2), ("customer", 1), ("bike", 3), ("bike", 2), ("bike", 1),
    ]  # fmt: skip
    assert store.read(lambda reader: reader.find("harrow", (Bike, Customer), 2)) == (("bike", 3), ("bike", 2))


def test_a_change_is_found_by_the_new_words_only(full: Store) -> None:
    (zoe, _) = rows(full, Customer)
    do(full, lambda unit: unit.change(zoe, name="Zara Quill"))
    assert found(full, "zoe quill") == [("customer", 1)]  # by the e-mail
    assert found(full, "o'dare") == []
    assert found(full, "zara") == [("customer", 1)]


def test_the_finder_holds_each_row_once_after_changes(full: Store) -> None:
    for number in range(5):
        (zoe, _) = rows(full, Customer)
        do(full, partial(Unit.change, record=zoe, notes=f"{number}"))
    held = full.read(lambda reader: reader.sql("SELECT table_name, row_id FROM finder"))
    assert len(held) == len(set(held)) == 6
    assert set(FOUND_BY) == set(EVERYTHING)


def test_finding_is_one_query_a_kind(full: Store) -> None:
    assert len(asked(full, lambda reader: reader.find("zoe", EVERYTHING))) == 4


def test_finding_survives_opening_again(full: Store) -> None:
    full.close()
    with opened(full.path) as again:
        assert found(again, "zoe") == [("customer", 1)]
