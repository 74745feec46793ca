"""A deed: done once, all of it, with one journal entry, on the versions it saw."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from tests.hostile import FINE, LINES
from tests.store.making import (
    NOW,
    add,
    all_rows,
    book_in,
    count,
    customer,
    deed,
    do,
    got,
    opened,
    removed,
    rows,
    take_back,
)
from tests.store.samples import everything
from tracker.errors import ChangedElsewhereError, NotFoundError, StoreRefusedError, WrongUseError
from tracker.records.bike import Bike, LoomFact
from tracker.records.card import Card, Symptom, SymptomKind
from tracker.records.document import Document
from tracker.records.journal import BeforeImage, JournalEntry
from tracker.records.people import Customer
from tracker.records.shop import Counter, Setting
from tracker.store.store import Deed, Store
from tracker.store.tables import KEPT, SEALED
from tracker.store.unit import Unit


def test_a_record_is_kept_with_an_id_and_a_token_and_read_back(store: Store) -> None:
    given = customer("Zoë Quill", phone="01 555")
    kept = do(store, lambda unit: unit.insert(given), token="first")
    assert kept == replace(given, id=1, token="first.1", version=1)
    assert got(store, kept) == kept


def test_one_of_everything_is_kept_and_read_back_as_it_was(store: Store) -> None:
    made = {}

    def work(unit: Unit) -> Card:
        made.update(everything(unit))
        card = made[Card]
        assert isinstance(card, Card)
        return card

    do(store, work)
    assert set(made) >= set(KEPT) - {JournalEntry, BeforeImage} - {Counter}
    for record in made.values():
        assert got(store, record) == record


def test_hostile_text_is_kept_to_the_last_sign_and_runs_nothing(store: Store) -> None:
    texts = (*FINE, *LINES)
    for text in texts:
        kept = add(store, customer(text, notes=text))
        assert got(store, kept) == kept
        assert rows(store, Customer, name=text) == (kept,)
    assert count(store, "customer") == len(texts)
    do(store, lambda unit: unit.insert(Setting(name="'; DROP TABLE card;--", value="[/]")), who="[/]")
    assert count(store, "card") == 0


def test_a_deed_writes_one_journal_entry_that_says_who_what_and_when(store: Store) -> None:
    card = store.do(deed("Anna", "abc", "book-in"), book_in)
    (entry,) = rows(store, JournalEntry)
    assert entry == JournalEntry(
        id=1, token="abc", at=NOW, who="Anna", deed="book-in", words="booked in 26-0001",
        card=card.id, subject_table="card", subject_id=card.id,
    )  # fmt: skip
    images = rows(store, BeforeImage)
    assert [image.table_name for image in images] == ["counter", "bike", "card", *["symptom"] * 3]
    assert all(image.image is None for image in images)
    assert {image.entry for image in images} == {entry.id}


def test_ten_deeds_are_ten_entries(store: Store) -> None:
    for _ in range(10):
        do(store, book_in)
    assert count(store, "journal_entry") == 10


def test_the_same_token_again_gives_the_record_and_writes_nothing(store: Store) -> None:
    same = deed(token="once")
    first = store.do(same, book_in)
    before = all_rows(store)
    assert store.do(same, book_in) == first
    assert store.do(deed("Ben", "once"), lambda unit: book_in(unit, "another")) == first
    assert all_rows(store) == before


def test_the_same_token_gives_the_record_as_it_is_now(store: Store) -> None:
    same = deed(token="once")
    card = store.do(same, book_in)
    changed = do(store, lambda unit: unit.change(card, stands="bay 2"))
    assert store.do(same, book_in) == changed


def test_a_deed_that_was_taken_back_says_so_when_it_is_repeated(store: Store) -> None:
    same = deed(token="once")
    store.do(same, book_in)
    take_back(store)
    with pytest.raises(WrongUseError, match="“booked in 26-0001” was done, and taken back since"):
        store.do(same, book_in)
    assert count(store, "card") == 0


def test_the_same_token_in_two_windows_at_once_is_done_once(path: Path) -> None:
    with opened(path) as one, opened(path) as two, ThreadPoolExecutor(2) as pool:
        same = deed(token="both")
        done = list(pool.map(lambda store: store.do(same, book_in), (one, two)))
        assert done[0] == done[1]
        assert count(one, "card") == 1


def test_a_deed_without_a_token_is_a_mistake_of_the_program(store: Store) -> None:
    with pytest.raises(ValueError, match="token"):
        store.do(Deed("test", "Anna", NOW, ""), book_in)


def test_a_deed_that_fails_leaves_nothing_at_all(store: Store) -> None:
    do(store, book_in)
    before = all_rows(store)

    def half(unit: Unit) -> Card:
        book_in(unit)
        raise WrongUseError("stop")

    with pytest.raises(WrongUseError, match="stop"):
        do(store, half)
    assert all_rows(store) == before
    assert do(store, book_in).number == "26-0002"


def test_an_edit_names_the_version_it_saw(store: Store) -> None:
    seen = add(store, customer())
    changed = do(store, lambda unit: unit.change(seen, phone="1"), who="Ben")
    assert changed.version == 2
    with pytest.raises(ChangedElsewhereError, match="This customer was changed meanwhile"):
        do(store, lambda unit: unit.change(seen, phone="2"))
    with pytest.raises(ChangedElsewhereError):
        do(store, lambda unit: removed(unit, seen))
    assert got(store, seen) == changed


def test_a_row_that_is_gone_cannot_be_changed_orremoved(store: Store) -> None:
    seen = add(store, customer())
    fact = add(store, LoomFact(deed="wire", facts={}, at=NOW))
    do(store, lambda unit: removed(unit, seen))
    do(store, lambda unit: removed(unit, fact))
    for work in (lambda unit: unit.change(seen, phone="2"), lambda unit: removed(unit, seen)):
        with pytest.raises(ChangedElsewhereError):
            do(store, work)
    with pytest.raises(ChangedElsewhereError):
        do(store, lambda unit: removed(unit, fact))
    with pytest.raises(NotFoundError, match="There is no customer 1"):
        store.read(lambda reader: reader.get(Customer, seen.id))


def test_a_change_caught_inside_a_deed_leaves_no_trace_of_itself(store: Store) -> None:
    seen = add(store, customer())
    do(store, lambda unit: unit.change(seen, phone="1"))

    def work(unit: Unit) -> Bike:
        with pytest.raises(ChangedElsewhereError):
            unit.change(seen, phone="2")
        return unit.insert(Bike(make="Harrow"))

    do(store, work)
    entry = store.read(lambda reader: reader.first(JournalEntry, newest=True))
    assert entry is not None
    assert [
        image.table_name for image in store.read(lambda reader: reader.all(BeforeImage, entry=entry.id))
    ] == ["bike"]


def test_changing_nothing_writes_nothing(store: Store) -> None:
    seen = add(store, customer())
    assert do(store, lambda unit: unit.change(seen, name=seen.name)) == seen
    assert got(store, seen).version == 1


def test_several_changes_in_one_deed_keep_the_first_image(store: Store) -> None:
    seen = add(store, customer("first"))
    do(store, lambda unit: unit.change(unit.change(seen, name="second"), name="third"))
    (image,) = [
        one for one in store.read(lambda reader: reader.all(BeforeImage, row_id=seen.id)) if one.image
    ]
    assert image.image is not None
    assert image.image["name"] == "first"
    assert image.after_version == 3


def test_an_id_is_never_given_twice(store: Store) -> None:
    first = do(store, book_in)
    take_back(store)
    second = do(store, book_in)
    assert second.number == first.number
    assert second.id != first.id
    with pytest.raises(ChangedElsewhereError):
        do(store, lambda unit: unit.change(first, stands="somewhere"))


def test_issued_papers_are_refused_in_words(store: Store) -> None:
    do(store, lambda unit: everything(unit)[Card])
    document = store.read(lambda reader: reader.first(Document))
    assert document is not None
    with pytest.raises(StoreRefusedError, match="An issued document is never changed") as caught:
        do(store, lambda unit: removed(unit, document))
    assert "credit note" in caught.value.hint
    assert all(not hasattr(cls, "version") for cls in SEALED)


def test_what_hangs_on_nothing_is_refused_in_words(store: Store) -> None:
    with pytest.raises(StoreRefusedError, match="what it names is gone"):
        add(store, Symptom(card=999, kind=SymptomKind.DEAD, at=NOW))
    assert count(store, "journal_entry") == 0


def test_twins_are_refused_in_words(store: Store) -> None:
    add(store, Setting(name="zone", value="UTC"))
    with pytest.raises(StoreRefusedError, match="There is one with that name already"):
        add(store, Setting(name="zone", value="UTC"))
    add(store, Setting(name="country", value="IE", token="mine"))
    with pytest.raises(StoreRefusedError, match="This was kept already"):
        add(store, Setting(name="currency", value="EUR", token="mine"))


@pytest.mark.parametrize("figure", [2**63, -(2**63) - 1, 10**40])
def test_a_figure_past_64_bits_is_refused_in_words(store: Store, figure: int) -> None:
    with pytest.raises(StoreRefusedError, match="A figure is too big to keep"):
        add(store, Bike(make="Harrow", volts=figure))
    edge = add(store, Bike(make="Harrow", volts=2**63 - 1))
    assert got(store, edge) == edge
    with pytest.raises(StoreRefusedError, match="A figure is too big to keep"):
        store.read(lambda reader: reader.all(Bike, volts=figure))


def test_a_character_that_is_none_is_refused_in_words(store: Store) -> None:
    with pytest.raises(StoreRefusedError, match="character that cannot be kept"):
        add(store, customer("lone\ud800"))
    assert count(store, "customer") == 0


def test_the_time_of_a_deed_needs_a_zone(store: Store) -> None:
    with pytest.raises(ValueError, match="zone"):
        store.do(Deed("test", "Anna", datetime(2026, 3, 9), "t"), book_in)
    assert count(store, "card") == 0


def test_the_stores_own_connection_keeps_to_the_rules(path: Path) -> None:
    wanted = {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "recursive_triggers": 1}
    for _ in ("made", "opened again"):
        with opened(path) as store:
            kept = store.read(lambda reader: {name: reader.sql(f"PRAGMA {name}")[0][0] for name in wanted})
            assert kept == wanted


def test_the_store_cannot_write_over_a_seal_either(store: Store) -> None:
    do(store, book_in)
    with pytest.raises(StoreRefusedError, match="An issued journal entry is never changed"):
        store.read(lambda reader: reader.sql("REPLACE INTO journal_entry SELECT * FROM journal_entry"))
