"""Somebody without rights: a process that gives its rights up, then tries to read and to write a file.

`python -m tests.store.stranger FILE` prints {"opened": ..., "read": ..., "wrote": ...}: true, or the refusal.
"""

import json
import os
import sys
from collections.abc import Callable
from pathlib import Path

from tests.store.making import book_in, count, do, opened
from tracker.errors import StoreRefusedError
from tracker.store.store import Store

NOBODY = 65534


def give_up_rights() -> None:
    """Tests may run as root, for whom no folder is read-only."""
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        os.setgroups([])
        os.setgid(NOBODY)
        os.setuid(NOBODY)


def tried(work: Callable[[], object]) -> object:
    try:
        work()
    except StoreRefusedError as refusal:
        return [refusal.sentence, refusal.hint]
    return True


def main(path: Path) -> None:
    give_up_rights()
    said: dict[str, object] = {}
    stores: list[Store] = []
    said["opened"] = tried(lambda: stores.append(opened(path, busy_ms=50)))
    for store in stores:
        said["read"] = tried(lambda store=store: count(store, "card"))  # type: ignore[misc]
        said["wrote"] = tried(lambda store=store: do(store, book_in))  # type: ignore[misc]
        store.close()
    print(json.dumps(said))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
