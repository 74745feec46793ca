"""What was seen or done on a bike: put onto its loom, kept as unfinished where it fits no more."""

import dataclasses
from datetime import date
from typing import Any, get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.loom.making import TWIN, bike, state
from tracker.loom import facts
from tracker.loom.circuits import lit, main_circuit
from tracker.loom.edit import apply
from tracker.loom.pattern import apply_all, build, home_made, suppose
from tracker.loom.plain import fact_to_row, from_plain, to_plain
from tracker.loom.validate import validate
from tracker.records.loom import Body, Colour, Device, End, Place, What, Wire
from tracker.records.loom_made import Fact, Loom
from tracker.records.problem import Mistakes
from tracker.seedfiles.loom import load_pattern

LOOM = bike()
WIRE = LOOM.wires["tail-joint-run"]


def reason(loom: Loom) -> str:
    assert len(loom.unfinished) == 1
    return loom.unfinished[0].reason


def test_a_colour_seen_on_the_bike_says_when_and_on_which_card() -> None:
    fact = dataclasses.replace(
        facts.colour(LOOM, WIRE.id, Colour("green", "red", "British")),
        card="26-0412",
        on=date(2026, 5, 4),
        words="green with red, not brown",
    )
    loom = apply(LOOM, fact)
    assert loom.wires[WIRE.id].colour == Colour("green", "red", "British")
    origin = loom.origin("wire", WIRE.id, "colour")
    assert (origin.level, origin.card, origin.on) == ("bike", "26-0412", date(2026, 5, 4))
    assert origin.words == "green with red, not brown"
    assert loom.origin("wire", WIRE.id, "size_mm2").level == "pattern"


def test_the_bikes_own_fact_wins_over_the_models_and_both_over_the_pattern() -> None:
    model = [facts.size(LOOM, WIRE.id, 1.0), facts.length(LOOM, WIRE.id, 700)]
    own = [facts.size(LOOM, WIRE.id, 1.5)]
    loom = build(load_pattern(), TWIN, model, own)
    assert loom.wires[WIRE.id].size_mm2 == 1.5
    assert loom.wires[WIRE.id].length_mm == 700
    assert loom.origin("wire", WIRE.id, "size_mm2").level == "bike"
    assert loom.origin("wire", WIRE.id, "length_mm").level == "model"


def test_rename_move_and_remove() -> None:
    loom = apply(LOOM, facts.rename("body", "regulator", "finned box by the battery"))
    assert loom.bodies["regulator"].words == "finned box by the battery"
    moved = apply(loom, facts.move("body", "regulator", "tail"))
    assert moved.bodies["regulator"].zone == "tail"
    assert moved.places["regulator:live"].zone == "tail", "its terminals go with it"
    gone = apply(moved, facts.remove(moved, "body", "horn"))
    assert "horn" not in gone.bodies
    assert "horn:feed" not in gone.places
    assert "horn-winding" not in gone.devices
    assert gone.unfinished == ()


def test_a_part_of_ones_own_is_added_and_works() -> None:
    lamp = Body(id="spot-lamp", words="spot lamp", zone="fairing", kind="lamp holder")
    places = [
        Place(id=f"spot-lamp:{way}", words=way, zone="fairing", kind="bullet", body="spot-lamp")
        for way in ("feed", "earth")
    ]
    bulb = Device(
        id="spot", words="spot lamp", kind="filament", body="spot-lamp", watts=35.0, works=("head-low",),
        a=End("spot-lamp:feed", "out"), b=End("spot-lamp:earth", "in"),
    )  # fmt: skip
    wires = [
        Wire(
            id="spot-feed", words="", a=End("headlamp:low", "in"), b=End("spot-lamp:feed", "in"),
            length_mm=400, size_mm2=1.0, colour=Colour("white"),
        ),
        Wire(
            id="spot-earth", words="", a=End("spot-lamp:earth", "out"), b=End("front-earth:joint", "in"),
            length_mm=400, size_mm2=1.0, colour=Colour("black"),
        ),
    ]  # fmt: skip
    loom = apply_all(LOOM, [facts.add(part) for part in (lamp, *places, bulb, *wires)])
    assert loom.unfinished == ()
    assert loom.wires["spot-feed"] == wires[0], "what was added is what was given"
    assert loom.devices["spot"] == bulb
    assert "spot" in lit(state(loom, "head-low"))
    assert loom.origin("device", "spot", "watts").level == "bike"


