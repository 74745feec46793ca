"""A loom's drawing on the command line: how wide, with which signs, and what the signs mean."""

import shutil
import sys
from typing import TYPE_CHECKING

import click

from tracker.desk.loom_picture import LoomPicture

if TYPE_CHECKING:
    from tracker.loom.lighting import Lit
    from tracker.records.drawing import Sketch

LEAST, MOST = 40, 1000
"""Columns that a drawing may be asked in."""


def sketch_of(picture: LoomPicture, lit: "Lit") -> "Sketch":
    """What is on the drawing."""
    from tracker.loom.sketch import sketch

    return sketch(picture.loom, lit, repairs=picture.numbered)


def drawing_lines(
    sketch: "Sketch", width: int | None = None, height: int | None = None, *, ascii_only: bool = False
) -> list[str]:
    """The drawing and what its signs mean, as wide as the terminal unless said otherwise."""
    from tracker.loom.draw_text import drawing_text, legend
    from tracker.loom.layout import layout

    wide = width or columns()
    high = height or (20 if wide < 100 else 32 if wide < 140 else 46)
    lines = drawing_text(sketch, width=wide, height=high, ascii_only=ascii_only)
    said = legend(layout(sketch, width=wide, height=high), ascii_only=ascii_only)
    return [*lines, *([said] if said else [])]


def columns() -> int:
    """How wide this terminal is; 80 where there is none."""
    wide = shutil.get_terminal_size((80, 24)).columns if sys.stdout.isatty() else 80
    return max(LEAST, min(MOST, wide))


DRAWN = [
    click.Option(
        ["--width"], type=click.IntRange(LEAST, MOST), metavar="N", help="Columns; those of the terminal."
    ),
    click.Option(["--ascii"], is_flag=True, help="Draw with ASCII signs only."),
]
"""What any drawing in text may be told."""

HEIGHT = click.Option(["--height"], type=click.IntRange(8, 500), metavar="N", help="Rows, if they do.")
