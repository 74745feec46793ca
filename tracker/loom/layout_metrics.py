"""The measures of a sheet, and how text is made to fit them."""

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final, Literal, TypeAlias

from tracker.records.width import clusters, width_of

Measure: TypeAlias = Callable[[str], float]
"""The width of a text on one line."""

MORE: Final = "…"
_UNFIT: Final = frozenset({"Cc", "Cs", "Zl", "Zp"})
_TURNING: Final = frozenset({"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"})
_PIECES: Final = re.compile(r"\S+?(?:[/-](?=\S)|(?=\s)|$)\s*")


@dataclass(frozen=True, slots=True, kw_only=True)
class Metrics:
    """Sizes in one unit. `measure` is the width of a text, never less than it will take.

    `line` is a row's height and `middle` where in it lines run. A bay's first branch stands `inset` in; from
    a branch it is `to_mark` to a spot's sign, `to_text` to its name, `to_name` to the zone's. `nest` lies
    between two branches on one side of the trunk, `beside` between neighbours on opposite sides, `gap`
    between two bays; `bay` is the least width of a bay, `room` the least for a text, `lines` how many lines
    the name of a spot that must be shown may take; `bold` is how much wider
    zones' names are set; `more` ends what is cut.
    """

    unit: Literal["cell", "mm"]
    measure: Measure
    line: float
    middle: float
    inset: float
    to_mark: float
    to_text: float
    to_name: float
    nest: float
    beside: float
    gap: float
    bay: float
    room: float
    lines: int = 2
    bold: float = 1.0
    more: str = MORE


@lru_cache(maxsize=4096)
def one_line(text: str) -> str:
    """A text as a drawing shows it: on one line, without what a terminal would obey."""
    return " ".join("".join(" " if _is_unfit(sign) else sign for sign in text).split()) or "?"


def _is_unfit(sign: str) -> bool:
    no_character = ord(sign) & 0xFFFE == 0xFFFE
    return no_character or unicodedata.category(sign) in _UNFIT or unicodedata.bidirectional(sign) in _TURNING


def short_name(words: str) -> str:
    """Some words shortened: all but the last by their initials.

    >>> short_name("right engine")
    'r. engine'
    """
    *first, last = words.split(" ")
    return " ".join([*(f"{next(clusters(word), '')}." for word in first), last])


def cut(text: str, room: float, measure: Measure, more: str = MORE) -> str:
    """As much of a text as fits, “…” where something is missing; empty where not even that fits."""
    if measure(text) <= room:
        return text
    taken = ""
    for piece in clusters(text):
        if measure(taken + piece + more) > room:
            break
        taken += piece
    whole = taken.rstrip() + more
    return whole if measure(whole) <= room else ""


@lru_cache(maxsize=4096)
def fitted(text: str, room: float, measure: Measure, lines: int, more: str = MORE) -> tuple[str, ...]:
    """A text on at most so many lines, broken at blanks and after “/” and “-”; the last is cut.

    >>> fitted("regulator/rectifier", 12, width_of, 2)
    ('regulator/', 'rectifier')
    """
    if lines == 1 or measure(text) <= room:
        return (cut(text, room, measure, more),)
    pieces = _PIECES.findall(text)
    first = ""
    while pieces and measure((first + pieces[0]).rstrip()) <= room:
        first += pieces.pop(0)
    if not first:
        return (cut(text, room, measure, more),)
    return (first.rstrip(), *fitted("".join(pieces), room, measure, lines - 1, more))


@lru_cache(maxsize=4096)
def cells(text: str) -> float:
    """Columns of a terminal."""
    return width_of(text)


CELLS: Final = Metrics(
    unit="cell",
    measure=cells,
    line=1,
    middle=0,
    inset=0,
    to_mark=1,
    to_text=3,
    to_name=2,
    nest=2,
    beside=1,
    gap=1,
    bay=19,
    room=9,
)
"""A terminal's cells: a branch, a spot's sign, a blank, its name."""
ASCII_CELLS: Final = replace(CELLS, more="~")
