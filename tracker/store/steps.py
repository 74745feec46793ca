"""Schema steps: numbered, each atomic with its record, a backup copy of a used file first."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import datetime
from importlib.resources import files
from pathlib import Path

from tracker.errors import StoreRefusedError
from tracker.records.text import fold, squeeze
from tracker.store.copying import copy_whole, free_name
from tracker.store.identity import APPLICATION_ID, identity, read_only, refuse_strangers

STEPS: tuple[str, ...] = ("0001.sql", "0002.sql", "0003.sql")
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
    left = [line for line in waiting.splitlines() if line.strip() and not line.lstrip().startswith("--")]
    if left:
        raise ValueError("a step that ends in the middle of a statement")
    return found


def teach(connection: sqlite3.Connection) -> None:
    """Gives a connection the two functions that a step may write the finder with."""
    for function in (fold, squeeze):
        connection.create_function(function.__name__, 1, function, deterministic=True)


def bring_up_to_date(
    connection: sqlite3.Connection,
    path: Path,
    now: Callable[[], datetime],
    steps: tuple[str, ...] = STEPS,
    text_of: Callable[[str], str] = step_text,
    *,
    copy_first: bool = True,
) -> int:
    """Takes the steps the file has not taken yet; returns how many. A used file is copied first.

    `connection` is in autocommit. Foreign keys are off meanwhile and checked before each COMMIT: with them
    on, a step that rebuilds a table would delete its children.
    """
    version = refuse_strangers(connection, path, len(steps))
    missing = steps[version:]
    if not missing:
        return 0
    if version and copy_first:
        _copy_before(connection, path, version, now())
    teach(connection)
    connection.execute("PRAGMA foreign_keys = OFF")
    try:
        for number, name in enumerate(missing, version + 1):
            _take(connection, number, text_of(name))
    finally:
        connection.execute("PRAGMA foreign_keys = ON")
    return len(missing)


def _copy_before(connection: sqlite3.Connection, path: Path, version: int, now: datetime) -> None:
    """Copies the file under the write lock, so that no other window can take the step meanwhile."""
    wanted = path.with_name(f"{path.stem}.before-step-{version + 1}.{now:%Y%m%d-%H%M%S}{path.suffix}")
    connection.execute("BEGIN IMMEDIATE")
    try:
        if identity(connection)[1] == version:
            with closing(read_only(path, "mode=ro")) as reader:
                copy_whole(reader, path, free_name(wanted), version)
    finally:
        connection.execute("ROLLBACK")


def _take(connection: sqlite3.Connection, number: int, text: str) -> None:
    connection.execute("BEGIN IMMEDIATE")
    try:
        if identity(connection)[1] >= number:
            connection.execute("ROLLBACK")  # another window took it while we waited
            return
        for statement in statements(text):
            connection.execute(statement)
        broken = connection.execute("PRAGMA foreign_key_check").fetchall()
        if broken:
            raise StoreRefusedError(
                f"The file could not be brought up to date: step {number} would leave {len(broken)} rows"
                " without what they name.",
                "It was left as it was; run loomcard check on it.",
            )
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute(f"PRAGMA user_version = {number}")
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise
