"""The checks worth offering: at the suspects' own parts, in the states in which something is wrong.

What can be probed is what shows metal: plugs, blades, studs, holders, earths, a switch with its housing
apart. Joints inside tape are not opened and nothing is pierced.
"""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from tracker.records.loom import Device, End
from tracker.trace.check import Check
from tracker.trace.hunts import Hunts
from tracker.trace.offering import PARTED, across
from tracker.trace.parts import Single
from tracker.trace.said import states_of
from tracker.trace.suspects import Suspect

SHOWS: Final = frozenset({"filament", "led", "winding", "motor"})
"""Loads that anybody sees or hears."""

MOST_BRIDGES: Final = 4
"""Switches offered to be bridged, the likeliest first."""


class Offers(Hunts):
    """Makes checks for a bench; each kind from the parts of the suspects that are left."""

    def every(self, suspects: Sequence[Suspect]) -> tuple[Check, ...]:
        """Every check for these suspects, the likeliest first; each once."""
        parts = list(dict.fromkeys(single for one in suspects for single in one.theory))
        made: dict[str, Check] = {}
        for one in (*self._plain(parts), *self._acts(parts)):
            made.setdefault(one.id, one)
        return tuple(made.values())

    def _plain(self, parts: Sequence[Single]) -> Iterator[Check]:
        yield from self._battery()
        yield from self._see()
        yield from self._looks(parts)
        yield from self._volts(parts)
        yield from self._drops(parts)
        yield from self._feet()
        yield from self._swaps(parts)
        yield from self._drains(parts)
        yield from self._ac(parts)
        yield from self._wiggle(parts)

    def _acts(self, parts: Sequence[Single]) -> Iterator[Check]:
        """Checks that change the loom: each costs the network a sum of its own for every suspect."""
        yield from self._bridges(parts)
        yield from self._fuse_lamp(parts)
        yield from self._unplug(parts)
        yield from self._earth(parts)

    def _battery(self) -> Iterator[Check]:
        battery = next((d for d in self._devices() if d.source == "battery"), None)
        if battery is not None:
            for state in self.states():
                yield self._make("battery volts", str(battery.b), state, against=str(battery.a))

    def _see(self) -> Iterator[Check]:
        """Other loads in the same states, and those beside the complaint's in their own."""
        said = {(mark.load, state) for mark in self.marks for state in states_of(self.bench, mark)[:1]}
        for state in (*self.states(), *self._beside()):
            for device in self._devices():
                if device.is_load and state in device.works and (device.id, state) not in said:
                    if device.kind == "coil":
                        yield self._make("click", device.id, state, load=device.id)
                    elif device.kind in SHOWS and not device.pulses:
                        yield self._make("see", device.id, state, load=device.id)

    def _beside(self) -> tuple[str, ...]:
        """One more state: that of a load in the same holder, else of one whose earth or feed is shared."""
        states = self.states()
        if not states or not self.complaints:
            return ()
        first = self.complaints[0]
        circuit = self.bench.circuit(states[0], first.load)
        here = set(circuit.places) if circuit else set()
        mine = self.bench.loom.devices[first.load]
        near: dict[str, int] = {}
        for device in self._devices():
            known = [name for name in device.works if name in self.bench.states]
            if not device.is_load or device.kind not in SHOWS or not known or states[0] in known:
                continue
            points = 2 * (device.body == mine.body and bool(mine.body))
            points += sum(end in here for end in self._next_to(device))
            if points:
                near[known[0]] = max(near.get(known[0], 0), points)
        return tuple(sorted(near, key=lambda name: (-near[name], name))[:1])

    def _next_to(self, device: Device) -> Iterator[str]:
        ends = {device.a.place, device.b.place}
        for wire in self.bench.loom.wires.values():
            if wire.a.place in ends:
                yield wire.b.place
            if wire.b.place in ends:
                yield wire.a.place

    def _looks(self, parts: Sequence[Single]) -> Iterator[Check]:
        states = self.states() or ("off",)
        for one in parts:
            what, id_ = one.part
            if one.fault == "blown":
                yield self._make("look at a fuse", id_, states[0])
            elif one.fault == "bulb":
                yield self._make("look at a bulb", id_, states[0])
            elif one.fault == "to frame":
                for fuse in self._fuses():
                    yield self._make("look at a fuse", fuse.id, states[0])
            elif what == "place" and self.bench.loom.places[id_].kind in PARTED:
                body = self.bench.loom.places[id_].body
                yield self._make("look at a plug", body or id_, states[0])

    def _volts(self, parts: Sequence[Single]) -> Iterator[Check]:
        for state in self.states():
            for end in self._ends(parts):
                yield self._make("volts", str(end), state)

    def _drops(self, parts: Sequence[Single]) -> Iterator[Check]:
        for state in self.states()[:1]:
            for one in parts:
                ends = across(self.bench, one)
                if ends and one.fault in {"weak", "open", "stuck open"} and all(map(self._probed, ends)):
                    yield self._make("drop", str(ends[0]), state, against=str(ends[1]))

    def _feet(self) -> Iterator[Check]:
        """Behind the load with its own switch off, where the switch is on the earth side."""
        for mark in self.complaints:
            device = self.bench.loom.devices[mark.load]
            if "key-on" in device.rests and "key-on" in self.bench.states and self._probed(device.b):
                yield self._make("volts at the foot", str(device.b), "key-on", load=device.id)

    def _swaps(self, parts: Sequence[Single]) -> Iterator[Check]:
        for state in self.states()[:1]:
            for one in parts:
                device = self.bench.loom.devices.get(one.part[1])
                if device is None:
                    continue
                body = self.bench.loom.bodies.get(device.body)
                if device.kind == "filament":
                    yield self._make("swap a bulb", device.id, state)
                elif (
                    device.kind in {"contact", "coil", "module"} and body is not None and body.kind == "relay"
                ):
                    yield self._make("swap a relay", body.id, state)

    def _bridges(self, parts: Sequence[Single]) -> Iterator[Check]:
        devices = self.bench.loom.devices
        able = (devices[one.part[1]] for one in parts if one.fault in {"stuck open", "weak"}
                and one.part[0] == "device" and _bridgeable(devices[one.part[1]]))  # fmt: skip
        for device in list(dict.fromkeys(device.id for device in able))[:MOST_BRIDGES]:
            for mark in self.complaints[:1]:
                for state in self.states()[:1]:
                    yield self._make("bridge a switch", device, state, load=mark.load)

    def _earth(self, parts: Sequence[Single]) -> Iterator[Check]:
        """A lead to the frame behind the load: proves everything before it at one go."""
        for mark in self.complaints[:1]:
            device = self.bench.loom.devices[mark.load]
            if device.is_load and device.b.place in self.bench.loom.places:
                for state in self.states()[:1]:
                    for end in {device.b, *self._switched(parts)}:
                        if self._probed(end):
                            yield self._make("earth the lead", str(end), state, load=mark.load)

    def _switched(self, parts: Iterable[Single]) -> Iterator[End]:
        """Live sides of switches that lead to the frame: a neutral switch, an oil switch."""
        for one in parts:
            device = self.bench.loom.devices.get(one.part[1])
            if device is not None and device.kind == "switch":
                foot = self.bench.loom.places.get(device.b.place)
                if foot is not None and foot.kind == "metal":
                    yield device.a


def _bridgeable(device: Device) -> bool:
    return device.kind in {"switch", "contact"} and not device.pulses
