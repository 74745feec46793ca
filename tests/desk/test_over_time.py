"""A bike's readings over its visits: like with like, a slide after three visits, a repair begins anew."""

import pytest

from tests.desk.conftest import Bench
from tracker.desk.over_time import Series, bike_readings
from tracker.errors import NotFoundError
from tracker.records.bike import Bike

SPEED = "5000 rev/min, lamps off"


def visit(
    bench: Bench, volts: str, *, days: float = 90, kind: str = "regulated_volts", verb: str = "read"
) -> str:
    known = {"bike": "1"} if bench.desk.read(lambda reader: reader.find("Halden", [Bike])) else {}
    card = (
        bench("book-in", complaint="service", **known)
        if known
        else bench.booked(volts="12", battery_kind="agm")
    )
    bench(verb, card=card.number, kind=kind, value=volts, state=SPEED)
    bench.later(days=days)
    return str(card.number)


def only(bench: Bench, kind: str = "regulated_volts") -> Series:
    (series,) = [one for one in bike_readings(bench.desk, "1").series if one.kind == kind]
    return series


def test_a_slow_slide_is_flagged_after_three_visits_and_not_before(bench: Bench) -> None:
    for volts in ("14.5", "14.2"):
        visit(bench, volts)
        assert only(bench).trend is None
    visit(bench, "13.9")
    slide = only(bench).trend
    assert slide is not None
    assert (slide.visits, slide.limit, slide.side) == (3, 13.5, "under")
    assert slide.until < slide.out_on


def test_several_readings_of_one_visit_are_one(bench: Bench) -> None:
    card = visit(bench, "14.5", days=0)
    for volts in ("14.2", "13.9"):
        bench("read", card=card, kind="regulated_volts", value=volts, state=SPEED)
    assert only(bench).trend is None


def test_what_could_not_be_judged_is_drawn_and_counts_for_no_line(bench: Bench) -> None:
    for volts in ("12.9", "12.8", "12.7"):
        visit(bench, volts, kind="standing_volts")
    assert len(only(bench, "standing_volts").points) == 3
    assert only(bench, "standing_volts").trend is None


def test_places_are_kept_apart(bench: Bench) -> None:
    bench.booked(volts="12", battery_kind="agm")
    for place in ("regulator + to battery +", "Regulator + to battery +", "main fuse"):
        bench("read", card="1", kind="drop_positive", value="0.1", place=place)
    assert [len(one.points) for one in bike_readings(bench.desk, "1").series] == [1, 2]


def test_a_repair_that_was_to_mend_it_begins_the_line_anew(bench: Bench) -> None:
    for volts in ("14.5", "14.2"):
        visit(bench, volts)
    card = visit(bench, "13.9", days=0)
    bench("finding", card=card, words="regulator")
    bench("estimate", card=card, repair=["regulator:zone=left-panel"])
    bench("agree", card=card, limit="900")
    bench("fix", card=card, minutes="30")
    bench("test", card=card, kind="regulated_volts", value="14.4", state=SPEED)
    assert only(bench).trend is None
    bench.later(days=90)
    visit(bench, "14.35")
    assert only(bench).trend is None
    assert len(only(bench).points) == 5


def test_the_newest_come_first_and_a_kind_can_be_chosen(bench: Bench) -> None:
    visit(bench, "14.5")
    visit(bench, "1.2", kind="drain")
    found = bike_readings(bench.desk, "LKM 412")
    assert [(point.reading.kind, point.card) for point in found.points] == [
        ("drain", "26-0002"),
        ("regulated_volts", "26-0001"),
    ]
    assert [point.reading.kind for point in bike_readings(bench.desk, "1", "Regulated volts").points] == [
        "regulated_volts"
    ]
    with pytest.raises(NotFoundError, match="no reading"):
        bike_readings(bench.desk, "1", "moonshine")


def test_the_bikes_own_figure_draws_the_limits(bench: Bench) -> None:
    visit(bench, "14.5")
    assert dict(only(bench).bounds)[13.5] == "look"
    bench("bike figure", bike="1", kind="regulated_volts", least="14.0", most="14.9", source="manual")
    series = only(bench)
    assert (series.low, series.high) == (14.0, 14.9)
