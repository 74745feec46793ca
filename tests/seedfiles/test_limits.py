"""The limits as they were shipped, and what becomes of a shop's own file with mistakes."""

import pytest

from tracker.records.limits import LimitClass
from tracker.seedfiles.door import SHIPPED, SeedMistakes, Seeds
from tracker.seedfiles.limits import COLUMNS, LIMITS, RISING, load_limits
from tracker.seedfiles.readings import load_readings


def own(change: tuple[str, str], *more: tuple[str, str]) -> Seeds:
    text = SHIPPED.text(LIMITS)
    for old, new in (change, *more):
        assert old in text
        text = text.replace(old, new, 1)
    return Seeds({LIMITS: text})


def test_every_limit_has_a_class_and_a_source() -> None:
    limits = load_limits()
    assert len(limits.rows) > 60
    for row in limits.rows.values():
        assert row.source
        assert row.limit_class in LimitClass
        assert not row.own


def test_loaded_once() -> None:
    assert load_limits() is load_limits()


def test_published_figures_and_common_practice_are_told_apart() -> None:
    limits = load_limits()
    assert limits.rows["reg-volts"].limit_class == LimitClass.PUBLISHED
    assert limits.rows["crank-bike"].limit_class == LimitClass.COMMON_PRACTICE
    assert limits.rows["gel-75"].limit_class == LimitClass.DERIVED


def test_readings_and_limits_of_one_kind_have_one_unit() -> None:
    readings = load_readings()
    judged = {kind: row.unit for row in load_limits().rows.values() for kind in row.kinds}
    both = judged.keys() & readings.keys()
    assert len(both) >= 12
    assert {kind: judged[kind] for kind in both} == {kind: readings[kind].unit for kind in both}


def test_the_flash_rate_is_kept_in_the_practice_table_only() -> None:
    row = load_limits().rows["flash-rate"]
    assert (row.fault_below, row.fault_above) == (60, 120)
    assert row.source == "Swiss VTS art. 79 par. 2"


def test_a_shop_can_have_its_own_spread() -> None:
    limits = load_limits(own(("0.025", "0.050")))
    assert limits.figure("sg-spread") == 0.05
    assert load_limits().figure("sg-spread") == 0.025


def test_series_are_in_order() -> None:
    limits = load_limits()
    for series in RISING:
        figures = [limits.figure(name) for name in series]
        assert figures == sorted(figures)


def problems(seeds: Seeds) -> list[str]:
    with pytest.raises(SeedMistakes) as caught:
        load_limits(seeds)
    assert caught.value.name == LIMITS
    return [f"{problem.field}: {problem.sentence}" for problem in caught.value.problems]


def test_every_mistake_of_a_file_is_named() -> None:
    found = problems(
        own(
            ("rest-50,flooded battery at 50 %,,V,", "rest-50,flooded battery at 50 %,,furlongs,"),
            (",,,,,,12,flooded,,,,,12.0,", ",,,,,,24,flooded,,,,,12.6.,"),
            ("agm-50", "agm-25"),
            ("rested", "asleep"),
            ("common practice", "hearsay"),
        )
    )
    text = "\n".join(found)
    assert "row 4, unit: This must be one of “V”" in text
    assert "row 3, volts" in text
    assert "row 3, figure" in text
    assert "“agm-25” is already in row" in text
    assert "These limits are missing: agm-50." in text
    assert "“asleep” is none of" in text
    assert "status: This must be one of" in text


def test_a_series_out_of_order_is_refused() -> None:
    found = problems(own((",12.2,", ",12.5,")))
    assert any("12.4 must be more than the 12.5 of “rest-50”" in sentence for sentence in found)


def test_bounds_out_of_order_are_refused() -> None:
    found = problems(own((",9.0,9.5,", ",9.8,9.5,")))
    assert any("bounds must rise" in sentence for sentence in found)


def test_a_row_that_judges_nothing_and_knows_nothing_is_refused() -> None:
    cells = dict.fromkeys(COLUMNS, "") | {"id": "empty", "what": "nothing", "unit": "V"}
    line = ",".join([*cells.values(), "read", "a page"])
    found = problems(Seeds({LIMITS: SHIPPED.text(LIMITS) + line + "\n"}))
    assert len(found) == 1
    assert "has no figure either" in found[0]


def test_a_header_that_differs_is_refused() -> None:
    assert any("columns must be" in sentence for sentence in problems(own(("fault_below", "bad_below"))))
