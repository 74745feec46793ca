"""Windows that open the same new file in the same instant, over and over.

`python -m tests.store.opening FOLDER TIMES` prints what went wrong, a line each. Forked from here, where
no thread runs, they start within microseconds of each other.
"""

import os
import sys
import time
from pathlib import Path

from tests.store.making import book_in, count, deed, opened

WINDOWS = 6


def window(path: Path, start: float) -> None:
    while time.monotonic() < start:
        pass
    with opened(path, busy_ms=20_000) as store:
        store.do(deed(), book_in)


def at_once(path: Path) -> None:
    start = time.monotonic() + 0.03
    children = []
    for _ in range(WINDOWS):
        child = os.fork()
        if child == 0:
            try:
                window(path, start)
                os._exit(0)
            except BaseException as error:
                print(f"{type(error).__name__}: {error}", flush=True)
                os._exit(1)
        children.append(child)
    for child in children:
        os.waitpid(child, 0)
    with opened(path) as store:
        if count(store, "card") != WINDOWS:
            print(f"{count(store, 'card')} cards of {WINDOWS}")


def main(folder: Path, times: int) -> None:
    for number in range(times):
        at_once(folder / f"{number}.loomcard")


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
