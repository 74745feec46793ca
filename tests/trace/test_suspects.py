"""What it can be, from what was seen: rates, what each mark really clears, several faults at once."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.trace.making import bench, dead, mark, rates, share_of, shares, weak, weighed, works
from tracker.records.card import SymptomKind
from tracker.records.trace import OwnFix
from tracker.trace.parts import Single


def test_nothing_wrong_is_no_suspect() -> None:
    assert weighed("twin", *works("tail-light")).suspects == ()
    assert weighed("twin").suspects == ()


def test_shares_add_up_and_fall() -> None:
    found = weighed("twin", *dead("tail-light"))
    said = [one.share for one in found.suspects]
    assert sum(said) == pytest.approx(1)
    assert said == sorted(said, reverse=True)
    assert not found.contradicted


def test_one_dead_lamp_beside_its_neighbours_that_work_is_its_bulb_first() -> None:
    found = weighed("twin", *dead("tail-light"), *works("brake-light", "plate-light"))
    first = found.suspects[0]
    assert [single.id for single in first.theory] == ["device tail-light bulb"]
    assert share_of(found, "fuse-tail") < 0.02, "the plate lamp is on the same fuse"


def test_what_shares_a_fuse_points_to_the_fuse() -> None:
    found = weighed("twin", *dead("tail-light", "plate-light", "position-light"), *works("brake-light"))
    assert next(iter(shares(found))) == "device fuse-tail blown"
    assert share_of(found, "tail-light") < 0.001


def test_a_chafed_wire_is_a_suspect_by_the_fuse_it_blew_in_every_state() -> None:
    found = weighed("twin", *dead("brake-light", "turn-front-left"), *works("tail-light"))
    said = shares(found)
    assert said["wire brake-run to frame"] > 0.005, "it blew the signals fuse when the brake was pulled"
    assert said["device fuse-signals blown"] > said["wire brake-run to frame"]


def test_works_clears_only_what_the_load_proved() -> None:
    """The tail lamp glows through others with the rear earth gone: that it “works” leaves the earth in."""
    alone = share_of(weighed("twin", *weak("brake-light")), "rear-earth-run")
    with_tail = share_of(weighed("twin", *weak("brake-light"), *works("tail-light")), "rear-earth-run")
    assert with_tail > 0.05 * alone
    sound = weighed("twin", *dead("brake-light"), *works("tail-light"))
    assert share_of(sound, "fuse-tail", "main-fuse-link") < 0.01


def test_a_small_lamp_never_clears_a_poor_joint() -> None:
    """A warning lamp burns through ohms that starve a headlamp."""
    before = weighed("twin", *weak("low-beam"))
    after = weighed("twin", *weak("low-beam"), *works("neutral-lamp"))
    assert shares(after)["place key-plug:on weak"] > 0.5 * shares(before)["place key-plug:on weak"]


def test_a_switch_that_stays_closed_keeps_a_lamp_on() -> None:
    found = weighed("twin", mark("brake-light", SymptomKind.WONT_GO_OFF))
    assert {one.theory[0].id for one in found.likely(0.01)} == {
        "device front-brake-contact stuck closed",
        "device rear-brake-contact stuck closed",
    }


def test_a_fuse_that_blows_names_wires_on_the_frame_and_not_itself() -> None:
    found = weighed("twin", mark("brake-light", SymptomKind.BLOWS_FUSE))
    assert all("to frame" in name or "shorted" in name for name in list(shares(found))[:5])
    assert share_of(found, "fuse-signals") < 0.01


def test_bulbs_that_keep_blowing_point_to_the_regulator_or_a_loose_holder() -> None:
    found = weighed("twin", mark("tail-light", SymptomKind.BULBS_BLOW))
    assert shares(found)["device regulator-output gives too much"] > 0.05
    assert share_of(found, "regulator-output", "tail-lamp:tail", "tail-lamp:earth") > 0.6


def test_flat_when_parked_is_the_battery_a_drain_or_the_charging() -> None:
    said = shares(weighed("twin", mark("battery-cells", SymptomKind.FLAT_PARKED)))
    assert next(iter(said)) == "device battery-cells flat"
    assert said["device regulator-output leaks"] > 0.01
    assert said["device regulator-output open"] > 0.02
    assert "device tail-light bulb" not in said


@pytest.mark.parametrize(
    ("when", "more", "less"),
    [
        ("at full lock", "wire head-bar open", "device low-beam bulb"),
        ("wet", "place headlamp:low open", "device low-beam bulb"),
        ("shaken", "place headlamp:low open", "device fuse-lights blown"),
    ],
)
def test_a_condition_moves_the_suspects_to_what_shows_it(when: str, more: str, less: str) -> None:
    plain = shares(weighed("twin", *dead("low-beam")))
    told = shares(weighed("twin", *dead("low-beam", when=when)))  # type: ignore[arg-type]
    assert told[more] / told[less] > 5 * plain[more] / plain[less]


def test_two_faults_are_named_where_no_single_one_explains() -> None:
    found = weighed("twin", *dead("tail-light", "horn-winding"), *works("plate-light", "turn-front-left"))
    pairs = [one for one in found.suspects if len(one.theory) == 2]
    assert pairs
    first = max(pairs, key=lambda one: one.share)
    assert Single(("device", "tail-light"), "bulb") in first.theory
    assert any(single.part[1] == "horn-winding" or "horn" in single.part[1] for single in first.theory)
    assert not first.contradicts


def test_the_shops_own_repairs_move_the_weights_and_a_comeback_does_not_count() -> None:
    marks = dead("low-beam")
    fix = OwnFix(element="head-run", fault="open", of="thin wall", zone="headlamp", same_model=True, fixed=4)
    plain = shares(weighed("twin", *marks))["wire head-run open"]
    known = shares(weighed("twin", *marks, own=[fix]))["wire head-run open"]
    assert known > 2 * plain
    back = OwnFix(element="head-run", fault="open", of="thin wall", zone="headlamp", fixed=4, came_back=4)
    assert shares(weighed("twin", *marks, own=[back]))["wire head-run open"] == pytest.approx(plain)
    made = rates("twin", [fix])
    assert made.fixed_here(Single(("wire", "head-run"), "open")) == (4, 0)


@settings(max_examples=15, deadline=None)
@given(st.sampled_from(("tail-light", "low-beam", "horn-winding", "neutral-lamp", "starter")), st.data())
def test_more_seen_never_leaves_anything_but_weights(load: str, data: st.DataObject) -> None:
    others = data.draw(st.lists(st.sampled_from(("brake-light", "position-light", "oil-lamp")), max_size=2))
    words = data.draw(st.lists(st.sampled_from((dead, weak, works)), min_size=2, max_size=2))
    marks = [*dead(load), *(one for word, other in zip(words, others, strict=False) for one in word(other))]
    found = weighed("twin", *marks)
    assert sum(one.share for one in found.suspects) == pytest.approx(1)
    assert all(0 <= one.share <= 1 for one in found.suspects)
    assert all(single in bench("twin").every for one in found.suspects for single in one.theory)
