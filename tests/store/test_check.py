"""One deliberately broken file for each thing that is checked, and what is said of it."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from tests.store.dumping import FOLDER, example, loaded
from tests.store.making import NOW, add, book_in, customer, do, opened, removed, rows, take_back
from tests.store.samples import everything
from tracker.records.card import Card
from tracker.records.document import Document
from tracker.records.people import Customer
from tracker.records.problem import Problem
from tracker.records.stock import MoveKind, Part, StockMove
from tracker.store.check import check, notes
from tracker.store.store import Store
from tracker.store.unit import Unit


def checked(path: Path) -> list[tuple[str, str]]:
    with opened(path, create=False) as store:
        return [(one.field, one.sentence) for one in store.read(check)]


@pytest.fixture
def full(path: Path) -> Path:
    with opened(path) as store:
        do(store, lambda unit: everything(unit)[Card])
        for _ in range(4):
            do(store, book_in)
    return path


@contextmanager
def unsealed(path: Path) -> Iterator[sqlite3.Connection]:
    """Somebody with another program: no keys, and the seals off while they write."""
    with closing(sqlite3.connect(path, isolation_level=None)) as raw:
        seals = raw.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for name, _ in seals:
            raw.execute(f"DROP TRIGGER {name}")
        yield raw
        for _, sql in seals:
            raw.execute(sql)


def broken(path: Path, *statements: str) -> list[tuple[str, str]]:
    with unsealed(path) as raw:
        for statement in statements:
            assert raw.execute(statement).rowcount != 0, statement
    return checked(path)


def test_a_sound_file_has_no_fault(full: Path) -> None:
    assert checked(full) == []


def test_undo_change_and_removal_are_no_faults(path: Path) -> None:
    example(path)
    with opened(path) as store:
        do(store, book_in)
        take_back(store)
        kept = add(store, customer())
        do(store, lambda unit: removed(unit, kept))
        do(store, lambda unit: removed(unit, unit.insert(customer("made and gone"))))
        take_back(store)
        with store.one_transaction():
            do(store, book_in)
    assert checked(path) == []


def test_an_upgraded_file_and_a_new_one_have_no_fault(path: Path, tmp_path: Path) -> None:
    loaded(path, (FOLDER / "0001.sql").read_text("utf-8"))
    assert checked(path) == []
    opened(tmp_path / "new").close()
    assert checked(tmp_path / "new") == []


def test_a_damaged_page(full: Path) -> None:
    with closing(sqlite3.connect(full)) as raw:
        (root,) = raw.execute("SELECT rootpage FROM sqlite_master WHERE name = 'card_by_bike'").fetchone()
        (size,) = raw.execute("PRAGMA page_size").fetchone()
    with full.open("r+b") as file:
        file.seek((root - 1) * size)
        file.write(b"\xff" * size)
    found = checked(full)
    assert {field for field, _ in found} == {"file"}
    assert "The file is damaged" in found[0][1]


def test_an_index_that_lies(full: Path) -> None:
    with closing(sqlite3.connect(full, isolation_level=None)) as raw:
        raw.execute("PRAGMA writable_schema = ON")
        raw.execute(
            "UPDATE sqlite_master SET sql = replace(sql, '(bike)', '(customer)') WHERE name = 'card_by_bike'"
        )
    assert {field for field, _ in checked(full)} == {"file"}


def test_a_row_that_names_nothing(full: Path) -> None:
    assert broken(full, "UPDATE symptom SET card = 999 WHERE id = 1") == [
        ("keys", "symptom 1 names a card that is not there.")
    ]


def test_a_seal_taken_off(full: Path) -> None:
    with closing(sqlite3.connect(full)) as raw:
        raw.execute("DROP TRIGGER document_sealed_update")
    assert checked(full) == [("seals", "The seal document_sealed_update is missing.")]


def test_a_seal_that_seals_nothing(full: Path) -> None:
    with closing(sqlite3.connect(full)) as raw:
        raw.execute("DROP TRIGGER payment_sealed_delete")
        raw.execute("CREATE TRIGGER payment_sealed_delete BEFORE DELETE ON payment BEGIN SELECT 1; END")
    assert checked(full) == [("seals", "The seal payment_sealed_delete was changed.")]


def test_an_index_gone_and_a_table_of_somebodys(full: Path) -> None:
    with closing(sqlite3.connect(full)) as raw:
        raw.execute("DROP INDEX card_by_bike")
        raw.execute("CREATE TABLE mine (x)")
    assert checked(full) == [
        ("schema", "The index card_by_bike is missing."),
        ("schema", "There is a table mine that is none of ours."),
    ]


@pytest.mark.parametrize(
    ("statement", "row"),
    [
        ("UPDATE card SET came_at = 'yesterday' WHERE id = 2", "a card that cannot be read (row 2)"),
        (
            "UPDATE document SET issued_on = '2026-02-30' WHERE id = 1",
            "a document that cannot be read (row 1)",
        ),
        ("UPDATE part SET price = 'cheap' WHERE id = 1", "a part that cannot be read (row 1)"),
        ("UPDATE stock_move SET qty = '' WHERE id = 2", "a stock move that cannot be read (row 2)"),
    ],
)
def test_a_row_that_cannot_be_read(full: Path, statement: str, row: str) -> None:
    assert broken(full, statement) == [("rows", f"The file holds {row}.")]


def test_a_photo_that_was_changed(full: Path) -> None:
    assert broken(full, "UPDATE attachment SET content = x'00'") == [
        ("photos", "plug.png (attachment 1) is not what was kept.")
    ]


def without(table: str, row: int) -> tuple[str, ...]:
    """A row gone with everything that tells of it, so that only its number is missed."""
    return (
        f"DELETE FROM {table} WHERE id = {row}",
        f"DELETE FROM before_image WHERE table_name = '{table}' AND row_id = {row}",
    )


def test_a_document_that_is_missing(full: Path) -> None:
    with opened(full) as store:
        do(store, _three_invoices)
    found = broken(full, *without("document", 4))
    assert found == [("numbers", "invoice 2026: 3 is missing.")]


def test_the_last_document_that_is_missing(full: Path) -> None:
    with opened(full) as store:
        do(store, _three_invoices)
    assert broken(full, *without("document", 5)) == [
        ("numbers", "invoice 2026: the counter stands at 4, the last number is 3.")
    ]


def test_a_series_with_nothing_in_it(full: Path) -> None:
    with opened(full) as store:
        do(store, lambda unit: (unit.number("deposit", 2026), unit.get(Card, 1))[1])
    assert checked(full) == [("numbers", "deposit 2026: the counter stands at 1, nothing is issued.")]


def test_a_card_that_is_missing(full: Path) -> None:
    images = "DELETE FROM before_image WHERE table_name = 'symptom' AND row_id BETWEEN 5 AND 7"
    gone = (*without("card", 4), *_no_finder("card", 4))
    found = broken(full, "DELETE FROM symptom WHERE card = 4", images, *gone)
    assert found == [("numbers", "card: 6 numbers were taken, 5 are there: 26-0004 is missing.")]


def test_a_counter_that_was_set_by_hand(full: Path) -> None:
    assert broken(full, "UPDATE counter SET last = 9 WHERE series = 'estimate'") == [
        ("numbers", "estimate: 9 numbers were taken, 1 are there.")
    ]


def test_a_stock_move_that_contradicts_itself(full: Path) -> None:
    assert broken(full, "UPDATE stock_move SET qty = '4' WHERE id = 2") == [
        ("stock", "Move 2 says “used” of 4.")
    ]


@pytest.mark.parametrize(
    ("statements", "said"),
    [
        (("UPDATE repair SET version = 2, mm = 5 WHERE id = 1",), "repair 1 was changed by no deed."),
        (("DELETE FROM waiver",), "waiver 1 is gone, and no deed took it out."),
        (
            ("INSERT INTO waiver SELECT id + 1, token || 'x', card, need, reason, by, at FROM waiver",),
            "No deed made waiver 2.",
        ),
        (("DELETE FROM before_image WHERE table_name = 'call'",), "No deed made call 1."),
        (("UPDATE journal_entry SET subject_table = '' WHERE id = 2",), "Entry 2 is about nothing known."),
    ],
)
def test_a_row_written_past_the_journal(full: Path, statements: tuple[str, ...], said: str) -> None:
    assert broken(full, *statements) == [("journal", said)]


def _no_finder(table: str, row: int) -> tuple[str, ...]:
    return (f"DELETE FROM finder WHERE table_name = '{table}' AND row_id = {row}",)


def test_a_finder_that_has_lost_or_made_up_a_row(full: Path) -> None:
    assert broken(full, *_no_finder("customer", 1)) == [("finder", "customer 1 is not found by its words.")]
    with opened(full) as store:
        (zoe,) = rows(store, Customer)
        do(store, lambda unit: unit.change(zoe, notes="changed, and so found again"))
    assert checked(full) == []
    assert broken(full, "INSERT INTO finder VALUES ('nobody', 'bike', 99)") == [
        ("finder", "bike 99 is found but not there.")
    ]


def test_fewer_than_none_is_a_note_and_no_fault(store: Store) -> None:
    part = add(store, Part(code="T-6.3", name="Blade", price=Decimal(1)))
    add(store, StockMove(part=part.id, qty=Decimal("1.5"), kind=MoveKind.ARRIVED, at=NOW))
    assert store.read(notes) == ()
    add(store, StockMove(part=part.id, qty=Decimal("-2"), kind=MoveKind.USED, at=NOW))
    assert store.read(notes) == (
        Problem("stock", "There are -0.5 of T-6.3 Blade: fewer than none.", "Count it."),
    )
    assert store.read(check) == ()


def _three_invoices(unit: Unit) -> Document:
    first = unit.get(Document, 1)
    for _ in range(3):
        number = unit.number("invoice", 2026)
        unit.insert(replace(first, id=0, token="", sequence=number, number=f"INV-26-{number:04}"))
    return first
