"""The charging check: the steps of each kind of bike, every row of the table, what must never be said."""

import itertools
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.electrics.charging import judge_all, steps_for, taken_for, verdict
from tracker.electrics.taken import judge_reading, judge_readings
from tracker.records.bike import OwnFigure
from tracker.records.card import Phase, Reading
from tracker.records.charging import AC_PER_1000, SIGNS, ChargingBike, ChargingVerdict, ChargingWord
from tracker.records.limits import ALTERNATOR_KINDS, BATTERY_KINDS, LimitClass, Word
from tracker.seedfiles.charging import load_charging
from tracker.seedfiles.limits import load_limits
from tracker.seedfiles.readings import load_readings

TABLE, LIMITS, KINDS = load_charging(), load_limits(), load_readings()
NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)
THREE = ChargingBike(volts=12, battery="agm", alternator="three-phase")
LITHIUM = replace(THREE, battery="lithium")
FIELD = replace(THREE, alternator="excited-field")
TOTAL_LOSS = replace(THREE, alternator="none")
SIX = replace(THREE, volts=6, battery="flooded")
FAULTS = set(ChargingWord) - {ChargingWord.NOTHING, ChargingWord.NOT_ENOUGH}
_count = itertools.count(1)


def read(
    kind: str,
    value: float | None,
    state: str = "",
    place: str = "",
    phase: Phase = Phase.BEFORE,
    **conditions: str,
) -> Reading:
    number = next(_count)
    return Reading(
        id=number,
        card=1,
        kind=kind,
        value=value,
        unit=KINDS[kind].unit,
        words="OL" if value is None else f"{value:g}",
        state=state,
        place=place,
        phase=phase,
        conditions=conditions,
        at=NOON + timedelta(minutes=number),
    )


def own(kind: str, least: float | None, most: float | None, unit: str = "V") -> OwnFigure:
    return OwnFigure(kind=kind, least=least, most=most, unit=unit, source="manual p. 92", who="Ada", at=NOON)


SPEED, LOADED = "5000 rev/min, lamps off", "5000 rev/min, lamps on"


def standing(volts: float = 12.8, hours: str = "9") -> Reading:
    return read("standing_volts", volts, hours_standing=hours)


def charging(off: float, on: float | None = None) -> list[Reading]:
    lamps = [] if on is None else [read("regulated_volts_lamps", on, LOADED)]
    return [read("regulated_volts", off, SPEED), *lamps]


def ac(a: float, b: float, c: float, state: str = "5000 rev/min, plug apart") -> list[Reading]:
    return [read("ac_volts_ab", a, state), read("ac_volts_bc", b, state), read("ac_volts_ca", c, state)]


def drops(live: float = 0.1, ground: float = 0.05) -> list[Reading]:
    return [
        read("drop_positive", live, LOADED, amps="9"),
        read("drop_earth", ground, LOADED, amps="9"),
    ]


LOAD_GOOD = read("load_volts", 10.4, temperature="21 C")
LOAD_BAD = read("load_volts", 8.9, temperature="21")
CRANKS = read("cranking_volts", 10.6)
NO_DRAIN = read("drain", 1.2)
WHOLE = [standing(), LOAD_GOOD, *charging(14.2, 14.0), NO_DRAIN]

