"""A loom in one state: what is closed, what gives, and which ends hang together without a load between.

A relay's contact needs its coil to work, a module's pin needs the module: so this is settled in rounds.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from tracker.loom.legs import Legs, Link, Links, link_up
from tracker.loom.ohms import joint_ohm, load_ohm, rated_v, source_v, wire_ohm
from tracker.records.loom import Device, End
from tracker.records.loom_made import Loom
from tracker.records.loom_pattern import State

MOST_ROUNDS = 12
"""Relays that feed relays settle in a few; a buzzer never does."""

MOST_IN_SERIES = 2
"""Other loads that may stand in a circuit."""

MOST_DIODES = 4


@dataclass(frozen=True, slots=True)
class Hop:
    """A load or a diode on the way from one net to another; `forward` means from its `a` to its `b`."""

    device: Device
    forward: bool


Hops = tuple[Hop, ...]


@dataclass(frozen=True, slots=True)
class Settled:
    """A loom in a state. `net` numbers the ends that hang together; `working` are loads that drive others.

    `unsettled` means that contacts kept opening and closing in turn.
    """

    loom: Loom
    state: State
    closed: frozenset[str]
    giving: tuple[Device, ...]
    net: Mapping[End, int]
    legs: Legs
    edges: Mapping[int, tuple[tuple[int, Hop], ...]]
    working: frozenset[str]
    unsettled: bool = False

    def shorted(self, source: Device) -> bool:
        """Whether a source is bridged without a load: a magneto that is stopped, a battery that burns."""
        return self.net[source.a] == self.net[source.b]

    def bare(self, source: Device, device: Device) -> tuple[Hops, ...]:
        """Ways from the source's plus to its minus through a device, with the fewest other loads."""
        plus, minus = self.net[source.b], self.net[source.a]
        if plus == minus or device.a not in self.net or device.b not in self.net:
            return ()
        if device.kind != "source" and self.net[device.a] == self.net[device.b]:
            return ()
        for others in range(MOST_IN_SERIES + 1):
            found = tuple(self._ways(plus, minus, device, others))
            if not found and source.ac:
                found = tuple(self._ways(minus, plus, device, others))
            if found:
                return found
        return ()

    def share(self, hops: Hops, device: Device) -> float:
        """The part of the volts that a device gets on a way, by the ohms of its loads alone."""
        ohms = [load_ohm(hop.device, self.loom) for hop in hops if hop.device.is_load]
        own = load_ohm(device, self.loom)
        return own / sum(ohms) if own and sum(ohms) else 1.0

    def enough(self, source: Device, device: Device, share: float) -> bool:
        """Whether that share lets it do its job. Pulses have no steady volts to go by: the share decides."""
        if device.kind == "source":
            return True
        if source.pulses or device.pulses:
            return share >= device.works_from
        volts = share * source_v(source, self.state, self.loom)
        return volts >= device.works_from * rated_v(device, self.loom)

    def _ways(self, plus: int, minus: int, device: Device, others: int) -> Iterator[Hops]:
        """Ways from net to net through `device` and at most so many `others`, no net passed twice."""
        stack: list[tuple[int, Hops, frozenset[int], bool, int, int]]
        stack = [(plus, (), frozenset({plus}), False, others, MOST_DIODES)]
        while stack:
            here, hops, passed, through, loads, diodes = stack.pop()
            if here == minus:
                if through:
                    yield hops
                continue
            for there, hop in self._edges(here, device):
                if there in passed:
                    continue
                wanted = hop.device.id == device.id
                loads_left = loads - (hop.device.is_load and not wanted)
                diodes_left = diodes - (hop.device.kind == "diode" and not wanted)
                if loads_left >= 0 and diodes_left >= 0:
                    way = (there, (*hops, hop), passed | {there}, through or wanted, loads_left, diodes_left)
                    stack.append(way)

    def _edges(self, here: int, device: Device) -> Iterator[tuple[int, Hop]]:
        yield from self.edges.get(here, ())
        if device.kind == "source" and self.net[device.b] == here:
            yield self.net[device.a], Hop(device, False)


