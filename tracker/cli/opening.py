"""The screens on a file, opened without the library of the command line: they are waited for the most."""

import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from tracker.cli.context import Context

if TYPE_CHECKING:
    from pathlib import Path

    from tracker.desk.desk import Desk

OPTIONS = {"--file": "file", "--who": "who"}
"""The options beside which nothing else may stand for the line to ask for the screens alone."""


def screens_alone(args: Sequence[str]) -> Context | None:
    """The context of a line that asks for the screens and nothing else; None for any other line.

    >>> screens_alone(["--file", "shop.loomcard", "--who=Ines"])
    Context(file='shop.loomcard', who='Ines', as_json=False, token=None)
    >>> screens_alone(["day"]), screens_alone(["--file"]), screens_alone(["--file", "--who"])
    (None, None, None)
    """
    given: dict[str, str] = {}
    words = iter(args)
    for word in words:
        name, has_value, value = word.partition("=")
        found = value if has_value else next(words, "")
        if name not in OPTIONS or not found or (not has_value and found.startswith("-")):
            return None
        given[OPTIONS[name]] = found
    return Context(file=given.get("file", ""), who=given.get("who", ""))


def open_screens(context: Context, note: str = "", first: Callable[[], None] | None = None) -> int:
    """Opens the screens on the context's file and returns the exit code; Textual is imported only here.

    `first` is done once they are painted and before the file is opened. Raises LoomcardError where the
    file could not be opened.
    """
    from tracker.screens.app import LoomcardApp
    from tracker.settings import read_preferences

    def opens() -> "Desk":
        if first is not None:
            first()
        return context.open_desk(create=True)

    app = LoomcardApp(opens, note, read_preferences(), _log)
    try:
        app.run()
    finally:
        app.close_desk()
    if app.refused is not None:
        raise app.refused
    return app.return_code or 0


def _log(error: BaseException) -> "Path":
    from tracker.cli.failure import log_failure

    return log_failure(error)


def on_a_terminal() -> bool:
    """Whether there is a terminal to paint on."""
    return sys.stdout.isatty()