ROWS: dict[str, tuple[ChargingBike, list[Reading]]] = {
    "over-sense": (THREE, [*charging(15.3), read("sense_drop", 0.9, LOADED)]),
    "over-earth": (THREE, [*charging(15.3), *drops(0.1, 0.4)]),
    "over-lithium-stop": (LITHIUM, charging(15.0)),
    "over-stop": (THREE, charging(16.3)),
    "over-regulator": (THREE, [*charging(15.3), *drops()]),
    "over-high": (THREE, charging(15.3)),
    "stator-earth": (THREE, [read("insulation_ohms", 40, place="stator-plug:w to the case")]),
    "ac-unbalanced-apart": (THREE, ac(61, 22, 23)),
    "ac-unbalanced-diode": (
        THREE,
        [*ac(61, 22, 23, "5000 rev/min, loaded"), read("diode_forward", None, "plain diodes")],
    ),
    "ac-unbalanced-loaded": (THREE, ac(61, 22, 23, "5000 rev/min, loaded")),
    "ac-unbalanced": (THREE, ac(61, 22, 23, "5000 rev/min")),
    "ac-low": (replace(THREE, own=(own(AC_PER_1000, 9.6, 16),)), ac(40, 41, 40)),
    "ac-flat": (
        THREE,
        [
            read("ac_volts_ab", 30, "2000 rev/min, plug apart"),
            read("ac_volts_ab", 40, "5000 rev/min, plug apart"),
        ],
    ),
    "ac-dead-field": (FIELD, ac(0.2, 0.1, 0.2)),
    "ac-dead": (THREE, ac(0.2, 0.1, 0.2)),
    "diode-bad": (THREE, [read("diode_forward", 1.9, "plain diodes, unplugged")]),
    "live-high": (THREE, [*charging(12.9), *drops(0.9)]),
    "ground-high": (THREE, [*charging(13.0), read("drop_earth", 0.32, LOADED)]),
    "drain-high": (THREE, [standing(12.1), read("drain", 180)]),
    "empty-lithium": (LITHIUM, [standing(9.6), *charging(12.9)]),
    "flat-lithium": (LITHIUM, [standing(12.6), *charging(12.9)]),
    "flat": (THREE, [standing(12.2), *charging(12.9)]),
    "worn": (THREE, [standing(), LOAD_BAD]),
    "worn-unsure": (THREE, [LOAD_BAD]),
    "live-low": (THREE, [standing(), *charging(13.1), *drops(0.3)]),
    "regulator-sure": (
        replace(THREE, own=(own(AC_PER_1000, 9.6, 16),)),
        [standing(), *charging(12.9), *ac(64, 63, 64), *drops()],
    ),
    "regulator": (THREE, [standing(), *charging(12.9), *ac(64, 63, 64), *drops()]),
    "regulator-drops": (THREE, [*charging(12.9), *ac(64, 63, 64)]),
    "low-dynamo": (replace(THREE, alternator="dynamo"), charging(12.9)),
    "low-field": (FIELD, charging(12.9)),
    "low-sound": (THREE, [standing(), LOAD_GOOD, *charging(12.9)]),
    "low-cranks": (THREE, [standing(), CRANKS, *charging(12.9)]),
    "low": (THREE, charging(12.9)),
    "current-out": (THREE, [read("charge_current", -4, "5000 rev/min, lamps on")]),
    "lamps-regulator": (THREE, [*charging(14.2, 12.9), *ac(64, 63, 64)]),
    "lamps": (THREE, charging(14.2, 12.9)),
    "crank-starter": (THREE, [LOAD_GOOD, read("cranking_volts", 8.2)]),
    "crank-weak": (THREE, [standing(), read("cranking_volts", 8.2)]),
    "crank": (THREE, [read("cranking_volts", 9.2)]),
    "above": (THREE, charging(14.9)),
    "drain-look": (THREE, [read("drain", 12)]),
    "nothing": (THREE, WHOLE),
    "nothing-cranks": (THREE, [standing(), CRANKS, *charging(14.2, 14.0), NO_DRAIN]),
    "nothing-lithium": (LITHIUM, [standing(13.3), *charging(14.2, 14.0), NO_DRAIN]),
    "nothing-charges": (TOTAL_LOSS, [standing(), LOAD_GOOD, NO_DRAIN]),
    "no-alternator": (TOTAL_LOSS, [standing(), NO_DRAIN]),
    "good-no-drain": (THREE, [standing(), LOAD_GOOD, *charging(14.2, 14.0)]),
    "good-no-battery": (THREE, [standing(), *charging(14.2, 14.0), NO_DRAIN]),
    "good-no-lamps": (THREE, [standing(), *charging(14.2)]),
    "no-limits": (SIX, charging(7.1)),
    "no-battery": (replace(THREE, volts=0, battery="none", alternator="lighting-coil"), []),
    "standing-only": (THREE, [standing()]),
    "begin": (THREE, []),
}

AGAINST: dict[str, list[Reading]] = {
    "c-volts-current": [*charging(14.2), read("charge_current", -3, LOADED)],
    "c-charges-without-ac": [*charging(14.2), *ac(0.1, 0.1, 0.1)],
    "c-charges-unbalanced": [*charging(14.2, 14.1), *ac(61, 22, 23)],
    "c-charges-to-earth": [*charging(14.2, 14.1), read("insulation_ohms", 20, place="stator to case")],
    "c-worn-cranks": [LOAD_BAD, CRANKS],
    "c-in-without-volts": [*charging(12.2), read("charge_current", 6, LOADED)],
    "c-twice": [*charging(14.2), *charging(13.0)],
}


