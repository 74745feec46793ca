"""Keeping the file: a backup while it is open, a restore, and a check that sees what was tampered with."""

import sqlite3
from datetime import date
from pathlib import Path

import pytest

from tests.desk.conftest import Bench
from tracker.desk.keeping import back_up, check, restore
from tracker.desk.replay import Stage
from tracker.errors import StoreRefusedError
from tracker.records.people import Customer
from tracker.seedfiles.script import load_script


@pytest.fixture
def played(tmp_path: Path) -> Path:
    """The walk, played into a file and closed."""
    path = tmp_path / "walk.loomcard"
    stage = Stage(path, load_script("walk"), date(2026, 11, 25))
    for _ in stage.play():
        pass
    assert check(stage.desk) == ()
    stage.close()
    return path


def tampered(path: Path, *statements: str) -> Bench:
    """The file after somebody took its seals off and changed it."""
    connection = sqlite3.connect(path)
    seals = [row[0] for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")]
    kept = [row[0] for row in connection.execute("SELECT sql FROM sqlite_master WHERE type = 'trigger'")]
    for seal in seals:
        connection.execute(f"DROP TRIGGER {seal}")
    for statement in statements:
        connection.execute(statement)
    for sql in kept:
        connection.execute(sql)
    connection.commit()
    connection.close()
    return Bench(path)


@pytest.mark.parametrize(
    ("statement", "says"),
    [
        ("UPDATE document_line SET net_minor = net_minor + 100 WHERE id = 3", "times its price"),
        (
            (
                "UPDATE document SET tax_minor = tax_minor + 1, total_minor = total_minor + 1,"
                " payable_minor = payable_minor + 1 WHERE kind = 'invoice'"
            ),
            "the lines make",
        ),
        ("UPDATE document_tax SET taxable_minor = taxable_minor + 5 WHERE id = 2", "tax groups"),
        ("UPDATE estimate_line SET net_minor = net_minor - 1 WHERE id = 2", "add up"),
    ],
    ids=["line", "total", "tax", "estimate"],
)
def test_a_figure_that_was_changed_behind_the_seals_is_seen(played: Path, statement: str, says: str) -> None:
    bench = tampered(played, statement)
    found = check(bench.desk)
    bench.desk.close()
    assert any(says in problem.sentence for problem in found), found


def test_a_backup_is_whole_and_a_restore_keeps_what_was_there(bench: Bench, tmp_path: Path) -> None:
    bench.booked()
    copy = back_up(bench.desk, tmp_path / "copy.loomcard")
    with pytest.raises(StoreRefusedError):
        back_up(bench.desk, copy)
    bench("customer change", customer="1", name="Somebody else")
    bench.desk.close()
    aside = restore(bench.path, copy, bench.time())
    assert aside is not None
    assert aside.exists()
    again = Bench(bench.path)
    name = again.desk.read(lambda reader: reader.get(Customer, 1).name)
    again.desk.close()
    assert name == "Oona Mirek"


def test_what_is_no_backup_is_not_restored(bench: Bench, tmp_path: Path) -> None:
    stranger = tmp_path / "x.loomcard"
    stranger.write_bytes(b"not a file of ours")
    bench.desk.close()
    before = bench.path.read_bytes()
    with pytest.raises(StoreRefusedError):
        restore(bench.path, stranger, bench.time())
    assert bench.path.read_bytes() == before
