"""`loomcard charging` and `loomcard readings`: readings as options or from a file, kept and judged."""

import io
import json
from pathlib import Path

import pytest

from tests.cli.conftest import Loomcard
from tests.hostile import FINE
from tracker.records.width import width_of


@pytest.fixture
def shop(loomcard: Loomcard) -> Loomcard:
    loomcard("settings", "change", "--name", "Copperleaf")
    loomcard(
        "book-in", "--customer", "Oona Mirek", "--make", "Halden", "--registration", "LKM 412",
        "--volts", "12", "--battery-kind", "agm", "--features", "alternator=three-phase", "goes flat",
    )  # fmt: skip
    return loomcard


def test_readings_as_options_are_kept_and_come_to_a_verdict(shop: Loomcard) -> None:
    said = shop(
        "charging", "--card", "1", "--json", "--standing", "12.8 after 9 h", "--regulated",
        "12,9 V at 5000 rev/min, lamps off", "--ac-ab", "64", "--ac-bc", "63", "--ac-ca", "64",
        "--conditions", "rev_min=5000", "--conditions", "plug=apart",
    ).json  # fmt: skip
    assert said["before"]["verdict"] == "regulator/rectifier"
    assert said["before"]["next"]["id"] == "drop-live"
    kept = {one["kind"]: one for one in said["readings"]}
    assert kept["standing_volts"]["conditions"]["hours_standing"] == "9"
    assert kept["regulated_volts"]["state"] == "5000 rev/min, lamps off"
    assert kept["regulated_volts"]["verdict"]["limit"]["class"] == "published"
    again = shop("charging", "--card", "26-0001", "--json").json
    assert again["before"] == said["before"]
    assert len(again["readings"]) == 5
    more = shop("charging", "--card", "LKM 412", "--drain", "1", "--json").json
    assert (more["card"], len(more["readings"])) == ("26-0001", 6)


def test_readings_from_a_file(shop: Loomcard, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    given = {
        "card": "1",
        "phase": "after",
        "state": "5000 rev/min, lamps on",
        "regulated_volts": "14.2",
        "ohms-bc": [{"value": "0.4", "conditions": {"temperature": "20"}}],
        "readings": [{"kind": "drain", "value": "850 uA", "state": "asleep", "phase": "before"}],
    }
    path = tmp_path / "readings.json"
    path.write_text(json.dumps(given), "utf-8")
    said = shop("charging", "--json", "--from", str(path)).json
    kept = {one["kind"]: one for one in said["readings"]}
    assert (kept["drain"]["value"], kept["drain"]["phase"], kept["drain"]["state"]) == (
        0.85,
        "before",
        "asleep",
    )
    assert (kept["winding_ohms"]["place"], kept["winding_ohms"]["phase"]) == ("b-c", "after")
    assert kept["regulated_volts"]["state"] == "5000 rev/min, lamps on"
    assert said["after"]["verdict"] == "not enough"
    monkeypatch.setattr("sys.stdin", io.StringIO('{"drain": "90"}'))
    assert shop("charging", "--card", "1", "--json", "--from", "-").json["before"]["verdict"] == "drain"


def test_a_token_keeps_readings_once(shop: Loomcard) -> None:
    for _ in range(2):
        said = shop("charging", "--card", "1", "--drain", "1", "--token", "abc", "--json").json
    assert len(said["readings"]) == 1


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("charging",), "Which card?"),
        (("charging", "--card", "1", "--drain", "much"), "This is not a reading."),
        (("charging", "--card", "1", "--drain", "1", "--conditions", "amps"), "Write it as name=value."),
        (("charging", "--card", "1", "--state", "idle"), "State and conditions go with a reading."),
        (("charging", "--card", "1", "--from", "/nowhere"), "The file could not be read"),
    ],
)
def test_mistakes_are_said_and_nothing_is_kept(shop: Loomcard, words: tuple[str, ...], sentence: str) -> None:
    said = shop(*words)
    assert said.code == 2
    assert sentence in said.err
    assert shop("charging", "--card", "1", "--json").json["readings"] == []


@pytest.mark.parametrize(
    "text",
    ["[]", "{", '{"card": "1", "moon": "1"}', '{"card": "1", "phase": "x"}', '{"card": "1", "readings": 3}'],
)
def test_a_file_that_is_no_readings_is_refused(shop: Loomcard, tmp_path: Path, text: str) -> None:
    path = tmp_path / "readings.json"
    path.write_text(text, "utf-8")
    said = shop("charging", "--json", "--from", str(path))
    assert said.code == 2
    assert said.json["error"]["fields"]


