"""Hunts for what should not be: a short behind a fuse, a load that stays on, a drain, what comes and goes."""

from collections.abc import Iterator, Sequence

from tracker.records.card import SymptomKind
from tracker.trace.bench import Row
from tracker.trace.check import Check
from tracker.trace.offering import PARTED, Offering, ends_of
from tracker.trace.parts import Single, zones_of
from tracker.trace.said import states_of
from tracker.trace.shown import SHORTS


class Hunts(Offering):
    """Checks that hunt something down plug by plug or fuse by fuse."""

    def _fuse_lamp(self, parts: Sequence[Single]) -> Iterator[Check]:
        shorts = [one for one in parts if one.fault in SHORTS]
        for state in self.states()[:1]:
            for fuse in self._blown(shorts, state):
                yield self._make("lamp for the fuse", fuse, state)

    def _unplug(self, parts: Sequence[Single]) -> Iterator[Check]:
        """Where something is on that should not be, or a lamp stands in for a fuse: does it go out?"""
        on = {SymptomKind.WONT_GO_OFF, SymptomKind.COMES_ON_WITH}
        for mark in self.complaints:
            if mark.symptom in on:
                for state in states_of(self.bench, mark)[:1]:
                    for body in self._plugs(parts):
                        yield self._make("unplug", body, state, load=mark.load)
        shorts = [one for one in parts if one.fault in SHORTS]
        for state in self.states()[:1]:
            for fuse, some in self._blown(shorts, state).items():
                for body in self._plugs(some) if len(some) > 1 else ():
                    yield self._make("unplug", body, state, load=fuse)

    def _blown(self, parts: Sequence[Single], state: str) -> dict[str, list[Single]]:
        """The fuses that some of these faults blow, each with those."""
        blows = self.bench.view(state, [Row((one,)) for one in parts]).blows
        found: dict[str, list[Single]] = {}
        for one, fuses in zip(parts, blows, strict=True):
            for fuse in fuses:
                found.setdefault(fuse, []).append(one)
        return dict(sorted(found.items()))

    def _plugs(self, parts: Sequence[Single]) -> tuple[str, ...]:
        loom = self.bench.loom
        ends = {end.place for one in parts for end in ends_of(self.bench, one)}
        near = {place for wire in loom.wires.values() for place in (wire.a.place, wire.b.place)
                if wire.a.place in ends or wire.b.place in ends} | ends  # fmt: skip
        bodies = [loom.places[place].body for place in sorted(near) if loom.places[place].kind in PARTED]
        return tuple(dict.fromkeys(body for body in bodies if body in loom.bodies))

    def _drains(self, parts: Sequence[Single]) -> Iterator[Check]:
        if any(mark.symptom is SymptomKind.FLAT_PARKED for mark in self.complaints) and parts:
            for fuse in self._fuses():
                yield self._make("drop across a fuse", fuse.id, "off")

    def _ac(self, parts: Sequence[Single]) -> Iterator[Check]:
        windings = [d for d in self._devices() if d.kind == "source" and d.ac]
        parted = {one.part[1] for one in parts}
        if "riding" in self.bench.states and any(d.id in parted or d.body in parted for d in windings):
            bodies = [b for b in self.bench.loom.bodies.values() if b.kind == "plug" and "stator" in b.id]
            for body in bodies:
                ways = sorted(p.id for p in self.bench.loom.places.values() if p.body == body.id)
                for n, way in enumerate(ways):
                    for other in ways[n + 1 :]:
                        yield self._make("AC volts", f"{way}@in", "riding", against=f"{other}@in")

    def _wiggle(self, parts: Sequence[Single]) -> Iterator[Check]:
        if any(mark.when or mark.symptom is SymptomKind.COMES_AND_GOES for mark in self.complaints):
            zones = dict.fromkeys(zone for one in parts for zone in zones_of(self.bench.loom, one))
            for state in self.states()[:1]:
                for zone in zones:
                    yield self._make("wiggle", zone, state)
