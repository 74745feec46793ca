"""The charging check of every kind of bike at the command line: its steps, in parts, no limit no fault."""

from typing import Any

import pytest

from tests.cli.conftest import Loomcard

RUNNING = {"idle", "regulated", "regulated-lamps", "current", "drop-live", "drop-earth"}
BATTERY = {"standing", "battery-temperature", "load", "cranking", "drain"}
PAIRS = {"ac-bc", "ac-ca", "ohms-bc", "ohms-ca"}

KINDS: dict[str, tuple[tuple[str, str, str, str], set[str], set[str]]] = {
    "three-phase": (("12", "agm", "three-phase", "negative"), RUNNING | PAIRS | {"diode"}, {"dynamo"}),
    "single-phase": (("12", "flooded", "single-phase", "negative"), RUNNING | {"insulation"}, PAIRS),
    "half-wave": (("12", "flooded", "half-wave", "negative"), RUNNING, PAIRS | {"insulation"}),
    "excited": (("12", "gel", "excited-field", "negative"), RUNNING | {"field-volts"}, {"dynamo"}),
    "dynamo": (("6", "flooded", "dynamo", "positive"), RUNNING | {"dynamo"}, PAIRS | {"ac-ab", "diode"}),
    "lithium": (("12", "lithium", "three-phase", "negative"), RUNNING | PAIRS, {"load"}),
    "total loss": (("6", "flooded", "none", "positive"), {"standing", "load", "drain"}, RUNNING | PAIRS),
    "six volts": (("6", "agm", "single-phase", "negative"), RUNNING, PAIRS),
    "no battery": (("0", "none", "lighting-coil", "none"), {"ac-ab", "ohms-ab"}, RUNNING | BATTERY),
    "nothing known": (("", "", "", ""), RUNNING | PAIRS | BATTERY | {"dynamo", "field-volts"}, set()),
}
"""A bike's volts, battery, alternator and earth; steps that it is asked for, and steps that make no sense."""


def booked(loomcard: Loomcard, volts: str, battery: str, alternator: str, earth: str) -> None:
    given = {"--volts": volts, "--battery-kind": battery, "--earth": earth}
    given["--features"] = f"alternator={alternator}" if alternator else ""
    words = [part for name, value in given.items() if value for part in (name, value)]
    said = loomcard("book-in", "--customer", "Oona", "--make", "Halden", *words, "flat")
    assert said.code == 0, said.err


def check(loomcard: Loomcard, *readings: str) -> Any:
    said = loomcard("charging", "--card", "1", *readings, "--json")
    assert said.code == 0, said.out
    return said.json


@pytest.mark.parametrize("name", KINDS)
def test_each_kind_gets_the_steps_that_make_sense_each_with_how_to_take_it(
    loomcard: Loomcard, name: str
) -> None:
    bike, wanted, senseless = KINDS[name]
    booked(loomcard, *bike)
    steps = check(loomcard)["steps"]
    ids = {one["step"]["id"] for one in steps}
    assert wanted <= ids
    assert not senseless & ids
    for one in steps:
        assert one["step"]["meter"]
        assert one["step"]["leads"]
        assert one["step"]["engine"]
    text = loomcard("charging", "--card", "1").out
    for one in steps:
        assert one["step"]["words"] in text


ODD = (
    "--standing", "9.1 after 12 h", "--cranking", "2.0", "--idle", "3.3 at idle", "--regulated",
    "19.9 at 5000 rev/min", "--regulated-lamps", "2.2 at 5000 rev/min, lamps on",
)  # fmt: skip


@pytest.mark.parametrize("name", ["dynamo", "total loss", "six volts", "no battery", "nothing known"])
def test_where_there_is_no_limit_no_reading_fails(loomcard: Loomcard, name: str) -> None:
    booked(loomcard, *KINDS[name][0])
    found = check(loomcard, *ODD)
    words = {one["kind"]: one["verdict"]["word"] for one in found["readings"]}
    assert set(words.values()) == {"no limits for this"}
    assert found["before"]["verdict"] == "not enough"
    text = " ".join(loomcard("charging", "--card", "1").out.split())
    for value in ("9.1 V", "2 V", "3.3 V", "19.9 V", "2.2 V"):
        assert f"{value}: no limits for this" in text
    assert "fault" not in text


def test_a_twelve_volt_bike_fails_by_the_same_readings(loomcard: Loomcard) -> None:
    booked(loomcard, *KINDS["three-phase"][0])
    words = {one["kind"]: one["verdict"]["word"] for one in check(loomcard, *ODD)["readings"]}
    assert words["regulated_volts"] == "fault"
    assert check(loomcard)["before"]["verdict"] == "over-charging"


def test_it_is_left_and_picked_up_in_any_order_and_comes_to_the_same(loomcard: Loomcard) -> None:
    parts = (
        ("--standing", "12.8 after 12 h"),
        ("--load", "10.4", "--conditions", "temperature=21"),
        ("--regulated", "12.9 at 5000 rev/min"),
        ("--ac-ab", "64 at 5000 rev/min, plug apart"),
        ("--ac-bc", "63 at 5000 rev/min, plug apart"),
        ("--ac-ca", "64 at 5000 rev/min, plug apart"),
    )
    booked(loomcard, *KINDS["three-phase"][0])
    seen = []
    for part in reversed(parts):
        found = check(loomcard, *part)
        seen.append(
            (found["before"]["verdict"], found["before"]["next"]["id"] if found["before"]["next"] else "")
        )
    assert seen[0][0] == "not enough"
    assert seen[-1][0] == "regulator/rectifier"
    assert all(following for _, following in seen)
    taken = [one["step"]["id"] for one in check(loomcard)["steps"] if one["before"]]
    assert taken == ["standing", "load", "regulated", "ac-ab", "ac-bc", "ac-ca"]


@pytest.mark.parametrize("earth", ["negative", "positive", ""])
def test_either_earth_is_said_and_judged_alike(loomcard: Loomcard, earth: str) -> None:
    booked(loomcard, "12", "agm", "three-phase", earth)
    found = check(loomcard, "--regulated", "14.2 at 5000 rev/min")
    assert found["readings"][0]["verdict"]["word"] == "good"
    assert f"earth {earth or 'not known'}" in loomcard("charging", "--card", "1").out
