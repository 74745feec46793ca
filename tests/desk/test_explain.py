"""An estimate opened, revisions that are none, ways side by side, what is left while the clock runs."""

from decimal import Decimal

import pytest

from tests.desk.conftest import Bench
from tracker.desk.explain import explain, price_sum
from tracker.desk.options import price_options, read_option
from tracker.errors import NotFoundError
from tracker.records.document import LineKind
from tracker.records.problem import Mistakes, Problem

SPLICE = "splice-butt:joints=2,size_mm2=0.75,zone=under-tank"


@pytest.fixture
def priced(bench: Bench) -> Bench:
    """A card with a splice under the tank."""
    bench.booked()
    bench("stock add", code="BUTT-red", name="Butt connector, red", price="0.40", count="9")
    bench("finding", card="1", words="rotten joint")
    bench("estimate", card="1", repair=[SPLICE])
    return bench


def test_every_line_opens_to_its_sum_and_its_rule(priced: Bench) -> None:
    found = explain(priced.desk, "1")
    assert [one.line.position for one in found.lines] == list(range(1, len(found.lines) + 1))
    assert all(one.line.why for one in found.lines)
    (splice,) = [one for one in found.lines if one.line.kind is LineKind.LABOUR]
    assert splice.rule == "splice-butt"
    assert splice.rule_text.startswith("#")
    assert splice.answers["joints"] == "2"
    assert "colour" not in splice.assumed
    # Find, open and close 2-4-8 and two joints of 4-6-10: (10 + 4 x 16 + 28) / 6 = 17 min at 60 an hour.
    assert "each joint x 2 = 12 min (8 to 20)" in splice.line.why
    assert price_sum(splice.line, "EUR") == "17 minutes at 60 for 60 = 17.00"
    tank = next(one for one in found.lines if one.line.words == "Off and on again: fuel tank")
    assert "once for: Splice with a butt connector" in tank.line.why
    assert sum((one.amount.major for one in found.lines), Decimal(0)) * 100 == found.estimate.net_minor
    assert found.customer.startswith("About ")
    assert "log-normal" in found.treatment
    assert found.since == ()


def test_the_same_again_is_no_revision(priced: Bench) -> None:
    first = explain(priced.desk, "1").estimate
    again = priced("estimate", card="1")
    assert again == first
    assert priced("estimate", card="1", words="mind the tank").revision == 2
    assert priced("estimate", card="1").revision == 2  # words left out stay as they are
    assert priced("estimate", card="1", fixed="yes").revision == 3
    assert priced("estimate", card="1", fixed="yes").revision == 3
    numbers = priced.desk.read(lambda reader: reader.sql("SELECT number FROM estimate ORDER BY id"))
    assert [number for (number,) in numbers] == ["EST-26-0001", "EST-26-0002", "EST-26-0003"]


@pytest.mark.parametrize(
    ("verb", "fields"),
    [
        ("settings change", {"labour_rate": "66"}),
        ("stock add", {"code": "BUTT-red", "price": "0.45"}),
        ("clock add", {"card": "1", "minutes": "30", "kind": "looking"}),
    ],
)
def test_anything_that_moves_a_figure_makes_one(priced: Bench, verb: str, fields: dict[str, object]) -> None:
    priced(verb, **fields)
    assert priced("estimate", card="1").revision == 2


def test_what_changed_is_told_for_any_revision(priced: Bench) -> None:
    priced("settings change", labour_rate="66")
    priced("estimate", card="1", repair=["earth:zone=under-tank"])
    found = explain(priced.desk, "1")
    assert found.since[0].startswith("Total ")
    assert any(words.startswith("New: Earth or ring terminal cleaned") for words in found.since)
    assert "Labour rate 66, was 60." in found.since
    assert explain(priced.desk, "1", 1).since == ()
    priced("estimate", card="1", repair=["lamp"])
    third = explain(priced.desk, "1", 3, against=1)
    assert (third.against, third.estimate.revision) == (1, 3)
    new = [words for words in third.since if words.startswith("New: ")]
    assert any("Earth" in words for words in new)
    assert any("Lamp" in words for words in new)
    assert not any("Earth" in words for words in explain(priced.desk, "1", 3).since)
    with pytest.raises(Mistakes):
        explain(priced.desk, "1", 7)
    with pytest.raises(Mistakes):
        explain(priced.desk, "1", against=9)


def test_a_card_without_an_estimate(bench: Bench) -> None:
    bench.booked()
    with pytest.raises(NotFoundError):
        explain(bench.desk, "1")


def test_ways_are_priced_beside_each_other_with_what_is_planned(priced: Bench) -> None:
    # The tank is up for the splice already: a second splice under it lifts nothing more.
    found = price_options(
        priced.desk,
        "1",
        [
            "splice = splice-butt:joints=1,zone=under-tank",
            "new plug = connector:ways=3,zone=under-tank",
            "both = splice-butt:joints=1,zone=under-tank; connector:ways=3,zone=under-tank",
        ],
    )
    assert found.planned is not None
    splice, plug, both = found.options
    assert splice.more.minor < plug.more.minor < both.more.minor
    assert splice.more == splice.tried.total - found.planned.total
    tanks = [line for line in splice.tried.worked.result.lines if line.access == "tank"]
    assert len(tanks) == 1
    assert len(tanks[0].serves) == 2
    assert priced("estimate", card="1").revision == 1


def test_ways_on_a_card_with_nothing_planned_yet(bench: Bench) -> None:
    bench.booked()
    found = price_options(bench.desk, "1", ["a lamp = lamp"])
    assert found.planned is None
    assert found.options[0].more == found.options[0].tried.total


@pytest.mark.parametrize(
    "texts",
    [[], ["lamp"], ["a = "], [" = lamp"], ["a = lamp", "a = earth"], ["a = lamp:sides=2", "b = nothing"]],
)
def test_ways_that_cannot_be_priced_are_said(bench: Bench, texts: list[str]) -> None:
    bench.booked()
    with pytest.raises(Mistakes):
        price_options(bench.desk, "1", texts)


def test_a_way_is_written_as_a_name_and_its_repairs() -> None:
    assert read_option("x = lamp; earth:joints=2 ;") == ("x", ("lamp", "earth:joints=2"))
    assert isinstance(read_option("x=lamp"), Problem)


def test_what_is_left_is_said_while_the_clock_runs(priced: Bench) -> None:
    priced("agree", card="1", limit_time="50")
    priced("clock on", card="1")
    assert "50 minutes left of what was agreed." in priced.desk.notes
    priced.later(minutes=32)
    priced("clock off")
    assert "18 minutes left of what was agreed. Ring before it is used up." in priced.desk.notes
