"""Text at the door."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.hostile import CHANGED, FINE, LINES, PAIRS, REFUSED, SHORT
from tracker.records.problem import Problem
from tracker.records.text import LONGEST, clean_text, fold, squeeze

ANYTHING = st.text(st.characters(codec=None), max_size=40)


@pytest.mark.parametrize("text", FINE)
def test_hostile_but_legal_text_is_kept_exactly(text: str) -> None:
    assert clean_text("name", text) == text
    assert clean_text("name", text, lines=True) == text


@pytest.mark.parametrize("text", LINES)
def test_lines_are_kept_where_a_field_takes_them_and_joined_where_not(text: str) -> None:
    assert clean_text("notes", text, lines=True) == text
    joined = clean_text("name", text)
    assert isinstance(joined, str)
    assert "\n" not in joined
    assert joined.split() == text.split()


@pytest.mark.parametrize(("typed", "kept"), CHANGED)
def test_what_looks_alike_is_kept_alike(typed: str, kept: str) -> None:
    assert clean_text("notes", typed, lines=True) == kept


@pytest.mark.parametrize("text", REFUSED, ids=lambda text: ascii(text[:20]))
def test_what_reaches_a_terminal_raw_is_refused_beside_its_field(text: str) -> None:
    for lines in (True, False):
        problem = clean_text("complaint", text, lines=lines)
        assert isinstance(problem, Problem)
        assert problem.field == "complaint"
        assert clean_text("given", problem.given) == problem.given.strip()
        assert clean_text("sentence", problem.sentence) == problem.sentence


def test_a_refusal_names_the_character_and_its_place() -> None:
    problem = clean_text("name", "ab\x9bc")
    assert isinstance(problem, Problem)
    assert "Character 3" in problem.sentence
    assert "U+009B" in problem.sentence
    assert problem.given == "abc"


def test_the_longest_text_fits_and_one_more_does_not() -> None:
    assert clean_text("notes", "x" * LONGEST) == "x" * LONGEST
    problem = clean_text("notes", "x" * (LONGEST + 1))
    assert isinstance(problem, Problem)
    assert "20,001" in problem.sentence
    assert isinstance(clean_text("key", "ab", longest=1), Problem)


@given(ANYTHING)
def test_cleaning_twice_changes_nothing_more(text: str) -> None:
    once = clean_text("notes", text, lines=True)
    if isinstance(once, str):
        assert clean_text("notes", once, lines=True) == once
        assert unicodedata.is_normalized("NFC", once)
        once.encode()


@given(ANYTHING)
def test_folding_twice_changes_nothing_more_and_leaves_only_words(text: str) -> None:
    folded = fold(text)
    assert fold(folded) == folded
    assert all(word.isalnum() for word in folded.split(" ") if word)
    assert squeeze(folded) == squeeze(text)


@pytest.mark.parametrize(("composed", "decomposed"), PAIRS)
def test_composed_and_decomposed_words_fold_alike(composed: str, decomposed: str) -> None:
    assert fold(composed) == fold(decomposed)


def test_letters_with_a_stroke_are_found_without_it() -> None:
    assert fold("Łódź Đorđe Ærø Þór œuf") == "lodz dorde aero thor oeuf"


def test_the_hostile_list_is_what_it_says() -> None:
    for text in (*FINE, *LINES):
        assert text == unicodedata.normalize("NFC", text)
        assert text == text.strip()
    assert len(set(FINE)) == len(FINE)
    assert set(SHORT) < set(FINE)
    assert any("\u05d0" <= sign <= "\u05ea" for text in SHORT for sign in text)
