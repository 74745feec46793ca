"""The loom from the side as an SVG picture: real text, a title and a description, nothing over anything.

Sizes are millimetres. What is lit is heavier and filled, splices are dashed, repairs are numbered, so that it
reads without colour. Every text is escaped; none of it can be anything but text.
"""

from collections.abc import Iterator
from typing import Final
from xml.sax.saxutils import escape

from tracker.loom.layout_metrics import one_line
from tracker.papers.pictured import TEXT_MM, in_words, on_paper, spoken
from tracker.papers.tongue import language, t
from tracker.records.drawing import Drawing, Label, Mark, Run, Sketch

MARGIN: Final = 4.0
INK, DIM, LINE, LIT, COPPER, MEND, PAPER = (
    "#16201d", "#56615d", "#9aa5a0", "#1f4a3d", "#c77b30", "#a4420f", "#ffffff",
)  # fmt: skip
FONT: Final = "'Liberation Sans', Arial, Helvetica, sans-serif"
_WEIGHT: Final = {"trunk": (1.5, 2.0), "branch": (0.3, 0.8), "twig": (0.3, 0.5)}
"""Of each sort of line, in mm: as it is, and lit."""


def loom_svg(sketch: Sketch, title: str, *, width: float = 250.0, height: float = 150.0) -> str:
    """The picture as text, XML in UTF-8 when encoded; `title` names it."""
    said = spoken(sketch)
    drawing = on_paper(said, width, height, "sans")
    return "\n".join(_lines(drawing, one_line(title), in_words(said))) + "\n"


def _lines(drawing: Drawing, title: str, words: str) -> Iterator[str]:
    wide, high = drawing.width + 2 * MARGIN, drawing.height + 2 * MARGIN
    yield '<?xml version="1.0" encoding="UTF-8"?>'
    yield (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:g}mm" height="{high:g}mm"'
        f' viewBox="{-MARGIN:g} {-MARGIN:g} {wide:g} {high:g}" role="img" lang="{language()}"'
        f' aria-labelledby="title words" font-family="{FONT}" font-size="{TEXT_MM}">'
    )
    yield f'<title id="title">{escape(title)}</title>'
    yield f'<desc id="words">{escape(words or t("Nothing is in this loom yet."))}</desc>'
    yield f'<rect x="{-MARGIN:g}" y="{-MARGIN:g}" width="{wide:g}" height="{high:g}" fill="{PAPER}"/>'
    order = sorted(drawing.runs, key=lambda run: (run.kind == "trunk", run.lit))
    yield '<g fill="none" stroke-linecap="round">'
    yield from (_run(run) for run in order)
    yield from (_tracer(run) for run in order if run.kind == "trunk" and run.lit)
    yield "</g>"
    yield from (_mark(mark) for mark in drawing.marks)
    yield from (_label(label) for label in drawing.labels)
    for number in drawing.numbers:
        yield (
            f'<rect x="{number.x:.2f}" y="{number.y + 0.2:.2f}" width="{number.width:.2f}"'
            f' height="{number.height - 0.4:.2f}" rx="1.2" fill="{MEND}"/>'
        )
        middle, base = number.x + number.width / 2, number.y + 0.72 * number.height
        yield (
            f'<text x="{middle:.2f}" y="{base:.2f}" text-anchor="middle" fill="{PAPER}"'
            f' font-weight="bold">{escape(number.text.strip("()"))}</text>'
        )
    yield "</svg>"


def _run(run: Run) -> str:
    thin, heavy = _WEIGHT[run.kind]
    dash = ' stroke-dasharray="0.3 0.6"' if run.dotted else ""
    return (
        f'<line x1="{run.x1:.2f}" y1="{run.y1:.2f}" x2="{run.x2:.2f}" y2="{run.y2:.2f}"'
        f' stroke="{LIT if run.lit else LINE}" stroke-width="{heavy if run.lit else thin}"{dash}/>'
    )


def _tracer(run: Run) -> str:
    """The lit trunk is a wire with its tracer."""
    return (
        f'<line x1="{run.x1:.2f}" y1="{run.y1:.2f}" x2="{run.x2:.2f}" y2="{run.y2:.2f}"'
        f' stroke="{COPPER}" stroke-width="0.6" stroke-dasharray="3 2" stroke-linecap="butt"/>'
    )


def _mark(mark: Mark) -> str:
    lit = mark.spot.lit
    dash = ' stroke-dasharray="0.4 0.35"' if mark.spot.kind == "splice" else ""
    return (
        f'<circle cx="{mark.x:.2f}" cy="{mark.y:.2f}" r="{0.65 if lit else 0.5}"'
        f' fill="{LIT if lit and not dash else PAPER}" stroke="{LIT if lit else DIM}"'
        f' stroke-width="{0.4 if lit else 0.25}"{dash}/>'
    )


def _label(label: Label) -> str:
    at = {"left": 0.0, "centre": 0.5, "right": 1.0}[label.side]
    anchor = {"left": "start", "centre": "middle", "right": "end"}[label.side]
    strong = label.kind in {"zone", "caption"}
    fill = INK if strong or label.lit else DIM
    weight = ' font-weight="bold"' if strong else ""
    return (
        f'<text x="{label.x + at * label.width:.2f}" y="{label.y + 0.72 * label.height:.2f}"'
        f' text-anchor="{anchor}" fill="{fill}"{weight}>{escape(label.text)}</text>'
    )
