"""A reading is judged only where a limit holds, by the worst of those that do, and says which."""

import doctest
import math
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.electrics import judge as judging
from tracker.electrics.judge import judge
from tracker.records.bike import OwnFigure
from tracker.records.limits import Conditions, LimitClass, Verdict, Word
from tracker.records.problem import Mistakes
from tracker.seedfiles.limits import load_limits

LIMITS = load_limits()
CHARGING = frozenset({"charging", "current flowing"})
CRANKING = frozenset({"cranking", "current flowing"})


def judged(
    kind: str,
    value: float,
    unit: str = "V",
    *,
    volts: int | None = 12,
    battery: str = "agm",
    facts: frozenset[str] = frozenset(),
    temperature_c: float | None = None,
    own: tuple[OwnFigure, ...] = (),
) -> Verdict:
    conditions = Conditions(volts=volts, battery=battery, facts=facts, temperature_c=temperature_c, own=own)
    return judge(kind, value, unit, conditions, LIMITS)


def own(kind: str, least: float | None, most: float | None, unit: str = "V") -> OwnFigure:
    return OwnFigure(
        kind=kind,
        least=least,
        most=most,
        unit=unit,
        source="manual p. 92",
        who="Ada",
        at=datetime(2026, 4, 1, tzinfo=UTC),
    )


def test_the_examples_in_the_docstrings_hold() -> None:
    result = doctest.testmod(judging)
    assert result.attempted > 5
    assert result.failed == 0


@pytest.mark.parametrize(
    ("volts", "word"),
    [
        (12.3, Word.FAULT), (12.6, Word.LOOK), (13.49, Word.LOOK), (13.5, Word.GOOD), (14.7, Word.GOOD),
        (14.71, Word.LOOK), (15.0, Word.LOOK), (15.01, Word.FAULT), (16.4, Word.FAULT),
    ],
)  # fmt: skip
def test_charging_volts_of_a_lead_acid_battery(volts: float, word: Word) -> None:
    assert judged("regulated_volts", volts).word == word


@pytest.mark.parametrize(
    ("volts", "word"),
    [
        (13.2, Word.LOOK),
        (13.4, Word.GOOD),
        (14.6, Word.GOOD),
        (14.61, Word.LOOK),
        (14.99, Word.LOOK),
        (15.0, Word.FAULT),
    ],
)
def test_lithium_has_its_own_charging_volts(volts: float, word: Word) -> None:
    assert judged("regulated_volts", volts, battery="lithium").word == word


def test_stop_now_is_said_at_15_volts_with_lithium() -> None:
    assert "Stop the engine now" in " ".join(judged("idle_volts", 15.0, battery="lithium").why)


@pytest.mark.parametrize("battery", ["flooded", "agm", "gel", "lithium", "don't know"])
@pytest.mark.parametrize(
    "kind", ["standing_volts", "cranking_volts", "regulated_volts", "idle_volts", "load_volts"]
)
def test_six_volts_are_never_failed(kind: str, battery: str) -> None:
    for volts in (0.0, 3.0, 6.3, 7.4, 9.0):
        verdict = judged(kind, volts, volts=6, battery=battery, facts=frozenset({"rested"}))
        assert verdict.word == Word.NO_LIMITS
        assert verdict.why == ("There is no limit for this at 6 V.",)


def test_without_knowing_the_volts_nothing_is_judged() -> None:
    verdict = judged("regulated_volts", 7.2, volts=None)
    assert verdict.word == Word.NO_LIMITS
    assert verdict.why == ("Say first whether the bike has 6 or 12 V.",)


def test_a_battery_of_another_chemistry_has_no_limits_for_cranking() -> None:
    assert judged("cranking_volts", 8.0, battery="lithium").word == Word.NO_LIMITS
    assert judged("cranking_volts", 8.9).word == Word.FAULT
    assert judged("cranking_volts", 9.0).word == Word.LOOK
    assert judged("cranking_volts", 9.5).word == Word.GOOD


def test_an_unknown_battery_is_taken_for_lead_acid_and_that_is_said() -> None:
    verdict = judged("regulated_volts", 14.65, battery="don't know")
    assert verdict.word == Word.GOOD
    assert "lithium has other limits" in verdict.why[-1]


def test_a_flat_battery_is_charged_first() -> None:
    verdict = judged("regulated_volts", 12.9, facts=frozenset({"flat battery"}))
    assert verdict.word == Word.NO_LIMITS
    assert verdict.why[-1] == "The battery is below 75 %: charge it first, judge later."
    assert judged("cranking_volts", 7, facts=frozenset({"flat battery"})).why == (
        "The battery is below 75 %: charge it first, judge later.",
    )
    assert judged("regulated_volts", 15.4, facts=frozenset({"flat battery"})).word == Word.FAULT


def test_a_guard_clears_nothing() -> None:
    low = judged("idle_volts", 11.9)
    assert low.word == Word.NO_LIMITS
    assert low.why == (
        "Over-voltage: 11.9 V is not over 15.",
        "That is not too much; there is no limit for when it is good.",
    )
    assert judged("idle_volts", 15.1).word == Word.FAULT
    assert judged("idle_volts", 13.1, battery="lithium").word == Word.NO_LIMITS


def test_a_drop_without_current_is_no_verdict() -> None:
    assert judged("drop_positive", 0.9).word == Word.NO_LIMITS
    assert judged("drop_positive", 900, "mV", facts=CHARGING).word == Word.FAULT
    assert judged("drop_positive", 0.3, facts=CHARGING).word == Word.LOOK
    assert judged("drop_positive", 0.3, facts=CRANKING).word == Word.GOOD
    assert judged("drop_earth", 0.21, facts=CRANKING).word == Word.FAULT


