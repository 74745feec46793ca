"""Heat shrink over a joint, and loom tape."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.electrics.sleeve import cut_length_mm, sleeve, tight_to_mm
from tracker.electrics.tape import tape
from tracker.records.problem import Mistakes
from tracker.seedfiles.tables import electric_tables

T = electric_tables()


def test_the_smallest_tube_that_goes_over_and_grips() -> None:
    answer = sleeve(widest_mm=2.5, narrowest_mm=1.9, covered_mm=12, tables=T)
    assert (answer.kind, answer.size) == ("2:1", "1/8"), "3.0 mm needed, 3.18 supplied, 1.58 shrunk"
    assert answer.cut_mm == cut_length_mm(12, 10, 15) == 38
    assert answer.also_fit == ("3:1 adhesive 3/1", "3:1 adhesive 4.8/1.5")


def test_a_fat_joint_on_a_thin_wire_takes_three_to_one_from_memory() -> None:
    answer = sleeve(widest_mm=4.0, narrowest_mm=1.6, covered_mm=26, tables=T)
    assert (answer.kind, answer.size) == ("3:1 adhesive", "4.8/1.5")
    assert any("from memory" in sentence for sentence in answer.why)


def test_no_tube_does_both() -> None:
    with pytest.raises(Mistakes) as caught:
        sleeve(widest_mm=6, narrowest_mm=1.2, covered_mm=20, tables=T)
    assert caught.value.problems[0].field == "widest_mm"
    with pytest.raises(Mistakes):
        sleeve(widest_mm=4.0, narrowest_mm=1.6, covered_mm=26, kind="2:1", tables=T)


def test_mistakes_together() -> None:
    with pytest.raises(Mistakes) as caught:
        sleeve(widest_mm=90, narrowest_mm=0, covered_mm=-1, kind="5:1", overlap_mm=200, tables=T)
    assert len(caught.value.problems) == 5
    with pytest.raises(Mistakes) as caught:
        sleeve(widest_mm=3, narrowest_mm=4, covered_mm=10, tables=T)
    assert caught.value.problems[0].field == "narrowest_mm"


@given(st.floats(0.6, 30), st.floats(0.4, 1), st.floats(0, 200))
@settings(max_examples=100, deadline=None)
def test_what_is_picked_goes_over_grips_and_still_covers(widest: float, part: float, joint: float) -> None:
    narrowest = max(0.5, widest * part)
    try:
        answer = sleeve(widest_mm=widest, narrowest_mm=narrowest, covered_mm=joint, tables=T)
    except Mistakes:
        return
    assert answer.expanded_mm >= 1.2 * widest - 1e-6
    assert answer.recovered_mm <= narrowest
    assert answer.cut_mm * 0.85 >= joint + 20 - 1e-6
    assert answer.recovered_mm < answer.tight_to_mm < answer.expanded_mm


def test_three_quarters_of_the_shrinkage() -> None:
    assert tight_to_mm(12, 4) == 6


def test_tape_by_hand() -> None:
    answer = tape(bundle_mm=12, covered_mm=600, tape_width_mm=25)
    assert answer.tape_mm == 1810, "pi x 12 x 600 / 12.5"
    assert answer.layers == 2
    assert answer.turns == 48


def test_more_lap_takes_more_tape_and_less_lap_needs_a_thick_loom() -> None:
    assert (
        tape(bundle_mm=12, covered_mm=600, lap_percent=66).tape_mm
        > tape(bundle_mm=12, covered_mm=600).tape_mm
    )
    with pytest.raises(Mistakes) as caught:
        tape(bundle_mm=4, covered_mm=600, lap_percent=10)
    assert caught.value.problems[0].sentence.startswith("Tape of 19 mm cannot be wound round 4 mm")


def test_tape_mistakes_together() -> None:
    with pytest.raises(Mistakes) as caught:
        tape(bundle_mm=0, covered_mm=0, tape_width_mm=200, lap_percent=100)
    assert len(caught.value.problems) == 4
