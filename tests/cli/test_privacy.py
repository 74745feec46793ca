"""A customer's data out as one file, and erased on request."""

import json
import zipfile
from pathlib import Path

import pytest

from tests.cli.conftest import Loomcard
from tests.cli.test_papers import shop, walked

__all__ = ["shop", "walked"]


def customer(loomcard: Loomcard, shop: str) -> dict[str, object]:
    found = loomcard("--file", shop, "paper", "all", "1", "--json").json["papers"]
    name = next(one for one in found if one["kind"] == "invoice")["paper"]["parties"][1]["name"]
    said = loomcard("--file", shop, "customer", "show", str(name), "--json").json
    return dict(said["customer"])


def test_everything_of_a_customer_is_in_one_file(loomcard: Loomcard, shop: str, tmp_path: Path) -> None:
    person = customer(loomcard, shop)
    path = tmp_path / "person.zip"
    said = loomcard("--file", shop, "customer", "export", str(person["id"]), "--to", str(path))
    assert said.code == 0, said.err
    with zipfile.ZipFile(path) as file:
        assert file.testzip() is None
        data = json.loads(file.read("data.json"))
        papers = [name for name in file.namelist() if name.startswith("papers/")]
        texts = [file.read(name).decode() for name in papers]
    assert data["customer"]["name"] == person["name"]
    assert data["customer"]["phone"] == person["phone"]
    assert len(papers) == len(data["documents"]) >= 2
    assert all(str(person["name"]) in text for text in texts)
    (card,) = data["cards"]
    for part in ("readings", "repairs", "payments", "rechecks", "go_aheads"):
        assert card[part], part
    assert {line["document"] for line in data["document_lines"]} == {one["id"] for one in data["documents"]}
    assert data["bikes"]
    assert data["journal"]


def test_nobody_is_not_exported(loomcard: Loomcard, shop: str, tmp_path: Path) -> None:
    path = tmp_path / "person.zip"
    assert loomcard("--file", shop, "customer", "export", "9999", "--to", str(path)).code == 1
    assert not path.exists()


def test_an_erased_customer_is_gone_and_the_documents_stay(loomcard: Loomcard) -> None:
    given = ("--name", "Copperleaf", "--address", "Ropewalk Yard", "--tax-number", "XX1")
    loomcard("settings", "change", *given)
    loomcard("customer", "add", "Oona Mirek", "--phone", "0155 0199 204", "--notes", "rings back late")
    loomcard("customer", "change", "1", "--address", "Weir Terrace", "--email", "oona@post.example")
    loomcard("book-in", "--customer", "1", "--make", "Halden", "--look-limit", "60", "flat")
    loomcard("clock", "add", "1", "--minutes", "30", "--kind", "looking")
    still = loomcard("customer", "erase", "1", "--json")
    assert still.code == 2
    assert "Card 26-0001 is still open." in still.json["error"]["fields"][0]["sentence"]
    loomcard("end", "1", "nothing found")
    assert loomcard("bill", "1").code == 0
    owed = loomcard("customer", "erase", "1", "--json")
    assert owed.code == 2
    assert any("INV-26-0001 is not settled" in one["sentence"] for one in owed.json["error"]["fields"])
    before = loomcard("paper", "invoice", "INV-26-0001").out
    assert loomcard("pay", "INV-26-0001").code == 0
    loomcard("collect", "1")
    said = loomcard("customer", "erase", "1", "--json")
    assert said.code == 0, said.out
    assert said.json["notes"][0].startswith("What was issued keeps the name")
    blank = said.json["customer"]
    assert (blank["name"], blank["reminders"]) == ("erased 1", False)
    assert not any(blank[field] for field in ("phone", "email", "address", "tax_number", "notes"))
    assert loomcard("find", "Oona").code == 1
    assert "Oona" not in json.dumps(loomcard("card", "1", "--json").json["calls"])
    undone = loomcard("undo", "--json")
    assert undone.code == 3
    assert "what was erased is gone" in undone.json["error"]["sentence"]
    assert loomcard("paper", "invoice", "INV-26-0001").out == before
    assert loomcard("check").code == 0


def test_nothing_of_an_erased_customer_is_left_in_the_file(loomcard: Loomcard, tmp_path: Path) -> None:
    """Not in rows, nor in how they were, nor in the journal, nor in what SQLite left lying about."""
    loomcard("customer", "add", "Wilhelmina Sgurr", "--phone", "0155 0177 301", "--notes", "beware of dog")
    loomcard("customer", "change", "1", "--address", "Ferry Steps", "--email", "wilhelmina@sgurr.example")
    loomcard("customer", "change", "1", "--phone", "0155 0188 402")
    loomcard("book-in", "--customer", "1", "--make", "Halden", "--notes", "key under the mat", "flat")
    loomcard("call", "1", "--person", "Wilhelmina Sgurr", "--outcome", "spoke", "--words", "will come")
    loomcard("offer", "1", "--way", "a bulb = lamp")
    assert loomcard("choose", "1", "a bulb", "--by", "Wilhelmina Sgurr").code == 0
    loomcard("end", "1", "nothing found")
    loomcard("waive", "1", "invoice", "--reason", "free")
    loomcard("collect", "1", "--to", "Wilhelmina Sgurr")
    (path,) = (tmp_path / "data").glob("*.loomcard")

    def left() -> list[bytes]:
        whole = b"".join(one.read_bytes() for one in path.parent.glob(f"{path.name}*"))
        said = (b"Wilhelmina", b"Sgurr", b"0155 01", b"Ferry Steps", b"beware of dog", b"under the mat")
        return [text for text in said if text in whole]

    assert len(left()) == 6
    erased = loomcard("customer", "erase", "1", "--json")
    assert erased.code == 0, erased.out
    assert left() == []
    assert loomcard("check").code == 0


@pytest.mark.parametrize("words", [("customer", "erase"), ("customer", "export", "1")])
def test_half_a_command_is_refused(loomcard: Loomcard, words: tuple[str, ...]) -> None:
    loomcard("customer", "add", "A")
    assert loomcard(*words).code == 2
