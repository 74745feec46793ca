"""Where a part is: found by what people call it, with all that is wanted before getting up."""

import dataclasses
from datetime import date

import pytest

from tests.loom.making import TWIN, bike
from tracker.loom import facts
from tracker.loom.edit import apply
from tracker.loom.find import find, names
from tracker.loom.pattern import build, home_made
from tracker.loom.shares import sharing
from tracker.loom.where import Shared, Whereabouts, where
from tracker.records.loom import Colour, What
from tracker.records.loom_made import Loom
from tracker.seedfiles.loom import load_pattern


def told(loom: Loom, what: What, id_: str) -> Whereabouts:
    found = where(loom, what, id_)
    assert found is not None
    return found


def shared(items: tuple[Shared, ...], id_: str) -> tuple[str, ...]:
    return next(item.loads for item in items if item.id == id_)


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("rectifier", "regulator"),
        ("reg", "regulator"),
        ("Regulator / Rectifier", "regulator"),
        ("flasher can", "flasher"),
        ("SOLENOID", "starter-relay"),
        ("lambda", "oxygen-sensor"),
        ("sidelight", "position-lamp"),
        ("side lamp", "position-lamp"),
        ("kill switch", "kill-switch"),
        ("CDI", "ignition-box"),
        ("main beam", "high-beam"),
        ("fuel pump relay", "pump-relay"),
        ("steering bearings", "bar-earth"),
        ("ignition coil", "ignition-coil-1"),
        ("recitfier", "regulator"),
    ],
)
def test_a_part_is_found_by_any_of_its_names(typed: str, found: str) -> None:
    hits = find(build(load_pattern(), {}), typed)
    assert found in [hit.id for hit in hits[:2]]


def test_a_part_is_found_by_what_it_does() -> None:
    hits = find(bike(), "makes the current")
    assert [hit.id for hit in hits] == ["stator"]
    assert hits[0].rank == 3


def test_nothing_and_nonsense_find_nothing() -> None:
    assert find(bike(), "") == ()
    assert find(bike(), "  -/ ") == ()
    assert find(bike(), "zzyzx quux") == ()


def test_every_body_is_in_the_list_of_names_and_is_found_by_its_own_words() -> None:
    loom = bike("four")
    listed = {hit.id for hit in names(loom)}
    assert set(loom.bodies) <= listed
    for body in loom.bodies.values():
        assert body.id in [hit.id for hit in find(loom, body.words)]


def test_zone_what_comes_off_plug_ways_and_wires() -> None:
    tail = told(bike(), "body", "tail-lamp")
    assert [zone.words for zone in tail.zones] == ["tail"]
    assert [access.id for access in tail.off.off] == ["tail-lens"]
    assert tail.off.minutes == 2
    assert tail.off.words == "lamp lens (2 min)"
    assert "bayonet" in tail.plug
    assert tail.ways == ("tail lamp, tail", "tail lamp, brake", "tail lamp, earth")
    lines = {line.id: line for line in tail.wires}
    brake = lines["brake-lamp-run"]
    assert (brake.start, brake.end) == ("rear multi-connector, brake", "tail lamp, brake")
    assert str(brake.colour) == "green/yellow"
    assert brake.size_mm2 == 0.75
    assert tail.symptoms
    assert "earth drop" in tail.first_check
    assert tail.why


def test_the_way_back_is_told_from_the_load_to_the_battery() -> None:
    back = told(bike(), "body", "tail-lamp").back
    assert back[0] == "tail lamp, earth"
    assert back[-1] == "battery earthed post"
    assert "tail earth joint" in back
    six = told(bike("old six"), "device", "low-beam").back
    assert six[0] == "headlamp, earth", "with positive earth as well: from the lamp to the frame"
    assert six[-1] == "battery earthed post"


def test_what_shares_its_fuse_plug_and_earth() -> None:
    tail = told(bike(), "device", "tail-light")
    assert "front position lamp" in shared(tail.fuses, "fuse-tail")
    assert "low beam" not in shared(tail.fuses, "fuse-tail")
    assert "rear left indicator" in shared(tail.earths, "tail-earth:joint")
    assert "low beam" not in shared(tail.earths, "tail-earth:joint")
    assert "rear left indicator" in shared(tail.plugs, "rear-plug")
    coil = told(bike(), "device", "coil-1")
    assert "second ignition coil, primary" in shared(coil.fuses, "main-fuse-link")


