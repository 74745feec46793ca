"""Whether a short still hangs on its fuse with a plug parted: by what hangs together, without a solve."""

from typing import Final

from tracker.loom.network import LoomNetwork
from tracker.records.network import Joint, WireElement
from tracker.trace.bench import Bench, Row

WAY_OHM: Final = 1.0
"""Wires, joints and closed contacts have less; loads more."""


def still_fed(bench: Bench, state: str, fuse: str, body: str, row: Row) -> bool | None:
    """True where the short of a row still is between the battery and the frame when the plug is parted.

    False where the plug cuts the short off or the fuse from its feed; None where this cannot be told so.
    """
    net = bench.net(state)
    if len(row.theory) != 1 or row.theory[0].fault != "to frame" or net.copies[0].frame is None:
        return None
    frame = net.copies[0].frame
    put = bench.fault(state, row.theory[0]).change.put_in
    spots = {end for one in put for end in (one.a, one.b)} - {frame}
    device = bench.loom.devices[fuse]
    whole, parted = _islands(bench, state, net, fuse, ""), _islands(bench, state, net, fuse, body)
    sources = (one for one in bench.loom.devices.values() if one.source == "battery")
    posts = {net.node(end) for one in sources for end in (one.a, one.b)} - {frame}
    ends = net.node(device.a), net.node(device.b)
    for end, other in (ends, ends[::-1]):
        short, feed = _with(whole, end, spots), _with(whole, other, posts)
        if short and feed:
            if _with(parted, end, short) and _with(parted, other, feed):
                return True
            loosely = _islands(bench, state, net, fuse, body, loads=True)
            through = _with(loosely, end, short) and _with(loosely, other, feed)
            return None if through else False
    return None


def _with(islands: dict[str, str], node: str, others: set[str]) -> set[str]:
    """Those of some nodes that hang together with one."""
    home = islands.get(node, node)
    return {one for one in others if islands.get(one, one) == home}


def _islands(
    bench: Bench, state: str, net: LoomNetwork, fuse: str, body: str, *, loads: bool = False
) -> dict[str, str]:
    """For each node one that stands for all that hang together, the fuse and the plug's ways left out.

    With `loads` whatever carries anything holds together: a lamp burns through a motor that stands.
    """
    key = (state, fuse, f"{body} {loads}")
    found = bench.islands.get(key)
    if found is not None:
        return found
    out = set(net.elements.get(("device", fuse), ()))
    if body:
        for place in bench.loom.places.values():
            if place.body == body:
                out |= set(net.elements.get(("place", place.id), ()))
    frame = net.copies[0].frame
    boss: dict[str, str] = {}

    def find(node: str) -> str:
        while boss.setdefault(node, node) != node:
            boss[node] = boss[boss[node]]
            node = boss[node]
        return node

    for name, one in net.by_name.items():
        if name in out or frame in (one.a, one.b):
            continue
        if loads or (isinstance(one, Joint | WireElement) and one.ohm < WAY_OHM):
            boss[find(one.a)] = find(one.b)
    bench.islands[key] = {node: find(node) for node in list(boss)}
    return bench.islands[key]
