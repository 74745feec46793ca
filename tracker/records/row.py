"""What every stored record has: an id given by the store, and a token made by the one who saves it."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A fact that is appended and never edited. `id` is 0 until stored.

    `token` is made by the client and unique: a save repeated after a crash finds its own row again.
    """

    id: int = 0
    token: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept(Row):
    """A record that can be edited. `version` grows with each change; an edit names the one it saw."""

    version: int = 1
