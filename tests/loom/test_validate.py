"""Whether a loom hangs together: whole bikes do, and what is broken is named beside its part."""

import dataclasses
from collections.abc import Mapping

import pytest

from tests.bench.loom import fullest
from tests.loom.making import BATTERY, BIKES, TWIN, bike, small_loom
from tracker.loom import facts
from tracker.loom.circuits import main_circuit
from tracker.loom.currents import busiest
from tracker.loom.edit import apply
from tracker.loom.pattern import build
from tracker.loom.route import run_mm
from tracker.loom.settle import settle
from tracker.loom.validate import consequences, validate
from tracker.records.loom import End
from tracker.records.loom_made import Loom
from tracker.seedfiles.loom import load_pattern


def fields(loom: Loom) -> set[str]:
    return {problem.field for problem in validate(loom)}


@pytest.mark.parametrize("name", BIKES)
def test_every_kind_of_bike_is_whole(name: str) -> None:
    assert validate(bike(name)) == ()


def test_the_fullest_bike_is_whole() -> None:
    assert validate(fullest(load_pattern())) == ()


def test_a_bike_nobody_knows_anything_of_is_whole_as_most_bikes_are() -> None:
    assert validate(build(load_pattern(), {})) == ()


@pytest.mark.parametrize(
    "answers",
    [
        {"electric-start": "no"},
        {"alternator": "excited-field"},
        {"alternator": "dynamo"},
        {"ignition": "points"},
        {"ignition": "ecu"},
        {"headlamp": "led", "tail-lamp": "led", "indicators": "led"},
        {"neutral-lamp": "no", "oil-lamp": "no"},
        {"light-switch": "no", "key-park": "yes"},
        {"start-interlock": "no", "stand-switch": "no"},
        {"cooling": "liquid", "fuel-gauge": "lamp"},
        {"battery": "lithium", "earth": "positive"},
        {"turn-warning": "none", "hazard": "no"},
        {"fuses": "one", "plate-lamp": "no", "position-lamp": "no"},
        {"fuel": "injection", "ignition": "ecu", "injectors": "2", "tip-over": "signal"},
        {"fuel": "injection", "ignition": "ecu", "injection-relay": "yes", "oxygen-sensor": "no"},
        {"socket": "yes", "heated-grips": "yes", "extra-lamps": "yes", "alarm": "yes", "keyless": "yes"},
        {"body-module": "yes", "headlamp-relay": "yes"},
        {"body-module": "yes", "indicators": "led", "turn-warning": "separate"},
        {"throttle-sensor": "yes", "auto-choke": "yes", "carb-heater": "yes", "coil-ballast": "yes"},
        {"alternator": "single-phase", "regulation": "zener"},
        {"display": "yes", "speed-sensor": "yes"},
    ],
    ids=lambda answers: " ".join(f"{name}={value}" for name, value in answers.items()),
)
def test_a_twin_that_differs_is_whole_too(answers: Mapping[str, str]) -> None:
    assert validate(build(load_pattern(), {**TWIN, **answers})) == ()


@pytest.mark.parametrize("name", BIKES)
def test_wires_are_at_least_about_as_long_as_their_route_and_not_much_longer(name: str) -> None:
    loom = bike(name)
    for wire in loom.wires.values():
        zones = {loom.places[end.place].zone for end in (wire.a, wire.b)}
        if wire.kind in {"metal", "strap"} or len(zones) == 1:
            continue
        ratio = wire.length_mm / run_mm(loom, wire.a.place, wire.b.place)
        assert 0.88 < ratio < 1.4, f"{wire.id}: {wire.length_mm} mm is {ratio:.2f} of its route"


def test_a_load_without_a_circuit_is_named_with_the_state_that_should_work_it() -> None:
    loom = bike()
    cut = apply(loom, facts.remove(loom, "wire", "brake-run"))
    assert fields(cut) == {"device brake-light: works", "place rear-plug:brake"}
    said = [problem.sentence for problem in validate(cut) if problem.field == "device brake-light: works"]
    assert any("front brake" in sentence for sentence in said)


def test_a_bridged_interlock_is_named() -> None:
    loom = bike()
    bridge = dataclasses.replace(
        loom.wires["stand-earth"], id="bridge", a=End("interlock-joint", "out"), b=End("frame", "in")
    )
    assert "device starter: rests" in fields(
        dataclasses.replace(loom, wires={**loom.wires, "bridge": bridge})
    )


def test_an_edit_is_explained_before_it_is_kept() -> None:
    loom = bike()
    assert consequences(loom, facts.colour(loom, "tail-run", loom.wires["brake-run"].colour)) == ()  # type: ignore[arg-type]
    broken = consequences(loom, facts.remove(loom, "body", "battery-earth"))
    assert any("leads to" in problem.sentence for problem in broken)
    lost = consequences(loom, facts.rename("body", "sidecar", "chair"))
    assert [problem.field for problem in lost] == ["body sidecar"]
    nowhere = consequences(loom, facts.repin(loom, "tail-run", b=End("moon", "in")))
    assert {"wire tail-run: to", "device tail-light: works"} <= {problem.field for problem in nowhere}


def test_floating_and_empty_things_are_named() -> None:
    loom = bike()
    places = {
        **loom.places,
        "spare": dataclasses.replace(loom.places["brake-joint"], id="spare", zone="attic"),
    }
    found = fields(dataclasses.replace(loom, places=places))
    assert {"place spare", "place spare: zone"} <= found
    short = dataclasses.replace(loom.wires["tail-run"], length_mm=0, size_mm2=None)
    assert {"wire tail-run: length_mm", "wire tail-run: size_mm2"} <= fields(
        dataclasses.replace(loom, wires={**loom.wires, "tail-run": short})
    )


def test_a_fuse_or_a_wire_too_small_for_what_hangs_on_it_is_named() -> None:
    loom = bike()
    small_fuse = apply(loom, facts.change(loom, "device", "fuse-lights", {"rating_a": 3.0}))
    assert "device fuse-lights: rating_a" in fields(small_fuse)
    thin = apply(loom, facts.size(loom, "signals-feed", 0.35))
    assert "wire signals-feed: size_mm2" in fields(thin)


def test_currents_add_up_along_a_shared_feed() -> None:
    loom = bike()
    both = loom.known.states["head-low"].moved({"turn": "left"})
    busy = busiest([settle(loom, both)])
    lamp = main_circuit(settle(loom, both), "low-beam")
    assert lamp is not None
    assert busy["device", "fuse-lights"].steady_a == pytest.approx(55 / 12)
    indicators = busy["device", "flasher-contact"].steady_a
    assert indicators == pytest.approx(2 * 21 / 12, rel=0.06), "and a little for the warning lamp"
    assert busy["device", "main-fuse-link"].steady_a > 55 / 12 + 2 * 21 / 12


def test_a_dead_short_is_named() -> None:
    short = """
    [wire]
    burns = { from = "battery:live", to = "frame", mm = 200, mm2 = 1, main = "red" }
    """
    assert "device battery-cells" in fields(small_loom(BATTERY, short))


def test_a_battery_that_nothing_charges_is_named() -> None:
    loom = bike()
    cut = apply(loom, facts.remove(loom, "wire", "charge-feed"))
    assert "device battery-cells: works" in fields(cut)
