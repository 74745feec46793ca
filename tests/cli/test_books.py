"""The shop's books: the day-book of a period with its tax, what a card leaves, an insurer and the excess."""

import csv
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Loomcard


@pytest.fixture
def shop(loomcard: Loomcard, monkeypatch: pytest.MonkeyPatch) -> Loomcard:
    """Two cards billed, in February and in March; a part fitted, a fee passed on, one line credited."""
    loomcard(
        "settings", "change", "--name", "Copperleaf", "--address", "Ropewalk Yard", "--tax-number", "XX1"
    )
    loomcard("stock", "add", "LAMP", "Lamp, 21 W", "--price", "5.00", "--cost", "2.15", "--count", "9")
    monkeypatch.setenv("LOOMCARD_NOW", "2026-02-27T09:00:00+00:00")
    who = ("--customer", "=Oona Mirek", "--address", "Weir Terrace", "--make", "Halden")
    loomcard("book-in", *who, "--look-limit", "60", "flat")
    loomcard("clock", "add", "1", "--minutes", "30", "--kind", "looking")
    loomcard("part", "want", "1", "LAMP", "--qty", "2")
    loomcard("part", "fit", "1")
    loomcard("end", "1", "nothing found")
    assert loomcard("bill", "1", "--fee", "Roadworthiness test=45.00").code == 0
    monkeypatch.setenv("LOOMCARD_NOW", "2026-03-02T09:00:00+00:00")
    loomcard("bill", "--credit", "INV-26-0001", "--line", "1", "--words", "looking was free")
    return loomcard


def test_the_day_book_of_a_month_and_what_it_adds_up_to(shop: Loomcard, tmp_path: Path) -> None:
    path = tmp_path / "book.csv"
    said = shop("day-book", "--period", "2026-02", "--to", str(path))
    assert "Sold from 1 Feb 2026 to 28 Feb 2026: 1 document" in said.out
    assert path.read_bytes().startswith(b"\xef\xbb\xbf")
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [(row["number"], row["card"], row["tax_category"]) for row in rows] == [
        ("INV-26-0001", "26-0001", "S"),
        ("INV-26-0001", "26-0001", "E"),
    ]
    assert {row["buyer"] for row in rows} == {"'=Oona Mirek"}
    answer = shop("day-book", "--period", "2026-02", "--json").json
    assert answer["documents"] == 1
    for tax in answer["taxes"]:
        own = [row for row in rows if row["tax_category"] == tax["category"]]
        assert sum(Decimal(row["taxable"]) for row in own) * 100 == tax["taxable_minor"]
        assert sum(Decimal(row["tax"]) for row in own) * 100 == tax["tax_minor"]


def test_credit_is_taken_off_in_the_period_in_which_it_was_given(shop: Loomcard) -> None:
    def taxes(*words: str) -> dict[str, tuple[int, int]]:
        found = shop("day-book", *words, "--json").json["taxes"]
        return {one["category"]: (one["taxable_minor"], one["tax_minor"]) for one in found}

    assert taxes("--period", "2026-02") == {"S": (4000, 800), "E": (4500, 0)}
    assert taxes("--since", "2026-03-01") == {"S": (-3000, -600)}
    assert taxes("--period", "2026") == {"S": (1000, 200), "E": (4500, 0)}
    assert taxes("--period", "2025") == {}
    assert "0 documents" in shop("day-book", "--period", "2025", "--sums").out


def test_a_card_leaves_what_was_sold_less_what_its_parts_cost(shop: Loomcard) -> None:
    (one,) = shop("margin", "INV-26-0001", "--json").json["margins"]
    assert (one["card"], one["sold_minor"], one["parts_minor"], one["cost_minor"]) == (
        "26-0001",
        1000,
        1000,
        430,
    )
    assert (one["left_minor"], one["clocked_s"], one["hourly_minor"]) == (570, 1800, 1140)
    said = shop("margin", "--period", "2026-02").out
    assert "26-0001" in said
    assert "5.70" in said
    assert shop("margin", "--period", "2025").out == "Nothing was billed then.\n"
    assert shop("margin", "99").code == 1


def test_parts_of_which_nobody_knows_the_cost_are_named(shop: Loomcard) -> None:
    shop("stock", "add", "TAPE", "Loom tape", "--price", "3.00", "--count", "4")
    shop("part", "want", "1", "TAPE")
    shop("part", "fit", "1", "2")
    said = shop("margin", "1", "--json").json["margins"][0]
    assert said["unknown"] == ["Loom tape"]
    assert said["cost_minor"] == 430
    assert "nobody has said what these cost" in " ".join(shop("margin", "1").out.split())


def test_no_customers_paper_says_what_a_part_cost_or_what_is_left(shop: Loomcard) -> None:
    shop("settings", "change", "--country", "IE")
    texts = [one["text"] for one in shop("paper", "all", "1", "--json").json["papers"]]
    texts += [shop("paper", "ubl", "INV-26-0001").out, shop("paper", "statement", "1").out]
    assert len(texts) == 5
    for text in texts:
        for secret in ("2.15", "4.30", "5.70", "11.40"):
            assert secret not in text


def claim(loomcard: Loomcard, *more: str) -> Any:
    """A bike that an insurer pays for, its customer bringing an excess."""
    loomcard(
        "settings", "change", "--name", "Copperleaf", "--address", "Ropewalk Yard", "--tax-number", "XX1"
    )
    loomcard("customer", "add", "Gannet Rock Mutual", "--kind", "insurer", "--address", "1 Lighthouse Road")
    who = ("--customer", "Sunniva Brack", "--payer", "Gannet Rock Mutual", "--make", "Halden")
    loomcard("book-in", *who, "--look-limit", "90", *more, "fell over")
    loomcard("clock", "add", "1", "--minutes", "60", "--kind", "looking")
    loomcard("end", "1", "not worth it")
    return loomcard("bill", "1", "--words", "Claim GR-20418")


def test_an_insurers_invoice_names_the_excess_and_who_pays_it(loomcard: Loomcard) -> None:
    assert claim(loomcard, "--excess", "25").code == 0
    said = loomcard("paper", "invoice", "INV-26-0001").out
    assert "- Claim GR-20418\n- Of this the excess of 25.00 EUR is paid by Sunniva Brack." in said
    loomcard("settings", "change", "--country", "IE")
    assert "excess of 25.00 EUR" in loomcard("paper", "ubl", "INV-26-0001").out
    loomcard("settings", "change", "--language", "de")
    german = loomcard("paper", "invoice", "INV-26-0001").out
    assert "- Davon zahlt Sunniva Brack die Selbstbeteiligung von 25,00 EUR." in german


def test_without_an_excess_nothing_is_said_of_one(loomcard: Loomcard) -> None:
    assert claim(loomcard).code == 0
    assert "excess" not in loomcard("paper", "invoice", "INV-26-0001").out
