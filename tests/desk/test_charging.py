"""A card's charging check at the desk: the bike's own facts and figures, readings judged, the verdict."""

import pytest

from tests.desk.conftest import Bench
from tracker.desk.charging import charging_bike, charging_check, judged
from tracker.desk.take_charging import readings_given
from tracker.papers.charging_words import paper_words
from tracker.papers.gather import known_words
from tracker.papers.tongue import speaking
from tracker.records.bike import Bike, OwnFigure
from tracker.records.card import Phase
from tracker.records.charging import AC_PER_1000, ChargingBike, ChargingWord
from tracker.records.limits import LimitClass, Word
from tracker.records.problem import Mistakes

SPEED = "5000 rev/min, lamps off"


def booked(bench: Bench, **more: object) -> str:
    given = {"volts": "12", "battery_kind": "agm", "features": {"alternator": "three-phase", "sense": "no"}}
    return str(bench.booked(**{**given, **more}).number)


def bike_of(bench: Bench, number: int = 1) -> ChargingBike:
    return bench.desk.read(lambda reader: charging_bike(reader, reader.get(Bike, number)))


def test_what_the_bike_says_of_itself_decides_what_holds(bench: Bench) -> None:
    booked(bench, earth="positive")
    assert bike_of(bench) == ChargingBike(
        volts=12, battery="agm", alternator="three-phase", earth="positive", sense="no"
    )


def test_the_answers_of_its_loom_count_where_the_bike_says_nothing(bench: Bench) -> None:
    bench.booked(features={"volts": "6", "battery": "flooded", "earth": "negative"})
    assert bike_of(bench) == ChargingBike(volts=6, battery="flooded", earth="negative")


def test_nothing_known_is_asked_for_and_fails_nothing(bench: Bench) -> None:
    bench.booked()
    bench("read", card="1", kind="regulated_volts", value="7.1", state=SPEED)
    check = charging_check(bench.desk, "1")
    assert len(check.unsaid) == 3
    assert check.now.word is ChargingWord.NOT_ENOUGH
    assert {verdict.word for verdict in check.judged.values()} == {Word.NO_LIMITS}


def test_a_unit_without_a_bike_can_be_checked_too(bench: Bench) -> None:
    bench("book-in", unit="stator", customer="Oona Mirek", complaint="no charge")
    bench("read", card="1", kind="winding_ohms", value="0.4", place="a-b")
    check = charging_check(bench.desk, "1")
    assert check.unsaid[0].startswith("There is no bike")
    assert check.now.word is ChargingWord.NOT_ENOUGH


def test_readings_in_any_order_come_to_a_verdict_and_go_on_another_day(bench: Bench) -> None:
    card = booked(bench)
    bench("read", card=card, kind="regulated_volts", value="12.9", state=SPEED)
    check = charging_check(bench.desk, card)
    assert check.now.word is ChargingWord.NOT_ENOUGH
    assert check.now.next is not None
    assert check.now.next.id == "ac-ab"
    assert [taken.step.id for taken in check.steps if taken.before] == ["regulated"]
    bench.later(days=1)
    for pair, volts in (("ab", "64"), ("bc", "63"), ("ca", "64")):
        bench("read", card=card, kind=f"ac_volts_{pair}", value=volts, state="5000 rev/min, plug apart")
    for kind in ("drop_positive", "drop_earth"):
        bench("read", card=card, kind=kind, value="60 mV", state=SPEED, conditions={"amps": "9"})
    assert charging_check(bench.desk, "LKM 412").now.word is ChargingWord.REGULATOR


def test_before_and_after_are_told_apart(bench: Bench) -> None:
    card = booked(bench)
    bench("read", card=card, kind="drain", value="90 mA")
    assert charging_check(bench.desk, card).after is None
    bench("test", card=card, kind="drain", value="1.4 mA")
    check = charging_check(bench.desk, card)
    assert check.before.word is ChargingWord.DRAIN
    assert check.after is not None
    assert check.after.word is ChargingWord.NOT_ENOUGH
    assert check.now == check.after


def test_readings_of_a_card_are_judged_for_whoever_shows_them(bench: Bench) -> None:
    card = booked(bench)
    bench("read", card=card, kind="cranking_volts", value="8.7")
    bench("read", card=card, kind="function", value="yes")
    bench("read", card=card, kind="drop_earth", value="0.1")
    words = known_words(bench.desk, bench.desk.facts(1)).judged
    assert words == {1: "fault (common practice)", 3: "no limits for this"}


