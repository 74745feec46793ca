"""Finding a part by the words people use for it: trade name, synonym, or what it does."""

from collections.abc import Iterator
from dataclasses import dataclass
from difflib import get_close_matches

from tracker.records.loom import About, Entry, What
from tracker.records.loom_made import Loom
from tracker.records.text import fold

MOST = 12
CLOSE = 0.75


@dataclass(frozen=True, slots=True)
class Hit:
    """A part found. `rank` 0: called just so; 1: begins so; 2: has the words; 3: does it; 4: nearly so."""

    what: What
    id: str
    words: str
    rank: int


def find(loom: Loom, text: str, most: int = MOST) -> tuple[Hit, ...]:
    """The parts that `text` may mean, the likeliest first; nothing typed finds nothing."""
    wanted = fold(text)
    if not wanted:
        return ()
    hits: list[Hit] = []
    for what, entry in _named(loom):
        rank = _rank(entry, wanted)
        if rank is not None:
            hits.append(Hit(what, entry.id, entry.words, rank))
    if not hits:
        hits = _nearly(loom, wanted)
    hits.sort(key=lambda hit: (hit.rank, not fold(hit.words).startswith(wanted)))
    return tuple(hits[:most])


def find_loads(loom: Loom, text: str) -> tuple[str, ...]:
    """The loads that `text` may mean, the likeliest first: by id, words, synonyms, or in a body so called."""
    wanted = fold(text)
    loads = [device for device in loom.devices.values() if device.is_load]
    exact = [one.id for one in loads if wanted and wanted in {fold(one.id), fold(one.words)}]
    called = [one.id for one in loads if wanted and wanted in {fold(name) for name in one.synonyms}]
    within: list[str] = []
    for hit in find(loom, text):
        if hit.what == "device" and loom.devices[hit.id].is_load:
            within.append(hit.id)
        elif hit.what == "body":
            within += [one.id for one in loads if one.body == hit.id]
    return tuple(dict.fromkeys((*exact, *called, *within)))


def names(loom: Loom) -> tuple[Hit, ...]:
    """Everything that can be looked for, by its words."""
    every = [Hit(what, entry.id, entry.words, 0) for what, entry in _named(loom)]
    return tuple(sorted(every, key=lambda hit: fold(hit.words)))


def _named(loom: Loom) -> Iterator[tuple[What, Entry]]:
    """Bodies first, then loads and others with a name of their own, then places and wires that have one."""
    yield from (("body", body) for body in loom.bodies.values())
    for device in loom.devices.values():
        own = device.component or device.synonyms or device.first_check or device.kind == "fuse"
        if own or device.body not in loom.bodies:
            yield "device", device
    yield from (("place", place) for place in loom.places.values() if place.body not in loom.bodies)
    yield from (("wire", wire) for wire in loom.wires.values() if wire.words)


def _rank(entry: Entry, wanted: str) -> int | None:
    called = [fold(name) for name in (entry.words, entry.id, *entry.synonyms)]
    if wanted in called:
        return 0
    if any(name.startswith(wanted) for name in called):
        return 1
    if _has(wanted, " ".join(called)):
        return 2
    if isinstance(entry, About):
        deeds = fold(" ".join((*called, entry.does, entry.component, *entry.symptoms)))
        if _has(wanted, deeds):
            return 3
    return None


def _has(wanted: str, text: str) -> bool:
    words = text.split()
    return all(any(word.startswith(part) for word in words) for part in wanted.split())


def _nearly(loom: Loom, wanted: str) -> list[Hit]:
    called: dict[str, list[tuple[What, Entry]]] = {}
    for what, entry in _named(loom):
        for name in (entry.words, *entry.synonyms):
            called.setdefault(fold(name), []).append((what, entry))
    near = get_close_matches(wanted, called, n=4, cutoff=CLOSE)
    found = {entry.id: Hit(what, entry.id, entry.words, 4) for name in near for what, entry in called[name]}
    return list(found.values())
