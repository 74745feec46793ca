"""What the loom answers for a repair: route, zones passed, size and colour of a wire, ways of a plug."""

from dataclasses import asdict

import pytest

from tests.desk.conftest import Bench
from tracker.desk.bike_loom import loom_of
from tracker.desk.trying import try_on_bike
from tracker.loom.route import route
from tracker.records.repair_rule import AskKind, holes
from tracker.seedfiles.door import SHIPPED
from tracker.seedfiles.repairs import load_rules


@pytest.fixture
def shop(bench: Bench) -> Bench:
    """A shop with a bike."""
    bench("bike add", make="Halden", registration="LKM 412")
    return bench


def test_a_wire_is_priced_by_its_way_through_the_loom(shop: Bench) -> None:
    loom = shop.desk.read(lambda reader: loom_of(reader, SHIPPED, None))
    wire = next(
        one
        for one in loom.wires.values()
        if one.size_mm2 and one.colour
        and {loom.places[one.a.place].zone, loom.places[one.b.place].zone} == {"headlamp", "headstock"}
    )  # fmt: skip
    way = route(loom, wire.a.place, wire.b.place)
    tried = try_on_bike(shop.desk, "1", [f"wire:from={wire.a.place},to={wire.b.place}"])
    (repair,) = tried.worked.result.repairs
    answers = repair.asked.answers.values
    assert answers["length_mm"] == way.length_mm
    assert float(answers["size_mm2"]) == pytest.approx(wire.size_mm2)
    assert answers["colour"] == str(wire.colour)
    assert set(repair.asked.where.ends) == {"headlamp", "headstock"}
    assert repair.zones == tuple(dict.fromkeys(repair.zones))
    (need,) = tried.worked.result.wire
    assert need.mm >= way.length_mm
    assert any("from the loom" in note for note in tried.notes)


def test_a_length_that_was_measured_wins(shop: Bench) -> None:
    tried = try_on_bike(shop.desk, "1", ["wire:length_mm=333,size_mm2=1.5,zone=seat"])
    assert tried.worked.result.repairs[0].asked.answers.values["length_mm"] == 333


def test_nothing_is_asked_that_a_rule_does_not_use() -> None:
    """Each answer is counted, chooses between figures, or stands in a size, a code, words or the record.

    The colour of a wire stands on every repair, and so in the loom's record.
    """
    for rule in load_rules():
        figures = (*rule.minutes, *rule.wire, *rule.parts, *rule.sleeves, *rule.tapes)
        used = {name for figure in figures for name in figure.when}
        counted = {name for figure in figures for name in figure.per}
        texts = [value for figure in figures for value in asdict(figure).values() if isinstance(value, str)]
        used |= {"colour"} | {name for text in (*texts, *rule.record.values()) for name in holes(text)}
        for ask in rule.asks:
            word = ask.counts or ("metre" if ask.kind is AskKind.LENGTH else "")
            assert ask.name in used or word in counted, f"{rule.id} asks for {ask.name} in vain"
