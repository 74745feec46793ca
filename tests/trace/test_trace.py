"""A trace step by step: readings, taking back, what is off, what cannot be reached, what cannot be."""

import dataclasses
import random
from itertools import islice

import pytest

from tests.trace.following import followed, noticed
from tests.trace.making import bench, dead, mark, tables, weak, works
from tracker.loom.pattern import home_made
from tracker.records.card import SymptomKind
from tracker.records.loom_made import Fact, Unfinished
from tracker.records.trace import Mark, TraceReading
from tracker.seedfiles.loom import load_pattern
from tracker.trace.deciding import LEAST_SHARE, left_of
from tracker.trace.naming import condition, marks_named, reading_named
from tracker.trace.trace import Trace, begin

STATES = (
    "key-on",
    "position",
    "head-low",
    "head-high",
    "front-brake",
    "turn-left",
    "horn",
    "start-neutral",
    "idle",
)


def started(*marks: Mark, name: str = "twin") -> Trace:
    return begin(bench(name).whole, tables(), bench=bench(name)).marked(*marks)


def volts(place: str, value: float, state: str = "position") -> TraceReading:
    return TraceReading(kind="volts", place=place, state=state, value=value)


def test_nothing_seen_asks_nothing() -> None:
    now = started().now
    assert (now.next, now.found, now.suspects, now.problems) == (None, None, (), ())


def test_a_reading_moves_the_suspects_and_back_is_as_before() -> None:
    trace = started(*dead("tail-light"), *works("plate-light"))
    after = trace.read(volts("tail-lamp:tail@in", 12.3))
    before_it = {one.theory for one in trace.now.classes[0].suspects}
    assert after.now.suspects != trace.now.suspects
    assert after.back() is trace
    assert after.back().now.classes[0].suspects[0].theory in before_it
    assert trace.back().back().back().marks == ()


def test_a_doubted_reading_is_kept_and_counts_for_nothing() -> None:
    trace = started(*dead("tail-light")).read(volts("tail-lamp:tail@in", 0.0))
    doubted = trace.doubted(0)
    assert doubted.readings[0].doubted
    assert doubted.weighed.suspects == trace.back().weighed.suspects
    assert doubted.doubted(0, doubted=False).weighed.suspects == trace.weighed.suspects


def test_the_tank_is_up_anyway() -> None:
    trace = started(*dead("low-beam"))
    up = trace.opened_up("tank")
    assert up.opened == {"tank", "seat"}, "what it needs is off as well"
    assert up.now.expected_minutes <= trace.now.expected_minutes
    assert up.closed_up("tank").opened == {"seat"}
    assert trace.opened_up("wheels").opened == frozenset()


def test_what_cannot_be_reached_is_not_asked_for() -> None:
    trace = started(*dead("tail-light"), *works("brake-light"))
    for part in ("tail", "tail-lamp", "tail-lamp:tail", "seat"):
        barred = trace.cannot_reach(part)
        for one in barred.now.offered:
            place = trace.loom.places.get(one.part)
            names = {one.part, place.body if place else "", place.zone if place else "", *one.needs}
            assert part not in names, one.id
    assert trace.cannot_reach(*trace.loom.known.zones).now.problems == ()


def test_a_misreading_is_noticed_and_found_out() -> None:
    trace = started(*dead("tail-light"), *works("plate-light", "brake-light"))
    trace = trace.read(
        TraceReading(kind="look at a bulb", place="tail-light", state="position", outcome="whole")
    )
    trace = trace.read(volts("tail-lamp:tail@in", 12.3), volts("tail-lamp:tail@out", 12.3))
    now = trace.read(volts("tail-lamp:earth@in", 0.0)).now
    assert now.contradicted
    assert not now.proved_best
    assert now.suspects[0].theory[0].fault == "bulb", "the look at the bulb was the slip"


@pytest.mark.parametrize(
    ("reading", "said"),
    [
        (volts("tail-lamp:tail@in", 40), "40 V cannot be there"),
        (TraceReading(kind="volts", place="tail-lamp:tail@in", state="position", outcome="twelve"),
         "“twelve” is no figure"),
        (volts("tail-lamp:tail@in", -7), "-7 V cannot be there"),
        (volts("tail-lamp:tial@in", 12), "There is no “tail-lamp:tial@in”"),
        (volts("tail-lamp:tail@up", 12), "There is no “tail-lamp:tail@up”"),
        (volts("tail-lamp:tail@in", 12, "flying"), "There is no state “flying”"),
        (TraceReading(kind="AC volts", place="stator-plug:u@in", against="stator-plug:v@in", state="idle",
                      value=900), "900 V cannot be there"),
        (TraceReading(kind="drop across a fuse", place="main-fuse-link", state="off", value=-3),
         "-3 mV cannot be there"),
    ],
)  # fmt: skip
def test_an_impossible_reading_is_said_and_kept(reading: TraceReading, said: str) -> None:
    trace = started(*dead("tail-light"))
    after = trace.read(reading)
    assert after.readings == (reading,)
    assert any(said in one.sentence for one in after.now.problems), after.now.problems
    assert after.weighed.suspects == trace.weighed.suspects


