"""`loomcard sums`: each worked example in every form of asking, each bad argument named, units in keys."""

import inspect
import io
import json
import re
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Loomcard, Said
from tracker.cli.output import plain
from tracker.desk.sums import all_sums, named_sum
from tracker.electrics.catalogue import NamedSum
from tracker.electrics.catalogue_arguments import UNITS, Argument, arguments_of
from tracker.electrics.handbook import command_line, worked_example
from tracker.seedfiles.limits import load_limits
from tracker.seedfiles.tables import electric_tables

SUMS, ALSO = all_sums()
ALL = (*SUMS, *ALSO)

NO_UNIT = {"turns", "layers", "bundling_factor", "ambient_factor"}
"""Numbers with a part behind the point that are ratios."""

NUMBERS = [(named, one) for named in ALL for one in arguments_of(named) if one.kind in (float, int)]
WORDS = [
    ("wire", "family"), ("wire", "returns"), ("wire", "fuse_family"), ("drop", "wire"), ("drop", "returns"),
    ("fuse", "wire"), ("fuse", "family"), ("bundle", "wires"), ("sleeve", "kind"), ("splice", "left"),
    ("splice", "right"), ("splice", "method"), ("crimp", "wire"), ("crimp", "rule"), ("lamp", "category"),
    ("lamp", "filament"), ("flasher", "rule"), ("battery", "kind"), ("bridge", "arrangement"),
    ("charge-budget", "loads"), ("charge-budget", "gives"), ("charge-budget", "what_if"),
    ("ampacity", "wire"), ("terminal", "wires"), ("terminal", "stud"), ("cranking", "kind"),
]  # fmt: skip


def name_of(one: object) -> str:
    return one.name if isinstance(one, NamedSum | Argument) else str(one)


def typed(value: object) -> list[str]:
    """A value as it is typed, once for each entry of a list."""
    return [
        ("no", "yes")[one] if isinstance(one, bool) else str(one)
        for one in (value if isinstance(value, list | tuple) else [value])
    ]


def options(given: dict[str, Any]) -> list[str]:
    found: list[str] = []
    for name, value in given.items():
        option = f"--{name.replace('_', '-')}"
        if isinstance(value, bool):
            found.append(option if value else option.replace("--", "--no-", 1))
        else:
            found += [word for one in typed(value) for word in (option, one)]
    return found


def words(given: dict[str, Any]) -> list[str]:
    return [f"{name.replace('_', '-')}={one}" for name, value in given.items() for one in typed(value)]


def reckoned(named: NamedSum) -> dict[str, Any]:
    """What the sum's own function gives, as JSON knows it."""
    house = {"tables": electric_tables(), "limits": load_limits()}
    takes = inspect.signature(named.function).parameters
    answer = named.function(
        **worked_example(named.function), **{name: value for name, value in house.items() if name in takes}
    )
    found: dict[str, Any] = json.loads(json.dumps(plain(answer)))
    return found


