"""What is typed and not yet saved."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from tests.hostile import FINE, LINES, REFUSED
from tests.store.making import NOW, add, all_rows, book_in, count, customer, do, later, opened
from tests.store.strategies import JSON, TEXTS
from tracker.errors import StoreRefusedError, WrongUseError
from tracker.records.card import Card
from tracker.store.drafts import Draft, drafts_of, drop, get, save
from tracker.store.store import Store
from tracker.store.unit import Unit


def keep(store: Store, draft: Draft) -> None:
    store.read(lambda reader: save(reader, draft))


def test_a_draft_is_kept_and_replaced_by_the_next(path: Path) -> None:
    first = Draft(form="book in", who="Anna", content={"make": "Harr"}, at=NOW)
    second = Draft(form="book in", who="Anna", content={"make": "Harrow", "year": None}, at=later(1))
    with opened(path) as store:
        keep(store, first)
        keep(store, second)
        assert count(store, "draft") == 1
    with opened(path) as again:
        assert again.read(lambda reader: get(reader, "book in", "Anna")) == second
        assert again.read(lambda reader: get(reader, "book in", "Ben")) is None


def test_each_person_form_and_subject_has_its_own(store: Store) -> None:
    drafts = [
        Draft(form=form, who=who, subject=subject, content={"n": number}, at=later(number))
        for number, (form, who, subject) in enumerate(
            [
                ("reading", "Anna", "26-0001"),
                ("reading", "Anna", "26-0002"),
                ("reading", "Ben", "26-0001"),
                ("pay", "Anna", ""),
            ]
        )
    ]
    for draft in drafts:
        keep(store, draft)
    assert store.read(lambda reader: drafts_of(reader, "Anna")) == (drafts[3], drafts[1], drafts[0])
    store.read(lambda reader: drop(reader, "reading", "Anna", "26-0002"))
    store.read(lambda reader: drop(reader, "reading", "nobody"))
    assert store.read(lambda reader: drafts_of(reader, "Anna")) == (drafts[3], drafts[0])
    assert store.read(lambda reader: drafts_of(reader, "Ben")) == (drafts[2],)


def test_drafts_leave_no_trace_in_the_journal(store: Store) -> None:
    before = all_rows(store)
    keep(store, Draft(form="pay", content={}, at=NOW))
    store.read(lambda reader: drop(reader, "pay"))
    assert all_rows(store) == before


def test_a_deed_drops_its_draft_or_both_stay(store: Store) -> None:
    draft = Draft(form="book in", who="Anna", content={"complaint": "no charge"}, at=NOW)
    keep(store, draft)

    def half(unit: Unit) -> Card:
        drop(unit, "book in", "Anna")
        book_in(unit)
        raise WrongUseError("no")

    with pytest.raises(WrongUseError):
        do(store, half)
    assert store.read(lambda reader: get(reader, "book in", "Anna")) == draft

    def whole(unit: Unit) -> Card:
        drop(unit, "book in", "Anna")
        return book_in(unit)

    do(store, whole)
    assert store.read(lambda reader: get(reader, "book in", "Anna")) is None


def test_whatever_is_typed_is_kept_even_what_would_be_refused(store: Store) -> None:
    content = {f"{number}": text for number, text in enumerate((*FINE, *LINES, *REFUSED))}
    draft = Draft(form="[/]", who="'; DROP TABLE draft;--", subject="%_", content=content, at=NOW)
    keep(store, draft)
    assert store.read(lambda reader: get(reader, draft.form, draft.who, draft.subject)) == draft


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(TEXTS, JSON)
def test_any_content_comes_back(store: Store, name: str, value: object) -> None:
    draft = Draft(form="f", content={name: value}, at=NOW)
    keep(store, draft)
    assert store.read(lambda reader: get(reader, "f")) == draft


def test_a_draft_is_kept_while_another_window_writes(path: Path) -> None:
    with opened(path) as here, opened(path) as there:
        for number in range(10):
            keep(here, Draft(form="f", content={"n": number}, at=later(number)))
            add(there, customer(f"{number}"))
        kept = there.read(lambda reader: get(reader, "f"))
        assert kept is not None
        assert kept.content == {"n": 9}


def test_a_held_file_and_a_spoilt_draft_are_said_in_words(path: Path) -> None:
    with opened(path, busy_ms=50) as store:
        keep(store, Draft(form="f", content={}, at=NOW))
        with closing(sqlite3.connect(path, isolation_level=None)) as raw:
            raw.execute("BEGIN IMMEDIATE")
            with pytest.raises(StoreRefusedError, match="holding the file"):
                keep(store, Draft(form="g", content={}, at=NOW))
            raw.execute("UPDATE draft SET at = 'once'")
            raw.execute("COMMIT")
        with pytest.raises(StoreRefusedError, match="The draft of “f” cannot be read"):
            store.read(lambda reader: get(reader, "f"))
        keep(store, Draft(form="f", content={"again": 1}, at=NOW))
        assert store.read(lambda reader: get(reader, "f")) is not None
