"""Joints: which method takes the wires, what it eats, where it sits; terminals and crimps."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.electrics.conductor import awg_area_mm2
from tracker.electrics.crimp import NEVER_CRIMP, SAMPLE_ONLY, crimp
from tracker.electrics.splice import METHODS, SpliceSum, splice
from tracker.electrics.splice_place import splice_hints
from tracker.electrics.terminal import barrel_awg, insulated_sleeve, terminal
from tracker.records.problem import Mistakes
from tracker.seedfiles.tables import electric_tables

T = electric_tables()


def join(left: list[str], right: list[str], method: str = "butt connector", **more: float) -> SpliceSum:
    return splice(left=left, right=right, method=method, tables=T, **more)  # type: ignore[arg-type]


def test_a_butt_connector_by_the_copper_of_each_side() -> None:
    answer = join(["0.75"], ["0.75", "JIS 0.5"])
    assert (answer.fits, answer.sleeve) == (True, "red")
    assert answer.right_mm2 == pytest.approx(0.75 + 0.563)
    assert answer.consumed_mm == 0


def test_a_butt_connector_cannot_take_thick_and_thin_and_says_what_can() -> None:
    answer = join(["0.5 mm2"], ["4 mm2"])
    assert not answer.fits
    assert answer.methods_fit == ("soldered lap", "open barrel")
    assert any("no one colour" in sentence for sentence in answer.why)


def test_a_western_union_by_hand() -> None:
    """Two of 1 mm: crossing 4, a turn pi x 2; five turns: strip 5 + 4 + 31.4, joint 14, eaten 66.8."""
    answer = join(["0.75"], ["0.75"], "western union")
    bare = 1.155 * (4 * 0.754 / 3.14159265) ** 0.5
    assert answer.strip_left_mm == pytest.approx(40.4159 * bare, rel=1e-4)
    assert answer.joint_mm == pytest.approx(14 * bare, rel=1e-4)
    assert answer.consumed_mm == pytest.approx((2 * 40.4159 - 14) * bare, rel=1e-4)
    assert not join(["0.75"], ["0.75", "0.75"], "western union").fits
    assert not join(["0.5"], ["1.5"], "western union").fits


def test_a_soldered_lap_eats_its_contact_length_and_what_was_cut_off() -> None:
    plain, cut = (
        join(["1.5"], ["1.5"], "soldered lap"),
        join(["1.5"], ["1.5"], "soldered lap", cut_back_mm=12),
    )
    assert plain.consumed_mm == pytest.approx(6 * 1.155 * (4 * 1.473 / 3.14159265) ** 0.5, rel=1e-4)
    assert cut.consumed_mm == pytest.approx(plain.consumed_mm + 24)
    assert any("stiff" in caution for caution in plain.cautions)
    assert not join(["0.5"] * 4, ["0.5"] * 3, "soldered lap").fits


def test_an_open_barrel_counts_all_its_copper() -> None:
    answer = join(["AWG 18"], ["AWG 18"], "open barrel")
    assert (answer.fits, answer.barrel_awg) == (True, 14)
    assert not join(["16 mm2"], ["2/0 AWG"], "open barrel").fits


def test_mistakes_are_named_together() -> None:
    with pytest.raises(Mistakes) as caught:
        join(["0.75", "3 mm"], [], "glue", turns=1, cut_back_mm=-3)
    fields = [problem.field for problem in caught.value.problems]
    assert fields == ["left 2", "right", "method", "turns", "cut_back_mm"]


@given(
    st.sampled_from(METHODS), st.sampled_from(T.conductors), st.sampled_from(T.conductors), st.integers(3, 8)
)
@settings(max_examples=80, deadline=None)
def test_a_joint_never_makes_wire(method: str, left: object, right: object, turns: int) -> None:
    a, b = getattr(left, "name", ""), getattr(right, "name", "")
    answer = join([a], [b], method, turns=turns)
    assert answer.consumed_mm >= 0
    assert answer.strip_left_mm > 0
    assert answer.strip_right_mm > 0
    assert answer.consumed_mm <= answer.strip_left_mm + answer.strip_right_mm
    back = join([b], [a], method, turns=turns)
    assert back.consumed_mm == pytest.approx(answer.consumed_mm)
    assert back.fits == answer.fits
    assert (method in answer.methods_fit) == answer.fits


def test_a_splice_that_sits_well_has_no_hints() -> None:
    assert splice_hints(at_mm=420, wire_mm=900, bends_mm=[300], splices_mm=[520], tables=T) == ()


def test_each_bad_place_is_a_hint_and_never_a_refusal() -> None:
    hints = splice_hints(
        at_mm=30, wire_mm=60, bends_mm=[40], flexing_mm=[(0, 100)], splices_mm=[35, 200], tables=T
    )
    assert len(hints) == 5
    assert [hint.split(" ")[0] for hint in hints] == ["It", "It", "A", "The", "Another"]
    assert splice_hints(at_mm=30, wire_mm=900, plug_at_start=False, tables=T) == ()


def test_terminals_by_copper_and_stud() -> None:
    answer = terminal(wires=["1.5 mm2"], stud="m8", tables=T)
    assert (answer.sleeve, answer.ring, answer.ring_hole_mm) == ("blue", "M8", 8.4)
    assert answer.blades == ("4.8 x 0.5", "4.8 x 0.8", "6.3 x 0.8")
    assert any("from memory" in sentence for sentence in answer.why)
    assert terminal(wires=["16 mm2"], tables=T).sleeve == ""
    with pytest.raises(Mistakes):
        terminal(wires=["1 mm2"], stud="M7", tables=T)


def test_the_standards_range_comes_before_the_sellers() -> None:
    row, sold = insulated_sleeve(1.0, T), insulated_sleeve(1.3, T)
    assert row is not None
    assert sold is not None
    assert (row.kind, sold.kind) == ("sleeve", "sleeve as sold")
    assert insulated_sleeve(0.2, T) is None


@given(st.floats(0.05, 30), st.floats(1.01, 2))
def test_more_copper_never_takes_a_smaller_barrel(area: float, more: float) -> None:
    small, large = barrel_awg(area), barrel_awg(area * more)
    if small is None or large is None:
        assert area * more > awg_area_mm2(2)
        return
    assert large <= small
    assert awg_area_mm2(small) >= area * (1 - 1e-5)


def test_a_pulled_sample_passes_or_fails() -> None:
    assert crimp(wire="AWG 18", pulled_n=89, tables=T).holds is True
    failed = crimp(wire="AWG 18", pulled_n=88.9, tables=T)
    assert failed.holds is False
    assert any("fails" in sentence for sentence in failed.why)
    assert crimp(wire="AWG 18", tables=T).holds is None
    assert failed.cautions == (SAMPLE_ONLY, NEVER_CRIMP)


@pytest.mark.parametrize(
    ("wire", "gap_mm", "sound"),
    [("AWG 20", 0.75, True), ("AWG 20", 0.8, False), ("AWG 18", 1.25, True), ("AWG 18", 0.2, False)],
)
def test_the_gap_at_the_barrel(wire: str, gap_mm: float, sound: bool) -> None:
    assert crimp(wire=wire, gap_mm=gap_mm, tables=T).gap_sound is sound


def test_wire_that_no_pull_is_published_for() -> None:
    with pytest.raises(Mistakes) as caught:
        crimp(wire="10 mm2", rule="machined contact", pulled_n=-1, tables=T)
    assert [problem.field for problem in caught.value.problems] == ["pulled_n", "wire"]
    assert "AWG 28 to AWG 12" in caught.value.problems[1].sentence


def test_thicker_wire_must_hold_more() -> None:
    pulls = [
        crimp(wire=f"{size} mm2", tables=T).least_n
        for size in ("0.35", "0.5", "0.75", "1", "1.5", "2.5", "6")
    ]
    assert pulls == sorted(pulls)
