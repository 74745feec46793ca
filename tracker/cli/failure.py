"""The unexpected, written to a log file: which code, which kind of error; nobody's data."""

import traceback
from pathlib import Path

from tracker import __version__
from tracker.clock import clock_of_this_machine
from tracker.settings import log_folder


def log_failure(error: BaseException) -> Path:
    """Appends the failure to the log and returns its path. Messages and values may hold data: left out."""
    folder = log_folder()
    path = folder / "loomcard.log"
    lines = [f"{clock_of_this_machine().now().isoformat()} loomcard {__version__}"]
    one: BaseException | None = error
    while one is not None:
        lines.append(f"{type(one).__module__}.{type(one).__name__}")
        lines += [f"  {f.filename}:{f.lineno} in {f.name}" for f in traceback.extract_tb(one.__traceback__)]
        one = one.__cause__ or one.__context__
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with path.open("a", encoding="utf-8") as log:
            log.write("\n".join(lines) + "\n\n")
    except OSError:
        pass
    return path
