"""The drawing is laid out from the data: any bike, any circuit, any width, and nothing over anything."""

import dataclasses
import random
from functools import cache

import pytest

from tests.bench.loom import FULLEST
from tests.hostile import FINE, LINES, REFUSED
from tests.loom.drawn import check
from tests.loom.making import BIKES
from tracker.loom.layout import layout
from tracker.loom.layout_metrics import CELLS, Metrics, cut, fitted, one_line
from tracker.loom.layout_paper import millimetres
from tracker.loom.lighting import light_load
from tracker.loom.pattern import build, home_made
from tracker.loom.shares import Sharing, sharing
from tracker.loom.sketch import NumberedRepair, sketch
from tracker.records.drawing import Run, Sketch
from tracker.records.loom import Body, Place
from tracker.records.loom_made import Loom
from tracker.records.width import width_of
from tracker.seedfiles.loom import load_pattern

SHEETS: list[tuple[Metrics, float, float]] = [
    (CELLS, 76, 20),
    (CELLS, 80, 20),
    (CELLS, 120, 30),
    (CELLS, 160, 45),
    (millimetres(2.6, "serif"), 168, 118),
    (millimetres(2.2), 250, 170),
]
KNOWN = load_pattern().known


def on_every_sheet(drawn: Sketch, *, named: bool = True) -> None:
    """Laid out on every sheet; where `named`, zones' names are whole or shortened to initials, never cut."""
    for metrics, width, height in SHEETS:
        drawing = layout(drawn, metrics, width=width, height=height)
        check(drawing, drawn)
        cut_names = named and [one.text for one in drawing.labels if one.kind == "zone" and "…" in one.text]
        assert not cut_names


def features_with_each_switched() -> list[dict[str, str | None]]:
    """The fullest bike and the emptiest answers, each question then answered in every other way."""
    sets: list[dict[str, str | None]] = [{}]
    for feature in KNOWN.features.values():
        for value in (*feature.values, None):
            sets.append({**FULLEST, feature.id: value})
    return sets


def any_features(seed: int) -> dict[str, str | None]:
    chance = random.Random(seed)
    return {f.id: chance.choice([*f.values, None]) for f in KNOWN.features.values()}


@cache
def shared_of(name: str) -> tuple[Loom, Sharing]:
    answers: dict[str, str] = FULLEST if name == "fullest" else dict(BIKES[name])
    loom = build(load_pattern(), dict(answers))
    return loom, sharing(loom)


def test_nothing_overlaps_with_any_answer_switched() -> None:
    different = {sketch(build(load_pattern(), answers)) for answers in features_with_each_switched()}
    assert len(different) > 20
    for drawn in different:
        on_every_sheet(drawn)


@pytest.mark.parametrize("seed", range(40))
def test_nothing_overlaps_on_any_bike(seed: int) -> None:
    loom = build(load_pattern(), any_features(seed))
    chance = random.Random(seed)
    places = list(loom.places)
    zones = list(loom.known.zones)
    repairs = [
        NumberedRepair(n, (chance.choice([*places, "gone"]),), chance.choice(zones))
        for n in range(1, chance.randrange(2, 12))
    ]
    on_every_sheet(sketch(loom))
    on_every_sheet(sketch(loom, here=chance.choice(places), repairs=repairs), named=False)


@pytest.mark.parametrize("name", ["fullest", *BIKES])
def test_every_circuit_is_shown_whole_and_at_80_by_24(name: str) -> None:
    loom, shared = shared_of(name)
    for load, uses in shared.uses.items():
        drawn = sketch(loom, light_load(loom, shared, load), here=uses.circuit.places[1])
        lit = [spot for zone in drawn.zones for spot in zone.spots if spot.lit]
        assert lit
        for metrics, width, height in SHEETS[:4]:
            drawing = layout(drawn, metrics, width=width, height=height)
            check(drawing, drawn)
            assert drawing.height <= height, (load, drawing.height)


def fuller(loom: Loom, seed: int, more: int = 60) -> Loom:
    """A loom with as many added parts in any zone, also in those that were empty, under any long names."""
    chance = random.Random(seed)
    words = ("left", "earth", "lamp", "switch", "multi-way", "regulator/rectifier", "heater", "of", "the")
    bodies = {}
    for number in range(more):
        name = " ".join(chance.choices(words, k=chance.randrange(1, 7)))
        zone = chance.choice(list(loom.known.zones))
        bodies[f"more-{number}"] = Body(id=f"more-{number}", words=name, zone=zone, kind="part")
    return dataclasses.replace(loom, bodies={**loom.bodies, **bodies})


@pytest.mark.parametrize("seed", range(5))
def test_a_loom_that_grows_is_still_drawn_with_every_circuit_at_80_by_24(seed: int) -> None:
    loom, shared = shared_of("fullest")
    full = fuller(loom, seed)
    on_every_sheet(sketch(full), named=False)
    for load in list(shared.uses)[seed::5]:
        drawn = sketch(full, light_load(loom, shared, load))
        drawing = layout(drawn, CELLS, width=80, height=20)
        check(drawing, drawn)
        assert drawing.height <= 20


