"""The way back from a copy, with what is replaced kept aside."""

import sqlite3
from contextlib import closing
from functools import partial
from pathlib import Path

import pytest

from tests.store.dumping import FOLDER, loaded
from tests.store.making import (
    NOW,
    all_rows,
    book_in,
    count,
    damage,
    do,
    later,
    names,
    opened,
    rows,
    take_back,
)
from tracker.errors import StoreRefusedError
from tracker.records.card import Card
from tracker.records.people import Customer
from tracker.store.backup import backup, restore
from tracker.store.steps import STEPS, bring_up_to_date, step_text
from tracker.store.store import Store

ASIDE = f"workshop.before-restore.{NOW:%Y%m%d-%H%M%S}.loomcard"


def test_restoring_brings_back_what_was_and_keeps_what_is(store: Store, kept: Path, tmp_path: Path) -> None:
    was = all_rows(store)
    do(store, book_in)
    now = all_rows(store)
    store.close()
    aside = restore(store.path, kept, NOW)
    assert aside == tmp_path / ASIDE
    assert names(tmp_path) == ["kept.loomcard", ASIDE, "workshop.loomcard"]
    with opened(store.path) as back, opened(aside) as other:
        assert all_rows(back) == was
        assert all_rows(other) == now


def test_restoring_where_nothing_was(kept: Path, tmp_path: Path) -> None:
    path = tmp_path / "new folder" / "shop.loomcard"
    assert restore(path, kept, NOW) is None
    with opened(path, create=False) as back:
        assert count(back, "card") == 2
    assert names(path.parent) == ["shop.loomcard"]


def test_open_windows_go_on_with_what_was_restored(store: Store, kept: Path) -> None:
    with opened(store.path) as other:
        do(other, book_in)
        assert count(store, "card") == 3
        restore(store.path, kept, NOW)
        assert count(store, "card") == count(other, "card") == 2
        assert do(other, book_in).number == "26-0003"
        take_back(store)
        assert do(store, book_in).number == "26-0003"
        assert store.read(lambda reader: reader.sql("PRAGMA integrity_check")) == [("ok",)]


def test_the_backup_is_not_changed_by_being_restored(store: Store, kept: Path) -> None:
    before = kept.read_bytes()
    restore(store.path, kept, NOW)
    assert kept.read_bytes() == before
    restore(store.path, kept, NOW)
    assert len(names(kept.parent)) == 4  # each restoring keeps what it replaced


def test_a_live_file_can_be_restored_from_too(store: Store, tmp_path: Path) -> None:
    other = tmp_path / "other.loomcard"
    do(store, book_in)
    restore(other, store.path, NOW)
    with opened(other) as copy:
        assert all_rows(copy) == all_rows(store)


def refused(path: Path, source: Path, match: str) -> None:
    """Restoring is refused and nothing has changed anywhere."""
    before = {one: one.read_bytes() for one in path.parent.iterdir() if one.is_file()}
    with pytest.raises(StoreRefusedError, match=match):
        restore(path, source, NOW, busy_ms=50)
    after = {one: one.read_bytes() for one in path.parent.iterdir() if one.is_file()}
    assert {one.name for one in after} == {one.name for one in before}
    assert all(after[one] == before[one] for one in before if not one.name.endswith("-shm"))


def test_what_is_no_sound_backup_of_ours_is_refused(store: Store, kept: Path, tmp_path: Path) -> None:
    path = store.path
    refused(path, tmp_path / "missing", "There is no file")
    refused(path, tmp_path, "is not a plain file")
    refused(path, path, "is the file itself")
    (tmp_path / "text").write_text("hello")
    refused(path, tmp_path / "text", "text is not a Loomcard file")
    (tmp_path / "empty").touch()
    refused(path, tmp_path / "empty", "There is nothing in empty")
    with closing(sqlite3.connect(tmp_path / "foreign")) as raw:
        raw.execute("CREATE TABLE t (x)")
    refused(path, tmp_path / "foreign", "foreign is not a Loomcard file")
    newer = tmp_path / "newer"
    newer.write_bytes(kept.read_bytes())
    with closing(sqlite3.connect(newer)) as raw:
        raw.execute(f"PRAGMA user_version = {len(STEPS) + 1}")
    refused(path, newer, "newer was written by a newer Loomcard")
    damage(kept, "card")
    refused(path, kept, "damaged")
    assert count(store, "card") == 2


