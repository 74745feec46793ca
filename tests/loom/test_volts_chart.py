"""The falling line of volts: level where nothing is lost, a fall where something is, readings beside."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.loom.test_volts_along import low_beam
from tracker.loom.volts_along import AlongStep
from tracker.loom.volts_chart import volts_chart
from tracker.records.loom import End


def steps(*volts: float, read: dict[int, float] | None = None) -> list[AlongStep]:
    """A circuit whose places have these volts, one after another."""
    found = []
    for number, here in enumerate(volts):
        before = volts[number - 1] if number else here
        found.append(
            AlongStep(
                end=End(f"p{number}", "in"),
                words=f"place {number}",
                kind="wire" if number else "start",
                part=f"w{number}",
                part_words=f"wire {number}",
                volts_v=here,
                drop_v=before - here,
                amps_a=1.0,
                measured_v=(read or {}).get(number),
            )
        )
    return found


def test_a_line_as_it_is_drawn() -> None:
    assert volts_chart(steps(12, 12, 6, 0, read={1: 9, 2: 6}), width=40, height=5) == [
        "  12.0 ┤────────────────┐",
        "       │           x    │",
        "   6.0 ┤                └──*────┐",
        "       │                        │",
        "   0.0 ┤                        └───────",
        "           1       2       3       4",
    ]


def test_the_same_in_ascii() -> None:
    assert volts_chart(steps(12, 0), width=40, height=4, ascii_only=True) == [
        "  12.0 |--------+",
        "       |        |",
        "   6.0 |        |",
        "   0.0 |        +-------",
        "           1       2",
    ]


def test_a_source_further_on_raises_it() -> None:
    lines = volts_chart(steps(0, -6, 6), width=40, height=5)
    assert "┘" in "".join(lines)
    assert lines[0].startswith("   6.0 ┤")
    assert lines[4].startswith("  -6.0 ┤")
    assert lines[2].startswith("   0.0 ┤")


def falls(lines: list[str]) -> set[int]:
    """The columns in which the line falls over a row or more."""
    return {line.find("│", 8) for line in lines} - {-1}


def test_a_poor_joint_is_a_step_of_its_own() -> None:
    assert len(falls(volts_chart(low_beam()))) == 1, "the lamp"
    assert len(falls(volts_chart(low_beam(2.0)))) == 2, "the joint, then the lamp"


@given(
    st.lists(st.floats(-60, 60), min_size=1, max_size=90),
    st.integers(40, 160),
    st.integers(4, 30),
    st.randoms(use_true_random=False),
)
@settings(deadline=None, max_examples=60)
def test_any_line_fits_and_shows_what_was_read(
    volts: list[float], width: int, height: int, chance: object
) -> None:
    read = {len(volts) // 2: volts[0] / 2 + 1}
    lines = volts_chart(steps(*volts, read=read), width=width, height=height)
    assert len(lines) == height + 1
    assert max(map(len, lines)) <= width
    assert sum(line.count("x") + line.count("*") for line in lines) == 1
    numbers = [int(number) for number in lines[-1].split()]
    assert numbers[0] == 1
    assert numbers == sorted(numbers)


def test_nothing_has_no_line_and_too_little_room_is_refused() -> None:
    assert volts_chart([]) == []
    for width, height in ((39, 12), (80, 3)):
        with pytest.raises(ValueError, match="at least"):
            volts_chart(steps(12, 0), width=width, height=height)
