"""How thick wires are together: exact for up to four, by rule above, of one size or mixed."""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations

from tracker.electrics.arguments import Arguments, cited, shown
from tracker.records.electrics import Sum, Tables

RULE = 1.2
"""Diameter of a loose bundle over the root of the sum of squares."""

MOST_WIRES = 200

_COUNTED = re.compile(r"(\d+)\s*[x×*]\s*(.+)")
_FIGURE = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:mm)?")


@dataclass(frozen=True, slots=True, kw_only=True)
class BundleSum(Sum):
    """A bundle's diameter; `closest_mm` is the closest packing possible, None where it is not known."""

    wires: int
    diameter_mm: float
    exact: bool
    closest_mm: float | None
    sum_of_squares_mm2: float


def bundle_diameter_mm(diameters_mm: Sequence[float]) -> float:
    """The diameter of wires lying together.

    Formula: up to 4 wires the smallest circle round them; above, D = 1.2 sqrt(sum d^2), and never less than
        the smallest circle round the four thickest.
    Range: 1 wire or more, each over 0 mm.
    Example:
        >>> bundle_diameter_mm([1.9, 1.9]), round(bundle_diameter_mm([2, 2, 2]), 4)
        (3.8, 4.3094)
        >>> round(bundle_diameter_mm([1.9] * 10), 2)
        7.21

    Source: [1] geometry. [2] 1.2 sqrt(sum d^2): within -3.5 to +7.5 % of the closest packing of equal wires
        from 3 up (Wikipedia ‘Circle packing in a circle’).
    """
    thickest = sorted(diameters_mm, reverse=True)
    exact = smallest_circle_mm(thickest[:4])
    if len(thickest) <= 4:
        return exact
    return max(exact, RULE * math.sqrt(sum(d * d for d in thickest)))


def smallest_circle_mm(diameters_mm: Sequence[float]) -> float:
    """The smallest circle round one to four wires of any thickness, by halving.

    With up to four wires each touches the circle, or the thinnest lies loose in the gap between three; so
    a circle is large enough where the angles they take up along it, in the best order, come to a whole turn.

    Formula: wires i, j at the rim need an angle acos(((R-ri)^2 + (R-rj)^2 - (ri+rj)^2) / (2 (R-ri)(R-rj))).
    Range: 1 to 4 wires, each over 0 mm.
    Example:
        >>> round(smallest_circle_mm([1, 1, 1, 1]), 4), round(smallest_circle_mm([2, 2, 0.5]), 4)
        (2.4142, 4.0)

    Source: [1] geometry (Descartes' circle theorem for three).
    """
    radii = sorted((d / 2 for d in diameters_mm), reverse=True)
    if len(radii) < 3:
        return 2 * sum(radii)
    if len(radii) == 4 and radii[3] <= _gap_mm(*radii[:3]):
        radii.pop()
    low, high = radii[0] + radii[1], sum(radii)
    if _fits(low, radii):
        return 2 * low
    for _ in range(44):
        middle = (low + high) / 2
        low, high = (low, middle) if _fits(middle, radii) else (middle, high)
    return 2 * high


def bundle(*, wires: Sequence[str], tables: Tables) -> BundleSum:
    """The diameter of a bundle of wires, each given by its outside diameter or by its size.

    One entry is “1.9” or “1.9 mm” (outside), or a size of known diameter (“AVS 0.85”); “6 x 1.9” is six.

    Formula: up to 4 wires the smallest circle round them; above, D = 1.2 sqrt(sum d^2).
    Range: 1 to 200 wires of 0.3 to 30 mm outside.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> round(bundle(wires=["4 x AVS 0.85", "2 x 3.1 mm"], tables=electric_tables()).diameter_mm, 1)
        7.6

    Source: [1] geometry. [2] Wikipedia ‘Circle packing in a circle’ for the closest packing of equal wires.
    """
    arguments = Arguments()
    diameters = read_diameters(arguments, "wires", wires, tables)
    arguments.settle()
    diameter, count = bundle_diameter_mm(diameters), len(diameters)
    exact = count <= 4
    equal = max(diameters) == min(diameters)
    packing = (
        next((row for row in tables.packing if row.wires == count), None) if equal and not exact else None
    )
    closest = packing.ratio * diameters[0] if packing else diameter if exact else None
    squares = sum(d * d for d in diameters)
    sizes = shown(diameters[0]) if equal else f"{shown(min(diameters))} to {shown(max(diameters))}"
    why = [f"{count} wire{'s' if count > 1 else ''} of {sizes} mm outside."]
    if exact:
        why.append(f"The smallest circle round them is {diameter:.2f} mm.")
    else:
        why.append(f"1.2 times the root of the sum of squares ({squares:.1f} mm2): {diameter:.2f} mm.")
    if packing:
        why.append(f"Packed as closely as {count} equal wires can be: {closest:.2f} mm.")
    return BundleSum(
        wires=count,
        diameter_mm=diameter,
        exact=exact,
        closest_mm=closest,
        sum_of_squares_mm2=squares,
        why=tuple(why),
        source=(
            "geometry" if exact else "1.2 sqrt(sum d^2), the trade's rule",
            *(cited(packing) if packing else ()),
        ),
    )


