"""The command line: every deed a verb, every answer in words or JSON, every refusal a sentence and a code."""

import io
import json
import sqlite3
from pathlib import Path

import pytest

from tests.cli.conftest import Loomcard
from tests.hostile import FINE
from tracker.cli.build import deed_command
from tracker.cli.main import VERBS
from tracker.desk.ask import fields_of
from tracker.desk.deeds import DEEDS, deed


def test_a_first_card_in_three_commands(loomcard: Loomcard) -> None:
    assert loomcard("settings", "change", "--name", "Copperleaf").code == 0
    said = loomcard(
        "book-in",
        "--customer",
        "Oona Mirek",
        "--make",
        "Halden",
        "--registration",
        "LKM 412",
        "flat",
        "again",
    )
    assert said.code == 0
    assert said.out.splitlines()[0] == "card 26-0001: Halden booked in, flat again"
    assert "next:" in said.out
    again = loomcard("book-in", "lkm412", "horn")
    assert "26-0002" in again.out


def test_the_answer_in_json_has_the_record_and_where_the_card_stands(loomcard: Loomcard) -> None:
    said = loomcard("book-in", "--json", "--customer", "A", "--make", "B", "flat").json
    assert said["deed"] == "book-in"
    assert said["card"]["number"] == "26-0001"
    assert said["standing"]["step"] == "Look"
    assert said["standing"]["next"]["deed"] == "look"


def test_fields_come_from_a_json_file_or_stdin_too(
    loomcard: Loomcard, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    given = {
        "complaint": "flat",
        "customer": "A",
        "make": "B",
        "dead": ["horn", "tail lamp"],
        "odometer": 41230,
    }
    path = tmp_path / "card.json"
    path.write_text(json.dumps(given), "utf-8")
    assert loomcard("book-in", "--json", "--from", str(path)).json["card"]["odometer"] == 41230
    monkeypatch.setattr("sys.stdin", io.StringIO(json.dumps({**given, "make": "C"})))
    assert loomcard("book-in", "--json", "--from", "-", "--odometer", "5").json["card"]["odometer"] == 5


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("card", "26-0404"), 1),
        (("find", "zzz"), 1),
        (("book-in",), 2),
        (("book-in", "--nonsense", "1"), 2),
        (("fly",), 2),
        (("look", "26-0404"), 1),
        (("--file", "/dev/null/x.loomcard", "book-in", "--make", "B", "--customer", "A", "flat"), 3),
        (("--file", "/nowhere/at/all.loomcard", "day"), 3),
    ],
)
def test_every_refusal_has_its_code_and_its_words(
    loomcard: Loomcard, words: tuple[str, ...], code: int
) -> None:
    loomcard("customer", "add", "A")
    plain = loomcard(*words)
    assert plain.code == code
    assert plain.err.strip()
    assert "Traceback" not in plain.err
    as_json = loomcard(*words, "--json")
    assert as_json.code == code
    assert as_json.json["error"]["sentence"]


def test_all_mistakes_are_named_at_once_in_json(loomcard: Loomcard) -> None:
    said = loomcard(
        "book-in", "--json", "--make", "B", "--year", "1066", "--promised", "3/12", "--volts", "many"
    )
    fields = {problem["field"] for problem in said.json["error"]["fields"]}
    assert fields >= {"complaint", "customer", "year", "promised", "volts"}
    assert "There is no file" in loomcard("customer", "--json").json["error"]["sentence"]


def test_a_foreign_and_a_damaged_file_are_left_as_they_are(loomcard: Loomcard, tmp_path: Path) -> None:
    foreign = tmp_path / "other.db"
    with sqlite3.connect(foreign) as connection:
        connection.execute("CREATE TABLE t (x)")
    connection.close()
    damaged = tmp_path / "damaged.loomcard"
    damaged.write_bytes(b"SQLite format 3\x00" + b"\xff" * 5000)
    for path in (foreign, damaged):
        before = path.read_bytes()
        said = loomcard("--file", str(path), "book-in", "--make", "B", "--customer", "A", "flat")
        assert said.code == 3, said
        assert path.read_bytes() == before


def test_the_same_token_is_done_once(loomcard: Loomcard) -> None:
    words = ("book-in", "--json", "--token", "once", "--customer", "A", "--make", "B", "flat")
    assert loomcard(*words).json["card"] == loomcard(*words).json["card"]
    assert len(loomcard("day", "--json").json["groups"][0]["rows"]) == 1


def test_undo_is_by_person(loomcard: Loomcard) -> None:
    loomcard("customer", "add", "A")
    assert loomcard("--who", "Tobiah", "undo").code == 1
    assert loomcard("undo").code == 0
    assert loomcard("customer", "--json").json["customers"] == []


@pytest.mark.parametrize("text", FINE, ids=range(len(FINE)))
def test_any_text_is_kept_and_shown(loomcard: Loomcard, text: str) -> None:
    path = loomcard("book-in", "--json", f"--complaint={text}", f"--customer={text}", f"--make={text}")
    assert path.code == 0, path
    assert loomcard("card", "1").code == 0
    assert loomcard("day").code == 0
    assert loomcard("bike", "1").code == 0
    assert loomcard("find", text).code in {0, 1, 2}


