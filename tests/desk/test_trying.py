"""An estimate without a card: what holds whatever is asked, and that nothing is kept."""

from decimal import Decimal
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.desk.conftest import Bench
from tracker.desk.trying import Tried, tried_record, try_on_bike
from tracker.errors import NotFoundError
from tracker.records.document import LineKind
from tracker.records.problem import Mistakes
from tracker.records.repair_rule import Ask, AskKind
from tracker.seedfiles.repairs import load_rules

QUICK = settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
ZONES = ("under-tank", "seat", "tail", "headstock")


@pytest.fixture
def shop(bench: Bench) -> Bench:
    """A shop with a bike and a few parts."""
    bench("bike add", make="Halden", registration="LKM 412")
    bench("stock add", code="BUTT-red", name="Butt connector, red", price="0.40", count="3", supplier="Marl")
    bench("stock add", code="WIRE-0.75", name="Wire 0.75", unit="m", price="1.20")
    return bench


def typed(ask: Ask) -> st.SearchStrategy[str]:
    """What a person might type in answer to one question."""
    least, most = int(ask.least or 0), int(ask.most or 0)
    match ask.kind:
        case AskKind.COUNT:
            return st.integers(least, min(most, least + 8)).map(str)
        case AskKind.LENGTH:
            return st.integers(least, min(most, 2500)).map(str)
        case AskKind.CHOICE:
            return st.sampled_from(ask.choices)
        case AskKind.YES_NO:
            return st.sampled_from(["yes", "no"])
        case _:
            return st.just("")


@st.composite
def repairs(draw: st.DrawFn) -> str:
    """Any repair as it is typed."""
    rule = draw(st.sampled_from(tuple(load_rules())))
    given_ = {ask.name: draw(typed(ask)) for ask in rule.asks if ask.default is None or draw(st.booleans())}
    given_ = {name: value for name, value in given_.items() if value}
    given_ |= {"zone": draw(st.sampled_from(ZONES))}
    return f"{rule.id}:" + ",".join(f"{name}={value}" for name, value in given_.items())


def tried(shop: Bench, *texts: str) -> Tried:
    """Tried on the bike."""
    return try_on_bike(shop.desk, "lkm412", texts)


def figures(one: Tried) -> tuple[object, ...]:
    """What it comes to, the order of its lines left out."""
    record = tried_record(one)
    return (
        record["minutes"],
        record["wire_mm"],
        one.total,
        one.high,
        sorted((row["id"], row["visit"]) for row in record["access"]),
        sorted((part["words"], part["qty"]) for part in record["parts"]),
    )


@given(st.lists(repairs(), min_size=1, max_size=3), st.randoms(use_true_random=False))
@QUICK
def test_the_order_of_repairs_does_not_matter(shop: Bench, some: list[str], random: Random) -> None:
    shuffled = list(some)
    random.shuffle(shuffled)
    assert figures(tried(shop, *shuffled)) == figures(tried(shop, *some))


@given(st.lists(repairs(), min_size=1, max_size=2), st.lists(repairs(), min_size=1, max_size=2))
@QUICK
def test_two_together_never_cost_more_than_apart(shop: Bench, one: list[str], other: list[str]) -> None:
    both, first, second = tried(shop, *one, *other), tried(shop, *one), tried(shop, *other)
    for name in ("least", "likely", "most", "expected", "p90"):
        together = tried_record(both)["minutes"][name]
        assert together <= tried_record(first)["minutes"][name] + tried_record(second)["minutes"][name]
    # Each line is rounded to the cent by itself, a few lines fewer may round a few cents the other way.
    cents = len(first.worked.priced.lines) + len(second.worked.priced.lines)
    assert both.total.minor <= first.total.minor + second.total.minor + cents


@given(
    st.sampled_from(
        ["splice-butt", "splice-soldered", "splice-western-union", "splice-open-barrel", "earth"]
    ),
    st.integers(1, 12),
    st.integers(1, 6),
    st.lists(repairs(), max_size=1),
)
@QUICK
def test_more_joints_never_cost_less(
    shop: Bench, rule: str, joints: int, more: int, others: list[str]
) -> None:
    few = tried(shop, f"{rule}:joints={joints},zone=seat", *others)
    many = tried(shop, f"{rule}:joints={joints + more},zone=seat", *others)
    assert many.total.minor >= few.total.minor
    assert many.high.minor >= few.high.minor
    for name in ("least", "likely", "most", "expected", "p10", "p90"):
        assert tried_record(many)["minutes"][name] >= tried_record(few)["minutes"][name]


def test_nothing_is_kept_and_no_number_taken(shop: Bench) -> None:
    def count() -> list[tuple[int, ...]]:
        both = "SELECT (SELECT count(*) FROM repair), (SELECT count(*) FROM counter), count(*) FROM estimate"
        return shop.desk.read(lambda reader: reader.sql(both))

    before = count()
    tried(shop, "splice-butt:joints=4,zone=under-tank", "lamp")
    assert count() == before


def test_what_is_not_on_the_shelf_is_to_be_ordered(shop: Bench) -> None:
    one = tried(shop, "splice-butt:joints=5,size_mm2=0.75,zone=seat")
    assert [(order.code, order.qty) for order in one.worked.orders if order.code == "BUTT-red"] == [
        ("BUTT-red", Decimal(2))
    ]
    assert any(
        note == "Not in stock: order 2 pieces of BUTT-red, Butt connector, red from Marl."
        for note in one.notes
    )
    enough = tried(shop, "splice-butt:joints=3,size_mm2=0.75,zone=seat")
    assert not [order for order in enough.worked.orders if order.code == "BUTT-red"]


def test_the_tank_is_lifted_once_for_two(shop: Bench) -> None:
    one = tried(shop, "splice-butt:zone=under-tank", "earth:zone=under-tank")
    tank = [line for line in one.worked.result.lines if line.access == "tank"]
    assert [line.serves for line in tank] == [(1, 2)]
    off = try_on_bike(shop.desk, "1", ["splice-butt:zone=under-tank"], already_off=["tank", "seat"])
    assert not [line for line in off.worked.result.lines if line.kind is LineKind.ACCESS]


def test_every_mistake_is_named_at_once(shop: Bench) -> None:
    with pytest.raises(Mistakes) as caught:
        tried(shop, "splice-butt:joints=0,colour=red", "nothing", "wire:sides=3")
    fields = [problem.field for problem in caught.value.problems]
    assert {"repair.joints", "repair", "repair.sides"} <= set(fields)
    with pytest.raises(Mistakes):
        tried(shop)
    with pytest.raises(Mistakes):
        try_on_bike(shop.desk, "1", ["lamp"], already_off=["roof"])
    with pytest.raises(NotFoundError):
        try_on_bike(shop.desk, "nobody's", ["lamp"])
