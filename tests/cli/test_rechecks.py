"""`loomcard due` and `loomcard recheck-mail`: whom to ring, what to say, the letter as a message."""

from email import message_from_bytes
from email.message import EmailMessage
from email.policy import default
from pathlib import Path
from typing import Any

import click
import pytest
from icalendar import Calendar

from tests.cli.conftest import Loomcard
from tests.hostile import FINE
from tracker.records.width import width_of


@pytest.fixture
def shop(loomcard: Loomcard) -> Loomcard:
    loomcard("settings", "change", "--name", "Copperleaf", "--email", "desk@copperleaf.example")
    loomcard(
        "book-in", "--customer", "Oona Mirek", "--phone", "0155 0199 204", "--email", "oona@mirek.example",
        "--make", "Halden", "--registration", "LKM 412", "--volts", "12", "--battery-kind", "agm",
        "--odometer", "41200", "goes flat",
    )  # fmt: skip
    loomcard(
        "charging",
        "--card",
        "1",
        "--after",
        "--standing",
        "12.8 after 12 h",
        "--regulated",
        "14.3 at 5000 rev/min",
    )
    loomcard("recheck", "1")
    return loomcard


def later(monkeypatch: pytest.MonkeyPatch, day: str = "2026-04-02") -> None:
    monkeypatch.setenv("LOOMCARD_NOW", f"{day}T09:00:00+00:00")