def said(bike: ChargingBike, readings: list[Reading]) -> ChargingVerdict:
    return verdict(readings, bike, TABLE, LIMITS)


def test_every_row_of_the_table_has_its_readings_here() -> None:
    assert {row.id for row in TABLE.rows if not row.contradiction} == set(ROWS)
    assert {row.id for row in TABLE.rows if row.contradiction} == set(AGAINST)


@pytest.mark.parametrize("name", ROWS)
def test_a_row_decides_by_its_readings(name: str) -> None:
    bike, readings = ROWS[name]
    row = next(row for row in TABLE.rows if row.id == name)
    found = said(bike, readings)
    assert found.row == name
    assert (found.word, found.could_be, found.confidence) == (row.word, row.could_be, row.confidence)
    assert found.reasons[0] == row.reason
    assert not found.contradictions
    assert found == said(bike, list(reversed(readings)))  # they may be taken down in any order


@pytest.mark.parametrize("name", [name for name, row in ROWS.items() if row[1]])
def test_a_fault_says_by_which_reading_and_limit(name: str) -> None:
    found = said(*ROWS[name])
    if found.word in FAULTS and found.row not in ("ac-dead", "ac-flat"):
        assert found.limits
        assert len(found.reasons) > 1
        assert all(limit.limit_class in LimitClass for limit in found.limits)


@pytest.mark.parametrize("name", AGAINST)
def test_readings_that_contradict_each_other_are_said(name: str) -> None:
    readings = AGAINST[name]
    row = next(row for row in TABLE.rows if row.id == name)
    found = said(THREE, readings)
    at = [words.startswith(row.reason) for words in found.contradictions].index(True)
    ids = found.against[at]
    assert ids
    assert len(set(ids)) == len(ids)
    assert set(ids) <= {one.id for one in readings}
    assert found.confidence == "low"
    if row.next:
        assert found.next is not None
        assert found.next.id in row.next


def test_not_enough_always_names_the_reading_that_would_decide() -> None:
    for name, (bike, readings) in ROWS.items():
        found = said(bike, readings)
        if found.word is ChargingWord.NOT_ENOUGH and name != "no-battery":
            assert found.next is not None, name
            assert found.next in steps_for(bike, TABLE)


def test_the_next_reading_is_one_that_was_not_taken() -> None:
    low = said(THREE, [*charging(12.9), read("ac_volts_ab", 60, "5000 rev/min, plug apart")])
    assert low.next is not None
    assert low.next.id == "ac-bc"


def test_a_flat_battery_is_charged_before_anything_is_judged_by_its_volts() -> None:
    found = said(THREE, [standing(12.2), *charging(12.4), read("cranking_volts", 7.0)])
    assert (found.word, found.row) == (ChargingWord.NOT_ENOUGH, "flat")
    assert found.signs["charge"] == "no verdict"
    with_earth = said(THREE, [standing(12.2), *charging(12.4), read("drop_earth", 0.5, LOADED)])
    assert with_earth.word is ChargingWord.WIRING
    assert any("charge it first" in words for words in with_earth.also)


def test_charged_in_between_the_newest_standing_volts_count() -> None:
    assert said(THREE, [standing(12.2), standing(12.8), *charging(12.4)]).row == "low"


def test_a_reading_is_judged_by_the_charge_of_its_time() -> None:
    taken = [*charging(12.4), standing(12.2), *charging(12.3), standing(12.8), *charging(12.5)]
    found = judge_readings(taken, THREE, LIMITS)
    words = [found[one.id].word for one in taken if one.kind == "regulated_volts"]
    assert words == [Word.NO_LIMITS, Word.NO_LIMITS, Word.FAULT]


def test_somebodys_word_that_it_was_charged_counts() -> None:
    low = standing(11.9)
    swapped = read("regulated_volts", 12.0, "5000 rev/min, charged battery put in")
    assert said(THREE, [low, swapped]).row == "low"
    not_so = read("regulated_volts", 12.0, "5000 rev/min, discharged battery, not charged")
    assert said(THREE, [low, not_so]).row == "flat"


def test_three_pairs_are_judged_against_each_other() -> None:
    good, bad = ac(64, 63, 64), ac(61, 22, 23, "3000 rev/min, plug apart")
    found = judge_all([*good, *bad], THREE, LIMITS)
    assert {found[one.id].word for one in good} == {Word.GOOD}
    assert {found[one.id].word for one in bad} == {Word.FAULT}
    assert judge_all(good[:2], THREE, LIMITS)[good[0].id].word is Word.NO_LIMITS
    single = replace(THREE, alternator="single-phase")
    assert judge_all(good, single, LIMITS)[good[0].id].word is Word.NO_LIMITS


