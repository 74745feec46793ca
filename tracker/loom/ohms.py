"""Ohms and amps of the loom's parts in a first sense, at 20 °C: enough to choose the way current takes.

The network solve reckons with temperature, hot and cold filaments and the conductor table instead.
"""

from typing import Final

from tracker.records.loom import Device, Wire
from tracker.records.loom_made import Loom
from tracker.records.loom_pattern import State

COPPER_M_PER_OHM_MM2: Final = 58.0
"""Conductivity of annealed copper at 20 °C, metres per ohm and mm² (IEC 60028)."""


def wire_ohm(wire: Wire) -> float:
    """End to end: as given, else from length and size. 0 where neither is known.

    Range: any wire of the loom. Formula: length / (58 x size).
    """
    if wire.ohm is not None:
        return wire.ohm
    if not wire.size_mm2:
        return 0.0
    return wire.length_mm / 1000 / (COPPER_M_PER_OHM_MM2 * wire.size_mm2)


def joint_ohm(loom: Loom, place: str) -> float:
    """Between the two sides of a place: its own, else that of its kind. 0 for a place nobody knows."""
    it = loom.places.get(place)
    if it is None:
        return 0.0
    if it.joint_ohm is not None:
        return it.joint_ohm
    kind = loom.known.joints.get(it.kind)
    return kind.ohm if kind else 0.0


def rated_v(device: Device, loom: Loom) -> float:
    """The volts a load is made for: its own, else the loom's."""
    return device.rated_v or loom.volts


def load_ohm(device: Device, loom: Loom) -> float:
    """A load at work: its ohms, else from its watts or amps at its rated volts. 0 where nothing is known."""
    if device.ohm is not None:
        return device.ohm
    volts = rated_v(device, loom)
    if device.watts:
        return volts**2 / device.watts
    return volts / device.current_a if device.current_a else 0.0


def load_current_a(device: Device, loom: Loom) -> float:
    """What a load takes at its rated volts."""
    if device.current_a is not None:
        return device.current_a
    volts = rated_v(device, loom)
    if device.watts is not None:
        return device.watts / volts
    return volts / device.ohm if device.ohm else 0.0


def source_v(device: Device, state: State, loom: Loom) -> float:
    """A source without load: its volts, or by the engine's speed."""
    if device.volts is not None:
        return device.volts
    return (device.rpm_v or 0.0) * state.rpm / 1000 if device.rpm_v else loom.volts
