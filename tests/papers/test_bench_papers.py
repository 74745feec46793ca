"""Job card, loom record, charging check and recheck letter: exact enough for the next mechanic."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from tests.papers import build
from tests.papers.every import JUDGED, charging, recheck
from tracker.papers.cautions import LAST, for_the_bench
from tracker.papers.job_card import job_card
from tracker.papers.loom_record import loom_record
from tracker.papers.plain import plain
from tracker.papers.readings import before_and_after, value_words
from tracker.papers.recheck_letter import recheck_letter, recheck_text
from tracker.papers.say import number
from tracker.records.bike import UNKNOWN, Bike, Earth
from tracker.records.card import CardKind, Finding, Phase, Reading
from tracker.records.facts import CardFacts
from tracker.records.work import Repair
from tracker.seedfiles.door import SHIPPED


def bench(facts: CardFacts = build.FRESH) -> str:
    return plain(job_card(facts, features=build.FEATURES, known=build.KNOWN))


def squeezed(text: str) -> str:
    return " ".join(text.split())


def test_a_bench_card_says_who_what_and_where() -> None:
    text = squeezed(bench())
    for wanted in (
        "26-0412", "Halden 650 twin, 1998, LKM 412", "HLD65T98K00041207", "41,230 km", "12 V, AGM, 12 Ah",
        "Earth negative", "Adaeze Oyelaran, 0155 0199 204", "in a van, would not start", "6 Mar 2026",
        "1, tag 14", "left pannier scratched", "bay 2", "yes, leave given", "Flat after two days standing.",
        "left rear indicator", "up to 1 h 30 min or 120.00 EUR, then ring", "up to 340.00 EUR",
        "stand switch don't know", "regulator plug burnt", "Not safe to ride", "customer's own, no guarantee",
        "exchange: keep the old one", "ordered, 5 Mar 2026", "after the repair: Flash rate",
    ):  # fmt: skip
        assert wanted in text, wanted


def test_what_is_not_done_has_room_and_what_is_done_is_printed() -> None:
    assert bench().count("Splice") == 2
    assert "Splice        ____" in bench()
    assert "___ mm " in bench()
    assert "___ N" in bench()
    done = bench(build.FACTS)
    assert "Pull test" in done
    assert "Splice     " not in done.split("Repair 2")[0].split("Repair 1")[1]
    assert "185 N on a sample" in done
    assert "___ mm" not in done


def test_a_repair_that_was_dropped_is_not_asked_for() -> None:
    dropped = replace(build.FRESH, repairs=(build.CONNECTOR, replace(build.BULLET, dropped="not worth it")))
    assert "Repair 2" not in bench(dropped)


def test_an_empty_card_still_has_room_to_work() -> None:
    bare = CardFacts(card=replace(build.CARD, kind=CardKind.UNIT, bike=None, unit="stator"), shop=build.SHOP)
    text = bench(bare)
    assert "Sent in  stator" in text
    assert "Found ─" in text
    assert "To look  ____" in text
    assert "interlock" not in text
    assert "Loom of this bike" not in text


@pytest.mark.parametrize(
    ("earth", "said"),
    [
        (Earth.NEGATIVE, "NEGATIVE earth: the negative lead off first"),
        (Earth.POSITIVE, "POSITIVE earth: the positive lead off first"),
        (Earth.UNKNOWN, "NOT KNOWN"),
    ],
)
def test_the_earthed_lead_is_named(earth: Earth, said: str) -> None:
    assert any(said in one for one in for_the_bench(replace(build.BIKE, earth=earth), {}))


def test_only_what_the_bike_gives_cause_for() -> None:
    plain_bike = {"fuel": "carburettor", "abs": "no", "cooling": "air"}
    assert not any(
        one.startswith(("ABS", "Modules", "Radiator", "Lithium"))
        for one in for_the_bench(build.BIKE, plain_bike)
    )
    modern = replace(build.BIKE, battery_kind="lithium")
    with_all = for_the_bench(modern, {"fuel": "injection", "abs": "yes", "cooling": "liquid"})
    for start in ("ABS", "Modules", "Radiator", "Lithium", "Engine", "Volts that bite", "Meter"):
        assert any(one.startswith(start) for one in with_all), start
    assert not any(
        "Battery," in one for one in for_the_bench(replace(build.BIKE, battery_kind="none"), plain_bike)
    )


def test_what_is_not_known_is_taken_for_possible() -> None:
    unknown = Bike(make="Halden")
    said = for_the_bench(unknown, {"abs": UNKNOWN})
    assert any(one.startswith("ABS") for one in said)
    assert said[-1] == LAST
    lithium = for_the_bench(unknown, {"battery": "lithium"})
    assert any(one.startswith("Lithium") for one in lithium)


def test_the_questions_that_cautions_ask_about_are_the_looms_own() -> None:
    asked = SHIPPED.toml("loom/features.toml")["feature"]
    for name, answer in (("fuel", "carburettor"), ("abs", "no"), ("cooling", "air"), ("battery", "lithium")):
        assert answer in asked[name]["values"]


def test_a_loom_record_holds_every_figure_of_every_repair_and_reading() -> None:
    text = plain(loom_record(build.FACTS, known=JUDGED))
    found = set(text.split())
    for repair in (build.CONNECTOR, build.BULLET):
        figures = (repair.mm, repair.size_mm2, repair.length_used_mm, repair.pull_n)
        assert {number(figure) for figure in figures if figure is not None} <= found
        for words in (repair.circuit, repair.terminal, repair.sleeve, repair.splice, repair.connector_new):
            assert words in text
    assert {value_words(one) for one in build.READINGS} <= found
    assert "60 mm from regulator plug" in text
    assert "left rear indicator and earth bolt under the seat" in text
    assert "ways as before" in text
    assert "3-way unsealed, burnt > 3-way sealed, 6.3 series" in text


def test_a_changed_pin_order_cannot_be_overlooked() -> None:
    facts = replace(build.FACTS, repairs=(replace(build.CONNECTOR, keeps_ways=False),))
    assert "RE-PINNED" in plain(loom_record(facts))


def test_a_loom_record_has_only_what_was_done() -> None:
    assert "Repair 1" not in plain(loom_record(build.FRESH))
    assert "Repair 2" not in plain(loom_record(replace(build.FACTS, repairs=(build.CONNECTOR,))))


def test_what_was_left_is_handed_on() -> None:
    text = squeezed(plain(loom_record(build.FACTS)))
    assert "front brake hose touches the loom at full lock Left: customer has it seen to" in text
    assert "told that it is not safe to ride" in text


def test_before_and_after_stand_in_one_row() -> None:
    table = before_and_after(build.READINGS, build.KNOWN)
    rows = {row[0].split("\n")[0]: row[1:] for row in table.rows}
    assert rows["Charging volts at about 5000 rev/min"] == ("13.1", "14.3", "V")
    assert rows["Flash rate"] == ("", "84", "a minute")
    assert rows["Winding to earth"] == ("OL", "", "ohm")
    assert rows["Holds while shaken"] == ("", "yes", "")
    assert [row[0].split("\n")[0] for row in table.rows][:2] == [
        "Standing volts",
        "Charging volts at about 5000 rev/min",
    ]


def test_no_reading_is_lost_when_one_thing_was_read_often() -> None:
    often = [
        Reading(id=at, card=1, kind="drain", value=float(at), unit="mA", conditions={}, phase=phase,
                at=datetime(2026, 3, 2, 8, at, tzinfo=UTC))
        for at, phase in enumerate([Phase.BEFORE, Phase.BEFORE, Phase.AFTER, Phase.BEFORE, Phase.AFTER])
    ]  # fmt: skip
    rows = before_and_after(often).rows
    assert [row[1:3] for row in rows] == [("0", "2"), ("1", "4"), ("3", "")]


def test_a_reading_at_another_place_has_its_own_row() -> None:
    one = build.READINGS[5]
    assert len(before_and_after([one, replace(one, id=99, place="tail lamp")]).rows) == 2


def test_a_charging_check_shows_battery_earth_and_what_was_judged() -> None:
    text = squeezed(plain(charging()))
    for wanted in ("Charging check", "12 V, AGM, 12 Ah", "negative", "12.12 12.78 V",
                   "13.1 14.3 V before: low", "after: good", "it charges as it should"):  # fmt: skip
        assert wanted in text, wanted


def test_a_recheck_letter_says_what_when_and_how_it_read() -> None:
    text = squeezed(plain(recheck()))
    for wanted in (
        "27 Mar 2026", "Hello Adaeze Oyelaran,", "Halden 650 twin, 1998, LKM 412", "26-0412",
        "28 days or 500 km on, counted from 6 Mar 2026", "3 Apr 2026 or at 41,730 km, whichever comes first",
        "standing volts and charging volts again", "12.78 V", "14.3 V", "14.1 V", "0155 0100 200",
    ):  # fmt: skip
        assert wanted in text, wanted


def test_a_recheck_without_an_odometer_has_a_date_only() -> None:
    by_date = replace(build.RECHECK, due_odometer=None, distance=0)
    text = squeezed(plain(recheck_letter(by_date, bike=build.BIKE, customer=build.CUSTOMER, shop=build.SHOP)))
    assert "Please bring it by 3 Apr 2026." in text
    assert "whichever" not in text
    short = recheck_text(by_date, bike=build.BIKE, shop=build.SHOP)
    assert short == (
        "your Halden 650 twin, 1998, LKM 412 is due for a look again (charging) by 3 Apr 2026."
        " Low Gate Motorcycle Electrics 0155 0100 200"
    )


def test_a_finding_that_was_mended_is_not_listed_as_left() -> None:
    mended: Finding = build.FINDINGS[0]
    assert "Seen, and left" not in plain(loom_record(replace(build.FACTS, findings=(mended,))))


def test_days_are_the_shops_own() -> None:
    late: Repair = replace(build.CONNECTOR, done_at=datetime(2026, 3, 3, 23, 30, tzinfo=UTC))
    abroad = replace(build.SHOP, zone="Asia/Tokyo")
    text = plain(loom_record(replace(build.FACTS, shop=abroad, repairs=(late,))))
    assert "4 Mar 2026 by Ines" in text
