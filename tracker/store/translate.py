"""SQLite's errors as sentences. The one place that reads them."""

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

import peewee

from tracker.errors import LoomcardError, StoreRefusedError

_KEPT = "Nothing was written; what was acknowledged before is safe."

BUSY = ("Another program is holding the file.", f"{_KEPT} Close the other window, or wait and do it again.")

_BY_CODE: dict[int, tuple[str, str]] = {
    sqlite3.SQLITE_FULL: ("The disk is full.", f"{_KEPT} Make room and do it again."),
    sqlite3.SQLITE_BUSY: BUSY,
    sqlite3.SQLITE_PROTOCOL: BUSY,
    sqlite3.SQLITE_LOCKED: ("The file is held by another deed.", f"{_KEPT} Do it again."),
    sqlite3.SQLITE_READONLY: (
        "The file, or the folder it lies in, may not be written to.",
        f"{_KEPT} Look at its permissions.",
    ),
    sqlite3.SQLITE_PERM: ("The file may not be written to.", f"{_KEPT} Look at its permissions."),
    sqlite3.SQLITE_CANTOPEN: (
        "The file cannot be opened.",
        "Look whether the folder exists and may be written to.",
    ),
    sqlite3.SQLITE_CORRUPT: (
        "The file is damaged.",
        "Leave it as it is and restore the last backup: loomcard restore BACKUP.",
    ),
    sqlite3.SQLITE_NOTADB: ("This is not a Loomcard file.", "Name another one with --file."),
    sqlite3.SQLITE_IOERR: ("The disk did not answer.", f"{_KEPT} Look at the disk before going on."),
    sqlite3.SQLITE_TOOBIG: ("One thing is too big to keep.", f"{_KEPT} A photo may be at most 50 MB."),
}


def chain(error: BaseException) -> Iterator[BaseException]:
    """The error and everything behind it: a failed COMMIT hides the full disk in `__context__`."""
    seen: set[int] = set()
    waiting: list[BaseException | None] = [error]
    while waiting:
        one = waiting.pop(0)
        if one is None or id(one) in seen:
            continue
        seen.add(id(one))
        yield one
        waiting += [one.__cause__, one.__context__]


def in_words(error: BaseException) -> LoomcardError | None:
    """The refusal in words, or None where `error` is neither SQLite's nor the file system's."""
    for one in chain(error):
        if isinstance(one, sqlite3.Error):
            primary = (getattr(one, "sqlite_errorcode", None) or 0) & 0xFF
            if primary == sqlite3.SQLITE_CONSTRAINT:
                return _constraint(str(one))
            if primary in _BY_CODE:
                return StoreRefusedError(*_BY_CODE[primary])
        elif isinstance(one, OverflowError):
            return StoreRefusedError("A figure is too big to keep.", _KEPT)
        elif isinstance(one, UnicodeEncodeError):
            return StoreRefusedError("A text holds a character that cannot be kept.", _KEPT)
        elif isinstance(one, OSError):
            return _system(one)
    return None


def _system(error: OSError) -> LoomcardError:
    if error.errno == errno.ENOSPC:
        return StoreRefusedError(*_BY_CODE[sqlite3.SQLITE_FULL])
    if error.errno in {errno.EACCES, errno.EPERM, errno.EROFS}:
        return StoreRefusedError(*_BY_CODE[sqlite3.SQLITE_READONLY])
    why = (error.strerror or "it cannot be reached").lower()
    return StoreRefusedError(f"{error.filename or 'The file'} cannot be used: {why}.", "Name another one.")


def _constraint(message: str) -> LoomcardError:
    if message.startswith("sealed: "):
        what = message.removeprefix("sealed: ").replace("_", " ")
        return StoreRefusedError(
            f"An issued {what} is never changed.",
            "Correct it with a credit note, a new revision or an opposite payment.",
        )
    if "time_entry.mechanic" in message:
        return StoreRefusedError("This mechanic's clock is running already.", "Clock off first.")
    if "recheck.bike" in message:
        return StoreRefusedError("There is an open recheck for that already.", "Move it, or mark it done.")
    if message.startswith("FOREIGN KEY"):
        return StoreRefusedError("Something else hangs on it, or what it names is gone.", _KEPT)
    if message.endswith("journal_entry.undoes"):
        return StoreRefusedError("That was taken back already.", _KEPT)
    if message.startswith("UNIQUE") and message.endswith(".token"):
        return StoreRefusedError("This was kept already.", _KEPT)
    if message.startswith("UNIQUE"):
        field = message.rsplit(".", 1)[-1]
        return StoreRefusedError(f"There is one with that {field} already.", _KEPT)
    return StoreRefusedError("The file refused a figure that does not fit.", f"{_KEPT} ({message})")


@contextmanager
def speaking_plainly() -> Iterator[None]:
    """Turns SQLite's and the file system's errors into sentences; anything else goes through as it is."""
    try:
        yield
    except (sqlite3.Error, peewee.PeeweeException, OverflowError, UnicodeEncodeError, OSError) as error:
        words = in_words(error)
        if words is None:
            raise
        raise words from error