def test_every_verb_is_listed_and_helps(loomcard: Loomcard) -> None:
    listed = loomcard("--help").out
    for verb in VERBS:
        assert verb.split(" ")[0] in listed
        said = loomcard(*verb.split(" "), "--help")
        assert (said.code, "Usage: loomcard" in said.out) == (0, True), verb


@pytest.mark.parametrize("verb", DEEDS)
def test_a_deeds_options_are_its_fields(verb: str) -> None:
    names = {parameter.name for parameter in deed_command(verb).params}
    assert {f"opt_{field.name}" for field in fields_of(deed(verb))} <= names
    assert deed(verb).verb == verb.removesuffix(" change").removesuffix(" add") or deed(verb).verb == verb


def test_the_day_the_stock_and_the_settings_in_both_forms(loomcard: Loomcard) -> None:
    loomcard("stock", "add", "GREASE", "Contact grease", "--price", "0.60", "--count", "5")
    loomcard("book-in", "--customer", "A", "--make", "B", "flat")
    for words in (
        ("day",),
        ("stock",),
        ("settings",),
        ("due",),
        ("owed",),
        ("rules",),
        ("day-book",),
        ("bike",),
    ):
        assert loomcard(*words).code == 0, words
        assert loomcard(*words, "--json").json
    assert loomcard("stock", "--json").json["stock"][0]["stock"] == "5"


def test_the_unexpected_is_said_and_logged_without_anybodys_data(
    loomcard: Loomcard, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise RuntimeError("Oona Mirek 0155 0199 204")

    monkeypatch.setattr("tracker.desk.desk.Desk.given", broken)
    said = loomcard("book-in", "--customer", "Oona Mirek", "--make", "B", "flat")
    assert said.code == 1
    assert "kept" in said.err
    log = (tmp_path / "log" / "loomcard.log").read_text("utf-8")
    assert "RuntimeError" in log
    assert "Oona" not in log


def test_a_backup_a_restore_and_a_check(loomcard: Loomcard, tmp_path: Path) -> None:
    loomcard("customer", "add", "A")
    copy = str(tmp_path / "copy.loomcard")
    assert loomcard("backup", copy, "--json").json["bytes"] > 0
    assert loomcard("backup", copy).code == 3
    loomcard("customer", "add", "B")
    assert loomcard("restore", copy).code == 0
    assert [c["name"] for c in loomcard("customer", "--json").json["customers"]] == ["A"]
    assert loomcard("check").code == 0
    assert loomcard("check", "--json").json == {"sound": True, "found": []}
    assert loomcard("restore", str(tmp_path / "nothing.loomcard")).code == 3


def test_where_a_part_is(loomcard: Loomcard) -> None:
    found = loomcard("where", "flasher", "can", "--json").json["where"]
    assert found["words"] == "flasher relay"
    assert "panel" in loomcard("where", "reg").out
    assert len(loomcard("where", "--list").out.splitlines()) > 60
    assert loomcard("where", "xyzzy").code == 1
    loomcard("book-in", "--customer", "A", "--make", "B", "--features", "abs=no", "flat")
    assert loomcard("where", "solenoid", "--bike", "1").code == 0
    assert loomcard("where", "solenoid", "--bike", "9").code == 1


def test_the_walk_prints_every_step_and_paper(loomcard: Loomcard) -> None:
    said = loomcard("demo", "--walk")
    assert said.code == 0
    for words in (
        "Job card",
        "Estimate",
        "Deposit",
        "Invoice",
        "Receipt",
        "refused:",
        "Recheck (charging) is due",
    ):
        assert words in said.out, words
    steps = loomcard("demo", "--walk", "--json").json["walk"]
    assert {"book_in", "estimate", "go_ahead", "repair", "payment", "collection"} - {"book_in"} <= {
        key for step in steps for key in step
    }
    assert sum(1 for step in steps if "error" in step) == 2


def test_a_noun_shows_however_it_is_said(loomcard: Loomcard) -> None:
    loomcard("book-in", "--make", "Halden", "--customer", "Oona", "flat")
    loomcard("stock", "add", "PLUG-2-one-yes-and-a-long-code", "Plug", "--price", "4", "--count", "3")
    for words in (("card", "1"), ("card", "show", "1"), ("bikes",), ("customers",), ("parts",)):
        assert loomcard(*words).code == 0, words
    assert "PLUG-2-one-yes-and-a-long-code" in loomcard("stock").out
    assert "+3 counted" in loomcard("stock", "show", "plug-2-one-yes-and-a-long-code").out
    assert loomcard("stock", "plug").out == loomcard("stock", "show", "plug").out
    assert loomcard("stock", "nothing-like-it").code == 1
    assert loomcard("card", "--json", "1").json["card"]["number"] == "26-0001"
    assert loomcard("bike", "--json", "1").json["bike"]["make"] == "Halden"
    assert loomcard("card", "--who", "Ines", "change", "1", "--claim", "PO 7").code == 0
    assert loomcard("card", "1", "--json").json["card"]["claim"] == "PO 7"