def test_a_drain_and_a_worn_battery_are_both_said() -> None:
    found = said(THREE, [standing(), LOAD_BAD, read("drain", 90)])
    assert found.word is ChargingWord.DRAIN
    assert any(words.startswith("battery: Charged") for words in found.also)


@pytest.mark.parametrize("volts", [12.65, 12.8, 13.0])
def test_standing_volts_alone_never_pass_a_battery(volts: float) -> None:
    found = said(THREE, [standing(volts)])
    assert found.word is ChargingWord.NOT_ENOUGH
    assert "never pass a battery" in " ".join(found.reasons)


def test_ohms_never_clear_a_stator() -> None:
    ohms = [read("winding_ohms", 0.4, place=pair) for pair in ("a-b", "b-c", "c-a")]
    with_ohms, without = said(THREE, [*charging(12.9), *ohms]), said(THREE, charging(12.9))
    assert (with_ohms.word, with_ohms.could_be) == (without.word, without.could_be)
    assert ChargingWord.STATOR in with_ohms.could_be


def test_no_ac_or_ohm_figure_is_for_all_bikes() -> None:
    for scale in (0.3, 1, 3):
        one = said(THREE, [*charging(12.9), *ac(20 * scale, 20.2 * scale, 19.9 * scale), *drops()])
        assert one.row == "regulator"
    verdicts = judge_readings([*ac(9, 9, 9), read("winding_ohms", 4.0, place="a-b")], THREE, LIMITS)
    assert {one.word for one in verdicts.values()} == {Word.NO_LIMITS}


def test_a_small_drop_without_current_clears_nothing() -> None:
    still = [read("drop_positive", 0.0), read("drop_earth", 0.0)]
    found = said(THREE, [*charging(12.9), *ac(64, 63, 64), *still])
    assert found.row == "regulator-drops"
    assert found.signs["live"] == found.signs["ground"] == "no current"
    assert judge_reading(still[0], THREE, LIMITS).word is Word.NO_LIMITS


def test_a_big_drop_with_the_engine_running_proves_its_own_current() -> None:
    assert judge_reading(read("drop_positive", 0.9, "5000 rev/min"), THREE, LIMITS).word is Word.FAULT
    assert judge_reading(read("drop_positive", -0.9, "5000 rev/min"), THREE, LIMITS).word is Word.FAULT
    assert judge_reading(read("drop_positive", 0.1, "5000 rev/min"), THREE, LIMITS).word is Word.NO_LIMITS
    assert judge_reading(read("drop_positive", 0.9, "key on"), THREE, LIMITS).word is Word.NO_LIMITS


def test_a_complaint_with_a_sound_battery_does_not_end_in_another_battery() -> None:
    found = said(THREE, [standing(), LOAD_GOOD, *charging(12.8)])
    assert ChargingWord.BATTERY not in found.could_be
    assert {ChargingWord.REGULATOR, ChargingWord.STATOR} <= set(found.could_be)
    assert "another battery will not mend it" in found.reasons[0]


def test_lithium_overrides_what_holds_for_lead() -> None:
    assert said(LITHIUM, charging(15.0)).row == "over-lithium-stop"
    assert said(THREE, charging(15.0)).row == "above"
    assert said(LITHIUM, charging(14.65)).word is ChargingWord.OVER
    assert said(THREE, charging(14.65)).word is not ChargingWord.OVER
    own_high = replace(LITHIUM, own=(own("regulated_volts", 14.0, 15.5),))
    assert said(own_high, charging(15.1)).row == "over-lithium-stop"


def test_the_bikes_own_figure_decides_before_what_is_usual() -> None:
    high = replace(THREE, own=(own("regulated_volts", 14.4, 15.2),))
    assert said(high, charging(15.1)).row == "good-no-lamps"
    low = said(high, charging(14.0))
    assert low.row == "low"
    assert [limit.limit_class for limit in low.limits] == [LimitClass.BIKES_OWN]


