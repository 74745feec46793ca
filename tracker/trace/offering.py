"""What all offered checks are made with: the bench, the marks, the states, which places a probe reaches."""

from collections.abc import Iterable, Sequence
from typing import Final

from tracker.loom.network_faults import WEAK_OHM
from tracker.records.card import SymptomKind
from tracker.records.loom import Device, End, PlaceKind
from tracker.records.loom_pattern import State
from tracker.records.trace import CheckWord, Mark, TraceTables
from tracker.trace.bench import Bench
from tracker.trace.check import Check, check
from tracker.trace.parts import Single
from tracker.trace.said import WRONG, states_of

PROBED: Final[frozenset[PlaceKind]] = frozenset(
    {"way", "bullet", "blade", "screw", "post", "holder", "earth", "metal"}
)
"""Kinds of place that a probe reaches."""

PARTED: Final = frozenset({"way", "bullet", "blade"})
"""Kinds of place that come apart by hand."""


class Offering:
    """What makes checks for a bench."""

    def __init__(self, bench: Bench, tables: TraceTables, marks: Sequence[Mark]) -> None:
        self.bench = bench
        self.tables = tables
        self.marks = marks
        self.complaints = [mark for mark in marks if mark.symptom in WRONG]

    def states(self) -> tuple[str, ...]:
        """The states in which something is wrong, the first complaint's first; two at most."""
        found = dict.fromkeys(
            state
            for mark in self.complaints
            for state in states_of(self.bench, mark)[:1]
            if mark.symptom is not SymptomKind.FLAT_PARKED
        )
        return tuple(found)[:2]

    def _make(self, kind: CheckWord, place: str, state: str, **more: str) -> Check:
        named = self.bench.states[state]
        reach = kind not in {"see", "click"}
        return check(self.bench.loom, self.tables, kind, place, _named(named, state), reach=reach, **more)

    def _ends(self, parts: Sequence[Single]) -> tuple[End, ...]:
        ends = (end for one in parts for end in ends_of(self.bench, one))
        return tuple(end for end in dict.fromkeys(ends) if self._probed(end))

    def _probed(self, end: End) -> bool:
        place = self.bench.loom.places.get(end.place)
        if place is None:
            return False
        body = self.bench.loom.bodies.get(place.body)
        return place.kind in PROBED or (place.kind == "inside" and body is not None and body.kind == "switch")

    def _devices(self) -> Iterable[Device]:
        return self.bench.loom.devices.values()

    def _fuses(self) -> list[Device]:
        return [device for device in self._devices() if device.kind == "fuse"]


def ends_of(bench: Bench, single: Single) -> tuple[End, ...]:
    """The sides of places at a part: where a probe would go."""
    what, id_ = single.part
    if what == "place":
        return End(id_, "in"), End(id_, "out")
    part = bench.loom.wires.get(id_) if what == "wire" else bench.loom.devices.get(id_)
    return (part.a, part.b) if part is not None else ()


def across(bench: Bench, single: Single) -> tuple[End, End] | None:
    """The two sides of a part, for a drop; None where they are one spot."""
    ends = ends_of(bench, single)
    if len(ends) != 2:
        return None
    what, id_ = single.part
    if what == "place" and WEAK_OHM.get(bench.loom.places[id_].kind) is None:
        return None
    return ends[0], ends[1]


def _named(state: State, name: str) -> State:
    return state if state.id == name else State(id=name, words=state.words, at=state.at, rpm=state.rpm)