def test_a_card_that_is_not_there(shop: Loomcard) -> None:
    assert shop("charging", "--card", "99").code == 1
    assert shop("charging", "--card", "99", "--drain", "1").code == 1


def test_in_words_it_stays_within_80_columns_whatever_is_written_beside(
    shop: Loomcard, tmp_path: Path
) -> None:
    path = tmp_path / "readings.json"
    taken = [{"kind": "insulation_ohms", "value": "OL", "state": text, "place": text} for text in FINE]
    path.write_text(json.dumps({"card": "1", "standing": "12.1", "readings": taken}), "utf-8")
    assert shop("charging", "--from", str(path)).code == 0
    shop("charging", "--card", "1", "--regulated", "15.4 at 5000 rev/min", "--after")
    said = shop("charging", "--card", "1")
    assert said.code == 0
    assert max(width_of(line) for line in said.out.splitlines()) <= 80
    assert "What they say after: OVER-CHARGING" in said.out
    assert "  mind    " in said.out


def test_an_own_figure_from_the_command_line(shop: Loomcard) -> None:
    said = shop(
        "bike", "figure", "LKM 412", "regulated_volts", "--least", "14.1", "--most", "14.9",
        "--source", "manual p. 92", "--json",
    ).json  # fmt: skip
    assert said["own_figure"]["who"] == "Ines"
    shown = shop("charging", "--card", "1", "--regulated", "13.8 at 5000 rev/min", "--json").json
    assert shown["readings"][0]["verdict"]["limit"]["class"] == "bike's own"
    assert shown["bike"]["own_figures"][0]["source"] == "manual p. 92"


def visits(shop: Loomcard, monkeypatch: pytest.MonkeyPatch) -> None:
    for month, volts in (("03", "14.5"), ("06", "14.2"), ("09", "13.9")):
        monkeypatch.setenv("LOOMCARD_NOW", f"2026-{month}-02T09:00:00+00:00")
        card = shop("book-in", "--json", "LKM 412", "service").json["card"]["number"]
        shop("charging", "--card", card, "--regulated", f"{volts} at 5000 rev/min", "--drain", "1.2")


def test_readings_of_a_bike_over_its_visits(shop: Loomcard, monkeypatch: pytest.MonkeyPatch) -> None:
    assert "Nothing was read yet" in shop("readings", "1").out
    visits(shop, monkeypatch)
    said = shop("readings", "LKM 412", "--json").json
    assert len(said["readings"]) == 6
    assert said["readings"][0]["verdict"]["word"] == "good"
    (volts,) = [one for one in said["series"] if one["kind"] == "regulated_volts"]
    assert volts["trend"]["visits"] == 3
    assert volts["words"].startswith("At this rate out of limits by")
    only = shop("readings", "1", "--kind", "drain", "--json").json
    assert {one["kind"] for one in only["readings"]} == {"drain"}
    assert shop("readings", "1", "--kind", "moon").code == 1
    assert shop("readings", "nobody").code == 1


def test_in_words_and_as_a_chart(shop: Loomcard, monkeypatch: pytest.MonkeyPatch) -> None:
    visits(shop, monkeypatch)
    for words in ((), ("--chart",)):
        said = shop("readings", "1", *words)
        assert max(width_of(line) for line in said.out.splitlines()) <= 80
        assert "At this rate out of limits by" in " ".join(said.out.split())
    assert "2 Mar 2026" in said.out
    assert "┄ look" in said.out


def test_readings_are_judged_wherever_a_card_shows_them(shop: Loomcard, tmp_path: Path) -> None:
    shop("charging", "--card", "1", "--cranking", "8.7 at cranking", "--regulated", "12.9 at 5000 rev/min")
    shop("charging", "--card", "1", "--after", "--regulated", "14.3 at 5000 rev/min")
    card = shop("card", "1").out
    assert "before, Volts while cranking: 8.7 V, fault (common practice)" in card
    assert "after, Charging volts at about 5000 rev/min: 14.3 V, good" in card
    for kind in ("charging", "loom-record"):
        paper = " ".join(shop("paper", kind, "1").out.split())
        assert "Judged" in paper
    as_json = shop("card", "1", "--json").json["readings"]
    assert [one["verdict"]["word"] for one in as_json] == ["fault", "look", "good"]
    assert as_json[0]["verdict"]["limit"]["class"] == "common practice"
    paper = " ".join(shop("paper", "charging", "1").out.split())
    assert "Before: not enough (confidence low)." in paper
    assert "After: not enough (confidence low). It charges with the lamps off." in paper