def test_an_own_figure_for_1000_revolutions_needs_the_speed() -> None:
    bike = replace(THREE, own=(own(AC_PER_1000, 9.6, 16),))
    assert judge_reading(read("ac_volts_ab", 45, "5000 rev/min, plug apart"), bike, LIMITS).word is Word.FAULT
    assert judge_reading(read("ac_volts_ab", 64, "5,000 rpm"), bike, LIMITS).word is Word.GOOD
    unsaid = judge_reading(read("ac_volts_ab", 45), bike, LIMITS)
    assert unsaid.word is Word.NO_LIMITS
    assert "rev/min down" in unsaid.why[0]
    assert judge_reading(read("ac_volts_ab", 13, "5000 rev/min, loaded"), bike, LIMITS).word is Word.NO_LIMITS


def test_winding_ohms_are_taken_less_the_leads_at_20_degrees() -> None:
    bike = replace(THREE, own=(own("winding_ohms", 0.1105, 0.1495, "ohm"),))
    warm = read("winding_ohms", 0.36, place="a-b", lead_ohms="0.2", temperature="70")
    assert judge_reading(warm, bike, LIMITS).word is Word.GOOD
    assert judge_reading(replace(warm, conditions={}), bike, LIMITS).word is Word.FAULT
    field = read("winding_ohms", 3.4, place="field", lead_ohms="0.2")
    assert judge_reading(field, bike, LIMITS).word is Word.NO_LIMITS


@pytest.mark.parametrize("alternator", ["half-wave", "lighting-coil", "dynamo", "don't know"])
def test_a_winding_earthed_by_design_is_never_condemned(alternator: str) -> None:
    bike = replace(THREE, alternator=alternator)
    touching = read("insulation_ohms", 0.3, place="stator to case")
    assert judge_reading(touching, bike, LIMITS).word is Word.NO_LIMITS
    assert said(bike, [touching]).word is ChargingWord.NOT_ENOUGH


def test_a_wires_ohms_to_the_frame_are_not_the_stators() -> None:
    wire = read("insulation_ohms", 3, place="signals-joint")
    assert judge_reading(wire, THREE, LIMITS).word is Word.NO_LIMITS


def test_over_the_range_is_an_answer_in_ohms_only() -> None:
    assert judge_reading(read("insulation_ohms", None), THREE, LIMITS).word is Word.GOOD
    over = judge_reading(read("regulated_volts", None, SPEED), THREE, LIMITS)
    assert over.word is Word.NO_LIMITS
    assert "over its range" in over.why[0]


def test_nothing_charges_on_a_total_loss_bike() -> None:
    assert judge_reading(read("regulated_volts", 12.1, SPEED), TOTAL_LOSS, LIMITS).word is Word.NO_LIMITS


def test_a_battery_nobody_knows_lowers_the_confidence() -> None:
    unknown = replace(THREE, battery="don't know")
    assert (said(unknown, WHOLE).word, said(unknown, WHOLE).confidence) == (ChargingWord.NOTHING, "fair")


def test_before_and_after_know_their_own_battery() -> None:
    flat_before = standing(12.1)
    after = read("regulated_volts", 12.3, SPEED, phase=Phase.AFTER)
    before = read("regulated_volts", 12.3, SPEED)
    found = judge_readings([flat_before, before, after], THREE, LIMITS)
    assert (found[before.id].word, found[after.id].word) == (Word.NO_LIMITS, Word.FAULT)


class TestSteps:
    def steps(self, **bike: object) -> list[str]:
        return [step.id for step in steps_for(replace(THREE, **bike), TABLE)]  # type: ignore[arg-type]

    def test_in_working_order(self) -> None:
        steps = self.steps(sense="no")
        some = ["standing", "cranking", "regulated", "ac-ab", "drain"]
        assert [name for name in steps if name in some] == some
        assert "sense" not in steps
        assert "field-volts" not in steps

    def test_each_kind_of_bike_gets_what_makes_sense(self) -> None:
        assert "ac-bc" not in self.steps(alternator="single-phase")
        assert "insulation" in self.steps(alternator="single-phase")
        assert "insulation" not in self.steps(alternator="half-wave")
        assert {"field-volts", "field-ohms"} <= set(self.steps(alternator="excited-field"))
        dynamo = self.steps(alternator="dynamo")
        assert "dynamo" in dynamo
        assert not any(name.startswith(("ac", "ohms", "diode")) for name in dynamo)
        assert "regulated" not in self.steps(alternator="none")
        assert "load" not in self.steps(battery="lithium")

    def test_without_a_battery_only_the_winding_is_left(self) -> None:
        assert self.steps(volts=0, battery="none", alternator="lighting-coil") == ["ac-ab", "ohms-ab"]
        assert self.steps(volts=0, battery="none", alternator="none") == []

    def test_what_nobody_knows_keeps_every_step(self) -> None:
        assert steps_for(ChargingBike(), TABLE) == TABLE.steps

    def test_every_step_says_how_and_every_kind_is_one(self) -> None:
        for step in TABLE.steps:
            assert step.kind in KINDS
            assert step.meter
            assert step.leads
            assert step.engine

    def test_readings_find_their_step(self) -> None:
        pairs = [read("winding_ohms", 0.4, place=place) for place in ("a-b", "b-c", "field", "each pair")]
        found = {step.id: [one.place for one in taken_for(step, pairs)] for step in TABLE.steps}
        assert found["ohms-ab"] == ["a-b", "each pair"]
        assert found["ohms-bc"] == ["b-c"]
        assert found["field-ohms"] == ["field"]
        assert found["ohms-ca"] == []


