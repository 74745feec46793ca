"""Whose file is it? Told apart before anything of ours, a write-ahead log included, touches it."""

import sqlite3
from contextlib import closing
from pathlib import Path

from tracker.errors import StoreRefusedError

APPLICATION_ID = 0x4C6F6F6D
"""“Loom” in the file's header, so that a file of ours is known from any other SQLite file."""

MAGIC = b"SQLite format 3\0"
"""How every SQLite file begins (sqlite.org/fileformat2.html, 1.3 The Database Header)."""

HEAD_BYTES = 100
"""Length of that header; the application id stands in its bytes 68 to 71, the highest first."""

_IDENTITY = """
SELECT (SELECT application_id FROM pragma_application_id), (SELECT user_version FROM pragma_user_version),
       (SELECT count(*) FROM sqlite_master)
"""


def identity(connection: sqlite3.Connection) -> tuple[int, int, int]:
    """Application id, steps taken and number of schema entries, all of one instant.

    One statement on purpose: asked one after the other, a file that another window is just making would
    look foreign.
    """
    application, version, entries = connection.execute(_IDENTITY).fetchone()
    return int(application), int(version), int(entries)


def refuse_strangers(connection: sqlite3.Connection, path: Path, known: int) -> int:
    """How many steps the file has taken; raises StoreRefusedError for a foreign or a newer file.

    `known` is the number of steps this program knows. A file with nothing in it has taken none.
    """
    application, version, entries = identity(connection)
    if application == 0 and version == 0 and entries == 0:
        return 0
    if application != APPLICATION_ID or version < 1:
        raise foreign(path)
    if version > known:
        raise StoreRefusedError(
            f"{path.name} was written by a newer Loomcard (step {version}; this one knows {known}).",
            "Update this program; the file was left as it is.",
        )
    return version


def look_first(path: Path, known: int) -> int:
    """As `refuse_strangers` for a closed file, leaving nothing behind beside a foreign one.

    The head of the file tells most. Where a log lies beside it the two are read together, to be read only:
    the file alone may be half of a checkpoint. Raises StoreRefusedError; SQLite's own errors go through.
    """
    if not path.is_file():
        raise StoreRefusedError(f"{path} is not a plain file.", "Name a file with --file.")
    if path.stat().st_size == 0:
        return 0
    head = _head(path)
    if not head.startswith(MAGIC) or int.from_bytes(head[68:72]) not in (0, APPLICATION_ID):
        raise foreign(path)
    with closing(reading(path)) as look:
        return refuse_strangers(look, path, known)


def foreign(path: Path) -> StoreRefusedError:
    """The refusal of a file that is not ours."""
    return StoreRefusedError(
        f"{path.name} is not a Loomcard file; it was left as it is.",
        "Name another one with --file. If it was one it is damaged: loomcard restore BACKUP.",
    )


def is_sqlite(path: Path) -> bool:
    """Whether a file begins as SQLite's do."""
    return _head(path).startswith(MAGIC)


def log_of(path: Path) -> Path:
    """The write-ahead log that lies beside an open file, or one that was not closed."""
    return path.with_name(f"{path.name}-wal")


def reading(path: Path) -> sqlite3.Connection:
    """A connection to read a closed file, with its log where one was left, else without any lock."""
    log = log_of(path)
    with_log = log.exists() and log.stat().st_size > 0
    return read_only(path, "mode=ro" if with_log else "immutable=1")


def read_only(path: Path, how: str) -> sqlite3.Connection:
    """A connection that cannot write; `how` is part of SQLite's own way of naming a file."""
    return sqlite3.connect(f"{path.absolute().as_uri()}?{how}", uri=True, isolation_level=None)


def _head(path: Path) -> bytes:
    with path.open("rb") as file:
        return file.read(HEAD_BYTES)
