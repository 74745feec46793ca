"""What comes off: each thing once, needs first, what is up already for nothing."""

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.loom.making import TWIN, bike
from tracker.loom.access import of_part, to_reach, zones_open
from tracker.loom.pattern import build
from tracker.seedfiles.loom import load_pattern

LOOM = bike("four")
ZONES = st.lists(st.sampled_from(sorted(LOOM.known.zones)), max_size=6)


def ids(zones: list[str], **more: frozenset[str]) -> list[str]:
    return [access.id for access in to_reach(bike(), zones, **more).off]


def test_the_tank_needs_the_seat_and_each_is_paid_once() -> None:
    assert ids(["under-tank"]) == ["seat", "tank"]
    assert to_reach(bike(), ["under-tank"]).minutes == 23
    assert ids(["under-tank", "seat", "head", "battery"]) == ["seat", "tank", "battery-cover"]
    assert ids(["inlet"]) == ["seat", "tank", "airbox"]


def test_what_is_up_already_costs_nothing_and_neither_does_what_it_needed() -> None:
    assert ids(["under-tank"], up=frozenset({"seat"})) == ["tank"]
    assert ids(["under-tank"], up=frozenset({"tank"})) == []
    assert ids(["inlet"], up=frozenset({"tank"})) == ["airbox"]


def test_a_bike_without_a_fairing_has_none_to_take_off() -> None:
    assert ids(["headlamp"]) == ["headlamp"]
    four = to_reach(LOOM, ["headlamp"])
    assert [access.id for access in four.off] == ["headlamp", "fairing"]
    assert four.minutes == 53


def test_a_fairing_nobody_knows_of_is_doubtful_and_counted_as_on_most_bikes() -> None:
    loom = build(load_pattern(), {**TWIN, "fairing": None})
    reach = to_reach(loom, ["headlamp"])
    assert [access.id for access in reach.off] == ["headlamp"]
    assert [access.id for access in reach.doubtful] == ["fairing"]


def test_nothing_comes_off_for_nothing_or_for_what_nobody_knows() -> None:
    assert to_reach(bike(), []).minutes == 0
    assert to_reach(bike(), []).words == "nothing"
    assert to_reach(bike(), ["attic"], ["roof"]).off == ()


def test_zones_that_stand_open() -> None:
    assert zones_open(bike(), frozenset()) == ()
    assert "under the tank" in zones_open(bike(), frozenset({"seat", "tank"}))
    # This bike has no fairing, so the headlamp out of its shell is enough; the four has one.
    assert "headlamp" in zones_open(bike(), frozenset({"headlamp"}))
    assert "headlamp" not in zones_open(LOOM, frozenset({"headlamp"}))


def test_a_part_has_its_zones_and_what_its_body_wants_off() -> None:
    assert of_part(bike(), "stator") == (("left-engine",), ("generator-cover",))
    assert of_part(bike(), "dip-low") == (("left-bar",), ("switch-left",))
    assert of_part(bike(), "left-switch:low") == (("left-bar",), ("switch-left",))
    assert of_part(bike(), "tail-run") == (("headstock", "seat"), ())
    assert of_part(bike(), "no-such-part") == ((), ())


@settings(max_examples=60, deadline=None)
@given(ZONES, ZONES)
def test_more_zones_never_cost_less_and_never_more_than_apart(some: list[str], more: list[str]) -> None:
    apart = to_reach(LOOM, some).minutes + to_reach(LOOM, more).minutes
    together = to_reach(LOOM, [*some, *more]).minutes
    assert max(to_reach(LOOM, some).minutes, to_reach(LOOM, more).minutes) <= together <= apart


@settings(max_examples=60, deadline=None)
@given(ZONES)
def test_what_must_be_off_first_comes_first_and_nothing_twice(zones: list[str]) -> None:
    off = [access.id for access in to_reach(LOOM, zones).off]
    assert len(off) == len(set(off))
    for number, name in enumerate(off):
        needs = set(LOOM.known.accesses[name].needs)
        assert needs <= set(off[:number])
    assert to_reach(LOOM, zones, up=frozenset(off)).off == ()
    assert sorted(off) == sorted(access.id for access in to_reach(LOOM, list(reversed(zones))).off)
