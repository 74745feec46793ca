"""What one entry says of another: every name in the pattern must lead somewhere, every part must be whole."""

import dataclasses
from collections.abc import Collection, Iterable, Iterator
from itertools import pairwise
from typing import Any, get_args

from tracker.records.loom import About, At, Body, Device, Entry, Place, PlaceKind, When, Wire
from tracker.records.loom_pattern import Pattern
from tracker.seedfiles.door import Seeds
from tracker.seedfiles.loom_words import Gathered, Spot, close

COLOURS = "tables/wire_colours.csv"
NEEDS = (
    ("fuse", "rating_a", "A fuse needs its rating."),
    ("diode", "drop_v", "A diode needs the volts it takes."),
    ("resistor", "ohm", "A resistor needs its ohms."),
    ("source", "inner_ohm", "A source needs its inner ohms."),
)
"""Kind of device, the value it cannot do without, and what is said when it is missing."""


def look_over(pattern: Pattern, seeds: Seeds, gathered: Gathered) -> None:
    """Notes every name that leads nowhere and every part that lacks a value it needs."""
    check = _Check(pattern, gathered, _colours(seeds))
    check.known()
    check.once()
    for spot, entry in _with_alters(pattern):
        check.entry(spot, entry)


def _colours(seeds: Seeds) -> tuple[str, ...]:
    import csv

    rows = csv.DictReader(seeds.text(COLOURS).splitlines())
    return tuple(dict.fromkeys(row.get("colour") or "" for row in rows))


def _parts(pattern: Pattern) -> Iterator[tuple[str, Entry]]:
    tables: tuple[tuple[str, Iterable[Entry]], ...] = (
        ("body", pattern.bodies.values()),
        ("place", pattern.places.values()),
        ("device", pattern.devices.values()),
        ("wire", pattern.wires.values()),
    )
    for kind, entries in tables:
        yield from ((kind, entry) for entry in entries)


def _with_alters(pattern: Pattern) -> Iterator[tuple[Spot, Entry]]:
    for kind, entry in _parts(pattern):
        yield Spot(kind, entry.id), entry
        for number, alter in enumerate(entry.alter, 1):
            values: dict[str, Any] = dict(alter.values)
            changed = dataclasses.replace(entry, when=alter.when, alter=(), **values)
            yield Spot(kind, entry.id, f"alter {number}: "), changed