def test_volts_below_nought_are_right_with_the_positive_side_on_the_frame() -> None:
    trace = started(*dead("tail-light"), name="old six").read(volts("tail-lamp:tail@in", -6.1))
    assert trace.now.problems == ()
    assert any(
        "cannot be" in one.sentence for one in trace.read(volts("tail-lamp:tail@in", 6.1)).now.problems
    )


def test_a_foot_with_the_positive_side_on_the_frame() -> None:
    foot = TraceReading(
        kind="volts at the foot", place="horn:out@in", state="key-on", value=-6.2, against="horn-winding"
    )
    assert started(*dead("horn-winding"), name="old six").read(foot).now.problems == ()


def test_marks_against_each_other_are_said_and_one_counts_as_misread() -> None:
    now = started(*dead("tail-light"), *works("tail-light")).now
    assert any("Both “dead” and “works”" in one.sentence for one in now.problems)
    assert now.suspects


def test_an_unknown_load_is_named_with_what_is_near() -> None:
    now = started(mark("tail-lihgt", SymptomKind.DEAD), *dead("horn-winding")).now
    (problem,) = now.problems
    assert "tail-light" in problem.hint
    assert now.suspects


def test_an_unfinished_loom_is_said_and_traced_as_far_as_it_goes() -> None:
    whole = bench("twin").whole
    lost = Unfinished(Fact(deed="move", what="wire", id="gone", words="loose end"), "no such wire.")
    wires = {id_: wire for id_, wire in whole.wires.items() if id_ != "tail-run"}
    broken = dataclasses.replace(whole, unfinished=(lost,), wires=wires)
    now = begin(broken, tables()).marked(*dead("tail-light"), *works("brake-light")).now
    sentences = [one.sentence for one in now.problems]
    assert any("not finished" in one for one in sentences)
    assert any("no circuit for" in one for one in sentences)


def test_an_empty_loom_is_no_crash() -> None:
    from tracker.loom.pattern import build

    empty = build(home_made(load_pattern()), {})
    now = begin(empty, tables()).marked(*dead("tail-light")).now
    assert now.suspects == ()
    assert now.problems


def test_several_faults_are_followed_too() -> None:
    now = started(*dead("tail-light", "horn-winding"), *works("plate-light", "turn-front-left")).now
    assert any(len(one.theory) == 2 for one in now.suspects)
    assert now.next is not None


def test_names_as_people_type_them() -> None:
    twin = bench("twin")
    (one,), wrong = marks_named(twin, SymptomKind.DEAD, "horn")
    assert (one.load, wrong) == ("horn-winding", None)
    several, _ = marks_named(twin, SymptomKind.WORKS, "hazard")
    assert {"turn-front-left", "turn-rear-right"} <= {one.load for one in several}
    assert {one.state for one in several} == {"hazard"}
    (one,), _ = marks_named(twin, SymptomKind.DEAD, "tail lamp@park")
    assert one.state == "park"
    assert marks_named(twin, SymptomKind.FLAT_PARKED, "Battery")[0][0].load == "battery-cells"
    assert marks_named(twin, SymptomKind.BLOWS_FUSE, "tail and instruments fuse")[0][0].load == "fuse-tail"
    for text in ("", "xyzzy", "tail lamp@flying"):
        assert marks_named(twin, SymptomKind.DEAD, text)[1] is not None
    assert [condition(text) for text in ("only in the rain", "Full lock", "nonsense")] == [
        "wet",
        "at full lock",
        None,
    ]


def test_readings_as_people_type_them() -> None:
    twin, marks = bench("twin"), dead("tail-light")
    read, _ = reading_named(twin, "rear-plug:tail=12,3", marks)
    assert read == TraceReading(kind="volts", place="rear-plug:tail@in", state="position", value=12.3)
    read, _ = reading_named(twin, "headlamp:low@in..headlamp:low@out=0.4V@head-low", marks)
    assert read is not None
    assert (read.kind, read.against, read.state) == ("drop", "headlamp:low@out", "head-low")
    for text, kind in (("fuse-tail=blown", "look at a fuse"), ("tail-light=whole", "look at a bulb"),
                       ("brake-light=works@front-brake", "see"), ("rear-plug=bad", "look at a plug"),
                       ("starter-relay-coil=clicks@start-neutral", "click")):  # fmt: skip
        read, _ = reading_named(twin, text, marks)
        assert read is not None
        assert read.kind == kind
    for text in ("", "rear-plug:tail", "=12", "rear-plug:tail=purple", "fuse-tail="):
        assert reading_named(twin, text, marks)[1] is not None


