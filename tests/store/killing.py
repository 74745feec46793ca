"""A process that forks children which do deeds, and kills them at any moment.

`python -m tests.store.killing FOLDER TIMES` prints what it found as JSON. Forking from here, where no thread
runs, spares each child the second that imports would take.
"""

import json
import os
import random
import signal
import sys
import time
from collections import Counter
from dataclasses import asdict, dataclass, field
from pathlib import Path

from tests.store.making import book_in, count, deed, opened
from tracker.records.card import Card, Symptom
from tracker.records.journal import JournalEntry
from tracker.store.check import check
from tracker.store.store import Store

LONGEST_LIFE_S = 0.12
LONGEST_CHILDHOOD_S = 0.02
NEW_FILE_EACH = 5
"""Every so many children meet no file and live but shortly, so that some are killed while they make one."""


@dataclass
class Found:
    """What came of it all; the lists are empty when all is well."""

    acknowledged: int = 0
    durable_but_not_acknowledged: int = 0
    killed_before_any: int = 0
    lost: list[str] = field(default_factory=list)
    half: list[str] = field(default_factory=list)
    doubled: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)


def life(path: Path, number: int, pipe: int) -> None:
    """The child: says each token before it does its deed and after it was told that it is done."""
    with opened(path) as store:
        for turn in range(100_000):
            token = f"{number}.{turn}"
            os.write(pipe, f"+{token}\n".encode())
            store.do(deed(token=token), book_in)
            os.write(pipe, f"={token}\n".encode())


def live_and_die(path: Path, number: int, life_s: float) -> tuple[list[str], list[str]]:
    """(begun, acknowledged) tokens of one child that was killed after `life_s` seconds."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(reading)
            life(path, number, writing)
        finally:
            os._exit(1)
    os.close(writing)
    time.sleep(life_s)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    with os.fdopen(reading) as said:
        lines = [line.strip() for line in said if line.endswith("\n")]
    return [line[1:] for line in lines if line[0] == "+"], [line[1:] for line in lines if line[0] == "="]


def look(store: Store, begun: list[str], acknowledged: list[str], found: Found) -> None:
    """Opened again: nothing lost, nothing half, and what is repeated is not doubled."""

    def entry(token: str) -> JournalEntry | None:
        return store.read(lambda reader: reader.first(JournalEntry, token=token))

    found.acknowledged += len(acknowledged)
    found.killed_before_any += not acknowledged
    found.lost += [token for token in acknowledged if entry(token) is None]
    cards = store.read(lambda reader: reader.all(Card))
    hung = Counter(symptom.card for symptom in store.read(lambda reader: reader.all(Symptom)))
    found.half += [card.number for card in cards if hung[card.id] != 3]
    if count(store, "journal_entry") != len(cards) or count(store, "before_image") != 6 * len(cards):
        found.half.append("journal")
    for token in set(begun) - set(acknowledged):
        found.durable_but_not_acknowledged += entry(token) is not None
        before = len(cards) - (entry(token) is not None)
        for _ in range(2):
            store.do(deed(token=token), book_in)
        if count(store, "card") != before + 1:
            found.doubled.append(token)
    found.faults += [problem.sentence for problem in store.read(check)]


def main(folder: Path, times: int) -> None:
    found = Found()
    chance = random.Random()
    for number in range(times):
        path = folder / f"{number // NEW_FILE_EACH}.loomcard"
        longest = LONGEST_LIFE_S if path.exists() else LONGEST_CHILDHOOD_S
        begun, acknowledged = live_and_die(path, number, chance.uniform(0.0, longest))
        with opened(path) as store:
            look(store, begun, acknowledged, found)
    print(json.dumps(asdict(found)))


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