def test_all_that_runs_through_one_thing() -> None:
    everything = sharing(bike())
    through = everything.through("rear-plug")
    assert {"tail-light", "brake-light", "turn-rear-left", "turn-rear-right", "plate-light"} <= set(through)
    assert "low-beam" not in through
    assert everything.with_fuse("starter") == {}, "the starter has no fuse"
    assert "brake-light" in everything.with_earth("tail-light")["tail-earth:joint"]
    assert "brake-light" in everything.with_plug("tail-light")["rear-plug"]
    assert everything.with_plug("no-load") == {}


def test_a_switch_in_a_housing_wants_the_housing_apart() -> None:
    dip = told(bike(), "body", "dip-switch")
    assert [access.id for access in dip.off.off] == ["switch-left"]
    stator = told(bike(), "body", "stator")
    assert "generator-cover" in [access.id for access in stator.off.off]
    assert any("100 V" in caution for caution in stator.cautions)


def test_a_place_a_wire_and_a_device_in_a_body_can_be_asked_for() -> None:
    splice = told(bike(), "place", "tail-joint")
    assert {"tail-joint-run", "tail-joint-lamp", "plate-run"} == {line.id for line in splice.wires}
    wire = told(bike(), "wire", "tail-run")
    assert wire.words == "wire from small lamps joint to rear multi-connector, tail"
    assert [zone.id for zone in wire.zones] == ["headstock", "seat"]
    coil = told(bike(), "device", "starter-relay-coil")
    assert "studs" in coil.plug
    assert coil.first_check, "what its body says, where it says nothing itself"
    assert where(bike(), "body", "no-such-body") is None


def test_where_it_is_known_from_is_told() -> None:
    loom = bike()
    fact = dataclasses.replace(facts.colour(loom, "brake-lamp-run", Colour("pink")), card="26-0412")
    seen = apply(loom, dataclasses.replace(fact, on=date(2026, 5, 4)))
    line = next(line for line in told(seen, "body", "tail-lamp").wires if line.id == "brake-lamp-run")
    assert (line.origin.level, line.origin.card) == ("bike", "26-0412")
    moved = apply(loom, facts.move("body", "flasher", "headstock"))
    flasher = told(moved, "body", "flasher")
    assert [zone.id for zone in flasher.zones] == ["headstock"]
    assert flasher.origins[-1].level == "bike"


def test_a_part_in_doubt_says_which_question_would_settle_it() -> None:
    loom = build(load_pattern(), {**TWIN, "plate-lamp": None})
    assert told(loom, "body", "plate-lamp").doubtful == ("Does the number plate have a lamp of its own?",)
    assert told(loom, "body", "tail-lamp").doubtful == ()


def test_every_part_of_every_bike_can_be_told() -> None:
    for name in ("twin", "four", "trail"):
        loom = bike(name)
        everything = sharing(loom)
        for body in loom.bodies.values():
            told_ = where(loom, "body", body.id, everything)
            assert told_ is not None
            assert told_.zones, body.id
            assert told_.plug, body.id
            assert told_.first_check or body.kind in {"bullet"}, body.id


def test_an_empty_loom_has_nothing_to_find() -> None:
    empty = build(home_made(load_pattern()), {})
    assert names(empty) == ()
    assert find(empty, "horn") == ()


def test_of_a_part_that_few_bikes_have_the_way_back_is_that_of_a_bike_that_has_it() -> None:
    """Nobody said that there is fuel injection, or that grips were added."""
    anybodys = build(load_pattern(), {})
    shared_now = sharing(anybodys)
    sensor = where(anybodys, "body", "oxygen-sensor", shared_now)
    assert sensor is not None
    assert "control unit, earth" in sensor.back
    assert "main-fuse-link" in {fuse.id for fuse in sensor.fuses}
    grips = where(anybodys, "body", "grips", shared_now)
    assert grips is not None
    assert [fuse.id for fuse in grips.fuses] == ["accessory-fuse-link"]
    lamp = where(anybodys, "device", "low-beam", shared_now)
    assert lamp is not None
    assert lamp.back
