"""The sums by name: what they are called, what they ask for, what is shown of what they answer."""

import dataclasses
import inspect
import typing
from typing import Any

import pytest

from tracker.electrics import catalogue_charging as charging
from tracker.electrics.catalogue import NamedSum
from tracker.electrics.catalogue_arguments import (
    CHOICES,
    GIVEN_BY_THE_HOUSE,
    UNITS,
    Argument,
    arguments_of,
    choices_of,
    unit_of,
)
from tracker.electrics.catalogue_budget import charge_budget
from tracker.electrics.catalogue_figures import figures, rounded
from tracker.electrics.catalogue_headline import headline
from tracker.electrics.catalogue_shown import SHOWN
from tracker.electrics.catalogue_sums import ALSO, NAMES, SUMS, find_sum
from tracker.electrics.catalogue_words import HELD, WORDS
from tracker.electrics.charge_balance import OnLoad, Output, Standing
from tracker.electrics.charge_balance import charge_budget as reckon
from tracker.electrics.handbook import worked_example
from tracker.electrics.vin import vin
from tracker.records.electrics import Load, Sum
from tracker.records.problem import Mistakes
from tracker.seedfiles.limits import load_limits
from tracker.seedfiles.tables import electric_tables

ALL = (*SUMS, *ALSO)
TABLES, LIMITS = electric_tables(), load_limits()
NO_UNIT = {"bundling_factor", "ambient_factor", "turns", "layers"}
"""Figures that are ratios or counts, and so have no unit."""


def by_name(named: NamedSum) -> str:
    return named.name


def house(named: NamedSum) -> dict[str, Any]:
    takes = inspect.signature(named.function).parameters
    return {name: value for name, value in (("tables", TABLES), ("limits", LIMITS)) if name in takes}


def ask(named: NamedSum, **given: Any) -> Sum:
    return named.function(**(worked_example(named.function) | given), **house(named))


def answer_class(named: NamedSum) -> type[Sum]:
    found: type[Sum] = typing.get_type_hints(named.function)["return"]
    return found


def test_the_sums_have_these_names_in_this_order() -> None:
    assert tuple(named.name for named in SUMS) == NAMES
    assert " ".join(NAMES) == (
        "wire drop fuse bundle sleeve tape splice crimp lamp ballast flasher battery hydrometer drain "
        "bridge winding balance charge-budget vin"
    )


def test_a_sum_is_found_however_its_name_is_typed() -> None:
    assert find_sum("Charge_Budget") == find_sum(" charge budget ") == find_sum("charge-budget")
    assert find_sum("horn") is None


@pytest.mark.parametrize("named", ALL, ids=by_name)
def test_every_sum_answers_its_worked_example_with_figures_reasons_and_sources(named: NamedSum) -> None:
    answer = ask(named)
    assert isinstance(answer, answer_class(named))
    assert answer.why
    assert answer.source
    assert figures(answer)
    assert headline(answer).endswith((".", ")"))


@pytest.mark.parametrize("named", ALL, ids=by_name)
def test_every_argument_has_words_and_every_figure_of_it_a_unit(named: NamedSum) -> None:
    for argument in arguments_of(named):
        assert argument.words
        if argument.kind is float:
            assert argument.unit, argument.name


@pytest.mark.parametrize("named", ALL, ids=by_name)
def test_every_figure_of_an_answer_has_its_unit_in_its_name(named: NamedSum) -> None:
    for cls in (answer_class(named), Standing):
        hints = typing.get_type_hints(cls)
        for field in dataclasses.fields(cls):
            if float in (hints[field.name], *typing.get_args(hints[field.name])):
                assert field.name in NO_UNIT or unit_of(field.name), field.name


@pytest.mark.parametrize("named", ALL, ids=by_name)
def test_what_is_shown_of_an_answer_is_there(named: NamedSum) -> None:
    names = {field.name for field in dataclasses.fields(answer_class(named))}
    shown = [name for one, _ in SHOWN[answer_class(named)] for name in one.split(" ")]
    assert set(shown) <= names
    assert len(shown) == len(set(shown))


def test_no_words_are_left_over() -> None:
    asked = {(named.name, one.name) for named in ALL for one in arguments_of(named)}
    assert set(WORDS) == {name for sum_name, name in asked if (sum_name, name) not in HELD}
    assert set(HELD) <= asked
    assert set(CHOICES) <= asked
    assert set(SHOWN) == {answer_class(named) for named in ALL}


