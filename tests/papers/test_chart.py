"""The chart in plain signs: within its width, to scale, limits where they belong, a slide in words."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.hostile import FINE
from tracker.electrics.trend import trend
from tracker.papers.chart import AFTER, BEFORE, LIMIT, SEVERAL, Line, Mark, chart, trend_words
from tracker.records.width import width_of

DAY = date(2026, 1, 1)
LINES = (Line(12.6, "fault"), Line(13.5, "look"), Line(14.7, "look"), Line(15.0, "fault"))


def marks(*points: tuple[int, float]) -> list[Mark]:
    return [Mark(DAY + timedelta(days=days), value) for days, value in points]


def rows(text: str) -> list[str]:
    return [line for line in text.splitlines() if "│" in line]


def plot(text: str) -> list[str]:
    """The rows without figures and words at their sides."""
    return [line.split("│")[1][:61] for line in rows(text)]


def test_a_slide_is_drawn_from_left_high_to_right_low() -> None:
    drawn = chart("Charging volts", "V", marks((0, 14.5), (90, 14.2), (270, 13.7)), LINES)
    places = [(at, line.index(BEFORE)) for at, line in enumerate(plot(drawn)) if BEFORE in line]
    assert places == sorted(places)
    columns = [column for _, column in places]
    assert (columns[1] - columns[0]) / (columns[2] - columns[0]) == pytest.approx(90 / 270, abs=0.02)
    assert drawn.splitlines()[0] == "Charging volts (V)"
    assert "1 Jan 2026" in drawn
    assert "28 Sep 2026" in drawn


def test_the_nearest_limits_are_drawn_and_those_passed() -> None:
    near = chart("x", "V", marks((0, 14.2), (9, 14.0)), LINES)
    assert [line.split("│")[0].strip() for line in rows(near) if LIMIT in line] == ["14.7", "13.5"]
    passed = chart("x", "V", marks((0, 14.2), (9, 12.2)), LINES)
    assert [line.split("│")[0].strip() for line in rows(passed) if LIMIT in line] == ["14.7", "13.5", "12.6"]
    assert all(line.endswith(("look", "fault")) for line in rows(passed) if LIMIT in line)


def test_before_after_and_several_at_one_spot_differ_without_colour() -> None:
    both = [Mark(DAY, 12.9), Mark(DAY, 14.2, after=True), Mark(DAY + timedelta(days=40), 14.1)]
    drawn = chart("x", "V", [*both, Mark(DAY + timedelta(days=40), 14.1)], LINES)
    assert {BEFORE, AFTER, SEVERAL} <= set("".join(plot(drawn)))
    assert "before" in drawn.splitlines()[-1]
    assert "\x1b" not in drawn


def test_nothing_and_one_reading_can_be_drawn() -> None:
    assert chart("Drain", "mA", []) == "Drain (mA)\nNothing was read yet."
    alone = chart("Drain", "mA", marks((0, 1.2)), [Line(5, "look")])
    assert sum(BEFORE in line for line in plot(alone)) == 1
    assert chart("x", "", [Mark(DAY, float("inf"))]).endswith("Nothing was read yet.")


def test_too_small_a_chart_is_refused() -> None:
    for width, height in ((59, 11), (80, 4)):
        with pytest.raises(ValueError, match="at least"):
            chart("x", "V", marks((0, 1)), width=width, height=height)


@settings(max_examples=80, deadline=None)
@given(
    st.lists(
        st.builds(
            Mark,
            st.dates(date(1990, 1, 1), date(2090, 1, 1)),
            st.floats(-1e6, 1e6) | st.just(float("inf")),
            st.booleans(),
        ),
        max_size=12,
    ),
    st.lists(st.builds(Line, st.floats(-1e6, 1e6), st.sampled_from(["look", "fault"])), max_size=4),
    st.sampled_from(FINE),
    st.integers(60, 120),
    st.integers(5, 20),
)
def test_whatever_is_drawn_stays_within_its_room(
    drawn: list[Mark], lines: list[Line], title: str, width: int, height: int
) -> None:
    text = chart(title, "V", drawn, lines, width=width, height=height)
    assert max(width_of(line) for line in text.splitlines()) <= width
    if any(mark.value != float("inf") for mark in drawn):
        assert len(rows(text)) >= height


def test_a_slide_in_words_has_its_month_its_range_and_its_doubt() -> None:
    visits = [(DAY + timedelta(days=90 * n), value) for n, value in enumerate((14.5, 14.2, 13.95, 13.7))]
    slide = trend(visits, low=13.5, high=14.7, least_scatter=0.05)
    assert slide is not None
    words = trend_words(slide, "V")
    assert words.startswith("At this rate out of limits by Dec 2026: it falls by 0.088 V in 30 days (± 0.0")
    assert "over 4 visits, and is under 13.5 V between" in words
    assert words.endswith("nine times in ten.")
