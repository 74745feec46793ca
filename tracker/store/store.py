"""The store: one file, one connection, one thread that owns it; one transaction and journal entry a deed."""

import queue
import sqlite3
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import Future
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, TypeVar

import peewee

from tracker.errors import StoreRefusedError
from tracker.records.journal import JournalEntry
from tracker.records.row import Row
from tracker.store import steps
from tracker.store.reader import Reader
from tracker.store.tables import CLASS_OF
from tracker.store.translate import speaking_plainly
from tracker.store.unit import Unit

T = TypeVar("T")
R = TypeVar("R", bound=Row)

BUSY_MS = 5000
"""How long to wait for another window's write before saying that the file is held."""

PRAGMAS: dict[str, Any] = {
    "journal_mode": "wal",
    "synchronous": "full",
    "foreign_keys": 1,
    "recursive_triggers": 1,  # else INSERT OR REPLACE walks past a seal
    "busy_timeout": BUSY_MS,
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

    def __init__(self, path: Path, now: Callable[[], datetime], *, create: bool) -> None:
        self.path = path
        self._now = now
        self._create = create
        self._waiting: queue.SimpleQueue[tuple[Future[Any], Callable[[], Any]] | None] = queue.SimpleQueue()
        self._database = peewee.SqliteDatabase(str(path), pragmas=PRAGMAS, autoconnect=False)
        self._reader = Reader(self._database)
        self._thread = threading.Thread(target=self._work, name="loomcard-store", daemon=True)
        self._thread.start()
        self.made_new = False
        self._nested = False
        try:
            self.submit(lambda _: self._open()).result()
        except BaseException:
            self.close()
            raise

    def submit(self, work: Callable[[Reader], T]) -> "Future[T]":
        """Hands `work` to the store's thread; the future carries its result or its error in words."""
        future: Future[T] = Future()
        self._waiting.put((future, lambda: work(self._reader)))
        return future

    def read(self, work: Callable[[Reader], T]) -> T:
        """Runs `work` in the store's thread and waits."""
        return self.submit(work).result()

    def do(self, deed: Deed, work: Callable[[Unit], R]) -> R:
        """Does a deed and waits: one immediate transaction, one journal entry, acknowledged when durable.

        A deed whose token is already in the journal is not done again: its record is given as it is now.
        """
        return self.submit_deed(deed, work).result()

    def submit_deed(self, deed: Deed, work: Callable[[Unit], R]) -> "Future[R]":
        """As `do`, without waiting."""
        return self.submit(lambda _: self._do(deed, work))

    @contextmanager
    def one_transaction(self) -> Iterator[None]:
        """Many deeds as one: all of them are kept, or none. For the demo and for imports."""
        outer = self._database.atomic("IMMEDIATE")
        self.read(lambda _: outer.__enter__())
        self._nested = True
        try:
            yield
        except BaseException as error:
            self._nested = False
            failure = (type(error), error, error.__traceback__)
            self.read(lambda _: outer.__exit__(*failure))
            raise
        self._nested = False
        self.read(lambda _: outer.__exit__(None, None, None))

    def close(self) -> None:
        """Closes the file after all that was handed in is done."""
        if self._thread.is_alive():
            self._waiting.put(None)
            self._thread.join()

    def __enter__(self) -> "Store":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # ---- in the store's own thread

    def _work(self) -> None:
        while (handed := self._waiting.get()) is not None:
            future, work = handed
            if not future.set_running_or_notify_cancel():
                continue
            try:
                with speaking_plainly():
                    result = work()
            except BaseException as error:  # handed to whoever waits, never lost in this thread
                future.set_exception(error)
            else:
                future.set_result(result)
        if not self._database.is_closed():
            self._database.close()

    def _open(self) -> None:
        if not self.path.exists():
            if not self._create:
                raise StoreRefusedError(
                    f"There is no file {self.path}.", "A first deed makes one; or name another with --file."
                )
            self.path.parent.mkdir(parents=True, exist_ok=True)
            self.made_new = True
        elif self.path.is_dir():
            raise StoreRefusedError(f"{self.path} is a folder, not a file.", "Name a file with --file.")
        else:
            _refuse_before_writing(self.path)
        self._database.connect()
        connection = self._database.connection()  # type: ignore[no-untyped-call]
        steps.bring_up_to_date(connection, self.path, self._now)

    def _do(self, deed: Deed, work: Callable[[Unit], R]) -> R:
        with self._database.atomic() if self._nested else self._database.atomic("IMMEDIATE"):
            done = self._reader.first(JournalEntry, token=deed.token)
            if done is not None:
                again: R = self._as_it_is_now(done)
                return again
            unit = Unit(self._database, deed.token, deed.at)
            subject = work(unit)
            unit.write_journal(deed.who, deed.verb, subject)
        return subject

    def _as_it_is_now(self, entry: JournalEntry) -> Any:
        assert entry.subject_id is not None
        return self._reader.get(CLASS_OF[entry.subject_table], entry.subject_id)


def _refuse_before_writing(path: Path) -> None:
    """A foreign or newer file is refused before anything of ours (WAL included) touches it."""
    if path.stat().st_size == 0:
        return
    look = sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True)
    try:
        steps.refuse_strangers(look, path)
    finally:
        look.close()
