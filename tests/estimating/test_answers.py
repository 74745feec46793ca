"""What a person types in answer to a rule's questions."""

from decimal import Decimal

import pytest

from tests.estimating.making import asked
from tracker.estimating.answers import answers
from tracker.records.problem import Problem
from tracker.records.repair_rule import Answers
from tracker.seedfiles.repairs import rule

SPLICE = rule("splice-butt")


def wrong(name: str, **given: str) -> dict[str, Problem]:
    """The mistakes by field."""
    found = answers(rule(name), given)
    assert isinstance(found, tuple)
    return {problem.field: problem for problem in found}


def test_answers_are_read_by_kind() -> None:
    found = asked(
        "connector", ways="6", connector_old="burnt block", keeps_ways="No", halves="One",
        size_mm2="0,50 mm²", tail_mm="12.5 cm",
    ).answers  # fmt: skip
    assert found.values == {
        "ways": 6,
        "connector_old": "burnt block",
        "keeps_ways": False,
        "halves": "one",
        "sealed": False,
        "size_mm2": Decimal("0.5"),
        "tail_mm": 125,
    }
    assert found.assumed == ("sealed",)


@pytest.mark.parametrize("given", ["", "?", "don't know", "  Don’t know "])
def test_dont_know_leaves_it_to_the_default(given: str) -> None:
    found = answers(SPLICE, {"joints": given})
    assert isinstance(found, Answers)
    assert found.values["joints"] == 1
    assert "joints" in found.assumed


def test_an_optional_question_may_stay_open() -> None:
    found = answers(SPLICE, {})
    assert isinstance(found, Answers)
    assert "colour" not in found.values


def test_a_colour_is_main_and_tracer() -> None:
    assert asked("splice-butt", colour="Green / Black").answers.values["colour"] == "green/black"


@pytest.mark.parametrize(
    ("given", "mm"), [("350", 350), ("350 mm", 350), ("35cm", 350), ("0,35 m", 350), ("0.35m", 350)]
)
def test_lengths_take_units(given: str, mm: int) -> None:
    assert asked("splice-butt", gap_mm=given).answers.values["gap_mm"] == mm


@pytest.mark.parametrize(
    "given",
    ["two", "1e2", "-1", "0", "41", "1.5", "٣", "9" * 5000, "nan", "inf", "1 000", "=1+1", "1_0", "2 mm"],
)
def test_a_count_that_is_none(given: str) -> None:
    assert list(wrong("splice-butt", joints=given)) == ["joints"]


@pytest.mark.parametrize("given", ["0.1", "26", "0.75 AWG", "0,,75", "mm2"])
def test_a_size_that_is_none(given: str) -> None:
    assert list(wrong("splice-butt", size_mm2=given)) == ["size_mm2"]


def test_every_mistake_is_named_beside_its_field() -> None:
    found = wrong(
        "connector", keeps_ways="perhaps", halves="three", size_mm2="thick", tail_mm="1 ft", joints="2",
        connector_new="\x1b[2J",
    )  # fmt: skip
    assert set(found) == {
        "ways", "keeps_ways", "halves", "size_mm2", "tail_mm", "joints", "connector_new"
    }  # fmt: skip
    assert found["ways"].sentence == "How many ways: an answer is wanted."
    assert found["ways"].hint == "From 1 to 60."
    assert found["halves"].hint == "One of: both, one."
    assert found["tail_mm"].hint == "It wants mm."
    assert all(problem.sentence.endswith(".") for problem in found.values())


def test_a_misspelt_question_is_guessed() -> None:
    assert wrong("splice-butt", joint="2")["joint"].hint == "Did you mean “joints”?"


def test_fractions_of_what_is_counted_are_refused_in_words() -> None:
    assert (
        wrong("splice-butt", joints="1.5")["joints"].sentence == "How many joints: 1.5 is not a whole number."
    )


@pytest.mark.parametrize("typed", ["2", "green/", "/black", "-"])
def test_a_figure_is_no_colour(typed: str) -> None:
    found = answers(rule("splice-butt"), {"colour": typed})
    assert isinstance(found, tuple)
    assert [(problem.field, problem.given) for problem in found] == [("colour", typed)]