@pytest.mark.parametrize("named", ALL, ids=name_of)
def test_a_worked_example_gives_the_same_in_every_form(
    loomcard: Loomcard, named: NamedSum, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    given = worked_example(named.function)
    by_option = loomcard("sums", named.name, "--json", *options(given))
    assert by_option.code == 0, by_option
    assert by_option.err == ""
    path = tmp_path / "asked.json"
    path.write_text(json.dumps(given), "utf-8")
    monkeypatch.setattr("sys.stdin", io.StringIO(json.dumps(given)))
    others = [
        loomcard("sums", named.name, *words(given), "--json"),
        loomcard("--json", "sums", named.name, *options(given)),
        loomcard("sums", "--json", named.name, "--from", str(path)),
        loomcard("sums", named.name, "--json", "--from", "-"),
    ]
    assert [other.out for other in others] == [by_option.out] * 4
    answer = by_option.json
    assert answer["sum"] == named.name
    assert answer["in_short"]
    assert {name: answer[name] for name in reckoned(named)} == reckoned(named)
    for name, value in given.items():
        assert answer["given"][name] == value


@pytest.mark.parametrize("named", ALL, ids=name_of)
def test_the_plain_answer_says_what_to_do_first_then_figures_why_and_from_where(
    loomcard: Loomcard, named: NamedSum
) -> None:
    given = worked_example(named.function)
    said, again = loomcard("sums", named.name, *words(given)), loomcard("sums", named.name, *options(given))
    assert said == again
    assert (said.code, said.err) == (0, "")
    lines = said.out.splitlines()
    answer = loomcard("sums", named.name, *words(given), "--json").json
    assert lines[0] == f"{named.name}: {named.words}"
    assert " ".join(said.out.split()).startswith(f"{named.name}: {named.words} {answer['in_short']} ")
    assert max(map(len, lines)) <= 80
    flat = " ".join(said.out.split())
    for sentence in (*answer["why"], *answer["cautions"], *answer["source"]):
        assert " ".join(sentence.split()) in flat
    assert not re.search(r"\d\.\d{6,}|\bNone\b|\bTrue\b|\bFalse\b|\bnan\b|\binf\b", said.out)


def units_missing(value: object, name: str = "") -> list[str]:
    """Names of figures, at any depth, whose unit does not stand in them."""
    if isinstance(value, dict):
        return [bad for key, item in value.items() for bad in units_missing(item, key)]
    if isinstance(value, list):
        return [bad for item in value for bad in units_missing(item, name)]
    if not isinstance(value, float) or name in NO_UNIT:
        return []
    return [] if any(name == unit or name.endswith(f"_{unit}") for unit in UNITS) else [name]


@pytest.mark.parametrize("named", ALL, ids=name_of)
def test_keys_of_figures_carry_their_units(loomcard: Loomcard, named: NamedSum) -> None:
    answer = loomcard("sums", named.name, "--json", *options(worked_example(named.function))).json
    assert units_missing(answer) == []


def test_a_key_without_its_unit_would_be_found() -> None:
    assert units_missing({"drop": 0.5, "rows": [{"spare_a": 1.0, "left": 2.0}]}) == ["drop", "left"]


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


def test_alone_it_lists_the_sums_with_their_words_and_arguments(loomcard: Loomcard) -> None:
    said = loomcard("sums")
    assert (said.code, said.err) == (0, "")
    assert max(map(len, said.out.splitlines())) <= 80
    listed = loomcard("sums", "--json").json
    assert [one["name"] for one in listed["sums"]] == [named.name for named in SUMS]
    assert [one["name"] for one in listed["also"]] == [named.name for named in ALSO]
    flat = " ".join(said.out.split())
    for one in (*listed["sums"], *listed["also"]):
        assert one["words"] in flat
        for argument in one["arguments"]:
            name = argument["name"].replace("_", "-")
            assert (f" {name} " if argument["needed"] else f"[{name}]") in f"{flat} "
    family = next(one for one in listed["sums"][0]["arguments"] if one["name"] == "family")
    assert family["default"] == "thin wall"
    assert "AVSS" in family["choices"]


def test_a_name_that_is_none_is_answered_with_those_there_are(loomcard: Loomcard) -> None:
    said = loomcard("sums", "horn")
    assert (said.code, said.out) == (2, "")
    assert "“horn”" in said.err
    assert "charge-budget" in said.err
    assert loomcard("sums", "horn", "--json").json["error"]["sentence"]


@pytest.mark.parametrize("named", ALL, ids=name_of)
def test_help_names_arguments_range_and_an_example_that_can_be_typed(
    loomcard: Loomcard, named: NamedSum
) -> None:
    said = loomcard("sums", named.name, "--help")
    assert said.code == 0
    for argument in arguments_of(named):
        assert argument.option in said.out
    flat = " ".join(said.out.split())
    assert "Range: " in flat
    assert command_line(named) in flat


def test_one_needed_argument_takes_a_bare_word(loomcard: Loomcard) -> None:
    assert loomcard("sums", "vin", "1M8GDM9AXKP042788", "--json").json["check_digit"] == "X"
    assert loomcard("sums", "bundle", "4 x 1,9", "2.3", "--json").json["wires"] == 5
    said = loomcard("sums", "winding", "0.45", "temperature-c=20")
    assert said.code == 2
    assert "NAME=VALUE" in said.err


def test_options_win_over_a_file_and_a_file_that_is_none_is_said(loomcard: Loomcard, tmp_path: Path) -> None:
    path = tmp_path / "asked.json"
    path.write_text('{"bundle-mm": "10", "covered_mm": 1000}', "utf-8")
    answer = loomcard("sums", "tape", "--json", "--from", str(path), "--covered-mm", "500").json
    assert answer["given"]["covered_mm"] == 500
    for text in ("[]", "{", '{"bundle_mm": 1e999}', '{"bundle_mm": {"mm": 10}, "covered_mm": 10}'):
        path.write_text(text, "utf-8")
        said = loomcard("sums", "tape", "--json", "--from", str(path))
        assert said.code == 2
        assert said.json["error"]["fields"]
    assert loomcard("sums", "tape", "--from", str(tmp_path / "none.json")).code == 2


def test_no_shops_file_is_needed_or_made(loomcard: Loomcard, tmp_path: Path) -> None:
    path = tmp_path / "none.loomcard"
    said = loomcard("--file", str(path), "sums", "tape", "bundle-mm=10", "covered-mm=1000")
    assert said.code == 0
    assert not path.exists()


def test_a_shops_file_gives_the_same_where_the_shop_has_no_figures_of_its_own(loomcard: Loomcard) -> None:
    before = loomcard("sums", "fuse", "8", "wire=AWG 16", "--json")
    loomcard("customer", "add", "A")
    assert loomcard("sums", "fuse", "8", "wire=AWG 16", "--json") == before
