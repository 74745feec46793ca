"""Schema steps: whole with their record, a copy first, children kept, files of every version opened."""

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from tests.store.dumping import FOLDER, dumped, example, loaded
from tests.store.making import NOW, add, all_rows, book_in, customer, do, got, now, opened, rows, take_back
from tests.store.samples import everything
from tracker.errors import StoreRefusedError
from tracker.records.card import Card
from tracker.records.people import Customer
from tracker.store.codec import table_name
from tracker.store.steps import STEPS, bring_up_to_date, statements, step_text
from tracker.store.tables import KEPT
from tracker.store.undo import last_to_undo

DUMPS = sorted(FOLDER.glob("*.sql"))

REBUILDS = """
-- customers get a short name, before their other fields; a comment with a ; in it
CREATE TABLE customer_new (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    short TEXT NOT NULL,
    name TEXT NOT NULL
) STRICT;
INSERT INTO customer_new SELECT id, token, version, substr(name, 1, 3), name FROM customer;
DROP TABLE customer;
ALTER TABLE customer_new RENAME TO customer;
"""


NEXT = len(STEPS) + 1
"""The number of a step that has not landed."""


def one_more(text: str) -> dict[str, str]:
    return {**{name: step_text(name) for name in STEPS}, f"{NEXT:04}.sql": text}


def upgrade(connection: sqlite3.Connection, path: Path, second: str) -> int:
    texts = one_more(second)
    return bring_up_to_date(connection, path, now, tuple(texts), texts.__getitem__)


@pytest.fixture
def used(path: Path) -> Path:
    """A used file of the version before that."""
    with opened(path) as store:
        do(store, lambda unit: everything(unit)[Card])
    return path


@pytest.fixture
def raw(used: Path) -> Iterator[sqlite3.Connection]:
    with closing(sqlite3.connect(used, isolation_level=None)) as connection:
        connection.execute("PRAGMA foreign_keys = ON")
        yield connection


def _copies(path: Path) -> list[Path]:
    return sorted(one for one in path.parent.iterdir() if "before-step" in one.name)


def _state(connection: sqlite3.Connection) -> list[str]:
    return sorted(dumped(connection))


def test_a_rebuilt_table_keeps_its_children(raw: sqlite3.Connection, used: Path) -> None:
    children = raw.execute("SELECT * FROM ownership").fetchall()
    cards = raw.execute("SELECT id, customer FROM card").fetchall()
    assert upgrade(raw, used, REBUILDS) == 1
    assert raw.execute("SELECT short, name FROM customer").fetchall() == [("Zoë", "Zoë Quill")]
    assert raw.execute("SELECT * FROM ownership").fetchall() == children
    assert raw.execute("SELECT id, customer FROM card").fetchall() == cards
    assert raw.execute("PRAGMA foreign_key_check").fetchall() == []
    assert raw.execute("PRAGMA foreign_keys").fetchone() == (1,)
    with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
        raw.execute("DELETE FROM customer")
    with pytest.raises(sqlite3.IntegrityError, match="sealed"):
        raw.execute("DELETE FROM payment")


def test_a_used_file_is_copied_first(raw: sqlite3.Connection, used: Path) -> None:
    before = _state(raw)
    upgrade(raw, used, REBUILDS)
    (copy,) = _copies(used)
    assert copy.name == f"workshop.before-step-{NEXT}.{NOW:%Y%m%d-%H%M%S}.loomcard"
    with closing(sqlite3.connect(copy)) as kept:
        assert _state(kept) == before
    with opened(copy) as store:
        assert [one.name for one in rows(store, Customer)] == ["Zoë Quill"]


def test_a_copy_never_replaces_an_earlier_one(raw: sqlite3.Connection, used: Path) -> None:
    taken = used.with_name(f"workshop.before-step-{NEXT}.{NOW:%Y%m%d-%H%M%S}.loomcard")
    taken.write_text("mine")
    upgrade(raw, used, REBUILDS)
    assert taken.read_text() == "mine"
    assert len(_copies(used)) == 2


def test_a_new_file_needs_no_copy(path: Path) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        assert upgrade(connection, path, REBUILDS) == NEXT
        assert connection.execute("PRAGMA user_version").fetchone() == (NEXT,)
    assert _copies(path) == []


