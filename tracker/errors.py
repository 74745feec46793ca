"""The one family of errors: a sentence a person can act on, a hint, and an exit code.

A person's mistakes in fields are values (`tracker.records.problem.Problem`), gathered and raised
together as `Mistakes`; everything here is what ends a deed as a whole.
"""

from typing import ClassVar


class LoomcardError(Exception):
    """Anything the program refuses or cannot do, in words for the person at the keyboard."""

    exit_code: ClassVar[int] = 1

    def __init__(self, sentence: str, hint: str = "") -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.hint = hint


class NotFoundError(LoomcardError):
    """Nothing by that name or number."""

    exit_code = 1


class CheckFailedError(LoomcardError):
    """A check ran and found something wrong."""

    exit_code = 1


class WrongUseError(LoomcardError):
    """The words of a command, or a deed out of its turn: nothing was written."""

    exit_code = 2


class StoreRefusedError(LoomcardError):
    """The file could not take or give what was asked: full, locked, damaged, newer, foreign, read-only."""

    exit_code = 3


class ChangedElsewhereError(StoreRefusedError):
    """The row was changed by somebody else since it was read."""
