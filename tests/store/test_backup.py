"""Copies made while the file is in use."""

import os
import sqlite3
import threading
from contextlib import closing
from pathlib import Path

import pytest

from tests.store.making import (
    add,
    all_rows,
    book_in,
    count,
    customer,
    damage,
    do,
    names,
    opened,
    rows,
)
from tracker.errors import StoreRefusedError
from tracker.records.people import Customer
from tracker.store.backup import backup
from tracker.store.store import Store


def test_a_backup_holds_every_row_and_is_one_file(store: Store, kept: Path, tmp_path: Path) -> None:
    assert names(tmp_path) == ["kept.loomcard", "workshop.loomcard"]
    with opened(kept) as copy:
        assert all_rows(copy) == all_rows(store)
        do(copy, book_in)
    assert count(store, "card") == 2


def test_a_backup_leaves_out_what_is_not_yet_acknowledged(store: Store, tmp_path: Path) -> None:
    add(store, customer("before"))
    with store.one_transaction():
        add(store, customer("half"))
        backup(store, tmp_path / "kept.loomcard")
    with opened(tmp_path / "kept.loomcard") as copy:
        assert [one.name for one in rows(copy, Customer)] == ["before"]


def test_a_backup_while_another_window_writes_is_of_one_instant(store: Store, tmp_path: Path) -> None:
    ends = threading.Event()

    def write() -> None:
        with opened(store.path) as other:
            while not ends.is_set():
                do(other, book_in)

    writer = threading.Thread(target=write)
    writer.start()
    copies = [backup(store, tmp_path / f"{number}.loomcard") for number in range(5)]
    ends.set()
    writer.join()
    for copy in copies:
        with opened(copy) as one:
            assert count(one, "symptom") == 3 * count(one, "card") == 3 * count(one, "journal_entry")


def test_a_backup_replaces_nothing_unless_told(store: Store, kept: Path) -> None:
    before = kept.read_bytes()
    do(store, book_in)
    with pytest.raises(StoreRefusedError, match=r"There is a file .*kept\.loomcard already"):
        backup(store, kept)
    assert kept.read_bytes() == before
    backup(store, kept, overwrite=True)
    with opened(kept) as copy:
        assert count(copy, "card") == 3


def test_a_backup_goes_to_a_file_in_a_folder_that_is_there(store: Store, tmp_path: Path) -> None:
    with pytest.raises(StoreRefusedError, match="is a folder"):
        backup(store, tmp_path)
    with pytest.raises(StoreRefusedError, match="There is no folder"):
        backup(store, tmp_path / "usb" / "kept.loomcard")
    for target in (store.path, tmp_path / "." / store.path.name):
        with pytest.raises(StoreRefusedError, match="is the file itself"):
            backup(store, target, overwrite=True)
    assert names(tmp_path) == ["workshop.loomcard"]


def test_a_backup_that_fails_leaves_the_one_before(
    store: Store, kept: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = kept.read_bytes()

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("tracker.store.copying.flush", full)
    with pytest.raises(StoreRefusedError, match="The disk is full"):
        backup(store, kept, overwrite=True)
    assert kept.read_bytes() == before
    assert names(tmp_path) == ["kept.loomcard", "workshop.loomcard"]


def test_a_damaged_file_is_not_backed_up_as_if_it_were_sound(path: Path, tmp_path: Path) -> None:
    with opened(path) as store:
        do(store, book_in)
    damage(path, "card")
    with opened(path) as store, pytest.raises(StoreRefusedError, match="damaged"):
        backup(store, tmp_path / "kept.loomcard")
    assert names(tmp_path) == ["workshop.loomcard"]


def test_a_row_that_breaks_a_rule_is_no_sound_copy(path: Path, tmp_path: Path) -> None:
    with opened(path) as store:
        do(store, book_in)
    with closing(sqlite3.connect(path, isolation_level=None)) as raw:
        raw.execute("PRAGMA ignore_check_constraints = ON")
        raw.execute("UPDATE card SET call_out = 7")
    with opened(path) as store, pytest.raises(StoreRefusedError, match="no sound copy can be made"):
        backup(store, tmp_path / "kept.loomcard")
    assert names(tmp_path) == ["workshop.loomcard"]


@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
def test_a_backup_through_a_link_is_the_file_itself_too(store: Store, tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to(store.path)
    with pytest.raises(StoreRefusedError, match="is the file itself"):
        backup(store, tmp_path / "link", overwrite=True)
