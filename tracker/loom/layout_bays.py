"""Which zones stand together, which hang above the trunk and which below, and how wide each bay is.

A bay is a stretch of the trunk with a few neighbouring zones. On each side of it their branches stand like
a staircase: the foremost reaches farthest out, so that every name has the rest of the bay to itself. What
is lit has no say in it, so that the drawing does not jump about when another circuit is asked for; only where
it would not fit on the sheet are the zones shared out by what must be shown.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import inf
from typing import Final, TypeAlias

from tracker.loom.layout_metrics import Metrics, one_line, short_name
from tracker.records.drawing import SketchZone

LEAST_SHARE = 0.8
"""A bay that wants little keeps this part of an equal share."""


@dataclass(frozen=True, slots=True)
class Stand:
    """A zone in its bay: above the trunk or below, its branch `x` from the sheet's left edge."""

    zone: SketchZone
    above: bool
    x: float


@dataclass(frozen=True, slots=True)
class Bay:
    """A stretch of the sheet, gap to the next one not counted; its zones from front to rear."""

    x: float
    width: float
    stands: tuple[Stand, ...]

    def side(self, *, above: bool) -> tuple[Stand, ...]:
        """The zones on one side of the trunk, the one that reaches farthest first."""
        return tuple(stand for stand in self.stands if stand.above is above)


_Need: TypeAlias = tuple[int, int, int, float]
"""Of a zone: its station, how much higher than the trunk it lies, its rows when nothing is hidden, and the
least width from its branch on."""
_Steps: TypeAlias = tuple[float, float, float]
"""Distance of nested branches, of neighbours on opposite sides, and the width of a bay."""
_Shape: TypeAlias = tuple[tuple[int, tuple[bool, ...]], ...]
"""For each bay how many zones it has, and which of them hang above."""
_Cost: TypeAlias = tuple[float, float]
_TIGHT: Final = 1000.0
"""Dearer than any number of rows: a bay in which names lose their room."""
_FREE: Final[_Cost] = (0.0, 0.0)
_NEVER: Final[_Cost] = (inf, inf)


