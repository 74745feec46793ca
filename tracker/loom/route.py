"""Millimetres between two places along the trunk and its branches.

The loom is a tree: each place hangs on a twig off its zone, each zone on a branch off the trunk, the trunk
runs from the headlamp to the tail. So there is one way between two places, and no shorter one.
"""

from dataclasses import dataclass
from math import ceil

from tracker.loom.anchor import Piece, wire_runs
from tracker.records.loom_made import Loom
from tracker.records.problem import Mistakes, Problem

STEP_MM = 10
"""Lengths are rounded up to this."""


@dataclass(frozen=True, slots=True)
class Route:
    """The way between two places. `run_mm` lies along the loom, `slack_mm` is added; a measured one has none.

    `zones` are those at the ends and those that the trunk runs through between.
    """

    run_mm: int
    slack_mm: int
    zones: tuple[str, ...]
    measured: bool = False

    @property
    def length_mm(self) -> int:
        """What is cut off the reel."""
        return self.run_mm + self.slack_mm


def route(loom: Loom, start: str, goal: str) -> Route:
    """The way from one place to another; a length measured on this bike or model wins.

    Raises Mistakes naming a place that is not in the loom or lies in no known zone.
    """
    ends = tuple(_where(loom, name, place) for name, place in (("from", start), ("to", goal)))
    problems = [end for end in ends if isinstance(end, Problem)]
    if problems:
        raise Mistakes(problems)
    if start == goal:
        return Route(0, 0, (loom.places[start].zone,))
    zones = _passed(loom, loom.places[start].zone, loom.places[goal].zone)
    measured = measured_mm(loom, start, goal)
    if measured is not None:
        return Route(measured, 0, zones, measured=True)
    rules = loom.known.route
    run = _round_up(run_mm(loom, start, goal) * loom.scale)
    slack = _round_up(run * rules.slack_percent / 100 + 2 * rules.slack_end_mm)
    return Route(run, slack, zones)


def run_mm(loom: Loom, start: str, goal: str) -> int:
    """Along twigs, branches and trunk at the reference wheelbase, without slack."""
    if start == goal:
        return 0
    twig = loom.known.route.twig_mm
    one, other = (loom.known.zones[loom.places[place].zone] for place in (start, goal))
    if one.id == other.id:
        return 2 * twig
    return 2 * twig + one.branch_mm + other.branch_mm + abs(one.station_mm - other.station_mm)


def measured_mm(loom: Loom, start: str, goal: str) -> int | None:
    """The length of a wire that runs between two places, splices included, where every piece was measured."""
    lengths = [
        sum(piece.wire.length_mm for piece in run)
        for run in wire_runs(loom, start, goal)
        if all(_is_measured(loom, piece) for piece in run)
    ]
    return min(lengths, default=None)


def _is_measured(loom: Loom, piece: Piece) -> bool:
    return loom.origin("wire", piece.wire.id, "length_mm").level != "pattern"


def _where(loom: Loom, name: str, place: str) -> Problem | None:
    if place not in loom.places:
        return Problem(name, f"There is no place “{place}” in this loom.", given=place)
    if loom.places[place].zone not in loom.known.zones:
        return Problem(name, f"“{place}” lies in no known zone.", given=place)
    return None


def _passed(loom: Loom, start: str, goal: str) -> tuple[str, ...]:
    zones = loom.known.zones
    if start == goal:
        return (start,)
    low, high = sorted((zones[start].station_mm, zones[goal].station_mm))
    on_trunk = (zone for zone in zones.values() if zone.branch_mm <= loom.known.route.twig_mm)
    between = [zone for zone in on_trunk if low < zone.station_mm < high]
    between.sort(key=lambda zone: zone.station_mm, reverse=zones[start].station_mm == high)
    return (start, *(zone.id for zone in between), goal)


def _round_up(mm: float) -> int:
    return ceil(round(mm / STEP_MM, 6)) * STEP_MM
