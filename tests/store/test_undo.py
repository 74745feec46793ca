"""Taking a deed back: whole, in order, only while nobody went on from there, and never what is sealed."""

import sqlite3
from functools import partial
from pathlib import Path

import pytest

from tests.store.making import (
    NOW,
    add,
    all_rows,
    book_in,
    content,
    count,
    customer,
    deed,
    do,
    got,
    opened,
    removed,
    rename,
    rows,
    take_back,
)
from tests.store.samples import everything
from tracker.errors import StoreRefusedError, WrongUseError
from tracker.records.bike import Bike, LoomFact
from tracker.records.card import Card, Symptom, SymptomKind
from tracker.records.journal import JournalEntry
from tracker.records.people import Customer, Ownership
from tracker.records.shop import Counter, Setting
from tracker.store.store import Store
from tracker.store.undo import last_to_undo, touched, undo
from tracker.store.unit import Unit


def test_what_was_made_goes(store: Store) -> None:
    empty = content(store)
    do(store, book_in)
    take_back(store)
    assert content(store) == empty
    assert store.read(lambda reader: reader.find("harrow", (Bike,))) == ()


def test_what_was_changed_is_as_it_was_with_a_higher_version(store: Store) -> None:
    seen = add(store, customer("Zoë", phone="1"))
    do(store, lambda unit: unit.change(unit.change(seen, phone="2"), name="Zoe"))
    take_back(store)
    now = got(store, seen)
    assert (now.name, now.phone) == ("Zoë", "1")
    assert now.version == 4
    assert store.read(lambda reader: reader.find("zoe", (Customer,))) == (("customer", seen.id),)


def test_what_was_removed_is_back_and_found_again(store: Store) -> None:
    seen = add(store, customer("Zoë"))
    do(store, lambda unit: removed(unit, seen))
    assert store.read(lambda reader: reader.find("zoe", (Customer,))) == ()
    take_back(store)
    back = got(store, seen)
    assert back.name == "Zoë"
    assert back.version == 2
    assert back.token == seen.token
    assert store.read(lambda reader: reader.find("zoe", (Customer,))) == (("customer", seen.id),)


def test_a_fact_without_versions_comes_back_too(store: Store) -> None:
    fact = add(store, LoomFact(deed="wire", facts={"from": "[/]"}, words="moved", at=NOW))
    do(store, lambda unit: removed(unit, fact))
    take_back(store)
    assert got(store, fact) == fact


def test_a_mixed_deed_goes_back_whole(store: Store) -> None:
    ann, ben = add(store, customer("Ann")), add(store, customer("Ben"))
    before = content(store)

    def work(unit: Unit) -> Bike:
        bike = unit.insert(Bike(make="Harrow"))
        tie = unit.insert(Ownership(bike=bike.id, customer=ann.id))
        unit.change(ann, phone="2")
        unit.remove(tie)
        unit.insert(Ownership(bike=bike.id, customer=ann.id))
        unit.remove(ben)
        unit.insert(customer("Ben"))
        return unit.change(bike, model="Trail")

    do(store, work)
    take_back(store)
    assert content(store) == before


def test_rows_that_name_each_other_go_back_in_any_order(store: Store) -> None:
    bike = add(store, Bike(make="Harrow"))
    card = add(store, Card(number="26-0001", bike=bike.id, complaint="", came_at=NOW))
    before = content(store)

    def swap(unit: Unit) -> Card:
        once = unit.change(card, notes="first touched before what it will name")
        newer = unit.insert(Bike(make="Kestrel"))
        moved = unit.change(once, bike=newer.id)
        unit.remove(bike)
        return moved

    do(store, swap)
    take_back(store)
    assert content(store) == before


def test_a_unique_name_goes_back_to_its_first_bearer(store: Store) -> None:
    zone = add(store, Setting(name="zone", value="UTC"))

    def work(unit: Unit) -> Setting:
        unit.remove(zone)
        return unit.insert(Setting(name="zone", value="Europe/Dublin"))

    do(store, work)
    take_back(store)
    (kept,) = rows(store, Setting)
    assert (kept.id, kept.value) == (zone.id, "UTC")


def test_undo_twice_goes_further_back(store: Store) -> None:
    seen = add(store, customer("one"))
    for name in ("two", "three"):
        rename(store, seen, name)
    names, versions = [], []
    for _ in range(2):
        take_back(store)
        names.append(got(store, seen).name)
        versions.append(got(store, seen).version)
    assert names == ["two", "one"]
    assert versions == [4, 5]
    take_back(store)
    assert count(store, "customer") == 0
    assert store.read(lambda reader: last_to_undo(reader, "Anna")) is None


def test_each_takes_back_their_own_last_deed(store: Store) -> None:
    add(store, customer("Ann's"), who="Ann")
    add(store, customer("Ben's"), who="Ben")
    take_back(store, "Ann")
    assert [one.name for one in rows(store, Customer)] == ["Ben's"]
    assert store.read(lambda reader: last_to_undo(reader, "Ann")) is None