VALUES = {
    "standing_volts": (0, 20), "cranking_volts": (0, 20), "load_volts": (0, 20), "idle_volts": (0, 20),
    "regulated_volts": (0, 20), "regulated_volts_lamps": (0, 20), "charge_current": (-60, 60),
    "drain": (0, 900),
    "ac_volts_ab": (0, 200), "ac_volts_bc": (0, 200), "ac_volts_ca": (0, 200), "winding_ohms": (0, 1e6),
    "insulation_ohms": (0, 1e9), "diode_forward": (0, 3), "sense_drop": (-1, 16), "drop_positive": (-1, 16),
    "drop_earth": (-1, 16), "state_of_charge": (0, 100),
}  # fmt: skip
STATES = ("", SPEED, LOADED, "5000 rev/min, plug apart", "cranking", "plain diodes", "idle")


@st.composite
def taken(draw: st.DrawFn) -> Reading:
    kind = draw(st.sampled_from(sorted(VALUES)))
    value = draw(st.none() | st.floats(*VALUES[kind]))
    notes: dict[str, str] = draw(
        st.fixed_dictionaries(
            {},
            optional={
                "hours_standing": st.sampled_from(["1", "9", "x"]),
                "temperature": st.sampled_from(["21", "-5"]),
                "amps": st.sampled_from(["0", "9"]),
                "lead_ohms": st.sampled_from(["0.2", "99"]),
            },
        )
    )
    place = draw(st.sampled_from(["", "a-b"]))
    return replace(read(kind, value, draw(st.sampled_from(STATES)), place), conditions=notes)


BIKES = st.builds(
    ChargingBike,
    volts=st.sampled_from([None, 0, 6, 12, 24]),
    battery=st.sampled_from(BATTERY_KINDS),
    alternator=st.sampled_from(ALTERNATOR_KINDS),
    sense=st.sampled_from(["yes", "no", "don't know"]),
)


@settings(max_examples=150, deadline=None)
@given(st.lists(taken(), max_size=9), BIKES)
def test_whatever_was_read_there_is_a_verdict_with_reasons(
    readings: list[Reading], bike: ChargingBike
) -> None:
    found = said(bike, readings)
    assert found.reasons
    assert {name for name, word in found.signs.items() if word not in SIGNS[name]} == set()
    kinds = {one.kind for one in readings}
    if found.word is ChargingWord.NOTHING:
        assert "drain" in kinds
        assert kinds & {"load_volts", "cranking_volts"} or bike.battery == "lithium"
    if not readings:
        assert found.word is ChargingWord.NOT_ENOUGH
    if found.contradictions:
        assert found.confidence == "low"


VOLTS_ONLY = ("standing_volts", "cranking_volts", "load_volts", "idle_volts", "regulated_volts")


@settings(max_examples=100, deadline=None)
@given(
    st.lists(st.tuples(st.sampled_from(VOLTS_ONLY), st.floats(0, 20)), max_size=6),
    st.sampled_from([None, 0, 6, 24]),
    st.sampled_from(BATTERY_KINDS),
)
def test_no_volts_fail_a_bike_for_which_there_are_no_limits(
    pairs: list[tuple[str, float]], volts: int | None, battery: str
) -> None:
    bike = replace(THREE, volts=volts, battery=battery)
    readings = [read(kind, value, SPEED, hours_standing="9", temperature="21") for kind, value in pairs]
    assert said(bike, readings).word is ChargingWord.NOT_ENOUGH
    assert {one.word for one in judge_readings(readings, bike, LIMITS).values()} <= {Word.NO_LIMITS}
