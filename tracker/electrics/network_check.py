"""What a network must be before it is solved: every mistake found at once, none left to the sums."""

import math
from collections import Counter
from collections.abc import Iterable, Iterator

from tracker.records.network import (
    Change,
    Circuit,
    CurrentLoad,
    Diode,
    Element,
    Filament,
    Joint,
    Resistor,
    VoltageSource,
    WireElement,
)
from tracker.records.problem import Mistakes, Problem

OHM = (1e-6, 1e9)
"""Least and most ohms of anything: below a microhm it is the same place, above a gigaohm it is air."""

VOLTS = 1000.0
"""Most volts either way: a loom, not the spark."""


def check_circuit(circuit: Circuit) -> None:
    """Raises Mistakes with everything that is wrong with `circuit`; returns when nothing is."""
    problems = list(_element_problems(circuit.elements))
    for name, count in Counter(element.name for element in circuit.elements).items():
        if count > 1:
            problems.append(
                Problem("name", f"{count} elements are named “{name}”.", "Names are unique.", name)
            )
    ends = {end for element in circuit.elements for end in (element.a, element.b)}
    if circuit.reference not in ends:
        problems.append(
            Problem(
                "reference",
                f"No element ends at “{circuit.reference}”.",
                "Volts are counted from a node of the circuit, such as battery minus.",
                circuit.reference,
            )
        )
    if problems:
        raise Mistakes(problems)


def check_changes(circuit: Circuit, changes: Iterable[Change]) -> None:
    """Raises Mistakes where a change takes out what is not there, or puts in what cannot be."""
    names = {element.name for element in circuit.elements}
    problems: list[Problem] = []
    for change in changes:
        problems += [
            Problem(f"{change.label}.out", f"There is no element “{name}” to take out.", given=name)
            for name in change.out
            if name not in names
        ]
        problems += [
            Problem(
                f"{change.label}.put_in", f"There is already an element “{element.name}”.", given=element.name
            )
            for element in change.put_in
            if element.name in names and element.name not in change.out
        ]
        if change.put_in:
            problems += _element_problems(change.put_in)
    if problems:
        raise Mistakes(problems)


def _element_problems(elements: Iterable[Element]) -> Iterator[Problem]:
    for element in elements:
        if element.a == element.b:
            yield Problem(
                f"{element.name}.b", f"Both ends of “{element.name}” are at “{element.a}”.", given=element.b
            )
        for field, value, least, most, unit in _limits_of(element):
            if not (math.isfinite(value) and least <= value <= most):
                yield Problem(
                    f"{element.name}.{field}",
                    f"{field} of “{element.name}” is {value:g}{unit}; allowed is {least:g} to {most:g}.",
                    given=f"{value:g}",
                )


def _limits_of(element: Element) -> Iterator[tuple[str, float, float, float, str]]:
    match element:
        case Resistor() | Joint():
            yield ("ohm", element.ohm, *OHM, " ohm")
        case WireElement():
            yield ("length_mm", element.length_mm, 1, 100_000, " mm")
            yield ("ohm_per_km", element.ohm_per_km, 0.01, 10_000, " ohm/km")
            if element.length_mm > 0 and element.ohm_per_km > 0 and element.ohm < OHM[0]:
                yield ("ohm", element.ohm, *OHM, " ohm")
        case Filament():
            yield ("rated_w", element.rated_w, 0.01, 5000, " W")
            yield ("rated_v", element.rated_v, 0.1, VOLTS, " V")
            yield ("exponent", element.exponent, 0.1, 0.95, "")
            yield ("cold_ratio", element.cold_ratio, 0.01, 1, "")
        case Diode():
            yield ("drop_v", element.drop_v, 0.05, 100, " V")
            yield ("on_ohm", element.on_ohm, *OHM, " ohm")
        case VoltageSource():
            yield ("volts", element.volts, -VOLTS, VOLTS, " V")
            yield ("inner_ohm", element.inner_ohm, *OHM, " ohm")
        case CurrentLoad():
            yield ("current_a", element.current_a, 1e-9, 5000, " A")
            yield ("full_v", element.full_v, 0.001, VOLTS, " V")
