"""Estimates on the command line: tried on a bike without a card, in words and in JSON."""

import pytest

from tests.cli.conftest import Loomcard


@pytest.fixture
def shop(loomcard: Loomcard) -> Loomcard:
    """A shop with one bike."""
    loomcard("settings", "change", "--name", "Copperleaf", "--labour-rate", "60", "--tax-rate", "20")
    assert loomcard("bike", "add", "Halden", "--registration", "LKM 412").code == 0
    return loomcard


def test_a_bike_without_a_card_in_json(shop: Loomcard) -> None:
    said = shop(
        "estimate", "--bike", "LKM412", "--json",
        "--repair", "splice-butt:joints=2,size_mm2=0.75,colour=green,gap_mm=300,zone=under-tank",
        "--repair", "earth:zone=under-tank",
    )  # fmt: skip
    assert said.code == 0
    found = said.json
    assert found["bike"]["registration"] == "LKM 412"
    minutes = found["minutes"]
    order = [minutes[name] for name in ("least", "p10", "expected", "p90", "most")]
    assert order == sorted(order)
    assert [row["id"] for row in found["access"]][-1] == "tank"
    assert found["access"][-1]["serves"] == [1, 2]
    # 300 mm let in and 2 joints of 5 mm by the rule; the earth’s ring needs no wire.
    assert found["wire_mm"]["0.75"] == 300 + 2 * 10
    assert found["money"]["total"]["minor"] == found["money"]["net"]["minor"] + found["money"]["tax"]["minor"]
    assert found["money"]["customer"].startswith("About ")
    assert sum(line["amount"]["minor"] for line in found["lines"]) == found["money"]["net"]["minor"]
    assert shop("card", "1").code == 1


def test_a_bike_without_a_card_in_words(shop: Loomcard) -> None:
    said = shop("estimate", "--bike", "1", "--repair", "lamp", "--call-out", "--distance", "12.5")
    assert said.code == 0
    assert "tried only: nothing is kept" in said.out
    assert "in 8 of 10" in said.out


@pytest.mark.parametrize(
    "words",
    [
        ("--bike", "1"),
        ("--bike", "1", "--repair", "lamp", "--fixed"),
        ("--bike", "1", "26-0001", "--repair", "lamp"),
        ("--bike", "1", "--repair", "lamp", "--distance", "-4"),
        ("--bike", "1", "--repair", "lamp", "--looking", "soon"),
        ("--off", "tank", "--repair", "lamp"),
        ("--repair", "lamp"),
    ],
)
def test_what_does_not_go_together_is_said(shop: Loomcard, words: tuple[str, ...]) -> None:
    said = shop("estimate", *words)
    assert said.code == 2
    assert said.err


def test_no_such_bike(shop: Loomcard) -> None:
    assert shop("estimate", "--bike", "nobody", "--repair", "lamp").code == 1
