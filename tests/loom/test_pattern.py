"""A bike's loom from its answers: variants kept where nobody knows, facts in their order, lengths scaled."""

import dataclasses

import pytest

from tests.bench.loom import fullest
from tests.loom.making import BIKES, TWIN, bike, small_pattern
from tracker.loom import facts
from tracker.loom.circuits import circuits, lit
from tracker.loom.fits import fits
from tracker.loom.pattern import build, home_made, open_questions, size_class, suppose
from tracker.loom.settle import settle
from tracker.records.bike import UNKNOWN
from tracker.records.loom import When
from tracker.records.loom_made import Fact
from tracker.seedfiles.loom import load_pattern

PATTERN = load_pattern()


def test_a_known_answer_keeps_one_variant() -> None:
    shared, separate = build(PATTERN, TWIN), build(PATTERN, {**TWIN, "turn-warning": "separate"})
    assert "turn-lamp" in shared.devices
    assert "turn-lamp-left" not in shared.devices
    assert "turn-lamp-left" in separate.devices
    assert "turn-lamp" not in separate.devices
    assert shared.doubtful == {}
    assert open_questions(shared) == ()


@pytest.mark.parametrize("unknown", [None, "", UNKNOWN])
def test_an_unknown_answer_keeps_both_and_says_so(unknown: str | None) -> None:
    loom = build(PATTERN, {**TWIN, "turn-warning": unknown})
    assert {"turn-lamp", "turn-lamp-left", "turn-lamp-right"} <= set(loom.devices)
    assert loom.doubtful["device", "turn-lamp"] == ("turn-warning",)
    assert ("device", "low-beam") not in loom.doubtful
    assert open_questions(loom) == ("turn-warning",)


def test_doubt_runs_on_to_what_hangs_on_a_doubtful_part() -> None:
    loom = build(PATTERN, {**TWIN, "plate-lamp": None})
    assert loom.doubtful["place", "plate-lamp:feed"] == ("plate-lamp",)
    assert loom.doubtful["wire", "plate-run"] == ("plate-lamp",)
    assert loom.doubtful["device", "plate-light"] == ("plate-lamp",)


def test_supposing_the_usual_answer_gives_one_loom_to_work_with() -> None:
    loom = build(PATTERN, {**TWIN, "horn": None})
    both = settle(loom, loom.known.states["key-on"])
    assert "horn-winding" in lit(both), "both variants at once would blow the horn for ever"
    one = suppose(loom)
    assert one.supposed == {"horn": "earth-switched"}
    assert one.doubtful == {}
    assert "horn-winding" not in lit(settle(one, loom.known.states["key-on"]))
    other = suppose(loom, {"horn": "feed-switched"})
    assert "horn-button-feed" in other.devices
    assert suppose(one) is one


def test_circuits_of_an_unknown_horn_are_those_of_either_answer_and_say_which() -> None:
    loom = build(PATTERN, {**TWIN, "horn": None})
    found = circuits(loom, "horn-winding", loom.known.states["horn"])
    answers = {dict(circuit.supposing)["horn"] for circuit in found}
    assert answers == {"earth-switched", "feed-switched"}
    for circuit in found:
        through_the_bars = "bars" in circuit.places
        assert through_the_bars is (dict(circuit.supposing)["horn"] == "earth-switched")


def test_values_differ_by_answer_and_stay_in_doubt_without_one() -> None:
    leds = build(PATTERN, {**TWIN, "indicators": "led"})
    assert leds.devices["turn-front-left"].kind == "led"
    assert leds.devices["turn-front-left"].watts == 2
    doubt = build(PATTERN, {**TWIN, "indicators": None})
    assert doubt.devices["turn-front-left"].kind == "filament"
    assert "indicators" in open_questions(doubt)
    assert suppose(doubt, {"indicators": "led"}).devices["turn-front-left"].watts == 2


def test_what_was_seen_is_not_changed_by_supposing() -> None:
    seen = Fact(deed="change", what="device", id="turn-front-left", values={"watts": 10.0})
    loom = build(PATTERN, {**TWIN, "indicators": None}, bike_facts=[seen])
    assert suppose(loom, {"indicators": "led"}).devices["turn-front-left"].watts == 10