def test_the_bikes_own_figure_takes_the_place_of_general_ones_but_not_of_safe_ones() -> None:
    figure = (own("regulated_volts", 14.2, 15.2),)
    kept = judged("regulated_volts", 15.1, own=figure)
    assert kept.word == Word.GOOD
    assert kept.limit is not None
    assert kept.limit.limit_class == LimitClass.BIKES_OWN
    assert "Limit: bike's own, manual p. 92, entered by Ada." in kept.why
    assert judged("regulated_volts", 13.9, own=figure).word == Word.FAULT
    assert judged("regulated_volts", 16.5, own=(own("regulated_volts", 14.2, 17.0),)).word == Word.FAULT
    assert judged("regulated_volts", 15.0, battery="lithium", own=figure).word == Word.FAULT


def test_a_bikes_own_figure_judges_what_no_general_limit_does() -> None:
    assert judged("winding_ohms", 0.15, "ohm").word == Word.NO_LIMITS
    assert (
        judged("winding_ohms", 150, "mohm", own=(own("winding_ohms", 0.11, 0.15, "ohm"),)).word == Word.GOOD
    )


def test_a_bikes_own_figure_at_six_volts_counts() -> None:
    assert judged("regulated_volts", 7.2, volts=6, own=(own("regulated_volts", 6.9, 7.4),)).word == Word.GOOD


def test_drain_knows_a_clock() -> None:
    assert judged("drain", 5, "mA").word == Word.GOOD
    assert judged("drain", 12, "mA").word == Word.LOOK
    assert judged("drain", 0.012, "A", facts=frozenset({"clock or alarm"})).word == Word.GOOD
    assert judged("drain", 21, "mA", facts=frozenset({"clock or alarm"})).word == Word.LOOK
    assert judged("drain", 50.1, "mA", facts=frozenset({"clock or alarm"})).word == Word.FAULT


def test_open_line_to_earth_is_good_only_where_the_winding_is_isolated() -> None:
    isolated = frozenset({"isolated winding"})
    assert judged("insulation_ohms", math.inf, "ohm", facts=isolated).word == Word.GOOD
    found = judged("insulation_ohms", 2, "Mohm", facts=isolated)
    assert found.word == Word.FAULT
    assert "2000000 ohm is under OL" in found.why[0]
    assert judged("insulation_ohms", 0.3, "ohm").word == Word.NO_LIMITS


def test_a_load_test_is_judged_at_its_temperature() -> None:
    assert judged("load_volts", 9.5, temperature_c=21).word == Word.FAULT
    assert judged("load_volts", 9.5, temperature_c=4).word == Word.GOOD
    unknown = judged("load_volts", 9.5)
    assert unknown.word == Word.NO_LIMITS
    assert "temperature" in unknown.why[0]


def test_flash_rates_come_from_the_practice_table() -> None:
    words = [judged("flash_rate", rate, "/min").word for rate in (59, 60, 120, 121)]
    assert words == [Word.FAULT, Word.GOOD, Word.GOOD, Word.FAULT]
    assert judged("flash_rate", 1.5, "Hz").word == Word.GOOD


def test_every_verdict_names_its_limit_and_class() -> None:
    verdict = judged("cranking_volts", 9.2)
    assert verdict.limit is not None
    assert verdict.limit.limit_class == LimitClass.COMMON_PRACTICE
    assert verdict.why[0] == "Volts while cranking: 9.2 V is under 9.5."
    assert verdict.why[-1] == "Limit: common practice, no source."


def test_mistakes_are_named_together() -> None:
    with pytest.raises(Mistakes) as caught:
        judge("drain", math.nan, "V", Conditions(battery="nickel"), LIMITS)
    assert {problem.field for problem in caught.value.problems} == {"battery", "value", "unit"}


def test_a_kind_without_limits_says_so() -> None:
    verdict = judged("lamp_volts", 11.2)
    assert verdict.word == Word.NO_LIMITS
    assert verdict.limit is None


KINDS = sorted({kind for row in LIMITS.rows.values() for kind in row.kinds})
UNITS = {kind: row.unit for row in LIMITS.rows.values() for kind in row.kinds}


@given(
    st.sampled_from(KINDS),
    st.floats(0, 1e7),
    st.sampled_from([None, 6, 12]),
    st.sampled_from(["flooded", "agm", "gel", "lithium", "none", "don't know"]),
)
def test_a_verdict_always_has_reasons_and_a_limit_unless_there_is_none(
    kind: str, value: float, volts: int | None, battery: str
) -> None:
    verdict = judge(kind, value, UNITS[kind], Conditions(volts=volts, battery=battery), LIMITS)
    assert verdict.why
    assert all(sentence.endswith(".") for sentence in verdict.why)
    assert (verdict.word == Word.NO_LIMITS) == (verdict.limit is None)
    if verdict.limit is not None:
        assert verdict.limit.volts in (None, volts)


@given(st.floats(0, 30), st.floats(0, 30))
def test_more_charging_volts_above_the_target_are_never_better(one: float, other: float) -> None:
    low, high = sorted((14.0 + one, 14.0 + other))
    order = [Word.GOOD, Word.LOOK, Word.FAULT]
    assert order.index(judged("regulated_volts", low).word) <= order.index(
        judged("regulated_volts", high).word
    )
