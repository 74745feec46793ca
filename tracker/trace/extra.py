"""Faults that the loom's own list does not have, and more than one fault at once, as changes of a network."""

import dataclasses
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from tracker.loom import network_elements as make
from tracker.loom.network import LoomNetwork
from tracker.loom.network_faults import WEAK_CONTACT_OHM, WEAK_OHM, Fault, FaultKind, weak_joint
from tracker.records.loom import Device
from tracker.records.network import Change, Element, Joint
from tracker.trace.parts import Single, flashing

MORE_OHM: Final = 10.0
"""A joint may be this many times poorer than the usual poor one; both are tried (no source)."""

LEAK_OHM: Final = 60.0
"""A leaking rectifier: about 0.2 A from a standing battery (common practice, no source)."""

LED_W: Final = 2.0
"""An LED lamp in the place of a bulb (common practice, no source)."""


def null_fault(single: Single) -> Fault:
    """A fault that changes nothing in a state."""
    return Fault(single.id, "weak", single.part, single.id, Change(single.id))


def extra_fault(net: LoomNetwork, single: Single) -> Fault:
    """A leak or other lamps, in one network; nothing changes where the part is not at work."""
    device = net.loom.devices[single.part[1]]
    out: tuple[str, ...] = ()
    put_in: tuple[Element, ...] = ()
    if single.fault == "leaks":
        ends = net.node(device.a), net.node(device.b)
        put_in = (Joint(f"leak {device.id}", *ends, LEAK_OHM),) if ends[0] != ends[1] else ()
    elif single.fault == "other lamps":
        out, put_in = _leds(net)
    return Fault(single.id, "weak", single.part, single.id, Change(single.id, out, put_in))


def poorer(net: LoomNetwork, single: Single) -> Fault:
    """A weak joint or contact MORE_OHM times as poor as usual."""
    what, id_ = single.part
    if what == "place":
        return weak_joint(net, id_, MORE_OHM * WEAK_OHM[net.loom.places[id_].kind])
    names = net.elements[single.part]
    whole = [net.by_name[name] for name in names]
    more = MORE_OHM * WEAK_CONTACT_OHM
    poor = tuple(Joint(one.name, one.a, one.b, one.ohm + more) for one in whole if isinstance(one, Joint))
    return Fault(single.id, "weak", single.part, single.id, Change(single.id, names, poor))


def together(faults: Sequence[Fault]) -> Fault:
    """Several faults at once; a part that two of them touch stays as the last has it."""
    if not faults:
        return Fault("sound", "open", ("body", ""), "nothing wrong", Change("sound"))
    if len(faults) == 1:
        return faults[0]
    out: dict[str, None] = {}
    put_in: dict[str, Element] = {}
    for fault in faults:
        for name in fault.change.out:
            put_in.pop(name, None)
            out[name] = None
        put_in |= {element.name: element for element in fault.change.put_in}
    name = " and ".join(fault.id for fault in faults)
    first = _leading(faults)
    return dataclasses.replace(first, id=name, change=Change(name, tuple(out), tuple(put_in.values())))


def _leading(faults: Sequence[Fault]) -> Fault:
    """The one whose part the effects must know of: a load that is out, else the first."""
    gone: frozenset[FaultKind] = frozenset({"open", "bulb"})
    return next((one for one in faults if one.kind in gone and one.part[0] == "device"), faults[0])


def _leds(net: LoomNetwork) -> tuple[tuple[str, ...], tuple[Element, ...]]:
    out: list[str] = []
    put_in: list[Element] = []
    for load in flashing(net.loom):
        device = net.loom.devices[load]
        if device.kind == "filament":
            out += net.elements.get(("device", load), ())
            put_in += _led(net, device)
    return tuple(out), tuple(put_in)


def _led(net: LoomNetwork, device: Device) -> Iterator[Element]:
    led = dataclasses.replace(device, kind="led", watts=LED_W, current_a=None, ohm=None)
    for name in net.elements.get(("device", device.id), ()):
        leads = make.Leads(name, net.node(device.a), net.node(device.b))
        yield from make.load(led, net.loom, leads)


def blown_with(net: LoomNetwork, fuses: Iterable[str]) -> list[Fault]:
    """Fuses that have blown."""
    return [
        Fault(f"device {one} blown", "blown", ("device", one), one, Change(one, net.elements["device", one]))
        for one in fuses
    ]
