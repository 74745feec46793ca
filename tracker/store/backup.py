"""A sound copy of the file while it is in use, and the way back from one."""

import shutil
import sqlite3
import time
import uuid
from collections.abc import Callable
from contextlib import closing
from datetime import datetime
from pathlib import Path

from tracker.errors import StoreRefusedError
from tracker.store.copying import DamagedError, copy_whole, flush, free_name
from tracker.store.identity import is_sqlite, log_of, look_first, read_only, reading
from tracker.store.steps import STEPS, bring_up_to_date
from tracker.store.store import BUSY_MS, Store
from tracker.store.translate import BUSY, speaking_plainly

DAMAGE = frozenset({sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB})


def backup(store: Store, target: Path, *, overwrite: bool = False) -> Path:
    """Writes a checked copy of all that is acknowledged to `target`; windows go on working meanwhile.

    `target` is there whole or, where anything fails, as it was before. Raises StoreRefusedError.
    """
    with speaking_plainly():
        if target.is_dir():
            raise StoreRefusedError(f"{target} is a folder, not a file.", "Name the file to be written.")
        if target.exists() and target.samefile(store.path):
            raise StoreRefusedError(f"{target} is the file itself.", "Name another one.")
        if target.exists() and not overwrite:
            raise StoreRefusedError(f"There is a file {target} already.", "Name another one.")
        if not target.parent.is_dir():
            raise StoreRefusedError(f"There is no folder {target.parent}.", "Make it, or name another one.")
        with closing(read_only(store.path, "mode=ro")) as reader:
            copy_whole(reader, store.path, target, len(STEPS))
    return target


def restore(path: Path, source: Path, now: datetime, *, busy_ms: int = BUSY_MS) -> Path | None:
    """Brings the file at `path` back to `source`; returns where the present one is kept aside, if any.

    `source` is checked first: ours, not newer, sound; it is not changed. The content is replaced in one
    transaction, so that windows that have the file open go on with what was restored. A present file that
    is damaged is kept aside byte for byte. Raises StoreRefusedError; the present file is then as it was.
    """
    with speaking_plainly():
        if path.is_dir():
            raise StoreRefusedError(f"{path} is a folder, not a file.", "Name a file with --file.")
        if not source.exists():
            raise StoreRefusedError(f"There is no file {source}.", "Name the backup to be restored.")
        if path.exists() and path.samefile(source):
            raise StoreRefusedError(f"{source} is the file itself.", "Name the backup to be restored.")
        path.parent.mkdir(parents=True, exist_ok=True)
        ready = path.with_name(f".{path.name}.{uuid.uuid4().hex[:8]}.restoring")
        try:
            _make_ready(source, ready, now)
            return _exchange(ready, path, now, busy_ms)
        finally:
            ready.unlink(missing_ok=True)


def _make_ready(source: Path, ready: Path, now: datetime) -> None:
    """A checked copy of the backup, brought up to date: an open window must not meet an older schema."""
    if look_first(source, len(STEPS)) == 0:
        raise StoreRefusedError(f"There is nothing in {source.name}.", "Name the backup to be restored.")
    with closing(reading(source)) as reader:
        copy_whole(reader, source, ready, len(STEPS))
    with closing(sqlite3.connect(ready, isolation_level=None)) as connection:
        bring_up_to_date(connection, ready, lambda: now, copy_first=False)


def _exchange(ready: Path, path: Path, now: datetime, busy_ms: int) -> Path | None:
    if not path.exists() or path.stat().st_size == 0:
        _pour(ready, path, busy_ms)
        return None
    aside = free_name(path.with_name(f"{path.stem}.before-restore.{now:%Y%m%d-%H%M%S}{path.suffix}"))
    if not is_sqlite(path) or _damaged(lambda: _copy_aside(path, aside)):
        _copy_bytes(path, aside)
        _replace(ready, path)
        return aside
    try:
        _pour(ready, path, busy_ms)
    except BaseException:
        aside.unlink()
        raise
    return aside


def _copy_aside(path: Path, aside: Path) -> None:
    look_first(path, len(STEPS))  # a foreign or a newer file is not replaced
    with closing(read_only(path, "mode=ro")) as reader:
        copy_whole(reader, path, aside, len(STEPS))


def _copy_bytes(path: Path, aside: Path) -> None:
    for present, kept in ((path, aside), (log_of(path), log_of(aside))):
        if present.exists():
            shutil.copyfile(present, kept)
            flush(kept)


def _pour(ready: Path, path: Path, busy_ms: int) -> None:
    """Replaces the content page by page inside one transaction of the file itself."""
    until = time.monotonic() + busy_ms / 1000

    def give_up(status: int, _left: int, _pages: int) -> None:
        if status & 0xFF in {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED} and time.monotonic() > until:
            raise StoreRefusedError(*BUSY)

    with (
        closing(read_only(ready, "immutable=1")) as good,
        closing(sqlite3.connect(path, timeout=0, isolation_level=None)) as present,
    ):
        present.execute("PRAGMA synchronous = full")
        good.backup(present, progress=give_up, sleep=0.02)


def _replace(ready: Path, path: Path) -> None:
    """Puts another file where a damaged one lay: its log first, which would be read into the new one."""
    log_of(path).unlink(missing_ok=True)
    path.with_name(f"{path.name}-shm").unlink(missing_ok=True)
    ready.replace(path)
    flush(path.parent)


def _damaged(work: Callable[[], None]) -> bool:
    """Whether `work` failed because the file is damaged."""
    try:
        work()
    except sqlite3.DatabaseError as error:
        if error.sqlite_errorcode & 0xFF not in DAMAGE:
            raise
        return True
    except DamagedError:
        return True
    return False
