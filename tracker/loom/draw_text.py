"""The drawing of the loom in plain text: box lines, or ASCII where a terminal knows no others.

Nothing is said by colour alone: what is lit has heavy lines and full signs, a splice is dotted, repairs have
numbers, the cursor has brackets. Each piece of a line says what it is, so that a screen may colour it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from tracker.loom.draw_grid import Grid, Look, Piece
from tracker.loom.layout import layout
from tracker.loom.layout_metrics import ASCII_CELLS, CELLS
from tracker.records.drawing import Drawing, Label, Sketch, Spot
from tracker.records.width import width_of


@dataclass(frozen=True, slots=True)
class Signs:
    """What is drawn with. `joints` maps arms to a sign: up, down, left, right, each 0 none, 1 thin, 2 heavy,
    3 double.
    """

    joints: Mapping[str, str]
    spot: str
    lit_spot: str
    splice: str
    lit_splice: str


_BOX = {
    "0033": "═", "0022": "━", "1133": "╪", "1033": "╧", "0133": "╤",
    "2222": "╋", "2022": "┻", "0222": "┳", "1122": "┿", "1022": "┷", "0122": "┯", "2122": "╇", "1222": "╈",
    "1100": "│", "2200": "┃", "1200": "╽", "2100": "╿",
    "0101": "┌", "0201": "┎", "1001": "└", "2001": "┖",
    "1101": "├", "1102": "┝", "2201": "┠", "2202": "┣", "1201": "┟", "2101": "┞", "1202": "┢", "2102": "┡",
}  # fmt: skip
"""Arms of a cell (up, down, left, right) to the sign that has them."""


def _plain(arms: str) -> str:
    """One ASCII sign for what a box sign would say.

    >>> _plain("0033"), _plain("2202"), _plain("1101")
    ('=', '#', '+')
    """
    if "2" in arms:
        return "#"
    return "=" if "3" in arms and arms[:2] == "00" else "|" if arms == "1100" else "+"


UNICODE: Final = Signs(_BOX, spot="○", lit_spot="●", splice="┄", lit_splice="┅")
ASCII: Final = Signs(
    {arms: _plain(arms) for arms in _BOX}, spot="o", lit_spot="@", splice=".", lit_splice=":"
)


def drawing_text(sketch: Sketch, *, width: int = 80, height: int = 20, ascii_only: bool = False) -> list[str]:
    """The drawing in lines of at most `width` columns."""
    metrics = ASCII_CELLS if ascii_only else CELLS
    rows = rows_of(layout(sketch, metrics, width=width, height=height), ASCII if ascii_only else UNICODE)
    return ["".join(piece.text for piece in row).rstrip() for row in rows]


def rows_of(drawing: Drawing, signs: Signs = UNICODE) -> tuple[tuple[Piece, ...], ...]:
    """A drawing in cells as lines in pieces. Raises ValueError for one in millimetres."""
    if drawing.unit != "cell":
        raise ValueError("only a drawing in cells can be written as text")
    grid = Grid(int(drawing.width), int(drawing.height))
    for run in drawing.runs:
        grid.run(run)
    grid.draw(signs.joints, int(drawing.trunk_y))
    for mark in drawing.marks:
        grid.put(int(mark.x), int(mark.y), _sign(mark.spot, signs), "lit" if mark.spot.lit else "line")
    for label in drawing.labels:
        grid.write(_start(label), int(label.y), label.text, _look(label))
    for number in drawing.numbers:
        grid.write(int(number.x), int(number.y), number.text, "repair")
    return grid.rows()


def _sign(spot: Spot, signs: Signs) -> str:
    if spot.kind == "splice":
        return signs.lit_splice if spot.lit else signs.splice
    return signs.lit_spot if spot.lit else signs.spot


def _look(label: Label) -> Look:
    if label.spot is not None and label.spot.here:
        return "here"
    if label.kind in {"zone", "end"}:
        return "zone" if label.kind == "zone" else "end"
    return "lit" if label.lit or label.kind == "caption" else "part"


def _start(label: Label) -> int:
    spare = int(label.width) - width_of(label.text)
    return int(label.x) + {"left": 0, "centre": spare // 2, "right": spare}[label.side]


def legend(drawing: Drawing, *, ascii_only: bool = False) -> str:
    """What the signs mean, of those that are on the drawing."""
    signs = ASCII if ascii_only else UNICODE
    said = [f"{signs.lit_spot} lit"] if any(mark.spot.lit for mark in drawing.marks) else []
    if any(mark.spot.kind == "splice" for mark in drawing.marks):
        said.append(f"{signs.splice} splice")
    if drawing.numbers:
        said.append("(1) repair of that number")
    if drawing.hidden:
        said.append("+3 more that are not shown")
    return ", ".join(said)
