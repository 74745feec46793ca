"""Cautions by bike: nothing of a battery where there is none, nothing of lithium for lead or for 6 V."""

import pytest

from tests.papers.build import BIKE
from tracker.card.minding import fitting
from tracker.papers.cautions import for_the_bench
from tracker.records.bike import UNKNOWN, Bike, Earth
from tracker.seedfiles.repairs import load_rules

RULES = tuple(dict.fromkeys(words for rule in load_rules().by_id.values() for words in rule.cautions))
NOT_OF_THE_BATTERY = ("The fuse sits as near the battery as it goes",)
"""Cautions that speak of it in passing and hold for whatever feeds the wire."""


def of(words: tuple[str, ...], what: str) -> list[str]:
    return [one for one in words if what in one.casefold() and not one.startswith(NOT_OF_THE_BATTERY)]


@pytest.mark.parametrize(
    "bike",
    [
        Bike(make="Halden", volts=0),
        Bike(make="Halden", volts=0, battery_kind="agm"),
        Bike(make="Halden", volts=6, battery_kind="none"),
    ],
)
def test_without_a_battery_nothing_is_said_of_one(bike: Bike) -> None:
    assert of(RULES, "battery")
    assert of(RULES, "lithium")
    said = (*fitting(RULES, bike, {}), *for_the_bench(bike, {}))
    assert of(said, "battery") == []
    assert of(said, "lithium") == []
    assert any(one.startswith("Engine") for one in said)
    assert (
        of(
            (
                *fitting(RULES, Bike(make="Halden"), {"battery": "none"}),
                *for_the_bench(Bike(make="Halden"), {"battery": "none"}),
            ),
            "battery",
        )
        == []
    )


@pytest.mark.parametrize("kind", ["flooded", "agm", "gel", UNKNOWN])
def test_a_six_volt_bike_is_told_nothing_that_holds_for_twelve(kind: str) -> None:
    bike = Bike(make="Halden", volts=6, battery_kind=kind, earth=Earth.POSITIVE)
    said = (*fitting(RULES, bike, {}), *for_the_bench(bike, {}))
    assert of(said, "lithium") == []
    assert any(one.startswith("Battery, POSITIVE earth") for one in said)
    for figure in ("14.6", "15 V", "16 V", "10 V"):
        assert figure not in " ".join(said)


def test_a_lithium_battery_of_six_volts_has_no_figures() -> None:
    said = for_the_bench(Bike(make="Halden", volts=6, battery_kind="lithium"), {})
    assert any("there are no figures for it here" in one for one in said)
    assert "14.6" not in " ".join(said)


def test_what_nobody_knows_keeps_both() -> None:
    assert fitting(RULES, Bike(make="Halden"), {}) == RULES == fitting(RULES, None, {})
    assert of(fitting(RULES, Bike(make="Halden", volts=12, battery_kind="lithium"), {}), "lithium")
    assert not of(fitting(RULES, BIKE, {}), "lithium")
