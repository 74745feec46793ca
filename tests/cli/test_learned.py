"""What past cards say, on the command line."""

from tests.cli.conftest import Loomcard


def one_card(loomcard: Loomcard, minutes: str) -> None:
    """A card with a trace clocked by hand."""
    assert loomcard("book-in", "LKM412", "dead", "--json").code == 0
    number = str(len(loomcard("bike", "LKM412", "--json").json["cards"]))
    assert loomcard("finding", number, "dead", "--json").code == 0
    assert loomcard("estimate", number, "--repair", "trace").code == 0
    assert loomcard("agree", number, "--limit", "900").code == 0
    assert loomcard("clock", "add", number, minutes, "--repair", "1").code == 0
    assert loomcard("fix", number).code == 0


def shop(loomcard: Loomcard) -> None:
    """A shop with a bike."""
    loomcard("settings", "change", "--name", "Copperleaf", "--mechanic", "Ines")
    loomcard("customer", "add", "Oona Mirek")
    assert loomcard("bike", "add", "Halden", "--registration", "LKM 412", "--owner", "Oona Mirek").code == 0


def test_a_rule_says_what_its_cards_took(loomcard: Loomcard) -> None:
    shop(loomcard)
    assert "# You took" not in loomcard("rules", "trace").out
    for _ in range(3):
        one_card(loomcard, "42")
    # The book expects 34.5 min of the rule’s sixty.
    assert "# You took 1.22 times the book over 3 cards" in loomcard("rules", "trace").out
    learned = loomcard("rules", "trace", "--json").json["learned"]
    assert (learned["factor"]["n"], round(learned["factor"]["raw"], 3)) == (3, 1.217)


def test_everything_learned_with_what_is_asked_about(loomcard: Loomcard) -> None:
    shop(loomcard)
    assert "Learned from 0 repairs." in loomcard("learned").out
    one_card(loomcard, "42")
    one_card(loomcard, "900")
    said = loomcard("learned")
    assert "Learned from 2 repairs." in said.out
    assert "Is that right?" in said.out
    assert "It took 26 times the book" in said.out
    found = loomcard("learned", "--json").json
    assert found["used"] is False
    assert [row["rule"] for row in found["rules"]] == ["trace"]
    assert [row["counted"] for row in found["asked"]] == [True]
