"""The fuse: large enough for the load, never above the wire."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.electrics.ampacity import carries
from tracker.electrics.fuse import NEVER_UPRATE, fuse, next_fuse
from tracker.records.problem import Mistakes
from tracker.seedfiles.tables import electric_tables

T = electric_tables()


def test_the_next_rating_over_a_quarter_more_than_the_current() -> None:
    answer = fuse(current_a=8.5, wire="1.5 mm2", tables=T)
    assert (answer.fuse_a, answer.colour, answer.need_a) == (15, "blue", 10.625)
    assert fuse(current_a=8, carries_a=12, tables=T).fuse_a == 10, "80 % of its rating is still right"


def test_no_fuse_where_the_next_would_not_protect_the_wire() -> None:
    answer = fuse(current_a=10, wire="0.5 mm2", tables=T)
    assert answer.fuse_a is None
    assert "no fuse fits" in answer.why[-2]
    assert "thicker wire" in answer.why[-1]


def test_no_fuse_so_large() -> None:
    assert fuse(current_a=80, carries_a=200, tables=T).fuse_a is None
    assert fuse(current_a=80, carries_a=200, family="maxi blade", tables=T).fuse_a == 100


def test_a_bigger_fuse_never_cures_and_that_is_said() -> None:
    assert NEVER_UPRATE in fuse(current_a=5, wire="1 mm2", tables=T).cautions


def test_a_rating_from_memory_says_so() -> None:
    answer = fuse(current_a=27, carries_a=50, tables=T)
    assert answer.fuse_a == 35
    assert any("from memory" in sentence for sentence in answer.why)
    assert any("from memory" in source for source in answer.source)


def test_a_wire_or_its_amps_not_both() -> None:
    with pytest.raises(Mistakes) as caught:
        fuse(current_a=-1, wire="AWG 18", carries_a=10, family="glass", tables=T)
    assert [problem.field for problem in caught.value.problems] == ["current_a", "carries_a", "family"]


@given(
    st.floats(0.05, 60),
    st.sampled_from(T.conductors),
    st.integers(1, 40),
    st.floats(-20, 70),
    st.sampled_from(["blade", "maxi blade"]),
)
@settings(max_examples=150, deadline=None)
def test_never_a_fuse_above_its_wire_nor_below_its_load(
    amps: float, wire: object, together: int, air_c: float, family: str
) -> None:
    name = getattr(wire, "name", "")
    answer = fuse(current_a=amps, wire=name, together=together, ambient_c=air_c, family=family, tables=T)
    limit = carries(wire, T, together=together, ambient_c=air_c).carries_a  # type: ignore[arg-type]
    assert answer.carries_a == limit
    if answer.fuse_a is not None:
        assert 1.25 * amps <= answer.fuse_a * (1 + 1e-9)
        assert answer.fuse_a <= limit
    else:
        row = next_fuse(amps, T, family)
        assert row is None or row.rating_a > limit
