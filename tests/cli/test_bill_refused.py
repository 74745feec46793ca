"""What must be right before a paper takes a number: all said at once, and no number lost."""

import sqlite3
from pathlib import Path

import pytest

from tests.cli.conftest import Loomcard, Said


@pytest.fixture
def looked(loomcard: Loomcard) -> Loomcard:
    """A shop that has said nothing of itself, and a card looked at for half an hour."""
    assert (
        loomcard("book-in", "--customer", "Oona Mirek", "--make", "Halden", "--look-limit", "60", "flat").code
        == 0
    )
    assert loomcard("clock", "add", "1", "--minutes", "30", "--kind", "looking").code == 0
    return loomcard


def set_up(loomcard: Loomcard, *more: str) -> None:
    given = ("--name", "Copperleaf", "--address", "Ropewalk Yard", "--tax-number", "XX1", "--currency", "EUR")
    assert loomcard("settings", "change", *given, *more).code == 0
    loomcard("customer", "change", "1", "--address", "Weir Terrace\nSandwick")


def fields(said: Said) -> list[str]:
    assert said.code == 2, said.out
    return sorted(one["field"] for one in said.json["error"]["fields"])


def documents(loomcard: Loomcard) -> list[str]:
    return [line.split(",")[3] for line in loomcard("day-book").out.splitlines()[1:]]


def test_seller_buyer_and_tax_number_are_all_missed_at_once(looked: Loomcard) -> None:
    refused = looked("bill", "1", "--json")
    assert fields(refused) == ["buyer.address", "seller.address", "seller.name", "seller.tax_number"]
    assert all(
        one["sentence"] and one["hint"] for one in refused.json["error"]["fields"] if one["field"][0] == "s"
    )
    assert documents(looked) == []
    set_up(looked)
    assert looked("bill", "1").code == 0
    assert documents(looked) == ["INV-26-0001"], "a refusal took no number"


def test_who_is_not_registered_needs_no_tax_number(looked: Loomcard) -> None:
    set_up(looked, "--tax-number", "", "--no-taxed")
    assert looked("bill", "1").code == 0
    paper = looked("paper", "invoice", "INV-26-0001").out
    assert "not registered" in paper
    assert "20 %" not in paper


def test_a_line_without_a_rate_and_one_without_words_are_refused_together(looked: Loomcard) -> None:
    set_up(looked)
    refused = looked("bill", "1", "--extra", "=5", "--extra", "cable ties", "--json")
    assert fields(refused) == ["extra", "extra"]
    assert documents(looked) == []


def test_no_more_is_credited_than_was_billed(looked: Loomcard) -> None:
    set_up(looked)
    looked("bill", "1")
    assert fields(looked("bill", "--credit", "INV-26-0001", "--line", "7", "--json")) == ["lines.7"]
    assert looked("bill", "--credit", "INV-26-0001").code == 0
    again = looked("bill", "--credit", "INV-26-0001", "--json")
    assert again.code == 2
    assert "Nothing of it is left to credit" in again.json["error"]["sentence"]
    assert fields(looked("bill", "--credit", "CRN-26-0001", "--json")) == ["credit"]
    assert documents(looked) == ["INV-26-0001", "CRN-26-0001"]


def test_a_date_before_that_of_the_last_number_is_refused(
    looked: Loomcard, monkeypatch: pytest.MonkeyPatch
) -> None:
    set_up(looked)
    looked("bill", "1")
    looked("book-in", "--customer", "1", "--make", "Halden", "--look-limit", "60", "horn")
    looked("clock", "add", "2", "--minutes", "30", "--kind", "looking")
    monkeypatch.setenv("LOOMCARD_NOW", "2026-03-01T09:00:00+00:00")
    refused = looked("bill", "2", "--json")
    assert fields(refused) == ["issued_on"]
    assert "2026-03-02" in refused.json["error"]["fields"][0]["sentence"]
    monkeypatch.setenv("LOOMCARD_NOW", "2026-03-02T10:00:00+00:00")
    looked("bill", "2")
    assert documents(looked) == ["INV-26-0001", "INV-26-0002"]


def test_what_was_typed_wrong_and_what_the_shop_lacks_are_said_together(
    looked: Loomcard, monkeypatch: pytest.MonkeyPatch
) -> None:
    refused = looked("bill", "1", "--extra", "=5", "--due", "2026-01-01", "--json")
    shops = ["seller.address", "seller.name", "seller.tax_number"]
    assert fields(refused) == ["buyer.address", "due_on", "extra", *shops]
    set_up(looked)
    looked("bill", "1")
    looked("settings", "change", "--address", "-")
    monkeypatch.setenv("LOOMCARD_NOW", "2026-03-04T09:00:00+00:00")
    looked("bill", "--credit", "INV-26-0001", "--line", "1", "--small")
    monkeypatch.setenv("LOOMCARD_NOW", "2026-03-01T09:00:00+00:00")
    credit = ("bill", "--credit", "INV-26-0001", "--line", "9", "--line", "9", "--json")
    assert fields(looked(*credit)) == ["lines.9", "lines.9", "seller.address"]
    assert documents(looked) == ["INV-26-0001"]


def test_past_the_limit_and_without_an_address_is_said_together(looked: Loomcard) -> None:
    looked("finding", "1", "earth green")
    looked("estimate", "1", "--repair", "earth:zone=seat,words=Main earth cleaned")
    looked("agree", "1", "--limit", "40")
    looked("fix", "1", "--minutes", "300")
    shops = ["seller.address", "seller.name", "seller.tax_number"]
    assert fields(looked("bill", "1", "--json")) == ["buyer.address", *shops, "total"]
    more = fields(looked("bill", "1", "--deposit", "900", "--json"))
    assert more == ["buyer.address", "deposit", *shops]


def test_a_credit_note_is_made_out_to_who_was_billed_even_when_they_were_erased(looked: Loomcard) -> None:
    set_up(looked)
    looked("end", "1", "nothing found")
    looked("bill", "1")
    looked("pay", "1")
    looked("collect", "1")
    assert looked("customer", "erase", "1").code == 0
    assert looked("bill", "--credit", "INV-26-0001").code == 0
    paper = looked("paper", "credit-note", "CRN-26-0001").out
    assert "Oona Mirek" in paper
    assert "Weir Terrace" in paper
    assert "erased" not in paper


def test_it_is_not_due_before_it_is_issued(looked: Loomcard) -> None:
    set_up(looked)
    assert fields(looked("bill", "1", "--due", "2026-03-01", "--json")) == ["due_on"]


def test_no_number_is_lost_to_a_failure_after_it_was_taken(looked: Loomcard, tmp_path: Path) -> None:
    set_up(looked)
    (path,) = (tmp_path / "data").rglob("*.loomcard")
    with sqlite3.connect(path) as file:
        file.execute(
            "CREATE TRIGGER no_tax BEFORE INSERT ON document_tax BEGIN SELECT RAISE (ABORT, 'full'); END"
        )
    file.close()
    failed = looked("bill", "1")
    assert failed.code in {1, 3}
    with sqlite3.connect(path) as file:
        file.execute("DROP TRIGGER no_tax")
    file.close()
    assert looked("bill", "1").code == 0
    assert documents(looked) == ["INV-26-0001"]
