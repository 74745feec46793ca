"""Text is measured and broken by the columns it takes, and nothing of it is lost."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from tests.hostile import FINE, LINES
from tracker.records.width import clusters, left, right, width_of, wrap

people = st.one_of(st.sampled_from((*FINE, *LINES)), st.text(st.characters(exclude_categories=("Cc", "Cs"))))


@pytest.mark.parametrize(
    ("text", "width"),
    [
        ("plain", 5),
        ("配線", 4),
        ("Zo\u0308e", 3),
        ("全角Ａ", 6),
        ("한국", 4),
        ("हि", 2),
        ("", 0),
        ("\u200b", 0),
        ("🏍\ufe0f", 2),
    ],
)
def test_width(text: str, width: int) -> None:
    assert width_of(text) == width


@pytest.mark.parametrize("text", FINE)
def test_no_terminal_takes_more_columns_than_are_counted(text: str) -> None:
    """Measured against the measure that this program's own screens draw by."""
    assert cell_len(text) <= width_of(text)


@given(people, st.integers(2, 90))
@settings(max_examples=150, deadline=None)
def test_no_line_is_wider_than_asked_and_only_blanks_go(text: str, width: int) -> None:
    lines = wrap(text, width)
    assert all(width_of(line) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


def test_a_wide_sign_that_is_set_in_fits_the_narrowest_line() -> None:
    assert [width_of(line) for line in wrap(" 線", 2)] == [2]


@given(people)
@settings(max_examples=60, deadline=None)
def test_what_fits_is_left_as_it_is(text: str) -> None:
    text = text.replace("\t", " ")
    assert "\n".join(wrap(text, 30_000)) == text


@given(people)
@settings(max_examples=60, deadline=None)
def test_clusters_are_the_text(text: str) -> None:
    assert "".join(clusters(text)) == text


@pytest.mark.parametrize("whole", ["👩🏽\u200d🔧", "🇮🇪", "\u1eb9\u0301\u0302", "कि", "🏍\ufe0f"])
def test_what_belongs_together_is_not_torn_where_it_fits(whole: str) -> None:
    assert list(clusters(f"{whole}{whole}")) == [whole, whole]
    assert wrap(f"aaa{whole}{whole}", 9)[-1] in (whole, f"aaa{whole}{whole}")


def test_what_goes_on_stands_under_its_beginning() -> None:
    assert wrap("  out of the seat", 10) == ["  out of", "  the seat"]
    assert wrap("one\n\n\ttwo", 10) == ["one", "", "    two"]


def test_words_longer_than_a_line_are_broken() -> None:
    assert wrap("x" * 7, 3) == ["xxx", "xxx", "x"]
    assert wrap("配線図", 3) == ["配", "線", "図"]


def test_a_long_text_is_broken_quickly() -> None:
    lines = wrap("配" * 20_000, 10)
    assert len(lines) == 4000


def test_filling_counts_columns() -> None:
    assert left("配", 4) == "配  "
    assert right("配", 4) == "  配"
    assert left("עברית", 6) == "עברית\u200e "


def test_one_column_holds_nothing() -> None:
    with pytest.raises(ValueError, match="two columns"):
        wrap("x", 1)