@dataclasses.dataclass(slots=True)
class _Check:
    pattern: Pattern
    gathered: Gathered
    colours: tuple[str, ...]

    def known(self) -> None:
        """Features, states, zones, accesses, joints and sizes."""
        known = self.pattern.known
        for feature in known.features.values():
            spot = Spot("feature", feature.id)
            self._names(spot.of("usual"), [feature.usual], "value", feature.values)
            self._when(spot, feature.asked)
        for state in known.states.values():
            spot = Spot("state", state.id)
            self._at(spot.of("at"), tuple((control, (position,)) for control, position in state.at.items()))
            self._when(spot, state.when)
        for zone in known.zones.values():
            self._names(Spot("zone", zone.id, "off"), zone.off, "access", known.accesses)
        for access in known.accesses.values():
            spot = Spot("access", access.id)
            self._when(spot, access.when)
            self._names(spot.of("cautions"), access.cautions, "caution", known.cautions)
        for kind in get_args(PlaceKind):
            if kind not in known.joints:
                self._no(Spot("joint", kind), "The ohms of this kind of place are missing.")
        self._names(Spot("joint", "", "kind"), known.joints, "kind of place", get_args(PlaceKind))
        for less, more in pairwise(known.sizes):
            if more.size_mm2 == less.size_mm2 or more.current_a <= less.current_a:
                self._no(
                    Spot("size", f"{more.size_mm2:g} mm²", "current_a"), "A bigger wire must carry more."
                )

    def once(self) -> None:
        """An id is for one thing only, and a former id is nobody's present one."""
        now: dict[str, str] = {}
        for kind, entry in _parts(self.pattern):
            if entry.id in now:
                self._no(Spot(kind, entry.id), f"A {now[entry.id]} has this id already.", given=entry.id)
            now.setdefault(entry.id, kind)
        before: set[str] = set()
        for kind, entry in _parts(self.pattern):
            for was in entry.was:
                if was in now or was in before:
                    self._no(Spot(kind, entry.id, "was"), f"“{was}” belongs to another entry.", given=was)
                before.add(was)

    def entry(self, spot: Spot, entry: Entry) -> None:
        """One part, as it stands or as an `alter` makes it."""
        self._when(spot, entry.when)
        if isinstance(entry, About):
            self._names(spot.of("cautions"), entry.cautions, "caution", self.pattern.known.cautions)
        match entry:
            case Body() | Place():
                body = self.pattern.bodies.get(entry.body) if isinstance(entry, Place) else None
                if body is None or body.zone != entry.zone:
                    self._names(spot.of("zone"), [entry.zone], "zone", self.pattern.known.zones)
                self._names(spot.of("off"), entry.off, "access", self.pattern.known.accesses)
            case Wire():
                self._ends(spot, entry)
                self._wire(spot, entry)
            case Device():
                self._ends(spot, entry)
                self._device(spot, entry)
                self._values(spot, entry)
            case _:
                pass

    def _wire(self, spot: Spot, wire: Wire) -> None:
        by_ohms = wire.kind in {"metal", "high tension"}
        if by_ohms and wire.ohm is None:
            self._no(spot.of("ohm"), f"A wire of kind “{wire.kind}” needs its ohms.")
        if not by_ohms and wire.size_mm2 is None:
            self._no(spot.of("mm2"), "Its size is missing.")
        sizes = [size.size_mm2 for size in self.pattern.known.sizes]
        if wire.size_mm2 is not None and wire.size_mm2 not in sizes:
            listed = ", ".join(f"{size:g}" for size in sizes)
            self._no(spot.of("mm2"), f"The sizes are {listed}.", given=wire.size_mm2)
        if wire.colour is not None:
            self._names(spot.of("main"), [wire.colour.main], "colour", self.colours)
            self._names(
                spot.of("tracer"), [wire.colour.tracer] if wire.colour.tracer else [], "colour", self.colours
            )

    def _device(self, spot: Spot, device: Device) -> None:
        pattern = self.pattern
        self._names(spot.of("body"), [device.body] if device.body else [], "body", pattern.bodies)
        self._at(spot.of("at"), device.at)
        self._names(spot.of("driven_by"), device.driven_by, "device", pattern.devices)
        for driver in device.driven_by:
            if driver in pattern.devices and not pattern.devices[driver].is_load:
                self._no(
                    spot.of("driven_by"), f"“{driver}” is no load: nothing can hang on whether it works."
                )
        self._names(spot.of("works"), device.works, "state", pattern.known.states)
        self._names(spot.of("rests"), device.rests, "state", pattern.known.states)

    def _values(self, spot: Spot, device: Device) -> None:
        if device.is_load and device.watts is None and device.ohm is None and device.current_a is None:
            self._no(spot.of("watts"), "A load needs its watts, its ohms or its amps.")
        if device.is_load and not device.works:
            self._no(spot.of("works"), "It says in no state that it should work.")
        if device.kind in {"switch", "contact"} and not (device.at or device.driven_by or device.pulses):
            self._no(spot.of("at"), "Nothing ever closes it.")
        for kind, name, sentence in NEEDS:
            if device.kind == kind and getattr(device, name) is None:
                self._no(spot.of(name), sentence)
        if device.kind == "source" and device.volts is None and device.rpm_v is None:
            self._no(spot.of("volts"), "A source needs its volts, or volts per 1000 rev/min.")

    def _ends(self, spot: Spot, entry: Wire | Device) -> None:
        self._names(spot.of("from"), [entry.a.place], "place", self.pattern.places)
        self._names(spot.of("to"), [entry.b.place], "place", self.pattern.places)
        if entry.a == entry.b:
            self._no(spot.of("to"), "It ends where it begins.", given=entry.b)

    def _when(self, spot: Spot, when: When) -> None:
        for name, some in (("when", when.need), ("unless", when.bar)):
            for feature, values in (pair for one in some for pair in one):
                known = self.pattern.known.features.get(feature)
                if known is None:
                    self._names(spot.of(name), [feature], "feature", self.pattern.known.features)
                else:
                    self._names(spot.of(name), values, f"answer to “{feature}”", known.values)

    def _at(self, spot: Spot, at: At) -> None:
        for control, positions in at:
            known = self.pattern.known.controls.get(control)
            if known is None:
                self._names(spot, [control], "control", self.pattern.known.controls)
            else:
                self._names(spot, positions, f"position of “{control}”", known.positions)

    def _names(self, spot: Spot, given: Iterable[str], thing: str, known: Collection[str]) -> None:
        for one in given:
            if one not in known and one.partition(":")[0] not in self.gathered.broken:
                self._no(spot, f"There is no {thing} “{one}”.", close(one, list(known)), one)

    def _no(self, spot: Spot, sentence: str, hint: str = "", given: object = "") -> None:
        self.gathered.wrong(spot, sentence, hint, given)