def test_a_number_goes_back_with_its_card_and_is_given_again(store: Store) -> None:
    first = do(store, book_in)
    second = do(store, book_in)
    take_back(store)
    assert got(store, first).number == "26-0001"
    assert do(store, book_in).number == second.number
    take_back(store)
    take_back(store)
    assert count(store, "counter") == 0
    assert do(store, book_in).number == "26-0001"


def test_a_number_does_not_go_back_past_a_later_one(store: Store) -> None:
    do(store, book_in, who="Ann")
    do(store, book_in, who="Ben")
    with pytest.raises(StoreRefusedError, match="a later number was taken since: “booked in 26-0002”"):
        take_back(store, "Ann")
    take_back(store, "Ben")
    take_back(store, "Ann")
    assert count(store, "card") == 0
    assert rows(store, Counter) == ()


def test_a_row_somebody_went_on_from_is_refused_until_they_take_theirs_back(store: Store) -> None:
    seen = add(store, customer("one"), who="Ann")
    rename(store, seen, "two", who="Ann")
    rename(store, seen, "three", who="Ben")
    before = all_rows(store)
    with pytest.raises(StoreRefusedError, match="the customer was changed since: “named three”") as caught:
        take_back(store, "Ann")
    assert caught.value.hint == "Take the later deed back first."
    assert all_rows(store) == before
    take_back(store, "Ben")
    take_back(store, "Ann")
    assert got(store, seen).name == "one"


def test_something_hung_on_it_since_is_refused(store: Store) -> None:
    card = do(store, book_in, who="Ann", words="")
    add(store, Symptom(card=card.id, kind=SymptomKind.WEAK, at=NOW), who="Ben")
    before = all_rows(store)
    with pytest.raises(StoreRefusedError, match="a symptom written since hangs on it"):
        take_back(store, "Ann")
    assert all_rows(store) == before
    take_back(store, "Ben")
    take_back(store, "Ann")
    assert count(store, "card") == 0


def test_what_was_issued_is_never_taken_back(store: Store) -> None:
    do(store, lambda unit: everything(unit)[Card], words="billed")
    before = all_rows(store)
    with pytest.raises(StoreRefusedError, match="and that is never taken back"):
        take_back(store)
    assert all_rows(store) == before


def test_an_undo_and_what_was_undone_are_not_undone_again(store: Store) -> None:
    add(store, customer())
    undone = take_back(store)
    (took_back,) = [one for one in rows(store, JournalEntry) if one.undoes]
    assert took_back.undoes == undone.id
    for entry, words in ((undone, "taken back already"), (took_back, "took a deed back")):
        with pytest.raises(WrongUseError, match=words):
            store.do(deed(), partial(_undone, entry=entry))


def test_a_deed_that_wrote_nothing_has_nothing_to_take_back(store: Store) -> None:
    seen = add(store, customer())
    do(store, lambda unit: unit.change(seen, name=seen.name), words="looked")
    with pytest.raises(WrongUseError, match="“looked” wrote nothing"):
        take_back(store)


def test_the_same_undo_sent_twice_takes_one_deed_back(store: Store) -> None:
    for name in ("one", "two"):
        add(store, customer(name))
    entry = store.read(lambda reader: last_to_undo(reader, "Anna"))
    assert entry is not None
    same = deed(verb="undo")
    for _ in range(2):
        store.do(same, lambda unit: _undone(unit, entry))
    assert [one.name for one in rows(store, Customer)] == ["one"]


def test_a_row_kept_before_a_schema_step_is_not_put_back_with_a_column_missing(path: Path) -> None:
    with opened(path) as store:
        seen = add(store, customer("one"))
        do(store, lambda unit: unit.change(seen, name="two"), words="renamed")
    with sqlite3.connect(path) as raw:  # as if a step had given customers their terms since
        raw.execute("DROP TRIGGER before_image_sealed_update")
        raw.execute("UPDATE before_image SET image = json_remove(image, '$.terms_days') WHERE image > ''")
    raw.close()
    with (
        opened(path) as store,
        pytest.raises(StoreRefusedError, match="before the file was brought up to date"),
    ):
        take_back(store)


def test_touched_says_what_a_deed_made_changed_and_removed(store: Store) -> None:
    ann, ben = add(store, customer("Ann")), add(store, customer("Ben"))

    def work(unit: Unit) -> Bike:
        unit.change(ann, phone="1")
        unit.remove(ben)
        unit.remove(unit.insert(customer("nobody")))
        return unit.insert(Bike(make="Harrow"))

    do(store, work)
    entry = store.read(lambda reader: last_to_undo(reader, "Anna"))
    assert entry is not None
    assert store.read(lambda reader: touched(reader, entry)) == (
        ("customer", ann.id, "changed"), ("customer", ben.id, "removed"), ("bike", 1, "made"),
    )  # fmt: skip


def _undone(unit: Unit, entry: JournalEntry) -> JournalEntry:
    undo(unit, entry)
    return entry
