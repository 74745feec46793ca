"""Reading: what comes back, in how many queries, of which instant."""

import re
from collections import Counter
from pathlib import Path

import pytest

from tests.store.making import NOW, add, asked, book_in, customer, deed, do, later, listening, opened, rows
from tracker.errors import NotFoundError
from tracker.records.bike import Bike, Earth
from tracker.records.card import Card, Symptom
from tracker.records.people import Customer, CustomerKind
from tracker.store.reader import Reader
from tracker.store.store import Store


@pytest.fixture
def people(store: Store) -> Store:
    for number, name in enumerate(["Ann", "Ben", "Cas", "Dee"]):
        kind = CustomerKind.ACCOUNT if number % 2 else CustomerKind.PRIVATE
        add(store, customer(name, kind=kind, terms_days=10 - number, reminders=number > 1))
    return store


def names(found: tuple[Customer, ...]) -> list[str]:
    return [one.name for one in found]


def test_all_takes_what_equals(people: Store) -> None:
    assert names(rows(people, Customer)) == ["Ann", "Ben", "Cas", "Dee"]
    assert names(rows(people, Customer, kind=CustomerKind.ACCOUNT)) == ["Ben", "Dee"]
    assert names(rows(people, Customer, kind=CustomerKind.ACCOUNT, reminders=True)) == ["Dee"]
    assert names(rows(people, Customer, id=(1, 3, 99))) == ["Ann", "Cas"]
    assert names(rows(people, Customer, kind=[CustomerKind.ACCOUNT, CustomerKind.INSURER])) == ["Ben", "Dee"]
    assert rows(people, Customer, id=()) == ()
    assert rows(people, Customer, name="' OR 1=1 --") == ()


def test_all_takes_its_order_and_how_many(people: Store) -> None:
    read = people.read
    assert names(read(lambda reader: reader.all(Customer, order="terms_days"))) == [
        "Dee",
        "Cas",
        "Ben",
        "Ann",
    ]
    assert names(read(lambda reader: reader.all(Customer, order="name", newest=True, most=2))) == [
        "Dee",
        "Cas",
    ]
    last = read(lambda reader: reader.first(Customer, newest=True))
    assert last is not None
    assert last.name == "Dee"
    assert read(lambda reader: reader.first(Customer, name="Nobody")) is None
    with pytest.raises(NotFoundError, match="There is no customer 99"):
        read(lambda reader: reader.get(Customer, 99))


def test_unset_and_dates_and_instants_are_found(store: Store) -> None:
    add(store, Bike(make="Harrow", year=None, earth=Earth.POSITIVE))
    add(store, Bike(make="Kestrel", year=1990))
    assert [one.make for one in rows(store, Bike, year=None)] == ["Harrow"]
    assert [one.make for one in rows(store, Bike, earth=Earth.POSITIVE)] == ["Harrow"]
    add(store, Card(number="26-0001", bike=1, complaint="", came_at=NOW, promised_on=NOW.date()))
    assert len(rows(store, Card, came_at=NOW)) == len(rows(store, Card, promised_on=NOW.date())) == 1
    assert rows(store, Card, came_at=later(1)) == ()


def test_reads_take_one_query_each(people: Store) -> None:
    assert len(asked(people, lambda reader: reader.get(Customer, 1))) == 1
    assert len(asked(people, lambda reader: reader.all(Customer))) == 1
    assert len(asked(people, lambda reader: reader.all(Customer, id=(1, 2, 3)))) == 1
    assert len(asked(people, lambda reader: reader.first(Customer, name="Ann"))) == 1


def test_a_deed_asks_no_more_than_it_writes(store: Store) -> None:
    do(store, book_in)
    with listening(store) as heard:
        do(store, book_in)
    verbs = Counter(one.split()[0] for one in heard)
    assert verbs["BEGIN"] == verbs["COMMIT"] == 1
    assert verbs["SELECT"] == 3  # was it done before? the counter, and the counter's row as it was
    assert verbs["UPDATE"] == 1  # the counter
    written = Counter(re.findall(r'^INSERT INTO "?(\w+)', "\n".join(heard), re.MULTILINE))
    for table, times in {"bike": 1, "card": 1, "symptom": 3, "journal_entry": 1, "before_image": 6}.items():
        assert written[table] == times, table


def test_one_piece_of_work_reads_of_one_instant(path: Path) -> None:
    with opened(path) as here, opened(path) as there:
        do(here, book_in)

        def both(reader: Reader) -> tuple[int, int]:
            cards = len(reader.all(Card))
            there.do(deed("Ben"), book_in)  # another window writes between two of our queries
            return cards, len(reader.all(Symptom)) // 3

        assert here.read(both) == (1, 1)
        assert len(rows(here, Card)) == 2


def test_a_read_that_fails_leaves_the_store_usable(store: Store) -> None:
    with pytest.raises(ZeroDivisionError):
        store.read(lambda reader: 1 // len(reader.all(Card)))
    do(store, book_in)
    assert store.submit(lambda reader: len(reader.all(Card))).result(10) == 1