def test_a_file_that_is_not_ours_is_not_replaced(kept: Path, tmp_path: Path) -> None:
    with closing(sqlite3.connect(tmp_path / "foreign")) as raw:
        raw.execute("CREATE TABLE t (x)")
    refused(tmp_path / "foreign", kept, "foreign is not a Loomcard file")
    (tmp_path / "folder").mkdir()
    refused(tmp_path / "folder", kept, "is a folder")


def test_a_held_file_is_not_replaced(store: Store, kept: Path) -> None:
    do(store, book_in)
    with closing(sqlite3.connect(store.path, isolation_level=None)) as raw:
        raw.execute("BEGIN IMMEDIATE")
        refused(store.path, kept, "Another program is holding the file")
    assert count(store, "card") == 3
    restore(store.path, kept, NOW)
    assert count(store, "card") == 2


@pytest.mark.parametrize("how", ["a page", "the schema", "the head", "cut off"])
def test_a_damaged_file_is_kept_byte_for_byte_and_replaced(path: Path, tmp_path: Path, how: str) -> None:
    with opened(path) as store:
        do(store, book_in)
        kept = backup(store, tmp_path / "kept.loomcard")
        do(store, book_in)
    content = path.read_bytes()
    if how == "a page":
        damage(path, "card")
    else:
        spoilt = {
            "the schema": content[:100] + b"\xff" * 20 + content[120:],
            "the head": b"\xff" * 100 + content[100:],
            "cut off": content[: len(content) // 2],
        }
        path.write_bytes(spoilt[how])
    damaged = path.read_bytes()
    aside = restore(path, kept, NOW)
    assert aside is not None
    assert aside.read_bytes() == damaged
    with opened(path, create=False) as back:
        assert [one.number for one in rows(back, Card)] == ["26-0001"]
        do(back, book_in)
        assert back.read(lambda reader: reader.sql("PRAGMA integrity_check")) == [("ok",)]


def test_the_log_of_a_damaged_file_is_kept_and_never_read_into_the_restored_one(
    kept: Path, store: Store, tmp_path: Path
) -> None:
    for _ in range(3):
        do(store, book_in)  # lies in the log still
    path = tmp_path / "killed.loomcard"
    for ending in ("", "-wal"):
        path.with_name(path.name + ending).write_bytes(
            store.path.with_name(store.path.name + ending).read_bytes()
        )
    log = path.with_name(path.name + "-wal").read_bytes()
    assert log
    with path.open("r+b") as file:
        file.write(b"\xff" * 100)
    aside = restore(path, kept, NOW)
    assert aside is not None
    assert aside.with_name(aside.name + "-wal").read_bytes() == log
    with opened(path) as back, opened(kept) as wanted:
        assert all_rows(back) == all_rows(wanted)


def test_a_backup_of_an_older_step_takes_the_missing_ones_before_it_is_seen(
    store: Store, kept: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    texts = {name: step_text(name) for name in STEPS} | {"next.sql": "ALTER TABLE card ADD COLUMN bay TEXT;"}
    upgrade = partial(bring_up_to_date, steps=tuple(texts), text_of=texts.__getitem__)
    monkeypatch.setattr("tracker.store.backup.STEPS", tuple(texts))
    monkeypatch.setattr("tracker.store.backup.bring_up_to_date", upgrade)
    do(store, book_in)
    restore(store.path, kept, NOW)
    assert store.read(lambda reader: reader.sql("PRAGMA user_version")) == [(len(STEPS) + 1,)]
    assert store.read(lambda reader: reader.sql("SELECT bay FROM card")) == [(None,), (None,)]
    assert not any("before-step" in name for name in names(kept.parent))


def test_an_old_backup_is_brought_up_to_date(path: Path, tmp_path: Path) -> None:
    loaded(tmp_path / "old.loomcard", (FOLDER / "0001.sql").read_text("utf-8"))
    before = (tmp_path / "old.loomcard").read_bytes()
    restore(path, tmp_path / "old.loomcard", later(1))
    assert (tmp_path / "old.loomcard").read_bytes() == before
    with closing(sqlite3.connect(path)) as raw:
        assert raw.execute("PRAGMA user_version").fetchone() == (len(STEPS),)
    with opened(path, create=False) as back:
        assert len(rows(back, Customer)) == 2
