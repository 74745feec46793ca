"""A sum asked by name: whatever is typed is answered, or every wrong argument is named at once."""

import dataclasses
import json
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.hostile import CHANGED, FINE, LINES, REFUSED
from tracker.desk.sums import Answered, Unread, all_sums, named_sum, work_out
from tracker.electrics.arguments import Arguments
from tracker.electrics.catalogue import NamedSum
from tracker.electrics.catalogue_arguments import arguments_of
from tracker.electrics.catalogue_headline import headline
from tracker.electrics.fuse import FuseSum
from tracker.electrics.handbook import worked_example
from tracker.errors import WrongUseError
from tracker.records.problem import Mistakes, Problem
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds

SUMS, ALSO = all_sums()
ALL = (*SUMS, *ALSO)

TYPED = st.one_of(
    st.sampled_from(
        ["", " ", "12,6", "12.6 V", "1 000", "-3", "0", "1e3", "nan", "inf", "1/2", "٣", "many", "yes", "agm",
         "AWG 18", "0.75 mm2 thin wall", "3 mm", "P21W", "M6", "1 2 3", "60;61;62", "6 x 1.9", "[/]",
         "lamp: 5 W", "6 A at 1200", "don't know", "x" * 300, "9" * 400]
    ),
    st.text(max_size=8),
    st.integers(-(10**40), 10**40),
    st.floats(),
    st.booleans(),
    st.none(),
)  # fmt: skip
GIVEN = st.one_of(TYPED, st.lists(TYPED, max_size=4), st.dictionaries(st.text(max_size=3), TYPED, max_size=2))


def mistakes(named: NamedSum, raw: dict[str, object]) -> dict[str, Problem]:
    with pytest.raises(Mistakes) as caught:
        work_out(named, raw)
    return {problem.field: problem for problem in caught.value.problems}


@pytest.mark.parametrize("named", ALL, ids=lambda named: named.name)
@given(data=st.data())
@settings(max_examples=60, deadline=None)
def test_anything_typed_is_answered_or_every_wrong_argument_is_named(
    named: NamedSum, data: st.DataObject
) -> None:
    raw: dict[str, Any] = dict(worked_example(named.function))
    names = [one.name for one in arguments_of(named)]
    for name in data.draw(st.lists(st.sampled_from([*names, "horn"]), max_size=4, unique=True)):
        raw[name] = data.draw(GIVEN, label=name)
    try:
        answered = work_out(named, raw)
    except Mistakes as caught:
        for problem in caught.problems:
            assert problem.field.split(" ")[0] in [*names, "horn"]
            assert problem.sentence
    else:
        sound(answered)


def sound(answered: Answered) -> None:
    assert headline(answered.answer)
    for value in dataclasses.asdict(answered.answer).values():
        assert not isinstance(value, float) or math.isfinite(value)
    for value in answered.given.values():
        assert not isinstance(value, Unread)


@pytest.mark.parametrize(
    "text", [*FINE, *LINES, *(before for before, _ in CHANGED), *REFUSED], ids=lambda text: ascii(text)[:20]
)
@pytest.mark.parametrize(
    ("name", "asked"), [("crimp", ["wire"]), ("splice", ["left", "right"]), ("charge-budget", ["loads"])]
)
def test_hostile_text_is_refused_beside_its_argument(text: str, name: str, asked: list[str]) -> None:
    rest = {"rated_w": "300"} if name == "charge-budget" else {}
    found = mistakes(named_sum(name), {**dict.fromkeys(asked, text), **rest})
    assert {field.split(" ")[0] for field in found} == set(asked)


@pytest.mark.parametrize("named", SUMS, ids=lambda named: named.name)
def test_nothing_given_asks_for_all_that_is_needed(named: NamedSum) -> None:
    found = mistakes(named, {})
    needed = {one.name for one in arguments_of(named) if one.required}
    assert needed <= set(found)
    for name in needed:
        assert found[name].sentence.startswith(f"“{name}” is needed: ")


@pytest.mark.parametrize("named", SUMS, ids=lambda named: named.name)
def test_every_figure_that_is_none_is_named_as_it_was_typed_with_its_limits(named: NamedSum) -> None:
    """Each alone, beside a question that is otherwise right."""
    for argument in arguments_of(named):
        if argument.kind not in (int, float) or argument.many:
            continue
        found = mistakes(named, {**worked_example(named.function), argument.name: "a few"})
        problem = found[argument.name]
        assert problem.given in ("a few", "")
        assert "a few" in problem.sentence or "Only one of" in problem.sentence