def test_a_home_made_loom_is_built_from_facts_alone() -> None:
    empty = build(home_made(load_pattern()), {"earth": "negative", "volts": "12"})
    parts = [
        Place(id="post", words="post", zone="battery", kind="post"),
        Place(id="frame", words="frame", zone="under-tank", kind="metal"),
        Device(
            id="cell", words="battery", kind="source", source="battery", volts=12.6, inner_ohm=0.02,
            a=End("frame", "out"), b=End("post", "in"),
        ),
        Device(
            id="bulb", words="lamp", kind="filament", watts=5.0, works=("off",),
            a=End("post", "out"), b=End("frame", "in"),
        ),
    ]  # fmt: skip
    loom = apply_all(empty, [facts.add(part) for part in parts])
    assert loom.unfinished == ()
    assert "bulb" in lit(state(loom, "off"))


def test_a_splice_is_a_new_place_that_cuts_the_wire_in_two() -> None:
    loom = apply(LOOM, facts.splice(LOOM, WIRE.id, "splice-1", 420))
    first, second = loom.wires[WIRE.id], loom.wires[f"{WIRE.id}~splice-1"]
    assert (first.a, first.b, first.length_mm) == (WIRE.a, End("splice-1", "in"), 420)
    assert (second.a, second.b) == (End("splice-1", "out"), WIRE.b)
    assert first.length_mm + second.length_mm == WIRE.length_mm
    assert second.colour == WIRE.colour
    assert loom.places["splice-1"].kind == "splice"
    assert loom.places["splice-1"].zone == "tail"
    circuit = main_circuit(state(loom, "position"), "tail-light")
    assert circuit is not None
    assert ("joint", "splice-1") in circuit.elements
    assert lit(state(loom, "position")) == lit(state(LOOM, "position"))


def test_a_splice_is_measured_from_the_end_that_is_named() -> None:
    loom = apply(LOOM, facts.splice(LOOM, WIRE.id, "splice-1", 100, start=WIRE.b.place))
    assert loom.wires[WIRE.id].length_mm == WIRE.length_mm - 100
    assert loom.origin("wire", f"{WIRE.id}~splice-1", "length_mm").level == "bike"
    assert loom.origin("wire", WIRE.id, "length_mm").level == "pattern", "the rest was not measured"