def settle(loom: Loom, state: State) -> Settled:
    """The loom in that state, after its relays have pulled."""
    working: frozenset[str] = frozenset()
    seen: set[frozenset[str]] = set()
    drivers = {driver for device in loom.devices.values() for driver in device.driven_by}
    while True:
        now = snapshot(loom, state, working)
        after = frozenset(load for load in drivers if load in loom.devices and works(now, loom.devices[load]))
        if after == working:
            return now
        if after in seen or len(seen) > MOST_ROUNDS:
            return snapshot(loom, state, after, unsettled=True)
        seen.add(working)
        working = after


def works(settled: Settled, device: Device) -> bool:
    """Whether a load does its job: some source reaches it with volts enough."""
    return any(
        settled.enough(source, device, settled.share(hops, device))
        for source in settled.giving
        if source.id != device.id
        for hops in settled.bare(source, device)
    )


def acts(loom: Loom, state: State, device: Device, working: frozenset[str]) -> bool:
    """Whether a contact is closed or a source gives, by its controls and by what drives it."""
    for name, positions in device.at:
        control = loom.known.controls.get(name)
        if control is None or state.at.get(name, control.positions[0]) not in positions:
            return False
    if not device.driven_by:
        return True
    drivers = [driver in working for driver in device.driven_by if driver in loom.devices]
    driven = bool(drivers) and (all(drivers) if device.driven == "all" else any(drivers))
    return driven != (device.rest == "closed")


def snapshot(loom: Loom, state: State, working: frozenset[str], *, unsettled: bool = False) -> Settled:
    """The loom in that state while `working` are the loads that work, whether they could or not."""
    acting = {device.id for device in loom.devices.values() if acts(loom, state, device, working)}
    links = link_up(_conductors(loom, acting))
    ends = {end for device in loom.devices.values() for end in (device.a, device.b)} | set(links)
    net: dict[End, int] = {}
    for end in ends:
        if end not in net:
            number = len(net)
            todo = [end]
            net[end] = number
            while todo:
                for link in links.get(todo.pop(), ()):
                    if link.other not in net:
                        net[link.other] = number
                        todo.append(link.other)
    edges: dict[int, list[tuple[int, Hop]]] = {}
    for device in loom.devices.values():
        if device.is_load or device.kind == "diode":
            a, b = net[device.a], net[device.b]
            edges.setdefault(a, []).append((b, Hop(device, True)))
            if not device.one_way:
                edges.setdefault(b, []).append((a, Hop(device, False)))
    giving = [device for device in loom.devices.values() if device.kind == "source" and device.id in acting]
    giving.sort(key=lambda device: -source_v(device, state, loom))
    return Settled(
        loom=loom,
        state=state,
        closed=frozenset(acting),
        giving=tuple(giving),
        net=net,
        legs=Legs(links, _diodes(loom)),
        edges={number: tuple(hops) for number, hops in edges.items()},
        working=working,
        unsettled=unsettled,
    )


def _diodes(loom: Loom) -> Links:
    links: Links = {}
    for device in loom.devices.values():
        if device.kind == "diode":
            links.setdefault(device.a, []).append(Link(device.b, "device", device.id, device.ohm or 0.0))
    return links


def _conductors(
    loom: Loom, acting: set[str]
) -> Iterator[tuple[End, End, Literal["wire", "device", "joint"], str, float]]:
    for wire in loom.wires.values():
        yield wire.a, wire.b, "wire", wire.id, wire_ohm(wire)
    for place in loom.places.values():
        yield End(place.id, "in"), End(place.id, "out"), "joint", place.id, joint_ohm(loom, place.id)
    for device in loom.devices.values():
        if device.kind in {"fuse", "resistor"} or (
            device.kind in {"switch", "contact"} and device.id in acting
        ):
            yield device.a, device.b, "device", device.id, device.ohm or 0.0