class TestOwnFigures:
    def test_it_keeps_who_entered_it_and_from_what(self, bench: Bench) -> None:
        booked(bench)
        figure = bench(
            "bike figure",
            bike="LKM 412",
            kind="regulated volts",
            least="14.0",
            most="14,9 V",
            source="manual p. 92",
        )
        assert isinstance(figure, OwnFigure)
        assert (figure.least, figure.most, figure.unit, figure.who) == (14.0, 14.9, "V", "Ines")
        bench("read", card="1", kind="regulated_volts", value="13.8", state=SPEED)
        verdict = judged(bench.desk, bench.desk.facts(1))[1]
        assert verdict.word is Word.FAULT
        assert verdict.limit is not None
        assert verdict.limit.limit_class is LimitClass.BIKES_OWN
        assert "Limit: bike's own, manual p. 92, entered by Ines." in verdict.why

    def test_as_printed_with_its_per_cent(self, bench: Bench) -> None:
        booked(bench)
        figure = bench(
            "bike figure", bike="1", kind="winding_ohms", figure="130 mohm", percent="15", source="a page"
        )
        assert (figure.least, figure.most) == pytest.approx((0.1105, 0.1495))

    def test_ac_volts_are_kept_for_1000_revolutions(self, bench: Bench) -> None:
        booked(bench)
        figure = bench(
            "bike figure",
            bike="1",
            kind="ac_volts",
            figure="64",
            percent="25",
            rev_min="5000",
            source="a page",
        )
        assert (figure.kind, figure.least, figure.most) == (AC_PER_1000, 9.6, 16.0)
        with pytest.raises(Mistakes, match="rise with speed"):
            bench("bike figure", bike="1", kind="ac_volts", least="48", source="a page")

    def test_the_bikes_own_wins_over_its_models_and_a_newer_over_an_older(self, bench: Bench) -> None:
        booked(bench)
        bench("bike figure", bike="1", kind="drain", most="3", source="model page", model="yes")
        booked(bench, registration="NVR 9", customer="Tavi Ro", phone="0155 0199 205")
        assert [figure.most for figure in bike_of(bench, 2).own] == [3]
        bench("bike figure", bike="1", kind="drain", most="8", source="measured")
        bench("bike figure", bike="1", kind="drain", most="9", source="measured again")
        assert [figure.most for figure in bike_of(bench, 1).own] == [9]
        assert [figure.most for figure in bike_of(bench, 2).own] == [3]

    @pytest.mark.parametrize(
        ("given", "field"),
        [
            ({"kind": "drain"}, "least"),
            ({"kind": "moon", "least": "1"}, "kind"),
            ({"kind": "function", "least": "1"}, "kind"),
            ({"kind": "drain", "most": "3 V"}, "most"),
            ({"kind": "drain", "most": "OL"}, "most"),
            ({"kind": "drain", "figure": "3"}, "figure"),
            ({"kind": "drain", "figure": "0", "percent": "5"}, "figure"),
            ({"kind": "drain", "least": "5", "most": "3"}, "most"),
            ({"kind": "drain", "least": "5", "source": ""}, "source"),
        ],
    )
    def test_what_is_no_figure_is_refused(self, bench: Bench, given: dict[str, str], field: str) -> None:
        booked(bench)
        with pytest.raises(Mistakes) as caught:
            bench("bike figure", **{"bike": "1", "source": "a page", **given})
        assert field in {problem.field for problem in caught.value.problems}
        assert bike_of(bench).own == ()

    def test_it_can_be_taken_back(self, bench: Bench) -> None:
        booked(bench)
        bench("bike figure", bike="1", kind="drain", most="3", source="a page")
        bench("undo")
        assert bike_of(bench).own == ()


class TestSeveralReadings:
    def test_all_are_kept_in_one_deed(self, bench: Bench) -> None:
        card = booked(bench)
        given: list[dict[str, object]] = [
            {"kind": "standing_volts", "value": "12.8", "conditions": {"hours_standing": "9"}},
            {"kind": "drain", "value": "1.2 mA", "phase": "after"},
        ]
        bench.desk.do(readings_given(card, given, Phase.BEFORE, bench.desk.where))
        kept = sorted(bench.desk.facts(1).readings, key=lambda one: one.id)
        assert [(one.kind, one.value, one.phase) for one in kept] == [
            ("standing_volts", 12.8, "before"),
            ("drain", 1.2, "after"),
        ]
        bench("undo")
        assert bench.desk.facts(1).readings == ()

    def test_one_mistake_keeps_none_and_each_is_named(self, bench: Bench) -> None:
        card = booked(bench)
        given = [
            {"kind": "standing_volts", "value": "12.8"},
            {"kind": "moon", "value": "1"},
            {"kind": "drain", "value": "much"},
        ]
        with pytest.raises(Mistakes) as caught:
            bench.desk.do(readings_given(card, given, Phase.BEFORE, bench.desk.where))
        assert [problem.field for problem in caught.value.problems] == ["readings 2 kind", "readings 3 value"]
        assert bench.desk.facts(1).readings == ()

    def test_fields_that_do_not_exist_are_named(self, bench: Bench) -> None:
        with pytest.raises(Mistakes) as caught:
            readings_given(
                "1", [{"kind": "drain"}, {"phase": "during", "x": 1}], Phase.BEFORE, bench.desk.where
            )
        fields = {problem.field for problem in caught.value.problems}
        assert {"readings 1 value", "readings 2 phase", "readings 2 x", "readings 2 kind"} <= fields


def test_a_german_paper_has_the_figures_that_do_not_agree(bench: Bench) -> None:
    card = booked(bench)
    bench("read", card=card, kind="regulated_volts", value="14.2", state=SPEED)
    bench("read", card=card, kind="charge_current", value="-3.1", state=SPEED)
    check = charging_check(bench.desk, card)
    assert len(check.now.contradictions) == 1
    with speaking("de"):
        said = paper_words(check)
    (against,) = [words for words in said if words.startswith("Dies passt nicht zusammen: ")]
    assert against.endswith("(Ladespannung bei etwa 5000/min 14,2 V: gut; Ladestrom -3,1 A)")
    assert "wrong" not in against
