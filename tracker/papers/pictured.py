"""A loom's side view on paper: its words in the language spoken, its shapes as data, its lines of text."""

from dataclasses import replace
from typing import Final

from tracker.loom.draw_text import drawing_text
from tracker.loom.layout import layout
from tracker.loom.layout_metrics import one_line
from tracker.loom.layout_paper import Font, millimetres
from tracker.papers.loom_words import loom_words, pattern_words
from tracker.papers.paper import Picture
from tracker.papers.tongue import ENGLISH, language, mark, t
from tracker.records.drawing import Drawing, Sketch

WIDTH_MM, HEIGHT_MM, TEXT_MM = 168.0, 118.0, 2.6
"""What a picture takes of a page, unless what must be shown needs more height, and the size of its text."""
ROWS: Final = 22
LONGEST_ALT: Final = 4000
"""Characters of a description; a page's format takes no more than 32767 bytes, and nobody listens longer."""
FRONT, REAR = mark("front"), mark("rear")
NUMBERS = mark("The numbers are those of the repairs.")
DOTTED = mark("A dotted sign is a splice.")
HIDDEN = mark("“+3” behind a name counts what is there beside what is shown.")


def picture(sketch: Sketch, title: str = "") -> Picture | None:
    """A side view as a paper's block, in the language spoken now; None where nothing is in the loom."""
    if not sketch.zones:
        return None
    said = spoken(sketch)
    numbered = any(zone.repairs or any(spot.repairs for spot in zone.spots) for zone in said.zones)
    notes = [t(NUMBERS)] if numbered else []
    if any(spot.kind == "splice" for zone in said.zones for spot in zone.spots):
        notes.append(t(DOTTED))
    return Picture(said, title, " ".join([*notes, t(HIDDEN)]), in_words(said)[:LONGEST_ALT])


def spoken(sketch: Sketch) -> Sketch:
    """The sketch with the words of ours as they are said; a zone's short name is English only."""
    if language() == ENGLISH:
        return sketch
    zones = tuple(
        replace(
            zone,
            words=t(zone.said),
            spots=tuple(replace(spot, words=loom_words(spot.words)) for spot in zone.spots),
        )
        for zone in sketch.zones
    )
    return replace(sketch, zones=zones, caption=_caption(sketch.caption), ends=(t(FRONT), t(REAR)))


def picture_lines(sketch: Sketch, width: int) -> list[str]:
    """The side view in text."""
    return drawing_text(sketch, width=width, height=ROWS)


def on_paper(
    sketch: Sketch, width: float = WIDTH_MM, height: float = HEIGHT_MM, font: Font = "serif"
) -> Drawing:
    """The side view in millimetres, its text set in a font."""
    return layout(sketch, millimetres(TEXT_MM, font), width=width, height=height)


def in_words(sketch: Sketch) -> str:
    """What the side view shows, for who cannot see it: what is lit, what sits where, the repairs."""
    parts = [f"{one_line(sketch.caption)}."] if sketch.caption else []
    for zone in sketch.zones:
        spots = (
            f"{one_line(spot.words)}{_repairs(spot.repairs)}"
            for spot in zone.spots
            if spot.lit or spot.repairs or not sketch.caption
        )
        named, numbers = ", ".join(spots), _repairs(zone.repairs)
        if named or numbers:
            parts.append(f"{one_line(zone.words)}{numbers}{': ' if named else ''}{named}.")
    return " ".join(parts)


def shapes(drawing: Drawing, alt: str) -> dict[str, object]:
    """The drawing as plain numbers and texts, all in millimetres."""
    return {
        "width": drawing.width,
        "height": drawing.height,
        "alt": alt,
        "runs": [
            {"kind": r.kind, "from": [r.x1, r.y1], "to": [r.x2, r.y2], "lit": r.lit, "dotted": r.dotted}
            for r in drawing.runs
        ],
        "marks": [
            {"x": m.x, "y": m.y, "lit": m.spot.lit, "kind": m.spot.kind} for m in drawing.marks
        ],
        "labels": [
            {
                "x": one.x,
                "y": one.y,
                "width": one.width,
                "height": one.height,
                "text": one.text,
                "kind": one.kind,
                "lit": one.lit,
                "side": one.side,
            }
            for one in drawing.labels
        ],
        "numbers": [
            {"x": n.x, "y": n.y, "width": n.width, "height": n.height, "text": n.text.strip("()")}
            for n in drawing.numbers
        ],
    }  # fmt: skip


def _caption(words: str) -> str:
    """“A load: its state”, or what is lit by itself."""
    load, sign, state = words.partition(": ")
    if words in pattern_words() or not sign:
        return loom_words(words)
    return f"{loom_words(load)}: {loom_words(state)}"


def _repairs(numbers: tuple[int, ...]) -> str:
    if not numbers:
        return ""
    return " (" + t("repair {numbers}", numbers=", ".join(map(str, numbers))) + ")"