def test_a_second_splice_anchored_on_the_old_ends_finds_its_piece() -> None:
    first = facts.splice(LOOM, WIRE.id, "splice-1", 420)
    second = facts.splice(LOOM, WIRE.id, "splice-2", 500)
    loom = apply_all(LOOM, [first, second])
    assert loom.unfinished == ()
    lengths = [
        loom.wires[WIRE.id].length_mm,
        loom.wires[f"{WIRE.id}~splice-1"].length_mm,
        loom.wires[f"{WIRE.id}~splice-1~splice-2"].length_mm,
    ]
    assert lengths == [420, 80, WIRE.length_mm - 500]
    coloured = apply(loom, facts.colour(LOOM, WIRE.id, Colour("pink")))
    assert all(coloured.wires[id_].colour == Colour("pink") for id_ in coloured.wires if WIRE.id in id_)
    renewed = apply(coloured, facts.renew(WIRE.id, WIRE.a.place, WIRE.b.place, {"size_mm2": 1.0}))
    assert renewed.unfinished == ()
    assert not {"splice-1", "splice-2"} & set(renewed.places)
    assert renewed.wires[WIRE.id].b == WIRE.b
    assert renewed.wires[WIRE.id].length_mm == WIRE.length_mm
    assert renewed.wires[WIRE.id].size_mm2 == 1.0
    assert len([id_ for id_ in renewed.wires if id_.startswith(WIRE.id)]) == 1


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 700), st.booleans()), max_size=5))
def test_splices_never_break_a_circuit_nor_change_a_length(cuts: list[tuple[int, bool]]) -> None:
    loom = LOOM
    for number, (mm, from_start) in enumerate(cuts):
        start = WIRE.a.place if from_start else WIRE.b.place
        loom = apply(loom, facts.splice(LOOM, WIRE.id, f"cut-{number}", mm, start=start))
    pieces = [wire for wire in loom.wires.values() if wire.id.partition("~")[0] == WIRE.id]
    assert sum(piece.length_mm for piece in pieces) == WIRE.length_mm
    assert len(pieces) == 1 + len(cuts) - len(loom.unfinished)
    assert "tail-light" in lit(state(loom, "position"))


def test_re_pinning_moves_one_end() -> None:
    fact = facts.repin(LOOM, "tail-lamp-earth", b=End("frame", "in"))
    loom = apply(LOOM, fact)
    assert loom.wires["tail-lamp-earth"].b == End("frame", "in")
    assert loom.wires["tail-lamp-earth"].a == LOOM.wires["tail-lamp-earth"].a
    circuit = main_circuit(state(loom, "position"), "tail-light")
    assert circuit is not None
    assert "rear-plug:earth" not in circuit.places


def test_a_fact_survives_a_wire_that_has_a_new_id_between_the_same_ends() -> None:
    fact = facts.size(LOOM, WIRE.id, 1.5)
    renamed = dataclasses.replace(WIRE, id="tail-joint-new-run")
    wires = {id_: wire for id_, wire in LOOM.wires.items() if id_ != WIRE.id}
    loom = apply(dataclasses.replace(LOOM, wires={**wires, renamed.id: renamed}), fact)
    assert loom.wires["tail-joint-new-run"].size_mm2 == 1.5
    former = dataclasses.replace(renamed, was=(WIRE.id,))
    loom = apply(dataclasses.replace(LOOM, wires={**wires, former.id: former}), fact)
    assert loom.wires["tail-joint-new-run"].size_mm2 == 1.5


@pytest.mark.parametrize(
    ("fact", "said"),
    [
        (facts.rename("body", "sidecar", "chair"), "no body “sidecar”"),
        (facts.move("wire", "tail-run", "tail"), "no “zone” that can be changed"),
        (facts.splice(LOOM, WIRE.id, "splice-1", 9000), "not within this wire"),
        (facts.splice(LOOM, WIRE.id, "splice-1", 0), "not within this wire"),
        (facts.splice(LOOM, WIRE.id, "rear-plug:tail", 100), "already"),
        (facts.splice(LOOM, "no-wire", "splice-1", 100), "no wire “no-wire”"),
        (facts.length(LOOM, WIRE.id, 0), "longer than nothing"),
        (facts.change(LOOM, "device", "low-beam", {"watts": "bright"}), "watts"),
        (facts.change(LOOM, "device", "low-beam", {"id": "high"}), "no “id” that can be changed"),
        (facts.change(LOOM, "device", "low-beam", {"kind": "candle"}), "does not fit"),
        (facts.change(LOOM, "zone", "attic", {"branch_mm": 10}), "no zone “attic”"),
        (Fact(deed="add", what="wire", id="loose", values={"words": "x"}), "also needs"),
        (Fact(deed="add", what="place", id="frame", values={}), "already"),
        (Fact(deed="add", what="place", id="", values={}), "no name"),
        (Fact(deed="colour", what="wire", id=WIRE.id, values={"size_mm2": 1.0}), "cannot be said of"),
        (Fact(deed="paint", what="wire", id=WIRE.id), "no change of a loom"),  # type: ignore[arg-type]
        (Fact(deed="remove", what="soul", id="x"), "no kind of part"),  # type: ignore[arg-type]
        (Fact(deed="remove", what="zone", id="tail"), "cannot be taken"),
    ],
)
def test_a_fact_that_fits_nowhere_is_listed_with_its_reason_and_changes_nothing(
    fact: Fact, said: str
) -> None:
    loom = apply(LOOM, fact)
    assert said in reason(loom)
    assert loom.unfinished[0].fact == fact
    assert dataclasses.replace(loom, unfinished=()) == LOOM


