"""Another window: a process that does deeds in a file and says each one when it is acknowledged.

`python -m tests.store.writer FILE WHO COUNT` books in COUNT cards, printing their numbers.
"""

import sys
from pathlib import Path

from tests.store.making import book_in, deed, opened


def main(path: Path, who: str, count: int) -> None:
    with opened(path, busy_ms=30_000) as store:
        for _ in range(count):
            print(store.do(deed(who), book_in).number, flush=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]))