@pytest.mark.parametrize("name", ["twin", "four", "trail", "old six", "single", "scooter"])
def test_faults_drawn_by_lot_are_found(name: str) -> None:
    """Symptoms and readings come from the network; the trace ends on the fault or on what is no different."""
    tested = bench(name)
    states = tuple(one for one in STATES if one in tested.states)
    dice = random.Random(name)
    faults = list(tested.every)
    dice.shuffle(faults)
    wanted = ((one, noticed(tested, one, states)) for one in faults)
    traced = (followed(tested, tables(), one, marks) for one, marks in wanted if marks)
    ended = list(islice(traced, 3))
    assert ended
    assert [one.truth for one in ended if not one.right] == []


def test_a_weak_lamp_by_its_poor_joint_is_found_by_a_loaded_drop() -> None:
    poor = next(one for one in bench("twin").every if one.id == "place headlamp:low weak")
    marks = [*weak("low-beam"), *works("high-beam", "tail-light")]
    assert followed(bench("twin"), tables(), poor, marks).right


def test_misreadings_cost_minutes_and_seldom_the_verdict() -> None:
    """Three readings in a hundred are what another suspect would give; the bench has many more of these."""
    ended = []
    for name in ("trail", "old six", "scooter"):
        tested = bench(name)
        states = tuple(one for one in STATES if one in tested.states)
        dice = random.Random(f"misread {name}")
        faults = list(tested.every)
        dice.shuffle(faults)
        wanted = ((one, noticed(tested, one, states)) for one in faults)
        for one, marks in islice(wanted, 12):
            if marks:
                ended.append(followed(tested, tables(), one, marks, dice=dice, misreads=0.03))
    assert len(ended) >= 20
    assert sum(one.right for one in ended) >= 0.95 * len(ended), [one for one in ended if not one.right]


def test_the_minutes_promised_are_the_minutes_taken_on_average() -> None:
    """Every suspect of a dead lamp followed in each way it may show, weighed by its share."""
    tested = bench("trail")
    trace = started(*dead("low-beam"), *works("high-beam"), name="trail")
    ways = [(one, row, share) for one in left_of(trace.now.suspects) for row, share in one.tried]
    total = sum(share for _, _, share in ways)
    mean = sum(
        share / total * followed(tested, tables(), one.theory[0], list(trace.marks), row=row).minutes
        for one, row, share in ways
        if share >= LEAST_SHARE * total
    )
    assert trace.now.expected_minutes == pytest.approx(mean, rel=0.1)
    assert trace.now.sure_minutes > 0


def test_a_poor_joint_and_a_poorer_one_are_one_suspect_in_two_ways() -> None:
    now = started(*weak("low-beam"), *works("high-beam")).now
    both = [one for one in now.suspects if len(one.tried) == 2]
    assert both
    assert {len(one.theory) for one in both} == {1}
    for one in both:
        assert sum(share for _, share in one.tried) == pytest.approx(one.share)
        assert {row.poorer for row, _ in one.tried} == {False, True}
    found = [theory for some in now.classes for theory in {each.theory for each in some.suspects}]
    assert found.count(both[0].theory) >= 1


def test_a_finding_that_one_misreading_could_hide_is_made_sure_of() -> None:
    """A look into a plug is taken for bad one time in ten: it is asked once more, or another way."""
    trace = started(*dead("tail-light"), *works("brake-light", "plate-light"))
    look = TraceReading(kind="look at a plug", place="rear-plug", state="position", outcome="bad")
    now = trace.read(look).now
    assert now.next is not None
    after = trace.read(look, volts("rear-plug:tail@in", 12.3), volts("rear-plug:tail@out", 0.0))
    made = after.now
    assert made.found is not None
    assert made.found.suspects[0].theory[0].part == ("place", "rear-plug:tail")


def test_volts_that_jump_while_a_relay_chatters_are_no_proof_of_a_flat_battery() -> None:
    tested = bench("twin")
    truth = next(one for one in tested.every if one.id == "place right-switch:run weak")
    ended = followed(tested, tables(), truth, noticed(tested, truth, ("start-neutral",)))
    assert ended.right, ended
