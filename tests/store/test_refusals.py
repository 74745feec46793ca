"""What the store refuses: a sentence, a hint, nothing lost, and foreign files left as they are."""

import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.store.making import add, all_rows, book_in, count, customer, do, opened, rows
from tracker.errors import StoreRefusedError
from tracker.records.people import Customer
from tracker.store.identity import APPLICATION_ID
from tracker.store.steps import STEPS


def refused(path: Path, *, create: bool = True, busy_ms: int = 50) -> StoreRefusedError:
    """Opening is refused, in words; what lies there stays byte for byte, nothing comes to lie beside it."""
    before = _lying(path.parent)
    with pytest.raises(StoreRefusedError) as caught:
        opened(path, create=create, busy_ms=busy_ms)
    assert _lying(path.parent) == before
    said = caught.value
    assert said.sentence.endswith(".")
    assert said.hint.endswith((".", "BACKUP"))
    assert said.exit_code == 3
    return said


def _lying(folder: Path) -> dict[str, bytes | None]:
    if not folder.is_dir():
        return {}
    shared = "-shm"  # memory that open windows share, no content
    return {
        one.name: one.read_bytes() if one.is_file() and not one.name.endswith(shared) else None
        for one in folder.iterdir()
    }


def _sqlite(path: Path, *statements: str, wal: bool = False) -> None:
    with sqlite3.connect(path, isolation_level=None) as raw:
        if wal:
            raw.execute("PRAGMA journal_mode = wal")
        for statement in statements:
            raw.execute(statement)
    raw.close()


def test_a_missing_file(path: Path) -> None:
    assert refused(path, create=False).sentence == f"There is no file {path}."


def test_a_folder(tmp_path: Path) -> None:
    (tmp_path / "shop").mkdir()
    assert "is a folder" in refused(tmp_path / "shop").sentence