def bays(
    zones: Sequence[SketchZone], metrics: Metrics, width: float, *, must: bool = False
) -> tuple[Bay, ...]:
    """The zones, which come from front to rear, in bays over the whole width.

    They are shared out so that all their spots need few rows; with `must`, only those that must be shown.
    """
    if not zones:
        return ()
    number = max(1, min(len(zones), int((width + metrics.gap) // metrics.bay)))
    equal = (width + metrics.gap) / number - metrics.gap
    steps = (metrics.nest, metrics.beside, equal - metrics.inset)
    needs = tuple(_need(zone, metrics, must=must) for zone in zones)
    shape = _shape(needs, number, steps)
    groups: list[tuple[Sequence[SketchZone], tuple[bool, ...], tuple[float, ...]]] = []
    start = 0
    for count, sides in shape:
        there = slice(start, start + count)
        groups.append((zones[there], sides, _offsets(needs[there], sides, steps)))
        start += count
    wanted = [_wanted(group, offsets, metrics) for group, _, offsets in groups]
    least = [min(equal, _least(group, offsets, metrics, equal)) for group, _, offsets in groups]
    widths = _widths(wanted, least, width - metrics.gap * (len(groups) - 1), metrics)
    found = []
    x = 0.0
    for (group, sides, offsets), wide in zip(groups, widths, strict=True):
        stands = tuple(
            Stand(*one)
            for one in zip(group, sides, (x + metrics.inset + off for off in offsets), strict=True)
        )
        found.append(Bay(x, wide, stands))
        x += wide + metrics.gap
    return tuple(found)


@lru_cache(maxsize=256)
def _shape(needs: tuple[_Need, ...], number: int, steps: _Steps) -> _Shape:
    """The cut into at most so many bays that keeps the highest pile of rows lowest."""
    size = len(needs)
    sides = {(i, j): _sides(needs[i:j], steps) for i in range(size) for j in range(i + 1, size + 1)}
    best: list[list[tuple[_Cost, _Shape]]] = [[(_FREE, ())] * (number + 1)]
    for end in range(1, size + 1):
        row: list[tuple[_Cost, _Shape]] = [(_NEVER, ())]
        for used in range(1, number + 1):
            options = []
            for start in range(end):
                (highest, squares), shape = best[start][used - 1]
                rows, ups = sides[start, end]
                cost = (max(highest, rows), squares + rows * rows)
                options.append((cost, (*shape, (end - start, ups))))
            row.append(min(options))
        best.append(row)
    return min(best[size])[1]


def _sides(needs: tuple[_Need, ...], steps: _Steps) -> tuple[float, tuple[bool, ...]]:
    """Which zones of one bay hang above, and the rows of its higher pile; dear where names lose their room.

    The higher a zone lies on the bike, the sooner it hangs above: only where the cut falls is chosen.
    """
    order = sorted(range(len(needs)), key=lambda at: -needs[at][1])
    natural = sum(need[1] >= 0 for need in needs)
    whole = sum(need[2] for need in needs)
    cuts = []
    up = 0
    for count in range(len(needs) + 1):
        cuts.append((max(up, whole - up), abs(count - natural), count))
        up += needs[order[count]][2] if count < len(needs) else 0
    cuts.sort()
    narrowest = min(need[3] for need in needs)
    if steps[0] * ((len(needs) - 1) // 2) + narrowest <= steps[2]:  # else too many, however they are cut
        for rows, _, count in cuts:
            sides = _up_to(order, count)
            offsets = _offsets(needs, sides, steps)
            if all(offset + need[3] <= steps[2] for offset, need in zip(offsets, needs, strict=True)):
                return rows, sides
    return cuts[0][0] + _TIGHT, _up_to(order, cuts[0][2])


def _up_to(order: Sequence[int], count: int) -> tuple[bool, ...]:
    above = frozenset(order[:count])
    return tuple(at in above for at in range(len(order)))


def _offsets(needs: Sequence[_Need], sides: Sequence[bool], steps: _Steps) -> tuple[float, ...]:
    """How far in each branch stands, never less than the one before. Zones at one station may share theirs
    across the trunk."""
    nest, beside, _ = steps
    found: list[float] = []
    last: dict[tuple[bool, bool], float] = {}
    for at, ((station, *_), above) in enumerate(zip(needs, sides, strict=True)):
        if at and needs[at - 1][0] != station:
            last |= {(side, True): last[side, False] for side in (True, False) if (side, False) in last}
        same, other = last.get((above, False)), last.get((not above, True))
        here = max(0.0 if same is None else same + nest, 0.0 if other is None else other + beside)
        here = max(here, found[-1] if found else 0.0)
        last[above, False] = here
        found.append(here)
    return tuple(found)


def _need(zone: SketchZone, metrics: Metrics, *, must: bool) -> _Need:
    """The least width has room for some of every text and for the zone's shortest name with a count."""
    name = metrics.bold * metrics.measure(f"{short_name(one_line(zone.words))} +9")
    least = max(metrics.to_text + metrics.room, metrics.to_name + name)
    rows = 1 + sum(spot.must_show or not must for spot in zone.spots)
    return zone.station_mm, zone.rise, rows, least


def _wanted(group: Sequence[SketchZone], offsets: Sequence[float], metrics: Metrics) -> float:
    """The width in which no name of these zones is cut."""
    longest = 0.0
    for zone, offset in zip(group, offsets, strict=True):
        for text in (zone.words, *(spot.words for spot in zone.spots)):
            longest = max(longest, offset + metrics.measure(one_line(text)))
    return metrics.inset + metrics.to_text + longest


def _least(group: Sequence[SketchZone], offsets: Sequence[float], metrics: Metrics, equal: float) -> float:
    """The width that a bay keeps: for its zones' names with a count behind, and for some of every text."""
    longest = offsets[-1] + metrics.to_text + metrics.room
    for zone, offset in zip(group, offsets, strict=True):
        name = metrics.bold * metrics.measure(f"{one_line(zone.words)} +99")
        longest = max(longest, offset + metrics.to_name + name)
    return max(LEAST_SHARE * equal, metrics.inset + longest)


def _widths(wanted: Sequence[float], least: Sequence[float], width: float, metrics: Metrics) -> list[float]:
    """What each bay gets: what it wants if all can have it, else as much of it as is fair."""
    low, high = 0.0, width
    for _ in range(40):
        middle = (low + high) / 2
        whole = sum(max(floor, min(want, middle)) for want, floor in zip(wanted, least, strict=True))
        low, high = (middle, high) if whole < width else (low, middle)
    shares = [max(floor, min(want, low)) for want, floor in zip(wanted, least, strict=True)]
    spare = (width - sum(shares)) / len(shares)
    return list(_on_grid([share + spare for share in shares], metrics))


def _on_grid(widths: Sequence[float], metrics: Metrics) -> Iterator[float]:
    """Whole cells, the rounding carried on so that the sum stays."""
    if metrics.unit == "mm":
        yield from widths
        return
    whole, given = 0.0, 0
    for width in widths:
        whole += width
        yield round(whole) - given
        given = round(whole)
