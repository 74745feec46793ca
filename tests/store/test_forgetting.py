"""Forgetting for good: the row, how it was before, the journal's words; seals hold again afterwards."""

import pytest

from tests.store.making import NOW, add, content, customer, do, got, rename
from tracker.errors import StoreRefusedError
from tracker.records.journal import BeforeImage, JournalEntry
from tracker.records.people import Customer
from tracker.store.drafts import Draft, drafts_of, save
from tracker.store.forgetting import forget, forget_drafts, forget_in_journal
from tracker.store.store import Store
from tracker.store.unit import Unit


def renamed(store: Store) -> Customer:
    """Somebody whose name and phone were changed since."""
    seen = add(store, customer("Zoë Marr", phone="0155 1"))
    rename(store, seen, "Zoë Marr-Ode")
    return store.read(lambda reader: reader.get(Customer, seen.id))


def images(store: Store) -> list[dict[str, object] | None]:
    return [one.image for one in store.read(lambda reader: reader.all(BeforeImage, table_name="customer"))]


def erase(unit: Unit, who: Customer) -> Customer:
    unit.say("erased")
    changed = unit.change(who, name="erased", phone="")
    forget(unit, Customer, who.id, name="erased", phone="")
    return changed


def test_nothing_of_before_is_left_but_that_there_was_something(store: Store) -> None:
    seen = renamed(store)
    kept = store.read(lambda reader: len(reader.all(BeforeImage)))
    do(store, lambda unit: erase(unit, seen))
    found = images(store)
    assert [image and image["name"] for image in found] == [None, "erased", "erased"]
    assert all(image is None or image["phone"] == "" for image in found)
    assert store.read(lambda reader: len(reader.all(BeforeImage))) == kept + 1
    assert (got(store, seen).name, got(store, seen).kind) == ("erased", seen.kind)


def broken_into(unit: Unit, table: str) -> Customer:
    unit.sql(f"UPDATE {table} SET token = 'x' WHERE id = 1")
    return unit.get(Customer, 1)


@pytest.mark.parametrize("table", ["before_image", "journal_entry"])
def test_the_seal_is_on_again(store: Store, table: str) -> None:
    seen = renamed(store)
    do(store, lambda unit: erase(unit, seen))
    do(store, lambda unit: forgotten(unit, "nobody", seen.id))
    with pytest.raises(StoreRefusedError):
        do(store, lambda unit: broken_into(unit, table))


def test_a_failure_brings_seal_and_images_back(store: Store) -> None:
    seen = renamed(store)
    before = content(store)

    def fails(unit: Unit) -> Customer:
        erase(unit, seen)
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        do(store, fails)
    assert content(store) == before
    assert all(image is None or image["name"] == "Zoë Marr" for image in images(store))
    with pytest.raises(StoreRefusedError):
        do(store, lambda unit: broken_into(unit, "before_image"))


@pytest.mark.parametrize(
    ("name", "words", "after"),
    [
        ("Zoë Marr", "customer Zoë Marr added", "customer X added"),
        ("Al", "customer Al: Also Al, (Al) Ali", "customer X: Also X, (X) Ali"),
        ("a.b", "a.b axb", "X axb"),
        (r"\1", r"card \1", "card X"),
    ],
)
def test_a_name_goes_from_the_journal_as_a_word_of_its_own(
    store: Store, name: str, words: str, after: str
) -> None:
    seen = add(store, customer("somebody"))

    def work(unit: Unit) -> Customer:
        unit.say(words)
        return unit.change(seen, phone="2")

    do(store, work)
    do(store, lambda unit: forgotten(unit, name, seen.id))
    entries = store.read(lambda reader: reader.all(JournalEntry))
    assert after in [entry.words for entry in entries]


def forgotten(unit: Unit, name: str, who: int) -> Customer:
    forget_in_journal(unit, name, "X", (), who)
    return unit.get(Customer, who)


def test_what_was_typed_about_them_and_not_saved_goes_too(store: Store) -> None:
    for form, text in (("a", "Zoë Marr rang"), ("b", "tail lamp")):
        draft = Draft(form=form, who="Ines", content={"words": text}, at=NOW)
        store.read(lambda reader, draft=draft: save(reader, draft))  # type: ignore[misc]
    store.read(lambda reader: forget_drafts(reader, ("Zoë Marr", "")))
    assert [one.form for one in store.read(lambda reader: drafts_of(reader, "Ines"))] == ["b"]
