"""Papers on the command line: as text, as pages, all of a card at once."""

import email
import email.policy
import re
import shutil
import xml.etree.ElementTree as ET
from datetime import date
from pathlib import Path

import pypdfium2
import pytest

from tests.cli.conftest import Loomcard
from tracker.desk.replay import write
from tracker.papers.gather import PAPERS
from tracker.papers.tongue import catalogue
from tracker.seedfiles.script import load_script


@pytest.fixture(scope="session")
def walked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A file in which one card has gone through its whole life; to be copied, not written to."""
    path = tmp_path_factory.mktemp("walked") / "walk.loomcard"
    write(path, load_script("walk"), date(2026, 3, 2))
    return path


@pytest.fixture
def shop(walked: Path, tmp_path: Path) -> str:
    """A copy of it."""
    return str(shutil.copy(walked, tmp_path / "shop.loomcard"))


def text_of(path: Path) -> str:
    pages = pypdfium2.PdfDocument(path)
    return " ".join(" ".join(page.get_textpage().get_text_bounded().split()) for page in pages)


def invoice_number(loomcard: Loomcard, shop: str) -> str:
    papers = loomcard("--file", shop, "paper", "all", "1", "--json").json["papers"]
    return str(next(one["paper"]["number"] for one in papers if one["kind"] == "invoice"))


def test_all_papers_of_a_card_go_into_a_folder(loomcard: Loomcard, shop: str, tmp_path: Path) -> None:
    folder = tmp_path / "papers"
    said = loomcard("--file", shop, "paper", "all", "1", "--pdf", str(folder), "--json")
    assert said.code == 0, said.err
    files = [Path(name) for name in said.json["files"]]
    assert sorted(folder.iterdir()) == sorted(files)
    kinds = {path.name.rsplit(".", 1)[0] for path in files}
    for kind in ("job-card", "estimate", "deposit", "invoice", "receipt", "loom-record", "recheck-letter"):
        assert any(name.startswith(kind) for name in kinds), kind
    assert set(PAPERS) - {"credit-note", "statement", "charging", "trail", "ways"} <= {
        kind for kind in PAPERS if any(name.startswith(kind) for name in kinds)
    }


def test_a_paper_on_letter_is_as_wide_as_letter(loomcard: Loomcard, shop: str, tmp_path: Path) -> None:
    path = tmp_path / "card.pdf"
    said = loomcard("--file", shop, "paper", "job-card", "1", "--pdf", str(path), "--letter")
    assert said.out == f"written: {path}\n"
    assert pypdfium2.PdfDocument(path)[0].get_size()[0] == pytest.approx(612, abs=0.5)


def test_a_name_that_no_font_has_is_said(loomcard: Loomcard, shop: str, tmp_path: Path) -> None:
    path = tmp_path / "card.pdf"
    loomcard("--file", shop, "settings", "change", "--name", "Spark \U000f0000")
    said = loomcard("--file", shop, "paper", "job-card", "1", "--pdf", str(path))
    assert said.code == 0
    assert "No font here has “\U000f0000” (U+F0000): □ stands for it." in said.out
    assert "Spark □" in text_of(path)


def test_a_place_that_cannot_be_written_is_a_sentence(loomcard: Loomcard, shop: str) -> None:
    said = loomcard("--file", shop, "paper", "job-card", "1", "--pdf", "/nowhere/at/all.pdf")
    assert said.code == 3
    assert "could not be written" in said.err


def test_all_papers_into_one_file_is_refused(loomcard: Loomcard, shop: str, tmp_path: Path) -> None:
    said = loomcard("--file", shop, "paper", "all", "1", "--to", str(tmp_path / "x.txt"))
    assert said.code == 2
    assert "--pdf FOLDER" in said.err


def test_the_pages_hold_what_the_text_holds(loomcard: Loomcard, shop: str, tmp_path: Path) -> None:
    number = invoice_number(loomcard, shop)
    path = tmp_path / "invoice.pdf"
    loomcard("--file", shop, "paper", "invoice", number, "--pdf", str(path))
    shown = text_of(path).split()
    said = loomcard("--file", shop, "paper", "invoice", number).out
    words = [word for word in said.split() if set(word) - set("═─")]
    assert sorted(set(words) - set(shown)) == []


def test_an_e_invoice_says_what_the_shop_lacks_before_anything_is_written(
    loomcard: Loomcard, tmp_path: Path
) -> None:
    path = tmp_path / "invoice.xml"
    loomcard(
        "settings", "change", "--name", "Copperleaf", "--address", "Ropewalk Yard", "--tax-number", "XX1"
    )
    given = ("--customer", "Oona Mirek", "--address", "Weir Terrace", "--look-limit", "60")
    loomcard("book-in", "--make", "Halden", *given, "flat")
    loomcard("clock", "add", "1", "--minutes", "30", "--kind", "looking")
    assert loomcard("bill", "1").code == 0
    asked = ("paper", "ubl", "INV-26-0001", "--to", str(path))
    refused = loomcard(*asked, "--json")
    assert refused.code == 2
    assert [one["field"] for one in refused.json["error"]["fields"]] == ["seller.country"]
    assert not path.exists()
    loomcard("settings", "change", "--country", "IE")
    said = loomcard(*asked)
    assert said.code == 0, said.err
    assert "that of the settings, IE" in said.out
    assert ET.parse(path).getroot().findtext("{*}ID") == "INV-26-0001"


def test_the_e_invoice_goes_inside_the_pages(loomcard: Loomcard, shop: str, tmp_path: Path) -> None:
    loomcard("--file", shop, "settings", "change", "--country", "IE")
    number, path = invoice_number(loomcard, shop), tmp_path / "invoice.pdf"
    loomcard("--file", shop, "paper", "invoice", number, "--pdf", str(path), "--with-xml")
    (kept,) = [pypdfium2.PdfDocument(path).get_attachment(0)]
    assert kept.get_name() == f"{number}.xml"
    alone = loomcard("--file", shop, "paper", "ubl", number, "--json").json["xml"]
    assert bytes(kept.get_data()).decode() == alone


def test_a_message_has_the_pages_in_it(loomcard: Loomcard, shop: str, tmp_path: Path) -> None:
    path = tmp_path / "invoice.eml"
    asked = ("paper", "invoice", invoice_number(loomcard, shop), "--eml", str(path))
    loomcard("--file", shop, "settings", "change", "--email", "bench@lowgate.example")
    said = loomcard("--file", shop, *asked, "--mail-to", "nia@post.example")
    assert said.code == 0, said.err
    letter = email.message_from_bytes(path.read_bytes(), policy=email.policy.default)
    (attached,) = letter.iter_attachments()
    assert attached.get_content_type() == "application/pdf"
    assert attached.get_content().startswith(b"%PDF-")
    assert letter["To"].addresses[0].addr_spec == "nia@post.example"
    assert loomcard("--file", shop, *asked, "--mail-to", "nobody").code == 2


def test_what_is_for_pages_is_refused_without_them(loomcard: Loomcard, shop: str) -> None:
    assert loomcard("--file", shop, "paper", "job-card", "1", "--letter").code == 2


def test_papers_speak_the_shops_language(loomcard: Loomcard, shop: str, tmp_path: Path) -> None:
    number, path = invoice_number(loomcard, shop), tmp_path / "invoice.pdf"
    english = loomcard("--file", shop, "paper", "ubl", number, "--json").json["xml"]
    assert loomcard("--file", shop, "settings", "change", "--language", "de").code == 0
    loomcard("--file", shop, "paper", "invoice", number, "--pdf", str(path))
    shown = text_of(path)
    assert "Zu zahlen bis" in shown
    assert "Seite 1 von" in shown
    german = loomcard("--file", shop, "paper", "ubl", number, "--json").json["xml"]
    assert "Anzahlung DEP-26-0001 vom" in german
    assert re.findall(r"Amount currencyID[^<]*<", german) == re.findall(r"Amount currencyID[^<]*<", english)
    assert loomcard("--file", shop, "settings", "change", "--language", "german").code == 2
    loomcard("--file", shop, "settings", "change", "--language", "xx")
    refused = loomcard("--file", shop, "paper", "invoice", number)
    assert refused.code == 2
    assert "Languages: en, de" in refused.err


def test_no_sentence_of_ours_stays_english_on_german_papers(loomcard: Loomcard, shop: str) -> None:
    """Every text of the catalogue of four words and more: none of them is on any paper of the card."""
    loomcard("--file", shop, "settings", "change", "--language", "de")
    loomcard("--file", shop, "charging", "--card", "1", "--standing", "12.2 after 9 h", "--drain", "180")
    found = loomcard("--file", shop, "paper", "all", "1", "--json").json["papers"]
    assert {"job-card", "estimate", "invoice", "charging", "loom-record"} <= {one["kind"] for one in found}
    text = " ".join(" ".join(one["text"].split()) for one in found)
    ours = [
        one for one, own in catalogue("de").items() if len(one.split()) > 3 and "{" not in one and own != one
    ]
    assert [one for one in ours if one in text] == []


def test_a_charging_check_speaks_german(loomcard: Loomcard) -> None:
    loomcard("settings", "change", "--language", "de")
    bike = ("--volts", "12", "--battery-kind", "agm", "--features", "alternator=three-phase")
    loomcard("book-in", "--customer", "Oona", "--make", "Halden", *bike, "flat")
    loomcard(
        "charging",
        "--card",
        "1",
        "--drain",
        "180",
        "--regulated",
        "14.2 at 5000 rev/min",
        "--current",
        "-3 at 5000 rev/min",
    )
    said = " ".join(loomcard("paper", "charging", "1").out.split())
    assert "Ruhestrom (Sicherheit: niedrig). Etwas bleibt bei ausgeschalteter Zündung an" in said
    assert "Dies passt nicht zusammen: Die Spannung sagt, dass geladen wird" in said
    assert "Fehler (übliche Praxis)" in said
    assert "(veröffentlicht)" in said
    assert "Something stays on" not in said
