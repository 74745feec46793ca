"""`loomcard sums`: each worked example in every form of asking, plain and in JSON, units in its keys."""

import inspect
import io
import json
import re
from pathlib import Path
from typing import Any

import pytest

from tests.cli.asking_sums import ALL, ALSO, SUMS, name_of, options, words
from tests.cli.conftest import Loomcard
from tracker.cli.output import plain
from tracker.electrics.catalogue import NamedSum
from tracker.electrics.catalogue_arguments import UNITS, arguments_of
from tracker.electrics.handbook import command_line, worked_example
from tracker.seedfiles.limits import load_limits
from tracker.seedfiles.tables import electric_tables

NO_UNIT = {"turns", "layers", "bundling_factor", "ambient_factor"}
"""Numbers with a part behind the point that are ratios."""


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
