"""What is said of a new circuit, read from what was typed; every mistake at once."""

from collections.abc import Mapping, Sequence

from tracker.desk.new_circuit import NewCircuitAsked
from tracker.electrics.arguments import Arguments
from tracker.electrics.catalogue_budget import read_loads, read_points

LIMITS: Mapping[str, tuple[float, float, str]] = {
    "length": (100, 6000, "mm"),
    "control": (0, 4000, "mm"),
    "earth": (0, 4000, "mm"),
    "together": (1, 100, "wires"),
    "switch_a": (0, 60, "A"),
    "ambient": (-40, 150, "°C"),
    "alternator_w": (1, 3000, "W"),
}
"""Least, most and unit of each figure that may be said."""


def asked_from(
    load: str,
    typed: Mapping[str, str],
    figures: Mapping[str, float | None],
    *,
    gives: Sequence[str] = (),
    keyed: bool | None = None,
) -> NewCircuitAsked:
    """The load by its name, where it goes (`to`, `feed`), what it `takes`, and figures where they differ.

    Raises Mistakes with every mistake in them.
    """
    arguments = Arguments()
    takes = read_loads(arguments, "takes", [f"it: {typed['takes']}"]) if typed.get("takes") else []
    points = read_points(arguments, gives)
    if not load:
        arguments.wrong("load", "", "Which load?", "loomcard new-circuit N --list names them.")
    known = {name: value for name, value in figures.items() if value is not None}
    for name, value in known.items():
        least, most, unit = LIMITS[name]
        arguments.number(name, value, least, most, unit)
    arguments.settle()
    whole = {name: int(known[name]) for name in ("length", "control", "earth", "together") if name in known}
    return NewCircuitAsked(
        name=load,
        to=typed.get("to", ""),
        load=takes[0].load if takes else None,
        feed=typed.get("feed", ""),
        keyed=keyed,
        switch_a=known.get("switch_a"),
        length_mm=whole.get("length"),
        control_mm=whole.get("control"),
        earth_mm=whole.get("earth"),
        ambient_c=known.get("ambient"),
        together=whole.get("together"),
        gives=points,
        alternator_w=known.get("alternator_w"),
    )


def typed_figures(typed: Mapping[str, str]) -> tuple[dict[str, float | None], list[str]]:
    """The figures out of what was typed, either decimal sign; and the names of those that are no numbers."""
    found: dict[str, float | None] = {}
    wrong = []
    for name in LIMITS:
        text = typed.get(name, "").strip().replace(",", ".")
        if not text:
            continue
        try:
            found[name] = float(text)
        except ValueError:
            wrong.append(name)
    return found, wrong
