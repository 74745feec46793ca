"""Start-up, as ratios in one run: `python -m tests.bench.startup`.

The base is a bare Python that imports sqlite3 and peewee; each command is a process of its own on the walk.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from datetime import date
from pathlib import Path

from tracker.desk.replay import write
from tracker.seedfiles.script import load_script

ROUNDS = 15
BASE = ("-c", "import sqlite3, peewee")
CASES: dict[str, tuple[str, ...]] = {
    "bare Python": ("-c", "pass"),
    "Python + sqlite3 + peewee (base)": BASE,
    "loomcard --version": ("-m", "tracker", "--version"),
    "loomcard day": ("-m", "tracker", "day"),
    "loomcard card 1": ("-m", "tracker", "card", "1"),
    "loomcard find lkm": ("-m", "tracker", "find", "lkm"),
    "loomcard book-in lkm412 horn": ("-m", "tracker", "book-in", "lkm412", "horn"),
    "loomcard look 1 --off seat (loads the loom)": ("-m", "tracker", "look", "1", "--off", "seat"),
}


def seconds(words: tuple[str, ...], environment: dict[str, str]) -> float:
    """Wall time of one process."""
    begun = time.perf_counter()
    subprocess.run([sys.executable, *words], env=environment, check=True, capture_output=True)
    return time.perf_counter() - begun


def main() -> None:
    """Prints the median of interleaved rounds, and each as a ratio to the base."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "bench.loomcard"
        write(path, load_script("walk"), date(2026, 3, 2))
        environment = {
            **os.environ,
            "LOOMCARD_FILE": str(path),
            "LOOMCARD_CONFIG": folder,
            "LOOMCARD_WHO": "Ines Halloran",
        }
        taken: dict[str, list[float]] = {name: [] for name in CASES}
        for _ in range(ROUNDS):
            for name, words in CASES.items():
                taken[name].append(seconds(words, environment))
    base = statistics.median(taken["Python + sqlite3 + peewee (base)"])
    for name, times in taken.items():
        middle = statistics.median(times)
        print(f"{name:<46} {middle * 1000:7.0f} ms   {middle / base:5.2f} x base")


if __name__ == "__main__":
    main()
