"""What a drawing must hold whatever is on it: nothing over anything, nothing off the sheet, nothing lost."""

from collections.abc import Iterator
from itertools import pairwise

from tracker.records.drawing import Drawing, Sketch, Spot

Rectangle = tuple[float, float, float, float]
"""Left, top, right, bottom."""

SPARE = 1e-6


def check(drawing: Drawing, sketch: Sketch) -> None:
    """Everything that is true of any drawing of a sketch."""
    texts = [(box.text, (box.x, box.y, box.x + box.width, box.y + box.height)) for box in drawing.boxes()]
    marks = [(mark.spot.words, _around(drawing, mark.x, mark.y)) for mark in drawing.marks]
    branches = [("a branch", one) for one in _uprights(drawing)]
    trunk = _level(drawing)
    for name, box in (*texts, *marks, *branches):
        assert box[0] >= -SPARE, name
        assert box[1] >= -SPARE, name
        assert box[2] <= drawing.width + SPARE, (name, box, drawing.width)
        assert box[3] <= drawing.height + SPARE, (name, box, drawing.height)
    solid = [*texts, *marks]
    _apart([*solid, *branches])
    for name, (_, top, _, bottom) in solid:
        assert min(bottom, trunk[1]) - max(top, trunk[0]) <= SPARE, f"{name} lies on the trunk"
    _once(drawing)
    _complete(drawing, sketch)
    _in_order(drawing, sketch)


def _apart(boxes: list[tuple[str, Rectangle]]) -> None:
    boxes = sorted(boxes, key=lambda one: one[1][0])
    for at, (name, box) in enumerate(boxes):
        for other, there in boxes[at + 1 :]:
            if there[0] >= box[2] - SPARE:
                break
            apart = min(box[3], there[3]) - max(box[1], there[1]) <= SPARE
            if not (name == other == "a branch" and box[0] == there[0]):
                assert apart, f"{name} {box} and {other} {there}"


def _once(drawing: Drawing) -> None:
    """Pieces of branch at one x touch at most."""
    pieces = [(run.x1, *sorted((run.y1, run.y2))) for run in drawing.runs if run.kind == "branch"]
    for (x, _, bottom), (next_x, top, _) in pairwise(sorted(pieces)):
        assert x != next_x or bottom <= top + SPARE


def _around(drawing: Drawing, x: float, y: float) -> Rectangle:
    return (x, y, x + 1, y + 1) if drawing.unit == "cell" else (x - 0.7, y - 0.7, x + 0.7, y + 0.7)


def _uprights(drawing: Drawing) -> Iterator[Rectangle]:
    thick = 1.0 if drawing.unit == "cell" else 0.0
    for run in drawing.runs:
        if run.kind == "branch":
            assert run.x1 == run.x2
            top, bottom = sorted((run.y1, run.y2))
            half = 0 if drawing.unit == "cell" else 0.3
            yield (run.x1 - half, top, run.x1 + thick + half, bottom + thick)


def _level(drawing: Drawing) -> tuple[float, float]:
    half = 0.0 if drawing.unit == "cell" else 0.7
    return drawing.trunk_y - half, drawing.trunk_y + (1.0 if drawing.unit == "cell" else half)


def _complete(drawing: Drawing, sketch: Sketch) -> None:
    """Each zone is named, all that must be shown is, and what is not is counted."""
    shown = [mark.spot.key for mark in drawing.marks]
    assert len(shown) == len(set(shown))
    names = [label.text for label in drawing.labels if label.kind == "zone"]
    assert len(names) == len(sketch.zones)
    every: list[Spot] = [spot for zone in sketch.zones for spot in zone.spots]
    assert all(spot.key in shown for spot in every if spot.must_show)
    assert len(shown) + sum(drawing.hidden.values()) == len(every)
    for zone in sketch.zones:
        left_out = sum(spot.key not in shown for spot in zone.spots)
        assert drawing.hidden.get(zone.id, 0) == left_out
    named = {label.spot.key for label in drawing.labels if label.spot is not None}
    assert named == set(shown)
    numbered = sorted(number for box in drawing.numbers for number in box.numbers)
    done = [spot.repairs for spot in every] + [zone.repairs for zone in sketch.zones]
    assert numbered == sorted(number for numbers in done for number in numbers)


def _in_order(drawing: Drawing, sketch: Sketch) -> None:
    """Branches leave the trunk in the order of the zones along the bike."""
    at = {mark.spot.key: mark.x for mark in drawing.marks}
    found = [
        (zone.station_mm, at[zone.spots[0].key])
        for zone in sketch.zones
        if zone.spots and zone.spots[0].key in at
    ]
    for (station, x), (next_station, next_x) in pairwise(found):
        assert x < next_x + SPARE or station == next_station
