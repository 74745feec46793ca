"""What every auto-electrician knows of a bike's electrics, asked of the trace.

Source of every expectation: common practice, no source.
"""

from tests.trace.making import bench, dead, mark, share_of, shares, tables, weak, weighed, works
from tracker.records.card import SymptomKind
from tracker.records.trace import TraceReading
from tracker.trace.trace import begin

HEAVY = (
    "battery-cells", "battery:live", "battery:earthed", "battery-earth:bolt", "earth-cable", "main-fuse:in",
    "main-fuse:out", "key-on", "fuse-box:feed", "starter-relay:battery", "main-fuse-lead",
    "harness-earth-lead", "harness-earth:joint", "starter-motor:case", "main-fuse-link",
)  # fmt: skip
"""The battery, and joints and cables that carry everything."""


def test_a_clicking_start_with_dim_lamps_is_the_battery_or_a_heavy_joint_before_the_starter() -> None:
    """Source: common practice, no source."""
    found = weighed(
        "twin",
        *dead("starter"),
        *works("starter-relay-coil", state="start-neutral"),
        *weak("low-beam"),
    )
    assert next(iter(shares(found))) == "device battery-cells flat"
    assert share_of(found, *HEAVY) > 0.75
    assert share_of(found, "starter") < 0.02


def test_a_charging_complaint_with_a_sound_battery_is_regulator_stator_or_their_plugs() -> None:
    """Source: common practice, no source."""
    trace = begin(bench("twin").whole, tables(), bench=bench("twin"))
    trace = trace.marked(mark("battery-cells", SymptomKind.FLAT_PARKED), *works("neutral-lamp", "low-beam"))
    sound = TraceReading(
        kind="battery volts", place="battery:live@in", against="battery:earthed@out", state="off", value=12.6
    )
    found = trace.read(sound).weighed
    assert share_of(found, "battery-cells") < 0.05
    charging = [
        one.share
        for one in found.suspects
        if any(
            sign in single.part[1]
            for single in one.theory
            for sign in ("regulator", "stator", "charge", "sense")
        )
    ]
    assert sum(charging) > 0.8


def test_a_rear_earth_lost_is_found_though_the_tail_lamp_works() -> None:
    """The lamps feed each other: the tail lamp burns through cold indicator bulbs and glows with them.

    Source: common practice, no source.
    """
    found = weighed(
        "twin",
        *works("tail-light"),
        mark("tail-light", SymptomKind.COMES_ON_WITH, other="turn-rear-left"),
        *weak("turn-rear-left"),
    )
    earth = ("rear-earth-run", "tail-earth-run", "rear-plug:earth", "tail-earth:joint")
    assert share_of(found, *earth) > 0.9
    assert not found.contradicted


def test_a_fast_flash_after_leds_went_in_is_the_load_and_not_the_loom() -> None:
    """All lamps burn, and both sides flash fast.

    Source: common practice, no source.
    """
    found = weighed(
        "twin",
        mark("turn-front-left", SymptomKind.FLASHES_FAST),
        mark("turn-front-right", SymptomKind.FLASHES_FAST),
        *works("turn-front-left", "turn-rear-left", "turn-front-right", "turn-rear-right"),
    )
    assert next(iter(shares(found))) == "device flasher-contact other lamps"
    assert share_of(found, "flasher-contact") > 0.9


def test_a_fast_flash_on_one_side_is_a_bulb_of_that_side_first() -> None:
    """Source: common practice, no source."""
    found = weighed(
        "twin",
        mark("turn-front-left", SymptomKind.FLASHES_FAST),
        *works("turn-front-left", "turn-front-right"),
    )
    assert next(iter(shares(found))) == "device turn-rear-left bulb"


def test_dead_only_at_full_lock_is_what_bends_at_the_headstock() -> None:
    """Source: common practice, no source."""
    found = weighed("twin", *dead("low-beam", when="at full lock"))
    loom = bench("twin").loom
    bending = 0.0
    for one in found.suspects:
        wire = loom.wires.get(one.theory[0].part[1])
        zones = {loom.places[end.place].zone for end in (wire.a, wire.b)} if wire else set()
        turning = {"steering" in loom.known.zones[zone].traits for zone in zones}
        if turning == {True, False} or "headstock" in zones:
            bending += one.share
    assert bending > 0.75
    assert share_of(found, "low-beam", "fuse-lights") < 0.02


def test_hazard_works_and_turn_dead_is_the_turn_side() -> None:
    """What both share is proved by the hazard lights.

    Source: common practice, no source.
    """
    found = weighed(
        "twin",
        *dead("turn-front-left", "turn-rear-left", state="turn-left"),
        *works("turn-front-left", "turn-rear-left", "turn-front-right", state="hazard"),
    )
    assert share_of(found, "turn-left-contact") > 0.9
    assert share_of(found, "flasher-contact", "fuse-signals") < 0.02


def test_all_four_flash_after_leds_is_the_shared_warning_lamp() -> None:
    """One warning lamp between the sides passes enough for LEDs on the other side.

    Source: common practice, no source.
    """
    on = SymptomKind.COMES_ON_WITH
    found = weighed(
        "twin",
        mark("turn-front-right", on, other="turn-front-left"),
        mark("turn-rear-right", on, other="turn-front-left"),
        mark("turn-rear-left", on, other="turn-front-right"),
        *works("turn-front-right", "turn-rear-right", "turn-front-left", state="turn-left"),
        *works("turn-front-left", "turn-rear-left", "turn-front-right", state="turn-right"),
    )
    assert next(iter(shares(found))) == "device flasher-contact other lamps"
    assert share_of(found, "flasher-contact") > 0.8
    net = bench("twin").net("turn-left")
    lamp = net.loom.devices["turn-lamp"]
    assert {lamp.a.place, lamp.b.place} == {"instruments:left", "instruments:right"}, "between the sides"
    fitted = bench("twin").view("turn-left", [found.suspects[0].row])
    assert fitted.share("turn-rear-right")[0] > 0.5, "the network lights them through that lamp"


def test_a_shared_warning_lamp_by_build_is_named_as_such() -> None:
    """The same where the LEDs and the lamp are known to be there: nothing is broken.

    Source: common practice, no source.
    """
    found = weighed(
        "led twin",
        mark("turn-rear-right", SymptomKind.COMES_ON_WITH, state="turn-left", other="turn-rear-left"),
    )
    assert next(iter(shares(found))) == "device turn-lamp as built"
