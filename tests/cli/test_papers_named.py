"""Papers by whatever number is at hand: a card's, a document's, an estimate's, a payment's place."""

import pytest

from tests.cli.conftest import Loomcard

EARTH = "earth:zone=seat,words=Main earth cleaned"


@pytest.fixture
def paid(loomcard: Loomcard) -> Loomcard:
    """A card priced twice, billed, and paid in two parts."""
    loomcard(
        "settings", "change", "--name", "Copperleaf", "--address", "Ropewalk Yard", "--tax-number", "XX1"
    )
    who = ("--customer", "Oona Mirek", "--address", "Weir Terrace", "--registration", "LKM 412")
    loomcard("book-in", *who, "--make", "Halden", "--look-limit", "60", "flat")
    loomcard("finding", "1", "earth green")
    loomcard("estimate", "1", "--repair", EARTH)
    loomcard("estimate", "1", "--repair", "earth:zone=tail,words=Tail earth cleaned")
    loomcard("agree", "1", "--limit", "500")
    loomcard("fix", "1", "--repair", "1", "--minutes", "30")
    loomcard("fix", "1", "--repair", "2", "--minutes", "30")
    assert loomcard("bill", "1").code == 0
    assert loomcard("pay", "INV-26-0001", "20", "--method", "cash").code == 0
    assert loomcard("pay", "INV-26-0001", "--method", "card").code == 0
    return loomcard


def paper(loomcard: Loomcard, kind: str, name: str) -> str:
    said = loomcard("paper", kind, name)
    assert said.code == 0, said.err
    return said.out


def test_an_estimate_goes_by_its_own_number_and_each_revision_stays(paid: Loomcard) -> None:
    first, second = paper(paid, "estimate", "EST-26-0001"), paper(paid, "estimate", "est-26-2")
    assert "EST-26-0001" in first
    assert "EST-26-0002" in second
    assert "Tail earth cleaned" in second
    assert "Tail earth cleaned" not in first
    assert paper(paid, "estimate", "26-0001") == second
    assert paper(paid, "estimate", "INV-26-0001") == second
    assert paid("paper", "estimate", "EST-26-0009").code == 1


def test_every_payment_has_its_own_receipt(paid: Loomcard) -> None:
    first, last = paper(paid, "receipt", "26-0001/1"), paper(paid, "receipt", "26-0001/2")
    assert "26-0001/1" in first
    assert "20.00" in first
    assert "cash" in first
    assert paper(paid, "receipt", "INV-26-0001") == paper(paid, "receipt", "1") == last
    assert paper(paid, "receipt", "INV-26-0001/1") == first
    owed = [line.split()[-1] for text in (first, last) for line in text.splitlines() if "INV-26-0001" in line]
    assert owed == ["52.00", "0.00"]


@pytest.mark.parametrize(
    "name", ["26-0001/3", "26-0001/0", "26-0001/x", "INV-26-0009", "EST-26-0009", "1/9999999"]
)
def test_what_was_not_paid_has_no_receipt(paid: Loomcard, name: str) -> None:
    assert paid("paper", "receipt", name).code == 1


def test_papers_of_a_card_go_by_any_number_on_it(paid: Loomcard) -> None:
    by_card = paper(paid, "job-card", "26-0001")
    for name in ("INV-26-0001", "EST-26-0001", "LKM 412"):
        assert paper(paid, "job-card", name) == by_card
    names = [
        (one["kind"], one["paper"]["number"])
        for one in paid("paper", "all", "INV-26-0001", "--json").json["papers"]
    ]
    assert ("receipt", "26-0001/1") in names
    assert ("receipt", "26-0001/2") in names
    assert len(set(names)) == len(names)


def test_a_statement_says_what_a_customer_owes(paid: Loomcard) -> None:
    assert "Nothing is owed" in paper(paid, "statement", "Oona Mirek")
    paid("bill", "1", "--extra", "Bulb=10.00")
    said = paper(paid, "statement", "1")
    assert "INV-26-0002" in said
    assert "12.00 EUR" in said
    assert paid("paper", "statement", "Nobody").code == 1
