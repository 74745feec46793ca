"""The tables of kinds of reading and of rechecks."""

import pytest

from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds
from tracker.seedfiles.readings import READINGS, load_readings
from tracker.seedfiles.rechecks import RECHECKS, load_rechecks

HEADER = "id,was,words,unit,state,meter,how,caution,least,most,status,source\n"
WANTED = (
    "standing_volts", "cranking_volts", "idle_volts", "regulated_volts", "regulated_volts_lamps",
    "charge_current", "drain", "drop_positive", "drop_earth", "ac_volts_ab", "ac_volts_bc", "ac_volts_ca",
    "winding_ohms", "insulation_ohms", "loaded_drop", "lamp_volts", "flash_rate", "pull", "temperature",
    "function",
)  # fmt: skip


def test_the_usual_readings_are_there_with_how_they_are_taken() -> None:
    kinds = load_readings()
    assert set(WANTED) <= set(kinds)
    assert all(kind.how and kind.state and kind.source for kind in kinds.values())
    assert kinds["drain"].unit == "mA"
    assert "10 A hole" in kinds["drain"].caution
    assert "100 V" in kinds["ac_volts_ab"].caution


def test_shipped_tables_are_read_once() -> None:
    assert load_readings() is load_readings(SHIPPED)
    assert load_rechecks() is load_rechecks(SHIPPED)


def test_a_shops_own_table_wins() -> None:
    own = Seeds({READINGS: HEADER + "sag,old_sag,Sag,V,key on,volts,look,,-1,1,common practice,own bench\n"})
    kinds = load_readings(own)
    assert list(kinds) == ["sag"]
    assert kinds["sag"].was == ("old_sag",)
    assert (kinds["sag"].least, kinds["sag"].most) == (-1, 1)


def test_bounds_may_stay_open() -> None:
    own = Seeds({READINGS: HEADER + "sag,,Sag,V,key on,volts,look,,,,common practice,own bench\n"})
    assert (load_readings(own)["sag"].least, load_readings(own)["sag"].most) == (None, None)


def test_every_mistake_of_a_table_is_named() -> None:
    rows = (
        "a,b,,furlong,on,volts,look,,5,1,guessed,\n"  # no words, unit, least above most, status, source
        "b,,B,V,on,volts,,,x,1,read,book\n"  # was of a is b; no how; least is no number
        "b,,B,V,on,volts,look,,0,1,read,book\n"  # twice
    )
    with pytest.raises(SeedMistakes) as caught:
        load_readings(Seeds({READINGS: HEADER + rows}))
    assert {problem.field for problem in caught.value.problems} == {
        "readings.csv row 2, words", "readings.csv row 2, unit", "readings.csv row 2, status",
        "readings.csv row 2, source", "readings.csv row 2, most", "readings.csv row 2, was",
        "readings.csv row 3, how", "readings.csv row 3, least", "readings.csv row 4, id",
    }  # fmt: skip


def test_a_charging_repair_is_looked_at_again_by_the_shops_own_days() -> None:
    kinds = load_rechecks()
    assert (kinds["charging"].days, kinds["charging"].distance_km) == (0, 0)
    assert "regulated_volts" in kinds["charging"].reads
    assert all(set(kind.reads) <= set(load_readings()) for kind in kinds.values())


def test_a_recheck_reads_only_what_can_be_read() -> None:
    text = "id,was,words,days,distance_km,reads,status,source\nx,,X,-1,0,vibes,read,book\n"
    with pytest.raises(SeedMistakes) as caught:
        load_rechecks(Seeds({RECHECKS: text}))
    assert [problem.field for problem in caught.value.problems] == [
        "rechecks.csv row 2, days",
        "rechecks.csv row 2, reads",
    ]
