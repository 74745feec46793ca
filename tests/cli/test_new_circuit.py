"""New circuits and conversions on the command line."""

import pytest

from tests.cli.conftest import Loomcard


@pytest.fixture
def shop(loomcard: Loomcard) -> Loomcard:
    """A shop with one bike."""
    loomcard("settings", "change", "--name", "Copperleaf", "--labour-rate", "60")
    assert loomcard("bike", "add", "Halden", "--registration", "LKM 412").code == 0
    return loomcard


def test_heated_grips_whole(shop: Loomcard) -> None:
    said = shop(
        "new-circuit", "LKM412", "heated grips", "--to", "left-bar", "--alternator-w", "280", "--json"
    )
    assert said.code == 0
    found = said.json
    circuit = found["circuit"]
    assert (circuit["fuse_a"], circuit["relay"]) == (4.0, True)
    assert found["estimate"]["minutes"]["expected"] > 60
    assert found["fits"] is True
    assert [row["at"] for row in found["balance"]["after"]] == ["idle", "cruise"]
    # The repair it names is one that an estimate takes.
    assert shop("estimate", "--bike", "1", "--repair", found["repair"]).code == 0
    assert any("sleeve" in need["kind"] for need in found["estimate"]["needs"])


def test_what_cannot_be_fed_is_refused_in_words(shop: Loomcard) -> None:
    weak = ("--gives", "4 A at 1200", "--gives", "9 A at 4500")
    said = shop("new-circuit", "1", "lamps", "--to", "headlamp", *weak)
    assert said.code == 1
    assert "REFUSED: The alternator cannot carry" in said.out
    said = shop("new-circuit", "1", "socket", "--to", "seat", "--feed", "fuse-tail", "--json")
    assert (said.code, said.json["fits"], len(said.json["refused"])) == (1, False, 2)
    said = shop("new-circuit", "1", "socket", "--to", "seat", "--takes", "150 A", "--json")
    assert (said.code, said.json["estimate"]) == (1, None)


def test_a_bikes_own_alternator_is_taken(shop: Loomcard) -> None:
    assert "Nobody has said" in shop("new-circuit", "1", "usb", "--to", "left-bar").out
    shop("bike", "figure", "1", "alternator_watts", "--least", "280", "--source", "its maker's manual")
    assert "At cruise" in shop("new-circuit", "1", "usb", "--to", "left-bar").out


def test_a_conversion_has_no_wire_but_a_balance(shop: Loomcard) -> None:
    found = shop("new-circuit", "1", "led-indicators", "--alternator-w", "200", "--json").json
    assert found["circuit"] is None
    assert found["repair"].startswith("led:")
    assert found["balance"]["after"][0]["spare_a"] > found["balance"]["now"][0]["spare_a"]


def test_a_charger_lead_needs_no_relay_and_is_always_live(shop: Loomcard) -> None:
    found = shop("new-circuit", "1", "battery-lead", "--to", "seat", "--json").json
    assert found["circuit"]["relay"] is False
    assert "relay=no" in found["repair"]


def test_the_loads_are_listed(shop: Loomcard) -> None:
    assert "heated-grips" in shop("new-circuit", "1", "--list").out
    assert shop("new-circuit", "1", "--list", "--json").json["loads"][0]["id"] == "heated-grips"


@pytest.mark.parametrize(
    "words",
    [
        (),
        ("toaster", "--to", "seat"),
        ("usb",),
        ("usb", "--to", "the moon"),
        ("usb", "--to", "seat", "--feed", "fuse-moon"),
        ("usb", "--to", "seat", "--takes", "a lot"),
        ("usb", "--to", "seat", "--gives", "much"),
        ("usb", "--to", "seat", "--length", "-1"),
        ("usb", "--to", "seat", "--alternator-w", "0"),
    ],
)
def test_what_is_not_understood_is_said(shop: Loomcard, words: tuple[str, ...]) -> None:
    said = shop("new-circuit", "1", *words)
    assert said.code == 2
    assert said.err
