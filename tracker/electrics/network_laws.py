"""A circuit as arrays: who is joined to whom, the straight elements, and the laws of the bent ones.

Straight elements (resistor, joint, wire, source) carry i = g u - j at u volts. Bent ones follow one of two:

- power: i = c |u|^p in the direction of u above a knee, a plain resistor below it; a filament does so both
  ways, a current load forward only and is a plain resistor backward;
- diode: nothing below its drop, a resistor above it, and 10 Gohm always, so that no place is left undefined.

Both rise with u everywhere, so that a network of them has one answer and its sums have one lowest point.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from tracker.electrics.network_graph import islands
from tracker.records.network import Circuit, CurrentLoad, Diode, Element, Filament, Node, VoltageSource

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats: TypeAlias = NDArray[np.float64]
    Ints: TypeAlias = NDArray[np.intp]

METER_S = 1e-7
"""A meter of 10 Mohm, in siemens: what an island without a way to the reference is tied down by."""

OFF_S = 1e-10
"""What a diode lets through when it does not conduct, in siemens."""

ALMOST_FLAT = 1e-6
"""The power of a current load: a perfectly flat one has no slope to solve by."""


@dataclass(frozen=True, slots=True)
class Laws:
    """Parameters of bent elements, one entry each (any shape): power law c, p, knee_v, cold_s, or a diode."""

    is_diode: "NDArray[np.bool_]"
    two_way: "NDArray[np.bool_]"
    c: "Floats"
    p: "Floats"
    knee_v: "Floats"
    cold_s: "Floats"
    start_s: "Floats"

    def at(self, rows: "Ints") -> "Laws":
        """The laws of some of them."""
        pick = (value[rows] for value in (self.c, self.p, self.knee_v, self.cold_s, self.start_s))
        return Laws(self.is_diode[rows], self.two_way[rows], *pick)

    def current_and_slope(self, u: "Floats") -> "tuple[Floats, Floats]":
        """Amps and siemens at `u` volts."""
        import numpy as np

        size = np.abs(u)
        above = np.where(self.two_way, size, u) > self.knee_v
        reach = np.maximum(size, self.knee_v)
        bent = self.c * reach**self.p
        current = np.where(above, bent, self.cold_s * size) * np.sign(u)
        slope = np.where(above, self.p * bent / reach, self.cold_s)
        over = u - self.knee_v
        on = over > 0
        current = np.where(self.is_diode, OFF_S * u + np.where(on, self.cold_s * over, 0.0), current)
        slope = np.where(self.is_diode, OFF_S + np.where(on, self.cold_s, 0.0), slope)
        return current, slope

    def energy(self, u: "Floats") -> "Floats":
        """The sum of i du from 0 to `u`: what a solution makes least."""
        import numpy as np

        size = np.abs(u)
        above = np.where(self.two_way, size, u) > self.knee_v
        reach = np.maximum(size, self.knee_v)
        low = np.where(above, self.knee_v, u)
        power = self.p + 1
        rest = self.c * (reach**power - self.knee_v**power) / power
        lamp = 0.5 * self.cold_s * low**2 + np.where(above, rest, 0.0)
        over = np.maximum(u - self.knee_v, 0.0)
        diode = 0.5 * OFF_S * u**2 + 0.5 * self.cold_s * over**2
        joules: Floats = np.where(self.is_diode, diode, lamp)
        return joules


@dataclass(frozen=True, slots=True)
class Compiled:
    """A circuit as arrays. The reference is the last node; `bent` are the rows that `laws` speak of."""

    circuit: Circuit
    nodes: tuple[Node, ...]
    index: dict[Node, int]
    row: dict[str, int]
    a: "Ints"
    b: "Ints"
    g: "Floats"
    j: "Floats"
    bent: "Ints"
    laws: Laws
    boss: tuple[int, ...]
    anchors: "Ints"

    @property
    def reference(self) -> int:
        """The number of the reference node."""
        return len(self.nodes) - 1


def straight(element: Element) -> tuple[float, float] | None:
    """g and j of a straight element; None for a bent one."""
    match element:
        case VoltageSource():
            return 1 / element.inner_ohm, element.volts / element.inner_ohm
        case Filament() | Diode() | CurrentLoad():
            return None
        case _:
            return 1 / element.ohm, 0.0


def compile_circuit(circuit: Circuit, nodes: Iterable[Node] = ()) -> Compiled:
    """`circuit` as arrays; `nodes` come first and are kept although nothing may end there any more.

    An island without the reference is tied down at its lowest node, so that the order of nodes decides.
    """
    import numpy as np

    elements = circuit.elements
    ends = dict.fromkeys((*nodes, *(end for element in elements for end in (element.a, element.b))))
    ends.pop(circuit.reference, None)
    names = (*ends, circuit.reference)
    index = {node: number for number, node in enumerate(names)}
    a = np.array([index[element.a] for element in elements], dtype=np.intp)
    b = np.array([index[element.b] for element in elements], dtype=np.intp)
    lines = [straight(element) for element in elements]
    bent = [number for number, line in enumerate(lines) if line is None]
    boss = islands(
        len(names),
        ((index[element.a], index[element.b]) for element in elements if not isinstance(element, Diode)),
    )
    home = boss[index[circuit.reference]]
    return Compiled(
        circuit=circuit,
        nodes=names,
        index=index,
        row={element.name: number for number, element in enumerate(elements)},
        a=a,
        b=b,
        g=np.array([line[0] if line else 0.0 for line in lines]),
        j=np.array([line[1] if line else 0.0 for line in lines]),
        bent=np.array(bent, dtype=np.intp),
        laws=_laws([elements[number] for number in bent]),
        boss=tuple(boss),
        anchors=np.array(sorted(set(boss) - {home}), dtype=np.intp),
    )


_LAMP, _LOAD, _DIODE = 0.0, 1.0, 2.0


def _laws(elements: list[Element]) -> Laws:
    import numpy as np

    table = np.array([_law(element) for element in elements], dtype=np.float64).reshape(-1, 6)
    return Laws(table[:, 0] == _DIODE, table[:, 0] == _LAMP, *(table[:, column] for column in range(1, 6)))


def _law(element: Element) -> tuple[float, float, float, float, float, float]:
    match element:
        case Filament():
            cold_s = 1 / element.cold_ohm
            rated_a = element.rated_w / element.rated_v
            c = rated_a / element.rated_v**element.exponent
            knee_v = element.rated_v * element.cold_ratio ** (1 / (1 - element.exponent))
            return _LAMP, c, element.exponent, knee_v, cold_s, 1 / element.hot_ohm
        case Diode():
            return _DIODE, 0.0, 1.0, element.drop_v, 1 / element.on_ohm, OFF_S
        case CurrentLoad():
            c = element.current_a / element.full_v**ALMOST_FLAT
            return (
                0.0,
                c,
                ALMOST_FLAT,
                element.full_v,
                element.current_a / element.full_v,
                element.current_a / 12,
            )
        case _:
            raise TypeError(f"{element!r} is straight")