def test_needed_arguments_come_first_and_the_houses_own_are_not_asked() -> None:
    for named in ALL:
        needed = [one.required for one in arguments_of(named)]
        assert needed == sorted(needed, reverse=True)
        assert not {one.name for one in arguments_of(named)} & set(GIVEN_BY_THE_HOUSE)


def few() -> list[tuple[NamedSum, Argument]]:
    return [(named, one) for named in ALL for one in arguments_of(named) if choices_of(named, one, TABLES)]


@pytest.mark.parametrize(
    ("named", "argument"), few(), ids=lambda one: one.name if isinstance(one, NamedSum | Argument) else ""
)
def test_each_of_few_answers_is_taken_and_another_refused(named: NamedSum, argument: Argument) -> None:
    """A sum may still refuse the whole (no crimp pull for a size): then it is another argument it names."""

    def refused(value: object) -> list[str]:
        try:
            ask(named, **{argument.name: argument.kind(value)})
        except Mistakes as mistakes:
            return [one.sentence for one in mistakes.problems if one.field == argument.name]
        return []

    for choice in choices_of(named, argument, TABLES):
        assert not [words for words in refused(choice) if "must be one of" in words]
    other = "9" if argument.kind is int else "copperleaf"
    assert all(choice in refused(other)[0] for choice in choices_of(named, argument, TABLES))


def test_units_are_read_from_the_end_of_a_name() -> None:
    found = {name: unit_of(name) for name in ("drain_ma", "ah_per_day", "least_per_min", "vin", "wires", "a")}
    assert found == {
        "drain_ma": "mA", "ah_per_day": "Ah a day", "least_per_min": "/min", "vin": "", "wires": "", "a": "A",
    }  # fmt: skip
    assert len(set(UNITS)) == len(UNITS)


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (12.7053, "V", "12.71"), (0.27687, "V", "0.277"), (0.00004, "V", "0.00004"), (0.0, "V", "0"),
        (21.8733, "A", "21.9"), (8.0, "A", "8"), (0.0628, "ohm", "0.0628"), (100_000.0, "ohm", "100000"),
        (45.71, "mm", "45.7"), (0.25, "mm", "0.25"), (1472.3, "mm", "1472"), (1.27, "SG", "1.270"),
        (0.001, "SG", "0.0010"), (8.333, "days", "8.3"), (99.96, "%", "100"), (499.6, "Hz", "500"),
    ],
)  # fmt: skip
def test_figures_are_rounded_for_eyes(value: float, unit: str, text: str) -> None:
    assert rounded(value, unit) == text


def test_the_headline_says_what_to_do_not_only_what_is() -> None:
    def said(name: str, **given: Any) -> str:
        named = find_sum(name)
        assert named is not None
        return headline(ask(named, **given))

    assert "thicker or shorter wire" in said("drop", limit_v=0.05)
    assert "within" in said("drop", limit_v=0.5)
    assert said("fuse", wire="0.35 mm2 thin wall", current_a=40.0).startswith("No fuse fits")
    assert "take a soldered lap" in said("splice", left=["0.5"], right=["4"], method="western union")
    assert "or an open barrel" in said("splice", left=["0.5"], right=["4"], method="western union")
    assert "fails" in said("crimp", pulled_n=50.0)
    assert "too close" in said("crimp", gap_mm=0.1)
    assert "too far back" in said("crimp", gap_mm=3.0)
    assert "fixed-rate flasher" in said("ballast", ambient_c=180.0)
    assert "fuse is too small" in said("ballast", fuse_a=5.0)
    assert said("flasher", flashes=None, seconds=None, times_s=[0.0, 0.7, 1.4, 2.1]).startswith("Time more")
    assert said("flasher", flashes=22).startswith("Right")
    assert said("battery", standing_v=12.6).startswith("About 100 %")
    assert said("battery", rest_h=1.0).startswith("Not a reading to judge by")
    assert said("battery", kind="lithium", standing_v=9.9).startswith("No jump start")
    assert "no closer" in said("battery", kind="lithium", standing_v=13.3)
    assert "load test it" in said("battery", system_v=6)
    assert said("hydrometer", charged=False).startswith("Charge it")
    assert said("hydrometer", cells_sg=[1.27, 1.265]).startswith("The cells agree")
    assert said("drain", drain_ma=0.0).endswith("nothing is taken from the battery.")
    assert said("drain", drain_ma=80.0).startswith("Too much")
    assert said("balance", pairs_v=[60.0, 61.0, 60.0]).startswith("The three pairs agree")
    assert said("balance", pairs_v=[0.2, 0.1, 0.2]).startswith("Next to nothing")
    assert "Ohms never clear" in said("balance", pairs_v=None, pairs_ohm=[0.5, 0.5, 0.51])
    assert "four-wire" in said("winding", lead_ohm=0.3)
    assert "runs the battery down" in said("charge-budget", loads=["all: 30 A"], what_if=[])
    assert said("load-test", end_v=9.0).startswith("It fails")
    assert said("cranking", cranking_v=8.5).startswith("The battery gives way")
    assert "no limit" in said("cranking", system_v=6).casefold()


