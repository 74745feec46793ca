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


@pytest.fixture
def priced(shop: Loomcard) -> Loomcard:
    """A card with an estimate of two revisions."""
    shop("book-in", "LKM412", "dead")
    shop("finding", "1", "rotten")
    assert shop("estimate", "1", "--repair", "splice-butt:joints=2,zone=under-tank").code == 0
    assert shop("estimate", "1", "--repair", "lamp").code == 0
    return shop


def test_an_estimate_opens_line_by_line(priced: Loomcard) -> None:
    said = priced("estimate", "1", "--explain").out
    assert "EST-26-0002, revision 2 of card 26-0001" in said
    assert "each joint x 2" in said
    assert "rule: splice-butt" in said
    assert "Since revision 1:" in said
    assert "Since revision 1:" not in priced("estimate", "1", "--explain", "--revision", "1").out
    back = priced("estimate", "1", "--explain", "--revision", "1", "--against", "2")
    assert "Since revision 2:" in back.out
    assert "No longer: Lamp replaced" in back.out
    found = priced("estimate", "1", "--explain", "--json").json
    assert set(found["rules"]) == {"splice-butt", "lamp"}
    assert sum(line["net"]["minor"] for line in found["lines"]) > 0
    assert found["minutes"]["p10"] <= found["minutes"]["expected"] <= found["minutes"]["p90"]


def test_one_line_with_its_rule_whole(priced: Loomcard) -> None:
    lines = priced("estimate", "1", "--explain", "--json").json["lines"]
    (splice,) = [
        line["position"] for line in lines if (line["rule"], line["kind"]) == ("splice-butt", "labour")
    ]
    said = priced("estimate", "1", "--explain", "--line", str(splice)).out
    assert "joints=2, size_mm2=0.75 (assumed)" in said
    assert "[[minutes]]" in said
    assert priced("estimate", "1", "--explain", "--line", "99").code == 2


@pytest.mark.parametrize(
    "words",
    [("--explain",), ("1", "--explain", "--fixed"), ("1", "--line", "2"), ("1", "--explain", "--bike", "1")],
)
def test_explaining_goes_with_a_card_alone(priced: Loomcard, words: tuple[str, ...]) -> None:
    assert priced("estimate", *words).code == 2


def test_ways_side_by_side(priced: Loomcard) -> None:
    ways = (
        "--option",
        "mend it = splice-butt:joints=1,zone=seat",
        "--option",
        "plug = connector:ways=3,zone=seat",
    )
    said = priced("options", "1", *ways).out
    assert said.index("mend it") < said.index("plug")
    assert "to what is planned" in said
    assert 'chosen: loomcard estimate 26-0001 --repair "splice-butt:joints=1,zone=seat"' in said
    found = priced("options", "1", *ways, "--json").json
    assert [one["name"] for one in found["options"]] == ["mend it", "plug"]
    assert found["options"][0]["more"]["minor"] > 0
    assert priced("options", "1", "--option", "nonsense").code == 2


def test_visits_are_written_down_and_shown(priced: Loomcard) -> None:
    priced("visit", "begin", "1", "--off", "seat", "--off", "tank")
    priced("visit", "end", "1")
    again = priced("visit", "begin", "1", "--off", "tank", "--why", "the plug came later")
    assert "fuel tank comes off a second time" in again.out + again.err
    found = priced("visit", "1", "--json").json
    first, second = found["visits"]
    assert (first["off"], second["again"]) == (["seat", "fuel tank"], ["fuel tank"])
    assert second["why"] == "the plug came later"
    assert (found["off_now"], found["again_min"]) == (["fuel tank"], 20)
    text = priced("visit", "show", "1").out
    assert "opened: under the tank" in text
    assert "What came off a further time takes 20 min more than once." in text
    assert "a further time: tank (the plug came later)" in " ".join(priced("card", "1").out.split())


def test_ways_are_offered_printed_and_one_is_chosen(priced: Loomcard) -> None:
    said = priced(
        "offer", "1", "--way", "solder = splice-soldered:joints=2", "--way", "plug = connector:ways=3"
    )
    assert said.code == 0
    assert "Which one?" in priced("paper", "ways", "1").out
    assert "solder" in priced("card", "1").out
    assert priced("choose", "1", "solder", "--by", "Oona").code == 0
    assert "solder (chosen)" in priced("paper", "estimate", "1").out
    chosen = [one for one in priced("card", "1", "--json").json["ways"] if one["chosen_on"]]
    assert [(one["name"], one["chosen_by"], len(one["planned"])) for one in chosen] == [("solder", "Oona", 1)]
    assert priced("choose", "1", "glue").code == 2
