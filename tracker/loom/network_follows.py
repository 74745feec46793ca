"""What follows from a fault: relays that drop out or pull in, fuses that blow."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from tracker.loom.network import LoomNetwork
from tracker.loom.network_elements import Leads, closed_ohm, dc_source
from tracker.loom.network_faults import Fault, across
from tracker.loom.network_side import aside
from tracker.loom.settle import acts
from tracker.records.loom import Device
from tracker.records.network import Change, Element, VoltageSource


@dataclass(frozen=True, slots=True)
class Follows:
    """Loads that others wait for and that work with a fault, and fuses blown by it."""

    working: frozenset[str]
    blown: frozenset[str] = frozenset()


def with_follows(net: LoomNetwork, fault: Fault, follows: Follows) -> Change:
    """A fault's change with what follows from it; the faulty part itself stays as its fault has it."""
    out: dict[str, None] = dict.fromkeys(fault.change.out)
    put_in: dict[str, Element] = {element.name: element for element in fault.change.put_in}
    moved = follows.working ^ net.settled.working
    for device in net.loom.devices.values():
        if fault.part == ("device", device.id):
            continue
        names = net.elements.get(("device", device.id), ())
        if device.id in follows.blown:
            out |= dict.fromkeys(names)
        if moved.isdisjoint(device.driven_by) or device.kind not in {"switch", "contact", "source"}:
            continue
        was = device.id in net.settled.closed
        now = acts(net.loom, net.state, device, follows.working)
        if was and not now:
            out |= dict.fromkeys(names)
        elif now and not was:
            put_in |= {element.name: element for element in _closing(net, device)}
    return replace(fault.change, out=tuple(out), put_in=tuple(put_in.values()))


def _closing(net: LoomNetwork, device: Device) -> Iterator[Element]:
    """What begins to conduct or to give."""
    if device.kind != "source":
        yield from across(net, device, closed_ohm(device))
    elif aside(net.loom, device):
        for copy in net.copies:
            if device.id in copy.sources:
                volts, ohm = copy.sources[device.id]
                plus, minus = copy.nodes[device.b], copy.nodes[device.a]
                yield VoltageSource(f"device {device.id}{copy.suffix}", plus, minus, volts, ohm)
    elif net.node(device.a) != net.node(device.b):
        leads = Leads(f"device {device.id}", net.node(device.a), net.node(device.b))
        yield from dc_source(device, leads, net.state, net.loom)
