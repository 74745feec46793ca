"""What every command shares: which file, who is at the keyboard, JSON or words."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from tracker import settings
from tracker.clock import clock_of_this_machine

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
        from tracker.desk.desk import open_desk

        return open_desk(self.path, clock_of_this_machine(), who=self.person, create=create)

    @contextmanager
    def desk(self, *, create: bool = False) -> Iterator["Desk"]:
        """The desk on that file; a first deed makes the file."""
        desk = self.open_desk(create=create)
        try:
            yield desk
        finally:
            desk.close()