def test_without_a_copy_no_step(raw: sqlite3.Connection, used: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = _state(raw)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("tracker.store.copying.flush", full)
    with pytest.raises(OSError, match="No space"):
        upgrade(raw, used, REBUILDS)
    assert _state(raw) == before
    assert [one for one in used.parent.iterdir() if one.suffix not in {".loomcard-wal", ".loomcard-shm"}] == [
        used
    ]


@pytest.mark.parametrize(
    ("second", "why"),
    [
        ("ALTER TABLE card ADD COLUMN bay TEXT;\nCREATE TABLE card (x);", "already exists"),
        ("DROP TABLE customer;\nINSERT INTO nowhere VALUES (1);", "no such table"),
        ("UPDATE card SET notes = 'x';\nSELECT 1; SELECT 2;", "one statement at a time"),
        ("UPDATE card SET notes = 'x';\nDELETE FROM", "middle of a statement"),
    ],
)
def test_a_step_that_fails_leaves_the_file_as_it_was(
    raw: sqlite3.Connection, used: Path, second: str, why: str
) -> None:
    before = _state(raw)
    with pytest.raises((sqlite3.Error, sqlite3.Warning, ValueError), match=why):
        upgrade(raw, used, second)
    assert _state(raw) == before
    assert not raw.in_transaction
    assert raw.execute("PRAGMA foreign_keys").fetchone() == (1,)
    raw.close()
    with opened(used) as store:
        do(store, book_in)


def test_a_step_that_would_leave_orphans_is_refused_in_words(raw: sqlite3.Connection, used: Path) -> None:
    before = _state(raw)
    with pytest.raises(StoreRefusedError, match=rf"step {NEXT} would leave \d+ rows without what they name"):
        upgrade(raw, used, "DELETE FROM customer;")
    assert _state(raw) == before


def test_the_first_of_two_steps_stays_when_the_second_fails(raw: sqlite3.Connection, used: Path) -> None:
    texts = {**one_more("ALTER TABLE card ADD COLUMN bay TEXT;"), "later.sql": "CREATE TABLE card (x);"}
    with pytest.raises(sqlite3.Error, match="already exists"):
        bring_up_to_date(raw, used, now, tuple(texts), texts.__getitem__)
    assert raw.execute("PRAGMA user_version").fetchone() == (NEXT,)
    assert raw.execute("SELECT bay FROM card").fetchall()
    texts["later.sql"] = "ALTER TABLE card ADD COLUMN lift TEXT;"
    assert bring_up_to_date(raw, used, now, tuple(texts), texts.__getitem__) == 1


def test_steps_are_taken_once(raw: sqlite3.Connection, used: Path) -> None:
    assert upgrade(raw, used, "ALTER TABLE card ADD COLUMN bay TEXT;") == 1
    assert upgrade(raw, used, "ALTER TABLE card ADD COLUMN bay TEXT;") == 0
    assert len(_copies(used)) == 1


def test_two_windows_that_upgrade_at_once_take_the_step_once(used: Path) -> None:
    failed: list[BaseException] = []
    together = threading.Barrier(4)

    def window() -> None:
        with closing(sqlite3.connect(used, isolation_level=None, timeout=20)) as connection:
            together.wait()
            try:
                upgrade(
                    connection,
                    used,
                    "UPDATE card SET notes = notes || '+';\nALTER TABLE card ADD COLUMN bay TEXT;",
                )
            except BaseException as error:  # shown by the assertion below
                failed.append(error)

    threads = [threading.Thread(target=window) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    with closing(sqlite3.connect(used)) as connection:
        assert connection.execute("SELECT notes FROM card WHERE id = 2").fetchone() == (
            "alarm under the seat+",
        )
    for copy in _copies(used):
        with closing(sqlite3.connect(copy)) as kept:
            assert kept.execute("PRAGMA user_version").fetchone() == (len(STEPS),)


def test_a_version_ahead_of_the_steps_is_refused(raw: sqlite3.Connection, used: Path) -> None:
    upgrade(raw, used, REBUILDS)
    with pytest.raises(StoreRefusedError, match="written by a newer Loomcard"):
        bring_up_to_date(raw, used, now, STEPS)


def test_there_is_a_dump_of_every_version() -> None:
    assert [one.name for one in DUMPS] == [f"{number:04}.sql" for number in range(1, len(STEPS) + 1)]
    assert [step[:4] for step in STEPS] == [one.stem for one in DUMPS]


@pytest.mark.parametrize("dump", DUMPS, ids=lambda one: one.stem)
def test_a_file_of_every_past_version_opens_and_goes_on(path: Path, dump: Path) -> None:
    text = dump.read_text("utf-8")
    loaded(path, text)
    with opened(path, create=False) as store:
        for cls in KEPT:
            assert rows(store, cls) or f"CREATE TABLE {table_name(cls)} " not in text
        zoe, obrien = rows(store, Customer)
        assert (zoe.name, obrien.name, obrien.phone, obrien.notes) == (
            "Zoë Quill", "[/] O'Brien", "01 555 0199", "a\nb",
        )  # fmt: skip
        assert store.read(lambda reader: reader.find("quill", (Customer,))) == (("customer", zoe.id),)
        assert add(store, customer("next")).id > obrien.id + 1  # the id taken back is not given again
        assert store.read(lambda reader: last_to_undo(reader, "Ben")) is not None
        take_back(store, "Ben")
        assert got(store, obrien).phone == ""
        assert store.read(lambda reader: reader.sql("PRAGMA integrity_check")) == [("ok",)]


def test_a_new_file_and_an_upgraded_one_have_the_same_schema(tmp_path: Path) -> None:
    loaded(tmp_path / "old", DUMPS[0].read_text("utf-8"))
    schemas = []
    for name in ("old", "new"):
        with opened(tmp_path / name) as store:
            schemas.append(
                store.read(
                    lambda reader: reader.sql(
                        "SELECT type, name, sql FROM sqlite_master WHERE sql IS NOT NULL ORDER BY type, name"
                    )
                )
            )
    assert schemas[0] == schemas[1]


def test_a_dump_makes_the_same_file_again(tmp_path: Path) -> None:
    example(tmp_path / "one")
    with closing(sqlite3.connect(tmp_path / "one")) as connection:
        text = "\n".join(dumped(connection))
    loaded(tmp_path / "two", text)
    with opened(tmp_path / "one") as one, opened(tmp_path / "two") as two:
        assert all_rows(one) == all_rows(two)


def test_statements_are_split_where_they_end() -> None:
    text = "-- a; b\nCREATE TABLE t (x, -- c;\n y);\n\nINSERT INTO t VALUES ('a;\nb', 1);\n-- the end;\n"
    assert len(statements(text)) == 2
    trigger = "CREATE TRIGGER s BEFORE DELETE ON t BEGIN\n SELECT 1;\n SELECT 2;\nEND;\n"
    assert statements(trigger) == [trigger.strip()]
    with pytest.raises(ValueError, match="middle of a statement"):
        statements("CREATE TABLE t (x)")
