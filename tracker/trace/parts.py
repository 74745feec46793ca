"""What can be wrong with a loom's parts: single faults by name in any state, and what wears on them."""

from collections.abc import Iterator
from dataclasses import dataclass

from tracker.loom.access import of_part
from tracker.records.loom import Device, Place, Wire
from tracker.records.loom_made import Key, Loom
from tracker.records.trace import FAULTS, TraceFault


@dataclass(frozen=True, slots=True, order=True)
class Single:
    """One thing wrong with one part, apart from any state."""

    part: Key
    fault: TraceFault

    @property
    def id(self) -> str:
        """As the loom's network names it: “place rear-plug:tail weak”."""
        return f"{self.part[0]} {self.part[1]} {self.fault}"


def singles(loom: Loom) -> tuple[Single, ...]:
    """Every single fault that a loom's parts can have."""
    found: list[Single] = []
    for place in loom.places.values():
        found += [Single(("place", place.id), "weak"), Single(("place", place.id), "open")]
    for wire in loom.wires.values():
        found.append(Single(("wire", wire.id), "open"))
        if wire.kind not in {"metal", "strap"}:
            found.append(Single(("wire", wire.id), "to frame"))
    for device in loom.devices.values():
        found += [Single(("device", device.id), fault) for fault in _of_device(device)]
    flash = flasher(loom)
    if flash is not None and any(loom.devices[one].kind == "filament" for one in flashing(loom)):
        found.append(Single(("device", flash.id), "other lamps"))
    return tuple(found)


def _of_device(device: Device) -> Iterator[TraceFault]:
    match device.kind:
        case "switch" | "contact":
            yield from ("weak", "stuck open", "stuck closed")
        case "fuse":
            yield "blown"
        case "diode":
            yield from ("open", "shorted")
        case "capacitor":
            yield "shorted"
        case "filament":
            yield "bulb"
        case "source" if device.source == "battery":
            yield from ("flat", "open")
        case "source" if device.source == "charging output":
            yield from ("open", "gives too much", "leaks")
        case _:
            yield "open"


def known_fault(text: str) -> TraceFault | None:
    """A kind of fault by its word; None where it is none."""
    return next((fault for fault in FAULTS if fault == text.strip().casefold()), None)


def flasher(loom: Loom) -> Device | None:
    """The contact that makes the indicators flash, if the loom has one."""
    return next((one for one in loom.devices.values() if one.kind == "contact" and one.pulses), None)


FLASHING_W = 8.0
"""Lamps of fewer watts on a flasher's circuit are warning lamps (common practice, no source); LEDs apart."""


def flashing(loom: Loom) -> tuple[str, ...]:
    """The lamps at the corners: those that work where the indicators do, warning lamps left out."""
    states = {"turn-left", "turn-right"}
    return tuple(
        one.id
        for one in loom.devices.values()
        if states & set(one.works)
        and ((one.kind == "filament" and (one.watts or 0) >= FLASHING_W) or one.kind == "led")
    )


def kind_of(loom: Loom, single: Single) -> str:
    """The kind of part by which its rate is looked up."""
    what, id_ = single.part
    if single.fault == "other lamps":
        return "flasher"
    if single.fault == "as built":
        return "loom"
    if what == "place":
        return loom.places[id_].kind
    if what == "wire":
        kind = loom.wires[id_].kind
        return "metal wire" if kind == "metal" else kind
    device = loom.devices[id_]
    return device.source if device.kind == "source" else device.kind


def zones_of(loom: Loom, single: Single) -> tuple[str, ...]:
    """The zones a part lies in: both of a wire's ends."""
    return of_part(loom, single.part[1])[0]


def traits_of(loom: Loom, single: Single) -> frozenset[str]:
    """The traits of a part's zones; a wire bends where one end turns with the steering and the other not."""
    zones = [loom.known.zones[zone] for zone in zones_of(loom, single) if zone in loom.known.zones]
    traits = {trait for zone in zones for trait in zone.traits}
    if single.part[0] == "wire":
        turning = {"steering" in zone.traits for zone in zones}
        swinging = {"suspension" in zone.traits for zone in zones}
        if turning == {True, False} or any(zone.id == "headstock" for zone in zones):
            traits.add("bends")
        if swinging != {True, False}:
            traits.discard("suspension")
    return frozenset(traits)


def entry(loom: Loom, single: Single) -> Place | Wire | Device:
    """The part itself."""
    what, id_ = single.part
    found = loom.table(what)[id_]
    assert isinstance(found, Place | Wire | Device)
    return found