def test_everything_wrong_is_said_at_once_in_the_order_it_is_asked() -> None:
    raw = {
        "current_a": "-3",
        "joints": "2,5",
        "length_mm": "abc",
        "family": "copper",
        "horn": "x",
        "limit_v": "",
    }
    with pytest.raises(Mistakes) as caught:
        work_out(named_sum("wire"), raw)
    assert [problem.field for problem in caught.value.problems] == [
        "horn", "length_mm", "current_a", "family", "joints"
    ]  # fmt: skip
    found = {problem.field: problem for problem in caught.value.problems}
    assert found["length_mm"].sentence == (
        "“length_mm” is abc, not a number; it must be over 0 to 200000 mm."
    )
    assert found["current_a"].given == "-3"
    assert "whole number from 0 to 50" in found["joints"].sentence
    assert "“thin wall”" in found["family"].sentence


def test_an_argument_that_another_one_wants_is_asked_for() -> None:
    found = mistakes(named_sum("flasher"), {"flashes": "31"})
    assert found["seconds"].sentence.startswith("“seconds” is needed")
    assert "1 to 600 s" in found["seconds"].hint


def test_an_unreadable_moment_in_a_list_does_not_slip_through() -> None:
    assert set(mistakes(named_sum("flasher"), {"times_s": "0 0.5 x 1.5 2 2.5"})) == {"times_s"}
    assert set(mistakes(named_sum("hydrometer"), {"cells_sg": "1,27 x", "temperature_c": "20"})) == {
        "cells_sg 2"
    }


@pytest.mark.parametrize(
    "typed", ["1800", "1800,0", "1800.0", "1 800,00", "1800 mm", "1800mm", 1800, 1800.0, ["1800"]]
)
def test_a_figure_is_read_as_people_type_it(typed: object) -> None:
    answered = work_out(named_sum("tape"), {"bundle_mm": "10", "covered_mm": typed})
    assert answered.given["covered_mm"] == 1800


@pytest.mark.parametrize(
    "typed", ["1.8 m", "18 cm", "1800 V", "1e3", "0x10", "+", "1800 1800", True, {"mm": 1800}]
)
def test_another_unit_is_not_guessed_at(typed: object) -> None:
    assert set(mistakes(named_sum("tape"), {"bundle_mm": "10", "covered_mm": typed})) == {"covered_mm"}


@pytest.mark.parametrize("kind", ["AGM", "agm", " Agm "])
def test_one_of_few_answers_is_taken_in_any_case(kind: str) -> None:
    assert work_out(named_sum("battery"), {"standing_v": "12.6", "kind": kind}).given["kind"] == "agm"


def test_the_same_thing_twice_is_a_mistake_where_one_is_asked_for() -> None:
    found = mistakes(named_sum("crimp"), {"wire": ["AWG 18", "AWG 16"]})
    assert found["wire"].sentence == "“wire” is given 2 times; once is all it takes."


def test_lists_are_repeated_or_in_one_text() -> None:
    asked = {"temperature_c": "26.7", "charged": "yes"}
    listed: list[object] = [
        "1.270 1,268 1.265",
        ["1.270", "1,268", "1.265"],
        [1.27, 1.268, 1.265],
        "1.27;1,268;1.265",
    ]
    answers = [work_out(named_sum("hydrometer"), {**asked, "cells_sg": one}).answer for one in listed]
    assert all(answer == answers[0] for answer in answers)


def test_what_was_taken_for_the_rest_is_told() -> None:
    answered = work_out(named_sum("wire"), {"length_mm": "1800", "current_a": "8"})
    assert answered.given["supply_v"] == 12
    assert answered.given["family"] == "thin wall"
    assert "power_w" not in answered.given
    assert json.dumps(answered.given)


def test_a_name_that_is_no_sum_is_answered_with_those_there_are() -> None:
    with pytest.raises(WrongUseError) as caught:
        named_sum("horn")
    assert "charge-budget" in caught.value.hint


def test_the_shops_own_figures_win() -> None:
    own = SHIPPED.text("tables/practice.csv").replace("steady current,1.25,1.25,", "steady current,2,2,")
    asked = {"current_a": "8", "wire": "2.5 mm2 thin wall"}
    as_shipped = work_out(named_sum("fuse"), asked).answer
    as_owned = work_out(named_sum("fuse"), asked, Seeds({"tables/practice.csv": own})).answer
    assert isinstance(as_shipped, FuseSum)
    assert isinstance(as_owned, FuseSum)
    assert (as_shipped.fuse_a, as_owned.fuse_a) == (10, 20)
    with pytest.raises(SeedMistakes):
        work_out(named_sum("fuse"), asked, Seeds({"tables/practice.csv": "name\nfuse-margin"}))


def test_a_figure_that_could_not_be_read_is_none_and_says_what_was_typed() -> None:
    arguments = Arguments()
    arguments.number("x", Unread("many"), 0, 1, "V")
    arguments.whole("y", Unread("many"), 0, 1)  # type: ignore[arg-type]
    assert [problem.given for problem in arguments.problems] == ["many", "many"]
    assert math.isnan(Unread("many"))