def test_whom_to_ring_with_what_to_say_and_how_it_last_read(
    shop: Loomcard, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "No recheck is due" in shop("due").out
    later(monkeypatch)
    said = shop("due").out
    assert "30 Mar 2026" in said
    assert "ring Oona Mirek, 0155 0199 204" in said
    assert "or at 41,700 km" in said
    assert "say: Oona Mirek: your Halden, LKM 412" in said
    assert "last: regulated volts 14.3 V, good (published) (5000 rev/min)" in said
    (row,) = shop("due", "--json").json["due"]
    assert (row["number"], row["phone"], row["tries"]) == ("26-0001", "0155 0199 204", 0)
    assert [one["value"] for one in row["last"]] == [12.8, 14.3]
    assert "Halden" in row["say"]


def test_nobody_there_is_counted_and_rung_again(shop: Loomcard, monkeypatch: pytest.MonkeyPatch) -> None:
    later(monkeypatch)
    shop("recheck", "1", "--no-answer")
    assert shop("due", "--json").json["due"] == []
    later(monkeypatch, "2026-04-05")
    assert "rung 1 time, nobody there" in shop("due").out


def test_who_wants_no_reminders_is_left_out_and_counted(
    shop: Loomcard, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    shop("customer", "change", "1", "--no-reminders")
    later(monkeypatch)
    said = shop("due", "--json").json
    assert (said["due"], said["left_out"]) == ([], 1)
    assert "1 left out: no reminders wanted." in shop("due").out
    refused = shop("recheck-mail", "1", "--to", str(tmp_path / "x.eml"))
    assert (refused.code, (tmp_path / "x.eml").exists()) == (2, False)
    assert "wants no reminders" in refused.err
    shop("recheck", "1", "--asked")
    assert len(shop("due", "--json").json["due"]) == 1


def test_nothing_is_printed_for_who_wants_no_reminders_nor_for_a_recheck_that_is_done(shop: Loomcard) -> None:
    assert shop("paper", "recheck-letter", "1").code == 0
    shop("customer", "change", "1", "--no-reminders")
    refused = shop("paper", "recheck-letter", "1")
    assert (refused.code, refused.out) == (2, "")
    assert "Oona Mirek wants no reminders." in refused.err
    every = shop("paper", "all", "1", "--json").json["papers"]
    assert "recheck-letter" not in [one["kind"] for one in every]
    shop("recheck", "1", "--asked")
    assert shop("paper", "recheck-letter", "1").code == 0
    shop("recheck", "1", "--done", "--outcome", "good")
    assert shop("paper", "recheck-letter", "1").code == 1


def test_the_letter_shows_how_it_read_last_and_not_how_it_came_in(shop: Loomcard) -> None:
    shop("charging", "--card", "1", "--standing", "11.9 after 48 h", "--regulated", "12.5 at 5000 rev/min")
    said = shop("paper", "recheck-letter", "1").out
    assert "14.3" in said
    assert "12.8" in said
    assert "12.5" not in said
    assert "11.9" not in said
    assert "2 Mar 2026" in said.splitlines()[0]


def letter(path: Path) -> EmailMessage:
    read = message_from_bytes(path.read_bytes(), policy=default)
    assert isinstance(read, EmailMessage)
    return read


def test_the_letter_as_a_message_that_a_parser_reads_back(shop: Loomcard, tmp_path: Path) -> None:
    path = tmp_path / "oona.eml"
    assert shop("recheck-mail", "1", "--to", str(path)).code == 0
    read = letter(path)
    assert (read["To"], read["From"]) == (
        "Oona Mirek <oona@mirek.example>",
        "Copperleaf <desk@copperleaf.example>",
    )
    assert "Halden LKM 412" in read["Subject"]
    body = read.get_body(("plain",))
    assert body is not None
    assert "We mended your Halden" in body.get_content()
    assert "14.3" in body.get_content()


def test_the_message_is_in_the_shops_own_words(
    shop: Loomcard, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    words = "Hello {name}!\nYour {bike} wants a look by {due}.\nYours, {shop}"
    assert shop("settings", "change", "--recheck-words", words).code == 0
    shop("customer", "change", "1", "--name", "Oona {bike} [b]")
    later(monkeypatch)
    (row,) = shop("due", "--json").json["due"]
    assert row["say"].startswith(
        "Hello Oona {bike} [b]!\nYour Halden, LKM 412 wants a look by 30 Mar 2026 or at"
    )
    assert row["say"].endswith("Yours, Copperleaf")
    path = tmp_path / "oona.eml"
    assert shop("recheck-mail", "1", "--to", str(path)).code == 0
    body = letter(path).get_body(("plain",))
    assert body is not None
    assert "Hello Oona {bike} [b]!" in body.get_content()
    assert "We mended" not in body.get_content()
    assert "14.3" in body.get_content()
    refused = shop("settings", "change", "--recheck-words", "Dear {nmae}, {}", "--json")
    assert refused.code == 2
    assert [one["field"] for one in refused.json["error"]["fields"]] == ["recheck_words"] * 2
    shop("settings", "change", "--recheck-words", "-")
    assert "We mended your Halden" in shop("paper", "recheck-letter", "1").out


def test_a_promise_stands_in_the_calendar_until_the_bike_has_gone(shop: Loomcard, tmp_path: Path) -> None:
    path, gone = tmp_path / "dates.ics", tmp_path / "dates-cancelled.ics"

    def promises(file: Path) -> list[tuple[str, str, str]]:
        read: Any = Calendar.from_ical(file.read_bytes())
        return [
            (str(one["UID"]), one["DTSTART"].dt.isoformat(), str(one["STATUS"]))
            for one in read.walk("VEVENT")
            if str(one["SUMMARY"]).startswith("Promised")
        ]

    shop("book-in", "--bike", "1", "--promised", "2026-03-06", "--look-limit", "30", "horn dead")
    shop("due", "--ics", str(path))
    ((uid, on, status),) = promises(path)
    assert (on, status) == ("2026-03-06", "CONFIRMED")
    shop("due", "--ics", str(path))
    assert promises(path) == [(uid, on, status)]
    shop("end", "2", "nothing found")
    shop("collect", "2")
    shop("due", "--ics", str(path))
    assert promises(path) == []
    assert promises(gone) == [(uid, on, "CANCELLED")]


def test_a_new_owner_is_asked_before_anything_is_sent(
    shop: Loomcard, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop("customer", "add", "Tavi Ro", "--phone", "0155 0199 205", "--email", "tavi@ro.example")
    shop("bike", "change", "1", "--owner", "Tavi Ro")
    path = tmp_path / "tavi.eml"
    refused = shop("recheck-mail", "1", "--to", str(path))
    assert (refused.code, path.exists()) == (2, False)
    assert "nobody has asked them" in refused.err
    later(monkeypatch)
    (row,) = shop("due", "--json").json["due"]
    assert (row["who"], row["ask_owner"]) == ("Tavi Ro", True)
    assert "has changed hands" in shop("due").out
    shop("recheck", "1", "--asked")
    assert shop("recheck-mail", "1", "--to", str(path), "--json").json["to"] == "tavi@ro.example"
    body = letter(path).get_body(("plain",))
    assert body is not None
    assert "Hello Tavi Ro" in body.get_content()
    assert "Oona" not in body.get_content()


def test_without_an_address_or_a_recheck_nothing_is_written(shop: Loomcard, tmp_path: Path) -> None:
    path = tmp_path / "x.eml"
    shop("customer", "change", "1", "--email", "-")
    assert shop("customer", "1", "--json").json["customer"]["email"] == ""
    assert shop("recheck-mail", "1", "--to", str(path)).code == 2
    shop("recheck", "1", "--done", "--outcome", "good")
    assert shop("recheck-mail", "1", "--to", str(path)).code == 1
    assert shop("recheck-mail", "99", "--to", str(path)).code == 1
    assert not path.exists()


def test_a_recheck_moved_done_or_unwanted_moves_and_cancels_in_the_calendar(
    shop: Loomcard, tmp_path: Path
) -> None:
    path = tmp_path / "dates.ics"

    def events(file: Path) -> list[tuple[str, str, int, str]]:
        read: Any = Calendar.from_ical(file.read_bytes())
        return [
            (str(e["UID"]), e["DTSTART"].dt.isoformat(), int(e["SEQUENCE"]), str(e["STATUS"]))
            for e in read.walk("VEVENT")
        ]

    assert shop("due", "--ics", str(path)).code == 0
    ((uid, on, sequence, status),) = events(path)
    assert (on, status) == ("2026-03-30", "CONFIRMED")
    shop("recheck", "1", "--to", "2026-04-15")
    shop("due", "--ics", str(path))
    assert events(path) == [(uid, "2026-04-15", sequence + 1, "CONFIRMED")]
    shop("recheck", "1", "--not-wanted")
    shop("due", "--ics", str(path))
    assert events(path) == []
    assert events(tmp_path / "dates-cancelled.ics") == [(uid, "2026-04-15", sequence + 2, "CANCELLED")]


def test_nobodys_text_breaks_the_list(shop: Loomcard, monkeypatch: pytest.MonkeyPatch) -> None:
    later(monkeypatch)
    for text in FINE[:12]:
        assert shop("customer", "change", "1", "--name", f"x {text}").code == 0
        said = shop("due")
        assert said.code == 0
        assert max(width_of(line) for line in said.out.splitlines()) <= 80


def test_the_table_of_rechecks_is_the_shops_to_change(loomcard: Loomcard, tmp_path: Path) -> None:
    shipped = loomcard("rechecks").out
    assert shipped.startswith("id,was,words,days,")
    own = tmp_path / "own.csv"
    own.write_text(shipped.replace("again,90,2000", "again,120,3000"), "utf-8")
    assert loomcard("rechecks", "change", str(own)).code == 0
    said = loomcard("rechecks", "show", "--json").json
    assert said["own"] is True
    assert {one["id"]: one["days"] for one in said["rechecks"]}["chafe"] == 120
    own.write_text(shipped.replace("again,90,", "again,x,").replace("drain,,", "drain,chafe,"), "utf-8")
    refused = loomcard("rechecks", "change", str(own))
    assert refused.code == 2
    assert "2 mistakes" in refused.err
    assert "120,3000" in loomcard("rechecks").out
    assert loomcard("rechecks", "restore").code == 0
    assert loomcard("rechecks").out == shipped


def test_the_table_in_ones_own_editor(loomcard: Loomcard, monkeypatch: pytest.MonkeyPatch) -> None:
    loomcard("settings", "change", "--name", "Copperleaf")
    monkeypatch.setattr(click, "edit", lambda text, **_: text)
    assert loomcard("rechecks", "edit").out == "Nothing was changed.\n"
    monkeypatch.setattr(click, "edit", lambda text, **_: text.replace(",14,0,", ",21,0,"))
    assert "Kept." in loomcard("rechecks", "edit").out
    assert ",21,0," in loomcard("rechecks").out
    monkeypatch.setattr(click, "edit", lambda text, **_: text.replace(",21,0,", ",soon,0,"))
    monkeypatch.setattr(click, "confirm", lambda *_, **__: False)
    assert loomcard("rechecks", "edit").code == 2
    assert ",21,0," in loomcard("rechecks").out
