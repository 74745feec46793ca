"""A sheet of character cells: lines that join where they meet, signs and text over them."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal, TypeAlias

from tracker.records.drawing import Run
from tracker.records.width import clusters, left, width_of

Look: TypeAlias = Literal["", "line", "lit", "zone", "part", "here", "repair", "end"]
"""What a cell shows, so that a screen may colour it."""

UP, DOWN, LEFT, RIGHT = range(4)
NONE, THIN, HEAVY, DOUBLE = range(4)


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of one line of the drawing, and what it shows."""

    text: str
    look: Look


class Grid:
    """Cells of one column each. A wide sign leaves the cell after its own empty."""

    def __init__(self, width: int, height: int) -> None:
        self.texts = [[" "] * width for _ in range(height)]
        self.looks: list[list[Look]] = [[""] * width for _ in range(height)]
        self.arms: dict[tuple[int, int], list[int]] = {}

    def run(self, run: Run) -> None:
        """Adds a line's arms to the cells it passes; a twig is an arm towards its sign."""
        weight = HEAVY if run.lit else DOUBLE if run.kind == "trunk" else THIN
        x, y = int(run.x1), int(run.y1)
        if run.kind == "twig":
            self._arm(x, y, RIGHT, weight)
        elif run.kind == "trunk":
            for at in range(x, int(run.x2)):
                self._arm(at, y, RIGHT, weight)
                self._arm(at + 1, y, LEFT, weight)
        else:
            first, last = sorted((y, int(run.y2)))
            for at in range(first, last):
                self._arm(x, at, DOWN, weight)
                self._arm(x, at + 1, UP, weight)

    def draw(self, joints: Mapping[str, str], trunk: int) -> None:
        """Turns arms into signs. The trunk's are alike on both sides: no sign joins two sorts of line."""
        for (x, y), arms in self.arms.items():
            if y == trunk:
                arms[LEFT] = arms[RIGHT] = HEAVY if HEAVY in arms else DOUBLE
            self.put(x, y, joints["".join(map(str, arms))], "lit" if HEAVY in arms else "line")

    def put(self, x: int, y: int, sign: str, look: Look) -> None:
        """One sign of one column."""
        self.texts[y][x], self.looks[y][x] = sign, look

    def write(self, x: int, y: int, text: str, look: Look) -> None:
        """Text from a cell on. Where it runs from right to left, a mark keeps what follows in its place."""
        texts, wide = self.texts[y], width_of(text)
        self.looks[y][x : x + wide] = [look] * wide
        if text.isascii():
            texts[x : x + wide] = text
            return
        last = x
        for cluster in clusters(text):
            columns = width_of(cluster)
            if columns:
                texts[x : x + columns] = [cluster, *[""] * (columns - 1)]
                last = x
                x += columns
            else:
                texts[last] += cluster
        texts[last] += left(text, wide)[len(text) :]

    def rows(self) -> tuple[tuple[Piece, ...], ...]:
        """The lines in pieces of one look each."""
        return tuple(tuple(_pieces(*row)) for row in zip(self.texts, self.looks, strict=True))

    def _arm(self, x: int, y: int, which: int, weight: int) -> None:
        arms = self.arms.setdefault((x, y), [NONE, NONE, NONE, NONE])
        arms[which] = HEAVY if HEAVY in (arms[which], weight) else max(arms[which], weight)


def _pieces(texts: list[str], looks: list[Look]) -> Iterator[Piece]:
    start = 0
    for at in range(1, len(looks) + 1):
        if at == len(looks) or looks[at] != looks[start]:
            yield Piece("".join(texts[start:at]), looks[start])
            start = at
