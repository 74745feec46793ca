"""Schema steps: numbered, each atomic with its record, a backup copy first, foreign files refused."""

import sqlite3
from collections.abc import Callable
from datetime import datetime
from importlib.resources import files
from pathlib import Path

from tracker.errors import StoreRefusedError

APPLICATION_ID = 0x4C6F6F6D
"""“Loom” in the file's header, so that a file of ours is known from any other SQLite file."""

STEPS: tuple[str, ...] = ("0001.sql",)
"""The steps in order; a file that has taken n of them has user_version n. A landed step is never edited."""


def step_text(name: str) -> str:
    """The SQL of a step."""
    return (files("tracker.store") / "schema" / name).read_text("utf-8")


def statements(text: str) -> list[str]:
    """The single statements of a step: executescript would commit behind our back."""
    found: list[str] = []
    waiting = ""
    for line in text.splitlines(keepends=True):
        waiting += line
        if sqlite3.complete_statement(waiting):
            found.append(waiting.strip())
            waiting = ""
    if waiting.strip() and not all(line.startswith("--") for line in waiting.strip().splitlines()):
        raise ValueError("a step that ends in the middle of a statement")
    return found


def version_of(connection: sqlite3.Connection) -> tuple[int, int]:
    """The file's application id and how many steps it has taken."""
    (application,) = connection.execute("PRAGMA application_id").fetchone()
    (version,) = connection.execute("PRAGMA user_version").fetchone()
    return application, version


def refuse_strangers(connection: sqlite3.Connection, path: Path) -> int:
    """How many steps the file has taken; raises StoreRefusedError for a foreign or a newer file."""
    application, version = version_of(connection)
    (tables,) = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    if application == 0 and version == 0 and tables == 0:
        return 0
    if application != APPLICATION_ID:
        raise StoreRefusedError(
            f"{path.name} is not a Loomcard file; it was left as it is.", "Name another one with --file."
        )
    if version > len(STEPS):
        raise StoreRefusedError(
            f"{path.name} was written by a newer Loomcard (step {version}; this one knows {len(STEPS)}).",
            "Update this program; the file was left as it is.",
        )
    return version


def backup_name(path: Path, version: int, now: datetime) -> Path:
    """Where the copy goes that is made before a file is brought up to date."""
    return path.with_name(f"{path.stem}.before-step-{version + 1}.{now:%Y%m%d-%H%M%S}{path.suffix}")


def bring_up_to_date(
    connection: sqlite3.Connection,
    path: Path,
    now: Callable[[], datetime],
    steps: tuple[str, ...] = STEPS,
    text_of: Callable[[str], str] = step_text,
) -> int:
    """Takes the steps the file has not taken yet; returns how many. A used file is copied first.

    Foreign keys are off meanwhile and checked before each COMMIT: with them on, a step that rebuilds a
    table would delete its children.
    """
    version = refuse_strangers(connection, path)
    missing = steps[version:]
    if not missing:
        return 0
    if version:
        copy = backup_name(path, version, now())
        connection.execute("VACUUM INTO ?", (str(copy),))
    connection.execute("PRAGMA foreign_keys = OFF")
    try:
        for number, name in enumerate(missing, version + 1):
            _take(connection, number, text_of(name))
    finally:
        connection.execute("PRAGMA foreign_keys = ON")
    return len(missing)


def _take(connection: sqlite3.Connection, number: int, text: str) -> None:
    connection.execute("BEGIN IMMEDIATE")
    try:
        if version_of(connection)[1] >= number:
            connection.execute("ROLLBACK")  # another window took it while we waited
            return
        for statement in statements(text):
            connection.execute(statement)
        broken = connection.execute("PRAGMA foreign_key_check").fetchall()
        if broken:
            raise StoreRefusedError(f"Step {number} would leave {len(broken)} rows without what they name.")
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute(f"PRAGMA user_version = {number}")
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise
