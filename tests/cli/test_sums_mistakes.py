"""`loomcard sums` refusing: which argument, its value and its limits, all at once, in words or in JSON."""

import re
from typing import Any

import pytest

from tests.cli.asking_sums import ALL, name_of, options
from tests.cli.conftest import Loomcard, Said
from tracker.desk.sums import named_sum
from tracker.electrics.catalogue import NamedSum
from tracker.electrics.catalogue_arguments import Argument, arguments_of
from tracker.electrics.handbook import worked_example

NUMBERS = [(named, one) for named in ALL for one in arguments_of(named) if one.kind in (float, int)]
WORDS = [
    ("wire", "family"), ("wire", "returns"), ("wire", "fuse_family"), ("drop", "wire"), ("drop", "returns"),
    ("fuse", "wire"), ("fuse", "family"), ("bundle", "wires"), ("sleeve", "kind"), ("splice", "left"),
    ("splice", "right"), ("splice", "method"), ("crimp", "wire"), ("crimp", "rule"), ("lamp", "category"),
    ("lamp", "filament"), ("flasher", "rule"), ("battery", "kind"), ("bridge", "arrangement"),
    ("charge-budget", "loads"), ("charge-budget", "gives"), ("charge-budget", "what_if"),
    ("ampacity", "wire"), ("terminal", "wires"), ("terminal", "stud"), ("cranking", "kind"),
]  # fmt: skip


RIVALS: dict[str, tuple[set[str], ...]] = {
    "wire": ({"current_a", "resistance_ohm", "power_w", "lamp_w"}, {"limit_v", "limit_percent"}),
    "drop": ({"current_a", "resistance_ohm", "power_w", "lamp_w"},),
    "fuse": ({"wire", "carries_a"},),
    "lamp": ({"category", "watts"},),
    "flasher": ({"per_min", "flashes", "times_s"},),
    "balance": ({"pairs_v", "pairs_ohm"},),
    "charge-budget": ({"gives", "rated_w"},),
}
"""Arguments of which only one may be given."""

COMPANY: dict[tuple[str, str], dict[str, object]] = {
    ("wire", "rated_v"): {"lamp_w": 21},
    ("lamp", "rated_v"): {"watts": 21},
    ("flasher", "times_s"): {"times_s": [0, 0.7, 1.4, 2.1]},
    ("balance", "pairs_v"): {"pairs_v": [60, 60, 60]},
    ("balance", "pairs_ohm"): {"pairs_ohm": [0.5, 0.5, 0.5]},
}
"""What an argument only counts beside."""


def question(named: NamedSum, argument: Argument, value: str) -> dict[str, Any]:
    """The worked example, asked so that `argument` counts, with `value` for it (first in a list)."""
    more = COMPANY.get((named.name, argument.name), {})
    given = worked_example(named.function)
    for rivals in RIVALS.get(named.name, ()):
        if rivals & {argument.name, *more}:
            given = {name: one for name, one in given.items() if name not in rivals}
    given |= more
    held = given.get(argument.name)
    return given | {argument.name: [value, *held[1:]] if isinstance(held, list) else value}


def wrong_with(said: Said, argument: Argument) -> list[dict[str, str]]:
    assert said.code == 2, said
    found: list[dict[str, str]] = said.json["error"]["fields"]
    return [one for one in found if one["field"].split(" ")[0] == argument.name]


LIMITS = re.compile(r"(from|over) -?[\d.]+ to \d|must be one of “6”|in pairs")


@pytest.mark.parametrize("number", ["few", "-1e9", "1/0", "∞"])
@pytest.mark.parametrize(("named", "argument"), NUMBERS, ids=name_of)
def test_every_figure_that_is_none_is_named_with_its_value_and_its_limits(
    loomcard: Loomcard, named: NamedSum, argument: Argument, number: str
) -> None:
    asked = options(question(named, argument, number))
    (wrong,) = wrong_with(loomcard("sums", named.name, "--json", *asked), argument)
    assert f" {number}" in wrong["sentence"].replace("“", " ").replace(",", " ,")
    assert wrong["given"] == number
    if argument.name != "times_s":
        assert LIMITS.search(wrong["sentence"]), wrong
    in_words = loomcard("sums", named.name, *asked)
    assert (in_words.code, in_words.out) == (2, "")
    assert f"  {wrong['field']}: {wrong['sentence']}" in in_words.err


@pytest.mark.parametrize("number", ["100000000000", "-9999"])
@pytest.mark.parametrize(
    ("named", "argument"), [pair for pair in NUMBERS if pair[1].name != "times_s"], ids=name_of
)
def test_every_figure_out_of_range_is_named_with_its_value_and_its_limits(
    loomcard: Loomcard, named: NamedSum, argument: Argument, number: str
) -> None:
    """So many are too much of anything, and less than nothing is too little; moments of flashes only rise."""
    asked = options(question(named, argument, number))
    wrong, *_ = wrong_with(loomcard("sums", named.name, "--json", *asked), argument)
    assert number in wrong["given"]
    assert number in wrong["sentence"]
    assert LIMITS.search(wrong["sentence"]), wrong


@pytest.mark.parametrize(("name", "argument"), WORDS)
def test_every_bad_word_is_named_with_what_would_be_right(
    loomcard: Loomcard, name: str, argument: str
) -> None:
    given = {**worked_example(named_sum(name).function), argument: "copperleaf"}
    said = loomcard("sums", name, "--json", *options(given))
    assert said.code == 2, said
    (wrong,) = [one for one in said.json["error"]["fields"] if one["field"].split(" ")[0] == argument]
    assert "copperleaf" in (wrong["sentence"] + wrong["given"]).casefold()
    assert "must be" in wrong["sentence"] or wrong["hint"]


def test_every_word_argument_is_tried() -> None:
    asked = {(named.name, one.name) for named in ALL for one in arguments_of(named) if one.kind is str}
    assert asked == set(WORDS) | {("vin", "vin")}


@pytest.mark.parametrize("named", ALL, ids=name_of)
def test_bad_truths_unknown_and_missing_arguments_are_named_together(
    loomcard: Loomcard, named: NamedSum
) -> None:
    truths = [one.name for one in arguments_of(named) if one.kind is bool]
    needed = [one.name for one in arguments_of(named) if one.required]
    said = loomcard("sums", named.name, "--json", "horn=1", *[f"{name}=perhaps" for name in truths])
    assert said.code == 2
    found = [one["field"] for one in said.json["error"]["fields"]]
    assert set(found) >= {"horn", *truths, *needed}


def test_a_mistake_in_words_for_people(loomcard: Loomcard) -> None:
    said = loomcard("sums", "drop", "wire=3 mm", "length-mm=0", "current-a=many")
    assert (said.code, said.out) == (2, "")
    assert said.err.splitlines() == [
        "3 things need another look.",
        "  wire: “3 mm” is an outside diameter, not a size of wire. (given: 3 mm)",
        "      Retail “3 mm” cable has about 1.13 mm2 of copper: read the mm2 or the gauge off the reel.",
        "  length_mm: “length_mm” is 0 mm; it must be over 0 to 200000 mm. (given: 0)",
        "      A number over 0 to 200000 mm.",
        "  current_a: “current_a” is many, not a number; it must be over 0 to 1000 A. (given: many)",
        "      A number over 0 to 1000 A.",
    ]
