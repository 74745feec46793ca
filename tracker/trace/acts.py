"""What a mechanic does to a loom to see what changes, as one more change of its network.

An act is written `bridge SWITCH`, `part BODY`, `earth PLACE@side` or `lamp FUSE`; two are parted by “;”.
"""

from collections.abc import Iterator
from typing import Final

from tracker.loom.network import LoomNetwork
from tracker.loom.network_faults import Fault, across
from tracker.records.network import Change, Element, Joint
from tracker.trace.extra import together

LEAD_OHM: Final = 0.02
"""A short lead with clips (common practice, no source)."""

LAMP_W: Final = 21.0
"""The test lamp in a fuse's place; taken as its hot ohms (a lamp that only glows has fewer)."""


def act_fault(net: LoomNetwork, act: str) -> Fault:
    """An act as a change, in the form of a fault; several are parted by semicolons."""
    if ";" in act:
        return together([act_fault(net, one) for one in act.split(";")])
    word, _, name = act.partition(" ")
    out: tuple[str, ...] = ()
    put_in: tuple[Element, ...] = ()
    if word == "bridge":
        device = net.loom.devices[name]
        out = net.elements.get(("device", name), ())
        put_in = tuple(across(net, device, LEAD_OHM))
    elif word == "part":
        out = tuple(_parted(net, name))
    elif word == "earth":
        frame = net.copies[0].frame
        here = net.node(name)
        if frame is not None and here != frame:
            put_in = (Joint("lead to the frame", here, frame, LEAD_OHM),)
    elif word == "lamp":
        fuse = net.loom.devices[name]
        out = net.elements.get(("device", name), ())
        put_in = tuple(across(net, fuse, net.loom.volts**2 / LAMP_W))
    return Fault(act, "weak", ("body", name), act, Change(act, out, put_in))


def _parted(net: LoomNetwork, body: str) -> Iterator[str]:
    for place in net.loom.places.values():
        if place.body == body:
            yield from net.elements.get(("place", place.id), ())