def test_a_wire_that_now_ends_elsewhere_is_not_mistaken_for_the_old_one() -> None:
    fact = facts.size(LOOM, "tail-lamp-earth", 1.5)
    elsewhere = apply(LOOM, facts.repin(LOOM, "tail-lamp-earth", b=End("frame", "in")))
    assert "now runs from" in reason(apply(elsewhere, fact))


def test_two_wires_side_by_side_are_told_apart_by_name_only() -> None:
    twin = dataclasses.replace(WIRE, id="second-run")
    both = dataclasses.replace(LOOM, wires={**LOOM.wires, twin.id: twin})
    assert apply(both, facts.size(LOOM, WIRE.id, 1.5)).wires[WIRE.id].size_mm2 == 1.5
    stranger = dataclasses.replace(facts.size(LOOM, WIRE.id, 1.5), id="third-run")
    assert "Several wires" in reason(apply(both, stranger))


def test_a_measured_zone_changes_this_bikes_branch() -> None:
    loom = apply(LOOM, facts.change(LOOM, "zone", "tail", {"branch_mm": 300}))
    assert loom.known.zones["tail"].branch_mm == 300
    assert LOOM.known.zones["tail"].branch_mm != 300
    assert loom.origin("zone", "tail", "branch_mm").level == "bike"


def test_every_part_of_the_pattern_comes_back_from_plain_values_as_it_was() -> None:
    pattern = load_pattern()
    for what in get_args(What):
        for part in pattern.table(what).values():
            bare: Any = dataclasses.replace(part, when=type(part.when)(), alter=(), was=())
            values = from_plain(what, to_plain(part))
            assert type(part)(id=part.id, **values) == bare


def test_a_fact_is_kept_as_plain_values_by_name() -> None:
    fact = facts.splice(LOOM, WIRE.id, "splice-1", 420, zone="tail")
    deed, kept = fact_to_row(fact)
    assert deed == "splice"
    assert kept == {
        "what": "wire", "id": WIRE.id, "a": WIRE.a.place, "b": WIRE.b.place, "mm": 420,
        "values": {"place": "splice-1", "zone": "tail"},
    }  # fmt: skip


def test_every_bad_value_of_a_part_is_named() -> None:
    with pytest.raises(Mistakes) as caught:
        from_plain("wire", {"length_mm": 1.5, "kind": "rope", "colour": {"main": 3}, "wings": 2, "a": "x@up"})
    assert {problem.field for problem in caught.value.problems} == {
        "length_mm",
        "kind",
        "colour",
        "wings",
        "a",
    }


def test_what_was_spliced_is_there_where_nobody_answered() -> None:
    """A lamp for the number plate is not usual; the wire to its joint is there once it was spliced."""
    loom = build(load_pattern(), {})
    assert "tail-joint" not in suppose(loom).places
    spliced = apply(loom, facts.splice(loom, "tail-joint-run", "splice-1", 150))
    assert {"tail-joint", "splice-1"} <= set(suppose(spliced).places)
    assert validate(spliced) == ()
    assert "tail-joint" not in suppose(spliced, {"plate-lamp": "no"}).places, "what is answered counts"
