"""The wire for a new circuit: smallest that meets all three, and which of them decided."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.electrics.conductor import families
from tracker.electrics.sizing import WireSum, size_wire
from tracker.records.problem import Mistakes
from tracker.seedfiles.tables import electric_tables

T = electric_tables()
FAMILIES = families(T.conductors)


def of(**asked: object) -> WireSum:
    return size_wire(**{"length_mm": 1800, "tables": T, **asked})  # type: ignore[arg-type]


def test_a_long_run_is_decided_by_the_drop() -> None:
    answer = of(current_a=8)
    assert (answer.wire, answer.fuse_a, answer.decided_by) == ("1 mm2 thin wall", 10, "drop")
    assert answer.drop_v == pytest.approx(8 * 0.0185 * 1.8 * 1.0393)
    assert answer.limit_v == pytest.approx(0.36), "3 % of 12 V where nobody says"
    assert any("3 %" in sentence for sentence in answer.why)


def test_a_short_run_in_a_full_hot_bundle_is_decided_by_the_fuse() -> None:
    answer = of(current_a=15, length_mm=500, together=8, ambient_c=60, family="AVS")
    assert (answer.wire, answer.decided_by) == ("AVS 5", "fuse")
    assert (answer.smallest_for_ampacity, answer.smallest_for_fuse) == ("AVS 3", "AVS 5")
    assert answer.carries_a == pytest.approx(49.7 * 0.7 * (20 / 50) ** 0.5, rel=1e-3)


def test_what_the_wire_carries_can_decide_with_the_fuse() -> None:
    """15 A: 0.75 mm2 carries 13.9 A, 1 mm2 carries 21.9 A and takes the 20 A fuse."""
    answer = of(current_a=15, length_mm=200)
    assert (answer.wire, answer.decided_by) == ("1 mm2 thin wall", "ampacity")
    assert "what the wire may carry and the fuse" in answer.why[-1]


def test_a_trickle_takes_the_smallest_made() -> None:
    answer = of(current_a=0.1)
    assert (answer.wire, answer.decided_by, answer.fuse_a) == ("0.35 mm2 thin wall", "smallest made", 1)


def test_a_lamp_a_heater_and_watts() -> None:
    assert of(lamp_w=55).current_a < 55 / 12
    assert of(resistance_ohm=3).current_a < 4
    assert of(power_w=48).current_a > 4


def test_the_drop_may_be_given_in_volts() -> None:
    assert of(current_a=8, limit_v=0.5).smallest_for_drop == "0.75 mm2 thin wall"
    assert of(current_a=8, limit_percent=100).decided_by == "fuse"


def test_what_no_wire_of_the_kind_can_do_is_said() -> None:
    with pytest.raises(Mistakes) as caught:
        of(current_a=60, length_mm=30_000, family="AVSS")
    problems = caught.value.problems
    assert [problem.field for problem in problems] == ["length_mm", "family", "family"]
    assert problems[0].sentence == "No AVSS wire keeps a steady load of 60 A within 0.36 V over 30000 mm."
    assert all(problem.hint for problem in problems)


def test_every_mistake_at_once() -> None:
    with pytest.raises(Mistakes) as caught:
        of(current_a=0, length_mm=0, family="bell wire", limit_v=0, together=1.5, fuse_family="glass")
    fields = {problem.field for problem in caught.value.problems}
    assert fields == {"current_a", "length_mm", "family", "limit_v", "together", "fuse_family"}


def meets(answer: WireSum) -> None:
    assert answer.drop_v <= answer.limit_v * (1 + 1e-9)
    assert answer.current_a <= answer.carries_a
    assert 1.25 * answer.current_a <= answer.fuse_a * (1 + 1e-9)
    assert answer.fuse_a <= answer.carries_a


asks = {
    "current_a": st.floats(0.1, 18),
    "length_mm": st.floats(50, 4000),
    "family": st.sampled_from(FAMILIES),
    "together": st.integers(1, 12),
    "ambient_c": st.floats(0, 60),
    "returns": st.sampled_from(["frame", "wire"]),
    "limit_percent": st.floats(2, 12),
}


@given(st.fixed_dictionaries(asks))
@settings(max_examples=60, deadline=None)
def test_the_size_meets_all_three_and_the_one_below_does_not(ask: dict[str, object]) -> None:
    try:
        answer = of(**ask)
    except Mistakes:
        return
    meets(answer)
    sizes = sorted((w for w in T.conductors if w.family == ask["family"]), key=lambda w: w.area_mm2)
    names = [w.name for w in sizes]
    place = names.index(answer.wire)
    needed = {answer.smallest_for_drop, answer.smallest_for_ampacity, answer.smallest_for_fuse}
    assert max(names.index(name) for name in needed) == place
    assert (answer.decided_by == "smallest made") == (place == 0)


@given(st.fixed_dictionaries(asks), st.sampled_from(["current_a", "length_mm", "ambient_c", "together"]))
@settings(max_examples=60, deadline=None)
def test_more_of_anything_never_takes_a_thinner_wire(ask: dict[str, object], name: str) -> None:
    value = ask[name]
    assert isinstance(value, int | float)
    try:
        less, more = (
            of(**ask),
            of(**ask | {name: value + 1 if name in {"together", "ambient_c"} else value * 1.3}),
        )
    except Mistakes:
        return
    assert more.area_mm2 >= less.area_mm2