def test_a_file_below_a_file(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    assert "cannot be used" in refused(tmp_path / "file" / "shop.loomcard").sentence


def test_a_name_too_long(tmp_path: Path) -> None:
    assert "cannot be used" in refused(tmp_path / ("x" * 300)).sentence


@pytest.mark.parametrize(
    "content",
    [b"x", b"PK\x03\x04 a photo", b"SQLite format 2\0" + bytes(200), "Käse\n".encode() * 500, bytes(4096)],
)
def test_what_is_no_database(path: Path, content: bytes) -> None:
    path.write_bytes(content)
    said = refused(path)
    assert said.sentence == "workshop.loomcard is not a Loomcard file; it was left as it is."
    assert "restore" in said.hint


@pytest.mark.parametrize("wal", [False, True])
@pytest.mark.parametrize(
    "statements",
    [
        ("CREATE TABLE t (x)",),
        ("CREATE TABLE t (x)", "PRAGMA user_version = 1"),
        ("PRAGMA application_id = 1234",),
        (f"PRAGMA application_id = {APPLICATION_ID}", "CREATE TABLE card (x)"),
        ("PRAGMA user_version = 7",),
    ],
)
def test_another_programs_database(path: Path, statements: tuple[str, ...], wal: bool) -> None:
    _sqlite(path, *statements, wal=wal)
    assert "is not a Loomcard file" in refused(path).sentence


def test_another_programs_database_that_is_open_and_not_yet_in_its_file(path: Path) -> None:
    raw = sqlite3.connect(path, isolation_level=None)
    raw.execute("PRAGMA journal_mode = wal")
    raw.execute("CREATE TABLE t (x)")  # lies in the log only
    assert "is not a Loomcard file" in refused(path).sentence
    raw.execute("INSERT INTO t VALUES (1)")
    raw.close()
    assert "is not a Loomcard file" in refused(path).sentence


@pytest.mark.parametrize("still_open", [False, True])
def test_a_newer_file(path: Path, still_open: bool) -> None:
    with opened(path) as store:
        do(store, book_in)
    raw = sqlite3.connect(path, isolation_level=None)
    raw.execute(f"PRAGMA user_version = {len(STEPS) + 3}")
    if not still_open:
        raw.close()
    said = refused(path)
    known = len(STEPS)
    assert said.sentence == (
        f"workshop.loomcard was written by a newer Loomcard (step {known + 3}; this one knows {known})."
    )
    assert "Update this program" in said.hint
    raw.close()


def test_an_empty_file_and_an_empty_database_become_ours(tmp_path: Path) -> None:
    (tmp_path / "empty").touch()
    _sqlite(tmp_path / "database", "PRAGMA user_version = 0", wal=True)
    for name in ("empty", "database"):
        with opened(tmp_path / name) as store:
            do(store, book_in)


def test_a_file_held_by_another_program(path: Path) -> None:
    with opened(path, busy_ms=50) as store:
        add(store, customer("before"))
        raw = sqlite3.connect(path, isolation_level=None)
        raw.execute("BEGIN IMMEDIATE")
        with pytest.raises(StoreRefusedError, match="Another program is holding the file") as caught:
            add(store, customer("never"))
        assert "Close the other window" in caught.value.hint
        assert count(store, "customer") == 1  # reading goes on
        raw.execute("ROLLBACK")
        raw.close()
        add(store, customer("after"))
        assert [one.name for one in rows(store, Customer)] == ["before", "after"]


def test_a_new_file_held_by_another_program(path: Path) -> None:
    raw = sqlite3.connect(path, isolation_level=None)
    raw.execute("BEGIN EXCLUSIVE")
    with pytest.raises(StoreRefusedError, match="Another program is holding the file"):
        opened(path, busy_ms=50)
    raw.close()
    opened(path).close()


def test_a_full_disk(path: Path) -> None:
    with opened(path) as store:
        kept = [add(store, customer("before")).name]
        pages = store.read(lambda reader: reader.sql("PRAGMA page_count"))[0][0]
        store.read(lambda reader: reader.sql(f"PRAGMA max_page_count = {pages + 4}"))

        def fill() -> None:
            for number in range(100):
                kept.append(add(store, customer(f"{number}", notes="x" * 2000)).name)

        with pytest.raises(StoreRefusedError, match="The disk is full") as caught:
            fill()
        assert "Make room" in caught.value.hint
        assert [one.name for one in rows(store, Customer)] == kept
        with pytest.raises(StoreRefusedError, match="The disk is full"):
            add(store, customer("still", notes="x" * 9000))
        store.read(lambda reader: reader.sql("PRAGMA max_page_count = 1000000"))
        add(store, customer("after"))
    with opened(path) as again:
        assert [one.name for one in rows(again, Customer)] == [*kept, "after"]
        assert count(again, "journal_entry") == len(kept) + 1


def _overwrite(path: Path, at: int, with_what: bytes) -> None:
    with path.open("r+b") as file:
        file.seek(at)
        file.write(with_what)


@pytest.fixture
def filled(path: Path) -> Path:
    with opened(path) as store:
        for number in range(50):
            add(store, customer(f"{number}", notes="x" * 500))
    return path


def test_a_damaged_head_is_no_loomcard_file(filled: Path) -> None:
    _overwrite(filled, 0, b"\xff" * 16)
    assert "is not a Loomcard file" in refused(filled).sentence


def test_a_damaged_schema_is_said_and_left(filled: Path) -> None:
    _overwrite(filled, 100, b"\xff" * 8)  # the root page of the schema
    said = refused(filled)
    assert said.sentence == "The file is damaged."
    assert "restore the last backup" in said.hint


def test_a_damaged_page_is_said_when_it_is_read_and_the_store_stays_usable(filled: Path) -> None:
    with sqlite3.connect(filled) as raw:
        (root,) = raw.execute("SELECT rootpage FROM sqlite_master WHERE name = 'customer'").fetchone()
        (size,) = raw.execute("PRAGMA page_size").fetchone()
    raw.close()
    _overwrite(filled, (root - 1) * size, b"\xff" * size)
    with opened(filled) as store:
        with pytest.raises(StoreRefusedError, match="The file is damaged"):
            rows(store, Customer)
        with pytest.raises(StoreRefusedError, match="The file is damaged"):
            add(store, customer())
        assert count(store, "journal_entry") == 50
        do(store, book_in)
        assert count(store, "card") == 1


def test_a_cut_off_file_is_said_and_left(filled: Path) -> None:
    content = filled.read_bytes()
    filled.write_bytes(content[: len(content) // 3])
    with pytest.raises(StoreRefusedError, match="The file is damaged"), opened(filled) as store:
        all_rows(store)


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (OSError(28, "No space left on device"), "The disk is full."),
        (PermissionError(13, "Permission denied"), "may not be written to"),
        (
            FileNotFoundError(2, "No such file or directory", "photo.png"),
            "photo.png cannot be used: no such file",
        ),
        (OverflowError(), "A figure is too big to keep."),
    ],
)
def test_the_file_systems_errors_in_work_are_words_too(path: Path, error: Exception, words: str) -> None:
    def fails(_: object) -> None:
        raise error

    with opened(path) as store, pytest.raises(StoreRefusedError, match=words):
        store.read(fails)


def test_the_programs_own_mistakes_go_through_as_they_are(path: Path) -> None:
    with opened(path) as store:
        works: list[tuple[type[Exception], Callable[[object], object]]] = [
            (ZeroDivisionError, lambda _: 1 // 0),
            (KeyError, lambda _: {"y": 1}["x"]),
        ]
        for kind, work in works:
            with pytest.raises(kind):
                store.read(work)
        with pytest.raises(Exception, match="no such table"):
            store.read(lambda reader: reader.sql("SELECT * FROM nowhere"))
