"""Where a load's volts are read, and what they make of it: works, weak or dead."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from tracker.records.loom import Device, DeviceKind
from tracker.records.network import Node

Word: TypeAlias = Literal["works", "weak", "dead"]

Flow: TypeAlias = Literal["steady", "AC", "pulses"]
"""What a meter meets there: DC volts, AC volts, or nothing it can read as volts."""

FADES: Final[frozenset[DeviceKind]] = frozenset({"filament", "winding", "motor", "heater"})
"""Kinds that do their job badly before they stop: a dull lamp, a hoarse horn, a slow starter."""

HALF: Final = 0.5
"""What fades shows some life from this part of `works_from` on (common practice, no source)."""

GOOD: Final = 0.8
"""And does its job well from `works_from` divided by this (common practice, no source): 0.75 for a lamp."""

OF_SOUND: Final = 0.85
"""A load that gets less than this part of what it gets with all in order looks weak beside it (no source)."""


@dataclass(frozen=True, slots=True)
class Port:
    """Two nodes (four for a winding of several: in phase and in quadrature) and the volts wanted there.

    `names` are the elements whose amps are the load's, by pair of nodes.
    """

    pairs: tuple[tuple[Node, Node], ...]
    names: tuple[str, ...]
    need_v: float
    flow: Flow
    one_way: bool

    def across(self, volts: Callable[[Node], float]) -> float:
        """Volts of the load; a load of one direction counts none in the other."""
        if len(self.pairs) == 1:
            a, b = self.pairs[0]
            u = volts(a) - volts(b)
            return max(0.0, u) if self.one_way else abs(u)
        return float(sum((volts(a) - volts(b)) ** 2 for a, b in self.pairs) ** 0.5)


def word(device: Device, share: float, sound: float = 0.0) -> Word:
    """What `share` of its wanted volts makes of a load; `sound` is its share with all in order.

    From `works_from` on it works. A kind that fades and does not pulse is weak below that and somewhat above
    it, or where it gets clearly less than when sound; it is dead only below half of it. An LED lamp is weak
    somewhat above.
    """
    weak_from, works_from = bands(device, sound)
    return "works" if share >= works_from else "weak" if share >= weak_from else "dead"


def bands(device: Device, sound: float = 0.0) -> tuple[float, float]:
    """The shares of its wanted volts from which a load is weak, and from which it works."""
    good = max(min(device.works_from / GOOD, 1.0), OF_SOUND * sound)
    if device.kind in FADES and not device.pulses:
        return HALF * device.works_from, good
    return device.works_from, good if device.kind == "led" else device.works_from


def drives(device: Device, share: float) -> bool:
    """Whether it does what others wait for: a coil pulls, a module switches."""
    return share >= device.works_from
