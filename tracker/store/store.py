"""The store: one file, one connection, one thread that owns it; one transaction and journal entry a deed."""

import sqlite3
import time
from collections.abc import Callable, Iterator
from concurrent.futures import Future
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, TypeVar

import peewee

from tracker.errors import StoreRefusedError, WrongUseError
from tracker.records.journal import JournalEntry
from tracker.records.row import Row
from tracker.store import steps
from tracker.store.identity import look_first
from tracker.store.reader import Reader
from tracker.store.tables import CLASS_OF
from tracker.store.unit import Unit
from tracker.store.worker import Worker

T = TypeVar("T")
R = TypeVar("R", bound=Row)

BUSY_MS = 5000
"""How long to wait for another window's write before saying that the file is held."""

LOOK_UP_S = 0.2
"""How often a thread that waits looks up: on Windows a wait without end is deaf to the keyboard."""

PRAGMAS: dict[str, Any] = {
    "synchronous": "full",
    "foreign_keys": 1,
    "recursive_triggers": 1,  # else INSERT OR REPLACE walks past a seal
}


@dataclass(frozen=True, slots=True)
class Deed:
    """One deed to be done: its verb, who does it, when, and the token that makes it happen only once."""

    verb: str
    who: str
    at: datetime
    token: str


class Store:
    """One open file. Work is handed to its thread as a function of a Reader, or of a Unit for a deed."""

    def __init__(
        self, path: Path, now: Callable[[], datetime], *, create: bool, busy_ms: int = BUSY_MS
    ) -> None:
        """Opens `path`, or makes it where `create`; raises StoreRefusedError. `busy_ms` in ms."""
        self.path = path
        self.made_new = False
        self._now = now
        self._create = create
        self._busy_ms = busy_ms
        self._database = peewee.SqliteDatabase(
            str(path.absolute()), pragmas=PRAGMAS, timeout=busy_ms / 1000, autoconnect=False
        )
        self._reader = Reader(self._database)
        self._worker = Worker("loomcard-store", self._end)
        self._whole: list[Any] = []
        try:
            _waited(self._worker.hand(self._open))
        except BaseException:
            self.close()
            raise

    def submit(self, work: Callable[[Reader], T]) -> "Future[T]":
        """Hands `work` to the store's thread; the future carries its result or its error in words.

        All that one piece of work reads is of one instant, whatever other windows write meanwhile.
        """
        return self._worker.hand(lambda: self._read(work))

    def read(self, work: Callable[[Reader], T]) -> T:
        """Runs `work` in the store's thread and waits."""
        return _waited(self.submit(work))

    def do(self, deed: Deed, work: Callable[[Unit], R]) -> R:
        """Does a deed and waits: one immediate transaction, one journal entry, acknowledged when durable.

        A deed whose token is already in the journal is not done again: its record is given as it is now.
        Interrupted from the keyboard, a deed that has not begun is not done; one that has begun runs to its
        end unseen, and its token tells afterwards.
        """
        return _waited(self.submit_deed(deed, work))

    def submit_deed(self, deed: Deed, work: Callable[[Unit], R]) -> "Future[R]":
        """As `do`, without waiting."""
        return self._worker.hand(lambda: self._do(deed, work))

    @contextmanager
    def one_transaction(self) -> Iterator[None]:
        """Many deeds of this thread as one: all of them are kept, or none. For the demo and for imports.

        What other threads hand in meanwhile waits until it is over.
        """
        whole = self._database.atomic("IMMEDIATE")
        with self._worker.to_myself() as hand:
            try:
                _waited(hand(lambda: self._begin(whole)))
                yield
            except BaseException as error:
                failure = error
                with suppress(StoreRefusedError):  # closed from inside: taken back already
                    _waited(hand(lambda: self._leave(whole, failure)), give_up=False)
                raise
            _waited(hand(lambda: self._leave(whole, None)), give_up=False)

    def close(self) -> None:
        """Closes the file after all that was handed in is done. Closing twice does nothing."""
        self._worker.end()

    def __enter__(self) -> "Store":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # ---- in the store's own thread

    def _open(self) -> None:
        if not self.path.exists():
            if not self._create:
                raise StoreRefusedError(
                    f"There is no file {self.path}.", "A first deed makes one; or name another with --file."
                )
            self.path.parent.mkdir(parents=True, exist_ok=True)
        elif self.path.is_dir():
            raise StoreRefusedError(f"{self.path} is a folder, not a file.", "Name a file with --file.")
        else:
            look_first(self.path, len(steps.STEPS))
        self._database.connect()
        connection = self._connection
        _write_ahead(connection, self._busy_ms)
        taken = steps.bring_up_to_date(connection, self.path, self._now)
        self.made_new = taken == len(steps.STEPS)

    def _read(self, work: Callable[[Reader], T]) -> T:
        if self._whole:
            return work(self._reader)
        connection = self._connection
        self._reader.sql("BEGIN")
        changes = connection.total_changes
        try:
            result = work(self._reader)
            if connection.total_changes != changes:  # a draft
                self._reader.sql("COMMIT")
        finally:
            if connection.in_transaction:  # COMMIT would fail over a damaged page met on the way
                self._reader.sql("ROLLBACK")
        return result

    def _do(self, deed: Deed, work: Callable[[Unit], R]) -> R:
        broken = self._broken_whole()
        if broken is not None:
            raise broken
        with self._database.atomic("IMMEDIATE"):  # inside a whole this is a savepoint of it
            done = self._reader.first(JournalEntry, token=deed.token)
            if done is not None:
                again: R = self._as_it_is_now(done)
                return again
            unit = Unit(self._database, deed.token, deed.at)
            subject = work(unit)
            unit.write_journal(deed.who, deed.verb, subject)
        return subject

    def _as_it_is_now(self, entry: JournalEntry) -> Any:
        if self._reader.first(JournalEntry, undoes=entry.id) is not None:
            raise WrongUseError(f"“{entry.words}” was done, and taken back since.", "Do it as a new deed.")
        assert entry.subject_id is not None
        return self._reader.get(CLASS_OF[entry.subject_table], entry.subject_id)

    def _begin(self, whole: Any) -> None:
        whole.__enter__()
        self._whole.append(whole)

    def _leave(self, whole: Any, error: BaseException | None) -> None:
        if whole not in self._whole:
            return  # it never began
        broken = self._broken_whole()
        why = error or broken
        self._whole.remove(whole)
        try:
            whole.__exit__(type(why) if why else None, why, why.__traceback__ if why else None)
        except peewee.OperationalError:
            if broken is None:
                raise  # else there is nothing left to take back
        if error is None and broken is not None:
            raise broken

    def _broken_whole(self) -> StoreRefusedError | None:
        """SQLite takes a whole transaction back by itself when the disk is full: nothing may follow it."""
        if not self._whole or self._connection.in_transaction:
            return None
        return StoreRefusedError(
            "What belongs together was taken back as a whole after a failure.", "Nothing of it was written."
        )

    @property
    def _connection(self) -> sqlite3.Connection:
        connection: sqlite3.Connection = self._database.connection()  # type: ignore[no-untyped-call]
        return connection

    def _end(self) -> None:
        try:
            while self._whole:
                self._leave(self._whole[-1], StoreRefusedError("The file was closed meanwhile."))
        finally:
            if not self._database.is_closed():
                self._database.close()


def _write_ahead(connection: sqlite3.Connection, busy_ms: int) -> None:
    """Switches the file to a write-ahead log, which it stays in.

    Two windows that open a new file at once stand in each other's way here, and SQLite says so at once
    instead of waiting, lest both wait for ever: so we wait.
    """
    until = time.monotonic() + busy_ms / 1000
    while True:
        try:
            connection.execute("PRAGMA journal_mode = wal").fetchone()
        except sqlite3.OperationalError as error:
            if error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_BUSY or time.monotonic() > until:
                raise
            time.sleep(0.005)
        else:
            return


def _waited(future: "Future[T]", *, give_up: bool = True) -> T:
    """The future's result; an interrupt from the keyboard gives up what has not begun, where it may."""
    try:
        while True:
            try:
                return future.result(LOOK_UP_S)
            except TimeoutError:
                if future.done():
                    return future.result()
    except KeyboardInterrupt:
        if give_up:
            future.cancel()
        raise
