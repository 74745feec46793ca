"""Every single fault of a loom in a state, as a change of its network."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from tracker.loom import network_elements as make
from tracker.loom.network import LoomNetwork, network
from tracker.loom.where import words_of
from tracker.records.loom import Device, End, Place, PlaceKind, Wire
from tracker.records.loom_made import Key, Loom
from tracker.records.loom_pattern import State
from tracker.records.network import Change, Element, Joint, VoltageSource

FaultKind: TypeAlias = Literal[
    "open", "weak", "bulb", "blown", "stuck open", "stuck closed", "shorted", "to frame", "flat"
]

WEAK_OHM: Final[dict[PlaceKind, float]] = {
    "way": 2.0, "bullet": 2.0, "blade": 1.0, "screw": 0.2, "post": 0.1, "holder": 3.0,
    "splice": 2.0, "joint": 1.0, "earth": 0.5, "inside": 2.0, "metal": 0.5,
}  # fmt: skip
"""Ohms more in a poor joint by kind: small where much current goes (common practice, no source)."""

WEAK_CONTACT_OHM: Final = 1.0
"""Ohms more in a dirty switch or burnt contact (common practice, no source)."""

CHAFE_OHM: Final = 0.05
"""A bared wire on the frame (common practice, no source)."""

FLAT_SHARE: Final = 0.85
"""Volts of a flat battery over those of a charged one: 10.7 of 12.6 (common practice, no source)."""

FLAT_TIMES: Final = 15.0
"""And its inner ohms over a good one's (common practice, no source)."""

_OPEN_WORDS: Final = {"open": "open", "bulb": "bulb blown", "blown": "blown", "stuck open": "stuck open"}


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with one part. `change` is in the names of the whole circuit."""

    id: str
    kind: FaultKind
    part: Key
    words: str
    change: Change


def single_faults(loom: Loom, state: State) -> tuple[Fault, ...]:
    """Every single fault of every part of a loom in a state; those that change nothing in it as well."""
    return faults_of(network(loom, state))


def faults_of(net: LoomNetwork) -> tuple[Fault, ...]:
    """The single faults of a network's parts: joints, wires, devices."""
    made: list[Fault] = []
    for place in net.loom.places.values():
        made += _of_joint(net, place)
    for wire in net.loom.wires.values():
        made += _of_wire(net, wire)
    for device in net.loom.devices.values():
        made += _of_device(net, device)
    return tuple(made)


def weak_joint(net: LoomNetwork, place: str, ohm: float) -> Fault:
    """A place's joint with so many ohms more."""
    return _weak(net, ("place", place), ohm)


def _of_joint(net: LoomNetwork, place: Place) -> Iterator[Fault]:
    part: Key = ("place", place.id)
    if net.elements.get(part):
        yield _weak(net, part, WEAK_OHM[place.kind])
        yield _out(net, part, "open")


def _of_wire(net: LoomNetwork, wire: Wire) -> Iterator[Fault]:
    part: Key = ("wire", wire.id)
    if not net.elements.get(part):
        return
    yield _out(net, part, "open")
    if wire.kind not in {"metal", "strap"}:
        yield _chafed(net, part, wire.b)


def _of_device(net: LoomNetwork, device: Device) -> Iterator[Fault]:
    part: Key = ("device", device.id)
    there = bool(net.elements.get(part))
    match device.kind:
        case "switch" | "contact" if there:
            yield _weak(net, part, WEAK_CONTACT_OHM)
            yield _out(net, part, "stuck open")
        case "switch" | "contact":
            yield _bridged(net, device, "stuck closed", make.closed_ohm(device))
        case "fuse":
            yield _out(net, part, "blown")
        case "diode":
            yield _out(net, part, "open")
            yield _bridged(net, device, "shorted", CHAFE_OHM)
        case "capacitor":
            yield _bridged(net, device, "shorted", CHAFE_OHM)
        case "filament" if there:
            yield _out(net, part, "bulb")
        case "source" if there and device.source == "battery":
            yield _flat(net, device)
            yield _out(net, part, "open")
        case _ if there:
            yield _out(net, part, "open")


def _fault(net: LoomNetwork, part: Key, kind: FaultKind, said: str, change: Change) -> Fault:
    what, id_ = part
    return Fault(change.label, kind, part, f"{words_of(net.loom, what, id_)}: {said}", change)


def _out(net: LoomNetwork, part: Key, kind: FaultKind) -> Fault:
    change = Change(f"{part[0]} {part[1]} {kind}", net.elements[part])
    return _fault(net, part, kind, _OPEN_WORDS[kind], change)


def _weak(net: LoomNetwork, part: Key, ohm: float) -> Fault:
    names = [name for name in net.elements[part] if isinstance(_element(net, name), Joint)]
    poor = tuple(_poor(_element(net, name), ohm) for name in names)
    said = f"poor, {ohm:g} ohm more"
    return _fault(net, part, "weak", said, Change(f"{part[0]} {part[1]} weak", tuple(names), poor))


def _poor(element: Element, ohm: float) -> Element:
    assert isinstance(element, Joint)
    return Joint(element.name, element.a, element.b, element.ohm + ohm)


def _chafed(net: LoomNetwork, part: Key, end: End) -> Fault:
    """A wire on the frame at the end the current reaches last, in every current that can come home by it."""
    made: list[Element] = []
    for copy in net.copies:
        carried = copy.suffix == "" or any(name.endswith(copy.suffix) for name in net.elements[part])
        if copy.frame is not None and carried and copy.nodes.get(end, copy.frame) != copy.frame:
            made.append(Joint(f"chafe{copy.suffix}", copy.nodes[end], copy.frame, CHAFE_OHM))
    change = Change(f"{part[0]} {part[1]} to frame", (), tuple(made))
    return _fault(net, part, "to frame", "chafed through to the frame", change)


def _bridged(net: LoomNetwork, device: Device, kind: FaultKind, ohm: float) -> Fault:
    part: Key = ("device", device.id)
    made = tuple(across(net, device, ohm))
    said = {"shorted": "shorted", "stuck closed": "stuck closed"}[kind]
    change = Change(f"device {device.id} {kind}", net.elements.get(part, ()), made)
    return _fault(net, part, kind, said, change)


def across(net: LoomNetwork, device: Device, ohm: float) -> Iterator[Joint]:
    """Ohms between the ends of a device, for every current that both its ends carry."""
    for copy in net.copies:
        a, b = copy.nodes.get(device.a), copy.nodes.get(device.b)
        if a is not None and b is not None and a != b:
            yield Joint(f"device {device.id}{copy.suffix}", a, b, ohm)


def _flat(net: LoomNetwork, device: Device) -> Fault:
    part: Key = ("device", device.id)
    (name,) = net.elements[part]
    whole = _element(net, name)
    assert isinstance(whole, VoltageSource)
    low = VoltageSource(name, whole.a, whole.b, whole.volts * FLAT_SHARE, whole.inner_ohm * FLAT_TIMES)
    return _fault(net, part, "flat", "flat", Change(f"device {device.id} flat", (name,), (low,)))


def _element(net: LoomNetwork, name: str) -> Element:
    return net.by_name[name]