def test_a_loom_without_one_answer_still_works_as_most_bikes_do() -> None:
    loom = build(PATTERN, {})
    assert len(open_questions(loom)) > 20
    one = suppose(loom)
    assert {"low-beam", "tail-light"} <= lit(settle(one, loom.known.states["head-low"]))


def test_wires_from_zone_to_zone_grow_with_the_wheelbase() -> None:
    plain, longer = build(PATTERN, TWIN), build(PATTERN, TWIN, wheelbase_mm=1540)
    assert longer.scale == pytest.approx(1.1)
    assert longer.wires["tail-run"].length_mm == round(plain.wires["tail-run"].length_mm * 1.1)
    assert longer.wires["coil-interlock"].length_mm == plain.wires["coil-interlock"].length_mm
    assert size_class(PATTERN.known.route, "large") == 1450
    assert size_class(PATTERN.known.route, "bus") is None


def test_a_home_made_loom_starts_empty() -> None:
    empty = build(home_made(PATTERN), {})
    assert not empty.places
    assert not empty.wires
    assert not empty.devices
    assert not empty.bodies
    assert open_questions(empty) == ()
    assert "headstock" in empty.known.zones


def test_answers_the_pattern_no_longer_knows_are_said_and_not_dropped_in_silence() -> None:
    loom = build(PATTERN, {**TWIN, "sidecar": "yes", "fuel": "steam"})
    assert len(loom.lost) == 2
    assert "steam" in " ".join(loom.lost)
    assert "fuel" in open_questions(loom)


def test_a_former_question_answers_the_present_one() -> None:
    text = """
    [feature.wings]
    was = ["feathers"]
    question = "Does it have wings?"
    values = { no = "no", yes = "yes" }
    usual = "no"
    [place.wing]
    words = "wing"
    zone = "seat"
    kind = "metal"
    when = { wings = "yes" }
    """
    pattern = small_pattern(text)
    assert "wing" in build(pattern, {"feathers": "yes"}).places
    assert "wing" not in build(pattern, {"feathers": "no"}).places


def test_all_answers_of_one_set_must_hold_and_any_set_will_do() -> None:
    either = When(need=((("a", ("1",)), ("b", ("1",))), (("c", ("1",)),)))
    assert fits(either, {"a": "1", "b": "1", "c": "2"}) == (True, ())
    assert fits(either, {"a": "1", "b": "2", "c": "2"}) == (False, ())
    assert fits(either, {"a": "1", "c": "2"}) == (None, ("b",))
    assert fits(either, {"c": "1"}) == (True, ())
    barred = When(bar=((("a", ("1",)), ("b", ("1",))),))
    assert fits(barred, {"a": "1", "b": "1"}) == (False, ())
    assert fits(barred, {"a": "2"}) == (True, ())
    assert fits(barred, {"a": "1"}) == (None, ("b",))


def test_what_somebody_fitted_is_not_turned_by_supposing_an_earth() -> None:
    unknown = build(PATTERN, {**TWIN, "earth": None})
    pattern_led = unknown.devices["ignition-electronics"]
    own = dataclasses.replace(pattern_led, id="own-box")
    fitted = build(PATTERN, {**TWIN, "earth": None}, bike_facts=[facts.add(own)])
    assert "earth" in open_questions(fitted)
    positive = suppose(fitted, {"earth": "positive"})
    assert positive.devices["ignition-electronics"].a == pattern_led.b
    assert positive.devices["own-box"].a == own.a


def test_the_five_kinds_of_bike_differ_as_they_should() -> None:
    assert set(BIKES) >= {"twin", "four", "trail", "old six", "single", "scooter"}
    assert len([one for one in bike("four").devices.values() if one.is_load]) >= 60
    assert len([one for one in fullest(PATTERN).devices.values() if one.is_load]) >= 60
    assert "starter" not in bike("trail").devices
    assert "battery" not in bike("trail").bodies
    assert bike("old six").volts == 6