def test_lengths_of_a_joint_that_does_not_fit_and_charge_that_nobody_knows_are_not_shown() -> None:
    splice, battery = find_sum("splice"), find_sum("battery")
    assert splice
    assert battery
    unfit = ask(splice, left=["0.5"], right=["4"], method="western union")
    assert [one.words for one in figures(unfit)] == ["joints that fit"]
    assert [one.words for one in figures(ask(battery, system_v=6))] == ["how sure"]


@pytest.mark.parametrize("number", ["1G4AH59H05G118341", "ZZ9HALDEN12345678", "I" * 17, "AB-1203"])
def test_every_verdict_on_a_frame_number_has_its_sentence(number: str) -> None:
    assert headline(vin(vin=number)) not in vin(vin=number).why


def test_a_budget_in_words_is_the_budget_in_records() -> None:
    said = charge_budget(
        loads=["low beam: lamp 55 W at 13,2 V", "indicators = 42 W, 50 %", "heater: 4 ohm", "coils: 6 A"],
        gives=["7 A at 1200", "16,5 A at 3000 rev/min"],
        what_if=["coils: out"],
    )
    meant = reckon(
        loads=[
            OnLoad("low beam", Load("filament", 55, 13.2)),
            OnLoad("indicators", Load("power", 42), 0.5),
            OnLoad("heater", Load("resistance", 4)),
            OnLoad("coils", Load("current", 6)),
        ],
        output=Output(points=((1200, 7), (3000, 16.5))),
        what_if=[OnLoad("coils", None)],
    )
    assert said == meant


@pytest.mark.parametrize(
    "load",
    ["", "lamp", "lamp:", "lamp: 55", "x: 5 V", "x: lamp 3 A", "x: 5 W at 12 V", ": 5 A", "x: -5 A", "[/]"],
)
def test_a_load_that_cannot_be_read_is_named_with_how_it_is_written(load: str) -> None:
    with pytest.raises(Mistakes) as caught:
        charge_budget(loads=["tail: 5 W", load], gives=["7 A at 1200"])
    (problem,) = caught.value.problems
    assert problem.field == "loads 2"
    assert problem.given == load
    assert "low beam: lamp 55 W" in problem.hint


def test_mistakes_of_a_budget_have_the_names_that_were_asked() -> None:
    with pytest.raises(Mistakes) as caught:
        charge_budget(
            loads=["a: 0 A", "a: 5 A 150 %"],
            gives=["x", "300 A at 2000", "5 A at 2000"],
            rated_w=300,
            volts=2,
        )
    found = {problem.field: problem.sentence for problem in caught.value.problems}
    assert set(found) == {"loads 2 share", "loads a", "gives 1", "gives 2 amps", "gives", "volts"}
    assert "“gives 2 amps” is 300 A" in found["gives 2 amps"]
    with pytest.raises(Mistakes) as caught:
        charge_budget(loads=["a: 5 A"], rated_w=0, rated_rev_min=500)
    assert {problem.field for problem in caught.value.problems} == {"rated_w", "rated_rev_min"}


def test_mistakes_of_pairs_and_cells_have_the_names_that_were_asked() -> None:
    with pytest.raises(Mistakes) as caught:
        charging.balance(limits=LIMITS)
    assert [problem.field for problem in caught.value.problems] == ["pairs_v"]
    with pytest.raises(Mistakes) as caught:
        charging.balance(pairs_ohm=[0.5, 0.5], lead_ohm=99, limits=LIMITS)
    assert [problem.field for problem in caught.value.problems] == ["pairs_ohm", "lead_ohm"]
    with pytest.raises(Mistakes) as caught:
        charging.balance(pairs_v=[500, 20, 20], limits=LIMITS)
    assert caught.value.problems[0].sentence.startswith("“pairs_v 1” is 500 V")
    with pytest.raises(Mistakes) as caught:
        charging.hydrometer(cells_sg=[1.27, 9], temperature_c=20, limits=LIMITS)
    assert caught.value.problems[0].field == "cells_sg 2"
