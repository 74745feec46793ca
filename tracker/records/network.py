"""A loom in one state as a resistive network: nodes, elements between two of them, what solving gives.

Every element runs from `a` to `b`, and its current counts from `a` to `b` through it; the one exception
is a source, whose current counts as it leaves its plus end `a`, so that a discharging battery is positive.
Nothing here computes: `tracker.electrics.network` does.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

Node: TypeAlias = str
"""A node is a place on the loom by its name; all places without resistance between them are one node."""

FILAMENT_EXPONENT = 0.55
"""Current of a filament lamp goes with volts to this power (read: public encyclopaedia, “Lamp rerating”)."""

FILAMENT_COLD_RATIO = 1 / 12
"""Cold over hot ohms (read: lamp makers' pages say inrush of 10 to 15 times; 12 is our middle of it)."""


@dataclass(frozen=True, slots=True)
class Resistor:
    """Fixed ohms: a coil winding, a motor standing still, a heater, a ballast."""

    name: str
    a: Node
    b: Node
    ohm: float


@dataclass(frozen=True, slots=True)
class Joint:
    """Fixed ohms where two parts touch: a plug's way, a crimp, a switch contact, a fuse, an earth bolt."""

    name: str
    a: Node
    b: Node
    ohm: float


@dataclass(frozen=True, slots=True)
class WireElement:
    """A wire of `length_mm`, with `ohm_per_km` at the temperature it has."""

    name: str
    a: Node
    b: Node
    length_mm: int
    ohm_per_km: float

    @property
    def ohm(self) -> float:
        """End to end."""
        return self.length_mm * self.ohm_per_km / 1e6


@dataclass(frozen=True, slots=True)
class Filament:
    """A filament lamp: `rated_w` at `rated_v`, current as volts to the power `exponent`.

    Near no volts at all it is a plain resistor of `cold_ratio` times its hot ohms.
    """

    name: str
    a: Node
    b: Node
    rated_w: float
    rated_v: float
    exponent: float = FILAMENT_EXPONENT
    cold_ratio: float = FILAMENT_COLD_RATIO

    @property
    def hot_ohm(self) -> float:
        """At the rated volts."""
        return self.rated_v**2 / self.rated_w

    @property
    def cold_ohm(self) -> float:
        """At the moment of switching on."""
        return self.hot_ohm * self.cold_ratio


@dataclass(frozen=True, slots=True)
class Diode:
    """Conducts from `a` (anode) to `b` (cathode): nothing up to `drop_v`, `on_ohm` above it."""

    name: str
    a: Node
    b: Node
    drop_v: float
    on_ohm: float


@dataclass(frozen=True, slots=True)
class VoltageSource:
    """`volts` behind `inner_ohm`, plus at `a`: a battery, a charging output, a module's pin."""

    name: str
    a: Node
    b: Node
    volts: float
    inner_ohm: float


@dataclass(frozen=True, slots=True)
class CurrentLoad:
    """Draws `current_a` whatever the volts, down to `full_v`; below that it starves in proportion."""

    name: str
    a: Node
    b: Node
    current_a: float
    full_v: float = 1.0


Element: TypeAlias = Resistor | Joint | WireElement | Filament | Diode | VoltageSource | CurrentLoad


@dataclass(frozen=True, slots=True)
class Circuit:
    """What is solved: the elements, and the node all volts are counted from (battery minus, frame)."""

    reference: Node
    elements: tuple[Element, ...]

    def element(self, name: str) -> Element:
        """The element of that name; raises KeyError when there is none."""
        for element in self.elements:
            if element.name == name:
                return element
        raise KeyError(name)


@dataclass(frozen=True, slots=True)
class Change:
    """A fault or a repair as the network sees it: elements taken out by name, others put in.

    An open wire is `Change("...", out=("wire",))`; a weak joint the same with a `Joint` of more ohms put in;
    a chafed wire a `Joint` from its node to the frame; a plug full of water several at once.
    """

    label: str
    out: tuple[str, ...] = ()
    put_in: tuple[Element, ...] = ()


@dataclass(frozen=True, slots=True)
class Solution:
    """Volts at every node and amps through every element.

    `floating` are nodes that hang on nothing: whatever `volts` says there is only what a meter of 10 Mohm
    would pull them to. `converged` False means that the numbers are the last try and not an answer.
    `residual_a` is the most amps that fail to add up to zero at any node.
    """

    volts: Mapping[Node, float]
    current: Mapping[str, float]
    floating: frozenset[Node]
    converged: bool
    iterations: int
    residual_a: float

    def across(self, a: Node, b: Node) -> float:
        """Volts a meter shows with its red lead on `a` and its black lead on `b`."""
        return self.volts[a] - self.volts[b]
