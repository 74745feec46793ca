"""A whole, checked copy of a file, whoever has it open: made beside its place, then moved there."""

import os
import sqlite3
import uuid
from contextlib import closing
from pathlib import Path

from tracker.errors import StoreRefusedError
from tracker.store.identity import refuse_strangers


class DamagedError(StoreRefusedError):
    """A file that SQLite finds faults in."""


def copy_whole(connection: sqlite3.Connection, source: Path, target: Path, known: int) -> None:
    """Copies what is committed in `source` to `target`, which is replaced whole or not touched at all.

    `connection` reads `source`. VACUUM INTO sees one consistent state while other windows write. The copy is
    checked (sound, ours, and of no more steps than the `known`) and on the disk before it takes its place.
    Raises StoreRefusedError where it is not; OSError and sqlite3.Error.
    """
    beside = target.with_name(f".{target.name}.{uuid.uuid4().hex[:8]}")
    try:
        connection.execute("VACUUM INTO ?", (str(beside),))
        with closing(sqlite3.connect(beside, isolation_level=None)) as copy:
            faults = integrity_faults(copy)
            refuse_strangers(copy, source, known)
        if faults:
            raise DamagedError(
                f"{source.name} is damaged, so that no sound copy can be made.",
                "Leave it as it is and restore the last backup: loomcard restore BACKUP.",
            )
        flush(beside)
        beside.replace(target)
        flush(target.parent)
    finally:
        beside.unlink(missing_ok=True)


def integrity_faults(connection: sqlite3.Connection, most: int = 20) -> tuple[str, ...]:
    """What SQLite itself finds wrong with a file's pages, indexes and constraints; empty when it is sound.

    `connection` must be one that may write: SQLite 3.40.1 looks at no constraint through a read-only one.
    """
    lines = connection.execute(f"PRAGMA integrity_check({most})").fetchall()
    return tuple(str(line) for (line,) in lines if line != "ok")


def flush(path: Path) -> None:
    """Waits until a file, or the names in a folder (not on Windows), are on the disk."""
    if path.is_dir() and os.name == "nt":
        return
    handle = os.open(path, os.O_RDONLY if path.is_dir() else os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def free_name(wanted: Path) -> Path:
    """`wanted`, or the same with -2, -3, ... before its ending where that is taken."""
    name, number = wanted, 2
    while name.exists():
        name = wanted.with_name(f"{wanted.stem}-{number}{wanted.suffix}")
        number += 1
    return name
