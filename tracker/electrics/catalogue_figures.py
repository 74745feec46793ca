"""A sum's figures as people read them: in words, rounded to what a meter or a rule shows, with the unit.

A program gets the figures whole, under their own names; rounding is for eyes only.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum

from tracker.electrics.arguments import shown
from tracker.electrics.battery import BatterySum
from tracker.electrics.catalogue_arguments import unit_of
from tracker.electrics.catalogue_shown import SHOWN
from tracker.electrics.charge_balance import Standing
from tracker.electrics.splice import SpliceSum
from tracker.records.electrics import Sum

PLACES = {
    "V": 2,
    "W": 1,
    "mm": 1,
    "mm2": 2,
    "%": 1,
    "°C": 0,
    "N": 0,
    "Hz": 0,
    "rev/min": 0,
    "SG": 3,
    "days": 1,
}
"""Digits behind the point by unit; other figures are shown with three significant digits."""

FINER: dict[str, tuple[float, int]] = {"V": (1, 3), "mm": (10, 2), "SG": (0.01, 4)}
"""By unit: under which figure how many digits are shown instead."""

COARSER = ("mm", "%", "W")
"""Units that have no digits behind the point from 100 up."""


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of an answer for eyes: what it is, and its value with the unit."""

    words: str
    value: str


def figures(answer: Sum) -> tuple[Figure, ...]:
    """An answer's figures in the order they are read; those that are not known are left out.

    Formula: rounded as `rounded`; a whole list on one line.
    Range: any named sum's answer.
    Example:
        >>> from tracker.electrics.tape import tape
        >>> [f"{one.words}: {one.value}" for one in figures(tape(bundle_mm=10, covered_mm=1000))]
        ['tape: 3307 mm', 'turns: 105', 'layers: 2']

    Source: none: a way of writing.
    """
    found: list[Figure] = []
    for names, words in SHOWN.get(type(answer), ()):
        if names in _idle(answer):
            continue
        fields = names.split(" ")
        first = getattr(answer, fields[0])
        if isinstance(first, tuple) and first and isinstance(first[0], Standing):
            found += _standings(words, first)
            continue
        values = [said for name in fields if (said := _said(getattr(answer, name), unit_of(name)))]
        if values and first not in (None, "", ()):
            found.append(Figure(words, ", ".join(values)))
    return tuple(found)


def rounded(value: float, unit: str) -> str:
    """A figure as it is shown beside its unit.

    Formula: so many digits behind the point by unit (V 2, under 1 V 3; mm and W 1; SG 3; ...), else three
        significant digits; never rounded to nothing.
    Range: finite figures.
    Example:
        >>> rounded(12.7053, "V"), rounded(0.0951, "V"), rounded(7.5789, "ohm"), rounded(1472.3, "mm")
        ('12.71', '0.095', '7.58', '1472')

    Source: none: a way of writing.
    """
    places = PLACES.get(unit)
    if places is None:
        return shown(float(f"{value:.3g}"))
    under, finer = FINER.get(unit, (0, places))
    if abs(value) < under:
        places = finer
    elif abs(value) >= 100 and unit in COARSER:
        places = 0
    near = round(value, places)
    if value and not near:
        return shown(float(f"{value:.2g}"))
    return f"{near:.{places}f}" if unit == "SG" else shown(near)


def of(found: Iterable[str], last: str = "or") -> str:
    """Words in a row, the last joined by “or”.

    Formula: commas, and the last word by `last`.
    Range: any words.
    Example:
        >>> of(["red", "blue", "yellow"]), of(["red"])
        ('red, blue or yellow', 'red')

    Source: none: a way of writing.
    """
    words = list(found)
    return f" {last} ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else "".join(words)


def _idle(answer: Sum) -> frozenset[str]:
    """Figures that say nothing in this answer: lengths of a joint that does not fit, charge nobody knows."""
    if isinstance(answer, SpliceSum) and not answer.fits:
        return frozenset(names for names, _ in SHOWN[SpliceSum]) - {"methods_fit"}
    if isinstance(answer, BatterySum) and answer.confidence == "none":
        return frozenset({"low_percent", "high_percent"})
    return frozenset()


def _said(value: object, unit: str) -> str:
    """One value with its unit; empty where there is none."""
    if value is None or value in ("", ()):
        return ""
    if isinstance(value, Enum):
        return str(value.value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    values = value if isinstance(value, tuple) else (value,)
    return f"{', '.join(_bare(one, unit) for one in values)} {unit}".strip()


def _bare(value: object, unit: str) -> str:
    return (
        rounded(value, unit) if isinstance(value, float) or (isinstance(value, int) and unit) else str(value)
    )


def _standings(words: str, rows: Iterable[Standing]) -> Iterator[Figure]:
    for row in rows:
        left = f"{abs(row.spare_a):.1f} A {'to spare' if row.spare_a >= 0 else 'short'}"
        gives = f"gives {row.gives_a:.1f} A, takes {row.takes_a:.1f} A, {left}"
        yield Figure(f"{words}, {row.at}", f"{gives} at {rounded(row.rev_min, 'rev/min')} rev/min")