def test_the_check_sees_what_lies_over_something() -> None:
    """The check of all these tests can fail."""
    drawn = sketch(shared_of("twin")[0])
    sound = layout(drawn, CELLS)
    label = sound.labels[5]
    for wrong in (
        dataclasses.replace(sound, labels=(*sound.labels[:5], dataclasses.replace(label, x=label.x - 2))),
        dataclasses.replace(sound, labels=(*sound.labels, label)),
        dataclasses.replace(sound, labels=(*sound.labels, dataclasses.replace(label, y=sound.trunk_y))),
        dataclasses.replace(sound, labels=(*sound.labels, dataclasses.replace(label, x=79, width=9))),
        dataclasses.replace(sound, marks=sound.marks[1:]),
        dataclasses.replace(sound, hidden={}),
        dataclasses.replace(sound, runs=(*sound.runs, Run("branch", label.x + 1, 0, label.x + 1, 19))),
    ):
        with pytest.raises(AssertionError):
            check(wrong, drawn)


def test_the_trunk_stays_where_it_is_while_circuits_change() -> None:
    loom, shared = shared_of("twin")
    drawings = [layout(sketch(loom, light_load(loom, shared, load)), CELLS) for load in shared.uses]
    assert len({drawing.trunk_y for drawing in drawings}) == 1
    stems = [{run.x1 for run in drawing.runs if run.kind == "branch"} for drawing in drawings]
    assert all(one == stems[0] for one in stems)


def test_more_is_shown_where_there_is_more_room() -> None:
    loom, _ = shared_of("fullest")
    drawn = sketch(loom)
    shown = [len(layout(drawn, CELLS, width=w, height=h).marks) for w, h in ((80, 14), (80, 20), (120, 40))]
    assert shown[0] < shown[1] < shown[2]
    assert not layout(drawn, CELLS, width=160, height=60).hidden


def test_what_must_be_shown_makes_the_sheet_grow() -> None:
    loom, _ = shared_of("fullest")
    repairs = [NumberedRepair(n, (place,)) for n, place in enumerate(loom.places, 1)]
    drawn = sketch(loom, repairs=repairs)
    drawing = layout(drawn, CELLS, width=80, height=20)
    check(drawing, drawn)
    assert drawing.height > 20
    without_a_place = {z.id: sum(not spot.must_show for spot in z.spots) for z in drawn.zones}
    assert all(number <= without_a_place[zone] for zone, number in drawing.hidden.items())


@pytest.mark.parametrize("words", [*FINE, *LINES, *REFUSED])
def test_anybodys_words_stay_in_their_box(words: str) -> None:
    loom, _ = shared_of("trail")
    zones = {id_: dataclasses.replace(zone, words=words) for id_, zone in loom.known.zones.items()}
    loom = dataclasses.replace(
        loom,
        known=dataclasses.replace(loom.known, zones=zones),
        bodies={id_: dataclasses.replace(body, words=words) for id_, body in loom.bodies.items()},
    )
    on_every_sheet(
        dataclasses.replace(sketch(loom, repairs=[NumberedRepair(12, ("frame",))]), caption=words),
        named=False,
    )


def test_a_loom_without_a_part_is_a_bare_trunk() -> None:
    bare = sketch(build(home_made(load_pattern()), {}))
    drawing = layout(bare, CELLS)
    assert [run.kind for run in drawing.runs] == ["trunk"]
    assert {label.text for label in drawing.labels} == {"front", "rear"}


def test_a_place_in_no_known_zone_is_drawn_too() -> None:
    loom, _ = shared_of("trail")
    lost = Place(id="box", words="box under the bench", zone="nowhere", kind="blade")
    drawn = sketch(dataclasses.replace(loom, places={**loom.places, "box": lost}))
    assert drawn.zones[-1].id == "elsewhere"
    on_every_sheet(drawn)


def test_a_repair_without_a_place_is_named_not_lost() -> None:
    loom, _ = shared_of("trail")
    repairs = [
        NumberedRepair(1, ("moon", "frame")),
        NumberedRepair(2, ("moon",)),
        NumberedRepair(3, ()),
        NumberedRepair(4, (), "tail"),
        NumberedRepair(5, (), "swinging-arm"),
    ]
    drawn = sketch(loom, repairs=repairs)
    assert drawn.nowhere == (2, 3)
    assert {zone.id: zone.repairs for zone in drawn.zones if zone.repairs} == {
        "tail": (4,),
        "swinging-arm": (5,),
    }, "also where the loom has nothing"
    on_every_sheet(drawn)
    assert [spot.repairs for zone in drawn.zones for spot in zone.spots if spot.repairs] == [(1,)]


def test_texts_are_broken_and_cut() -> None:
    assert fitted("regulator/rectifier", 30, width_of, 2) == ("regulator/rectifier",)
    assert fitted("main earth on the engine", 12, width_of, 2) == ("main earth", "on the engi…")
    assert fitted("main earth on the engine", 12, width_of, 3) == ("main earth", "on the", "engine")
    assert cut("配線図", 5, width_of) == "配線…"
    assert cut("配線図", 4, width_of) == "配…"
    assert one_line("a\tb\n\x1b[2Jc\u202ed") == "a b [2Jc d"
    assert one_line(" \n") == "?"
