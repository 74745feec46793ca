"""Walking a loom: along a circuit and back, across to others, and what is known where one stands."""

from functools import cache

import pytest

from tests.loom.making import BIKES, bike, small_loom
from tracker.loom.lighting import NOTHING
from tracker.loom.pattern import build, home_made
from tracker.loom.sketch import NumberedRepair
from tracker.loom.walk import Here, Walk, across, along, lit_here, place_card, places_of, stand_at, walk_of
from tracker.seedfiles.loom import load_pattern


@cache
def walk(name: str = "twin") -> Walk:
    return walk_of(bike(name))


@pytest.mark.parametrize("name", BIKES)
def test_every_circuit_is_walked_from_end_to_end_and_back(name: str) -> None:
    here = walk(name)
    for load in here.loads:
        places = places_of(here, load)
        at = along(here, stand_at(here, load), -1000)
        assert at.place == places[0]
        passed = [at.place]
        for _ in places[1:]:
            at = along(here, at, 1)
            passed.append(at.place)
        assert tuple(passed) == places
        assert along(here, at, 1) == at, "the end is the end"
        for _ in places[1:]:
            at = along(here, at, -1)
        assert at.place == places[0]


def test_one_begins_where_the_load_begins() -> None:
    at = stand_at(walk(), "low-beam")
    assert at == Here("low-beam", "headlamp:low")
    assert stand_at(walk(), "low-beam", "fuse-box:lights").place == "fuse-box:lights"
    assert stand_at(walk(), "low-beam", "horn:feed") == at, "that is not on the way"
    assert stand_at(walk(), place="horn:feed").load == "horn-winding"


def test_across_goes_round_the_circuits_through_a_place() -> None:
    at = stand_at(walk(), "low-beam", "fuse-box:lights")
    through = walk().through["fuse-box:lights"]
    assert len(through) > 2
    seen = [at]
    for _ in through[1:]:
        seen.append(across(walk(), seen[-1], 1))
    assert {one.load for one in seen} == set(through)
    assert {one.place for one in seen} == {"fuse-box:lights"}
    assert across(walk(), seen[-1], 1) == at
    assert across(walk(), across(walk(), at, 1), -1) == at


def test_from_a_place_of_one_circuit_across_goes_to_any_other() -> None:
    alone = next(Here(loads[0], place) for place, loads in walk().through.items() if len(loads) == 1)
    assert across(walk(), alone, 1).load != alone.load


def test_the_card_of_a_place() -> None:
    here = Here("low-beam", "left-plug:low")
    repairs = [NumberedRepair(1, ("left-plug:dip-in",)), NumberedRepair(2, ("frame",))]
    card = place_card(walk(), here, repairs)
    assert card is not None
    assert card.place.words == "left bar plug, low beam"
    assert {wire.id for wire in card.place.wires} == {
        wire.id for wire in walk().loom.wires.values() if "left-plug:low" in (wire.a.place, wire.b.place)
    }
    assert card.body is not None
    assert card.body.words == "left bar plug"
    assert card.body.off.off
    assert card.load is not None
    assert card.load.back[-1] == "battery earthed post"
    assert any("fuse" in fuse.words for fuse in card.load.fuses)
    assert (card.before, card.after) == ("left-switch:low", "headlamp:low")
    assert "low-beam" in card.through
    assert card.repairs == (1,), "a repair at another way of the same plug is here"


def test_lit_is_the_circuit_that_is_walked() -> None:
    lit = lit_here(walk(), Here("horn-winding", "horn:feed"))
    assert lit.load == "horn-winding"
    assert lit.places == places_of(walk(), "horn-winding")


def test_a_loom_without_circuits_is_no_trouble() -> None:
    empty = walk_of(build(home_made(load_pattern()), {}))
    at = stand_at(empty)
    assert at == Here("", "")
    assert along(empty, at, 1) == at
    assert across(empty, at, 1) == at
    assert lit_here(empty, at) == NOTHING
    assert place_card(empty, at) is None


def test_a_place_on_no_circuit_has_a_card_too() -> None:
    text = '[place.spare]\nwords = "spare plug"\nzone = "tail"\nkind = "blade"\n'
    lonely = walk_of(small_loom(text))
    card = place_card(lonely, Here("", "spare"))
    assert card is not None
    assert (card.load, card.body, card.through, card.before) == (None, None, (), "")
