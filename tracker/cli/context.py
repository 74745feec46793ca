"""What every command shares: which file, who is at the keyboard, JSON or words."""

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from tracker import settings
from tracker.errors import LoomcardError, StoreRefusedError

if TYPE_CHECKING:
    from tracker.desk.desk import Desk

FILE_VARIABLE = "LOOMCARD_FILE"
WHO_VARIABLE = "LOOMCARD_WHO"


@dataclass(slots=True)
class Context:
    """The words of a command that are not the deed's own."""

    file: str = ""
    who: str = ""
    as_json: bool = False
    token: str | None = None

    @property
    def path(self) -> Path:
        """The file: named, from the environment, the last one used, else the usual one."""
        named = self.file or os.environ.get(FILE_VARIABLE, "") or settings.read_preferences().last_file
        return Path(named).expanduser() if named else settings.default_file()

    @property
    def person(self) -> str:
        """Who is at the keyboard: named, from the environment, or the person's preference."""
        return self.who or os.environ.get(WHO_VARIABLE, "") or settings.read_preferences().who

    def open_desk(self, *, create: bool = False) -> "Desk":
        """The desk on that file, to be closed by whoever asked for it."""
        return self._open(self.path, create=create)

    def _open(self, path: Path, *, create: bool) -> "Desk":
        from tracker.clock import clock_of_this_machine
        from tracker.desk.desk import open_desk

        return open_desk(path, clock_of_this_machine(), who=self.person, create=create)

    @contextmanager
    def desk(self, *, create: bool = False) -> Iterator["Desk"]:
        """The desk on that file, which is made where `create`."""
        with self._opened(self.path, create=create) as desk:
            yield desk

    @contextmanager
    def desk_for_a_deed(self) -> Iterator["Desk"]:
        """The desk on that file; a first deed makes the file, and one that fails leaves none behind.

        A new file is written beside its place and put there when all went well, never over another: what a
        second window made meanwhile stays. Raises StoreRefusedError where that happened.
        """
        path = self.path
        if path.exists():
            with self.desk() as desk:
                yield desk
            return
        beside = path.with_name(f".{path.name}.new-{os.getpid()}")
        try:
            with self._opened(beside, create=True) as desk:
                yield desk
            _put(beside, path)
        except LoomcardError as error:
            error.sentence = error.sentence.replace(str(beside), str(path))
            raise
        finally:
            for ending in ("", "-wal", "-shm"):
                with suppress(OSError):  # there may be no such folder
                    beside.with_name(f"{beside.name}{ending}").unlink()

    @contextmanager
    def _opened(self, path: Path, *, create: bool) -> Iterator["Desk"]:
        desk = self._open(path, create=create)
        try:
            yield desk
        finally:
            desk.close()


def _put(beside: Path, path: Path) -> None:
    """Puts a new file in its place; raises StoreRefusedError where there is one by now."""
    try:
        path.hardlink_to(beside)
    except FileExistsError:
        raise StoreRefusedError(
            f"{path} was made by another window meanwhile; this was not written.", "Do it again."
        ) from None
    except OSError:  # a file system without links: some sticks and shares
        if path.exists():
            raise
        beside.rename(path)