def read_diameters(arguments: Arguments, name: str, wires: Sequence[str], tables: Tables) -> list[float]:
    """The outside diameters that a list of wires comes to; what is wrong is noted entry by entry.

    Formula: none: the diameter is read, or looked up (the most allowed).
    Range: 1 to 200 wires of 0.3 to 30 mm outside.
    Example:
        >>> from tracker.seedfiles.tables import electric_tables
        >>> read_diameters(Arguments(), "wires", ["2 x 1.9", "AVS 0.85"], electric_tables())
        [1.9, 1.9, 2.3]

    Source: [1] the wire standards' own tables.
    """
    diameters: list[float] = []
    for number, text in enumerate(wires, 1):
        field = f"{name} {number}"
        counted = _COUNTED.fullmatch(text.strip())
        count, rest = (int(counted[1]), counted[2].strip()) if counted else (1, text.strip())
        arguments.whole(field, count, 1, MOST_WIRES, "wires")
        figure = _FIGURE.fullmatch(rest)
        if figure:
            diameter = float(figure[1].replace(",", "."))
            arguments.number(field, diameter, 0.3, 30, "mm")
        else:
            conductor = arguments.wire(field, rest, tables.conductors)
            diameter = conductor.od_mm or 1.0
            if conductor.od_mm is None and not any(problem.field == field for problem in arguments.problems):
                sentence = f"No outside diameter is known for {conductor.name}: it depends on the insulation."
                arguments.wrong(field, text, sentence, "Measure one and give its mm.")
        diameters += [diameter] * min(count, MOST_WIRES)
    if not arguments.problems:
        arguments.whole(name, len(diameters), 1, MOST_WIRES, "wires")
    return diameters


def _gap_mm(a: float, b: float, c: float) -> float:
    """Radius of what fits loosely between three wires that touch (Descartes' circle theorem)."""
    ka, kb, kc = 1 / a, 1 / b, 1 / c
    return 1 / (ka + kb + kc + 2 * math.sqrt(ka * kb + kb * kc + kc * ka))


def _fits(radius: float, radii: Sequence[float]) -> bool:
    first, rest = radii[0], radii[1:]
    orders = (order for order in permutations(rest) if order[0] >= order[-1])  # the others are mirror images
    return any(_order_fits(radius, (first, *order)) for order in orders)


def _order_fits(radius: float, radii: Sequence[float]) -> bool:
    """Whether wires in this order round the rim leave each other room, both ways round."""
    count = len(radii)
    apart = [[_angle(radius, radii[i], radii[j]) for j in range(count)] for i in range(count)]
    place = [0.0] * count
    for _ in range(count + 1):
        moved = False
        for i in range(count):
            for j in range(count):
                if i == j:
                    continue
                least = place[i] + apart[i][j] if i < j else place[i] + apart[i][j] - 2 * math.pi
                if place[j] < least - 1e-12:
                    place[j], moved = least, True
        if not moved:
            return True
    return False


def _angle(radius: float, a: float, b: float) -> float:
    far_a, far_b = radius - a, radius - b
    cosine = (far_a**2 + far_b**2 - (a + b) ** 2) / (2 * far_a * far_b)
    return math.acos(min(1.0, max(-1.0, cosine)))
