"""Millimetres along the loom: worked by hand, and as a distance should behave."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.loom.making import TWIN, bike
from tracker.loom import facts
from tracker.loom.edit import apply
from tracker.loom.pattern import build
from tracker.loom.route import measured_mm, route, run_mm
from tracker.records.problem import Mistakes
from tracker.seedfiles.loom import load_pattern

LOOM = bike("four")
PLACE = st.sampled_from(sorted(LOOM.places))


def test_from_the_headstock_to_the_seat_by_hand() -> None:
    """Twigs 60 + 60, branches 40 + 50, trunk from 0 to 850; 5 % and 30 mm at either end as slack."""
    way = route(bike(), "small-lamps-joint", "rear-plug:tail")
    assert run_mm(bike(), "small-lamps-joint", "rear-plug:tail") == 60 + 40 + 850 + 50 + 60
    assert way.run_mm == 1060
    assert way.slack_mm == 120, "53 + 60, rounded up to 10"
    assert way.length_mm == 1180
    assert way.zones == ("headstock", "under-tank", "seat")
    assert not way.measured


def test_between_two_places_of_one_zone_there_are_two_twigs() -> None:
    assert route(bike(), "brake-joint", "signals-joint").run_mm == 120
    assert route(bike(), "brake-joint", "brake-joint").length_mm == 0


def test_a_longer_bike_has_longer_ways() -> None:
    longer = build(load_pattern(), TWIN, wheelbase_mm=1680)
    assert route(longer, "small-lamps-joint", "rear-plug:tail").run_mm == 1280, "1060 x 1.2, rounded up to 10"


def test_a_measured_length_wins_over_splices_too() -> None:
    loom = apply(bike(), facts.length(bike(), "tail-run", 1333))
    way = route(loom, "rear-plug:tail", "small-lamps-joint")
    assert (way.length_mm, way.slack_mm, way.measured) == (1333, 0, True)
    spliced = apply(loom, facts.splice(loom, "tail-run", "splice-1", 400))
    assert measured_mm(spliced, "small-lamps-joint", "rear-plug:tail") == 1333
    half = apply(bike(), facts.splice(bike(), "tail-run", "splice-1", 400))
    assert measured_mm(half, "small-lamps-joint", "rear-plug:tail") is None, "only one piece was measured"
    assert measured_mm(half, "small-lamps-joint", "splice-1") == 400


def test_a_place_that_is_not_there_is_named() -> None:
    with pytest.raises(Mistakes) as caught:
        route(bike(), "moon", "rear-plug:tail")
    assert [problem.field for problem in caught.value.problems] == ["from"]
    with pytest.raises(Mistakes) as caught:
        route(bike(), "moon", "mars")
    assert [problem.field for problem in caught.value.problems] == ["from", "to"]


@settings(max_examples=100, deadline=None)
@given(PLACE, PLACE, PLACE)
def test_no_way_is_shorter_than_the_way(a: str, b: str, c: str) -> None:
    there, back = route(LOOM, a, b), route(LOOM, b, a)
    assert (there.run_mm, there.slack_mm) == (back.run_mm, back.slack_mm)
    assert there.zones == tuple(reversed(back.zones))
    assert route(LOOM, a, c).run_mm <= there.run_mm + route(LOOM, b, c).run_mm
    assert route(LOOM, a, c).length_mm <= there.length_mm + route(LOOM, b, c).length_mm
    assert (there.length_mm == 0) is (a == b)


@settings(max_examples=60, deadline=None)
@given(PLACE, PLACE)
def test_the_way_is_the_shortest_in_the_tree_of_trunk_branches_and_twigs(a: str, b: str) -> None:
    """Against a search over the tree's own edges."""
    zones, twig = LOOM.known.zones, LOOM.known.route.twig_mm
    stations = sorted({zone.station_mm for zone in zones.values()})
    edges: dict[str, list[tuple[str, int]]] = {}

    def join(one: str, other: str, mm: int) -> None:
        edges.setdefault(one, []).append((other, mm))
        edges.setdefault(other, []).append((one, mm))

    for low, high in pairwise(stations):
        join(f"trunk {low}", f"trunk {high}", high - low)
    for zone in zones.values():
        join(f"zone {zone.id}", f"trunk {zone.station_mm}", zone.branch_mm)
    for place in {a, b}:
        join(f"place {place}", f"zone {LOOM.places[place].zone}", twig)
    best = {f"place {a}": 0}
    todo = [f"place {a}"]
    while todo:
        here = todo.pop()
        for there, mm in edges[here]:
            if best[here] + mm < best.get(there, 10**9):
                best[there] = best[here] + mm
                todo.append(there)
    assert run_mm(LOOM, a, b) == best[f"place {b}"]
