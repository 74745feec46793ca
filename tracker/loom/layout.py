"""A sketch laid out on a sheet: trunk, branches, signs and names, none over another.

Nothing is placed by hand. What is lit, under the cursor or repaired is always shown, the zones' names too;
the rest as far as the height goes, and what is left out is counted beside its zone's name. Where even what
must be shown needs more rows than there are, the sheet grows.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from tracker.loom.layout_bays import Bay, Stand, bays
from tracker.loom.layout_blocks import Block, full_rows, least_rows, pile
from tracker.loom.layout_metrics import CELLS, Metrics, cut, one_line
from tracker.records.drawing import Drawing, Label, Mark, RepairNumber, Run, Sketch


def layout(sketch: Sketch, metrics: Metrics = CELLS, *, width: float = 80, height: float = 20) -> Drawing:
    """The drawing of a sketch, so wide; as high as said, or less where nothing is hidden, or more where what
    must be shown needs it. The first row holds the caption and says where the front is."""
    rows = max(0, int(height // metrics.line) - 2)
    stretch = bays(sketch.zones, metrics, width)
    if _least(stretch) > rows:
        stretch = min((stretch, bays(sketch.zones, metrics, width, must=True)), key=_least)
    above, below = _rows(stretch, metrics, rows)
    sheet = _Sheet(metrics, width, metrics.line * (1 + above))
    sheet.head(sketch)
    for bay in stretch:
        for up, most in ((True, above), (False, below)):
            sheet.pile(pile(bay, metrics, most, above=up), above=up)
    sheet.trunk(_lit_stretches(stretch, sketch.runs))
    return Drawing(
        unit=metrics.unit,
        width=width,
        height=metrics.line * (2 + above + below),
        trunk_y=sheet.trunk_y + metrics.middle,
        runs=tuple(sheet.runs),
        marks=tuple(sheet.marks),
        labels=tuple(sheet.labels),
        numbers=tuple(sheet.numbers),
        hidden=sheet.hidden,
    )


def _rows(stretch: Sequence[Bay], metrics: Metrics, rows: int) -> tuple[int, int]:
    """How many rows stand above the trunk and below: as the whole loom would share them, so that the trunk
    stays where it is while other circuits are lit, unless what must be shown needs it otherwise."""
    full = [max((full_rows(bay, metrics, above=up) for bay in stretch), default=0) for up in (True, False)]
    least = _least_sides(stretch)
    if sum(full) <= rows:
        return max(full[0], least[0]), max(full[1], least[1])
    above = round(rows * full[0] / sum(full))
    above = max(least[0], min(above, rows - least[1]))
    return above, max(least[1], rows - above)


def _least_sides(stretch: Sequence[Bay]) -> list[int]:
    """The rows above the trunk and below without which something that must be shown is not."""
    return [max((least_rows(bay, above=up) for bay in stretch), default=0) for up in (True, False)]


def _least(stretch: Sequence[Bay]) -> int:
    return sum(_least_sides(stretch))


def _lit_stretches(
    stretch: Sequence[Bay], runs: Sequence[tuple[str, str]]
) -> Iterator[tuple[float, float, bool]]:
    """The trunk between neighbouring branches, and whether a lit wire runs there."""
    at = {stand.zone.id: stand.x for bay in stretch for stand in bay.stands}
    lit = [sorted((at[one], at[other])) for one, other in runs if one in at and other in at]
    stops = sorted(set(at.values()))
    for here, there in pairwise(stops):
        yield here, there, any(first <= here and there <= last for first, last in lit)


@dataclass(slots=True)
class _Sheet:
    """Shapes as they are put down."""

    metrics: Metrics
    width: float
    trunk_y: float
    runs: list[Run] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)
    numbers: list[RepairNumber] = field(default_factory=list)
    hidden: dict[str, int] = field(default_factory=dict)

    def head(self, sketch: Sketch) -> None:
        """The first row: front, what is lit, rear."""
        front, rear = (one_line(end) for end in sketch.ends)
        measure, line = self.metrics.measure, self.metrics.line
        ends = [measure(end) for end in (front, rear)]
        aside = max(ends) + 2 * measure(" ")
        text = (
            cut(one_line(sketch.caption), self.width - 2 * aside, measure, self.metrics.more)
            if sketch.caption
            else ""
        )
        self.labels.append(Label(0, 0, ends[0], line, front, "end"))
        self.labels.append(Label(self.width - ends[1], 0, ends[1], line, rear, "end", side="right"))
        if text:
            room = self.width - 2 * aside
            self.labels.append(Label(aside, 0, room, line, text, "caption", side="centre"))

    def pile(self, blocks: Sequence[Block], *, above: bool) -> None:
        """The zones of one side of a bay, the farthest first."""
        rows = 0
        for block in reversed(blocks):
            self._block(block, rows, above=above)
            rows += block.rows

    def trunk(self, stretches: Iterator[tuple[float, float, bool]]) -> None:
        """The heavy line from the front to the rear, lit where lit wires run."""
        y, x = self.trunk_y + self.metrics.middle, 0.0
        pieces: list[Run] = []
        end = self.width - 1 if self.metrics.unit == "cell" else self.width
        for here, there, lit in (*stretches, (end, end, False)):
            pieces += [Run("trunk", x, y, here, y), Run("trunk", here, y, there, y, lit)]
            x = there
        for piece in pieces:
            last = self.runs[-1] if self.runs else None
            if last is not None and (last.kind, last.lit, last.x2) == ("trunk", piece.lit, piece.x1):
                self.runs[-1] = replace(last, x2=piece.x2)
            elif piece.x1 < piece.x2:
                self.runs.append(piece)

    def _block(self, block: Block, near: int, *, above: bool) -> None:
        """One zone, `near` rows out from the trunk: its spots, its name at the far end, its branch."""
        line, middle = self.metrics.line, self.metrics.middle
        far = near + block.rows
        top = self.trunk_y - far * line if above else self.trunk_y + (near + 1) * line
        name_y = top if above else top + (block.rows - 1) * line
        y = top + line if above else top
        trunk = self.trunk_y + middle
        lit_to: float | None = None
        for item in block.items:
            self._twig(block.stand, y, lit=item.spot.lit, dotted=item.spot.kind == "splice")
            self.marks.append(Mark(block.stand.x + self.metrics.to_mark, y + middle, item.spot))
            self.labels += [replace(label, y=y + n * line) for n, label in enumerate(item.labels)]
            if item.number is not None:
                self.numbers.append(replace(item.number, y=y + (len(item.labels) - 1) * line))
            if item.spot.lit and (lit_to is None or not above):
                lit_to = y + middle
            y += len(item.labels) * line
        self.labels.append(replace(block.name, y=name_y))
        if block.number is not None:
            self.numbers.append(replace(block.number, y=name_y))
        self._twig(block.stand, name_y)
        x, end = block.stand.x, name_y + middle
        if lit_to is not None:
            self.runs.append(Run("branch", x, trunk, x, lit_to, lit=True))
        self.runs.append(Run("branch", x, trunk if lit_to is None else lit_to, x, end))
        if block.hidden:
            self.hidden[block.stand.zone.id] = block.hidden

    def _twig(self, stand: Stand, y: float, *, lit: bool = False, dotted: bool = False) -> None:
        middle = y + self.metrics.middle
        self.runs.append(
            Run("twig", stand.x, middle, stand.x + self.metrics.to_mark, middle, lit=lit, dotted=dotted)
        )
