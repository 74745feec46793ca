"""A circuit to be added: its wire, fuse and relay, and what the loom or the alternator cannot carry."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.electrics.charge_balance import Output
from tracker.estimating.charge_effect import NOBODY_SAID, balance_with, balance_words
from tracker.estimating.new_circuit import plan_circuit
from tracker.loom.pattern import build, suppose
from tracker.loom.riding_loads import fuses, riding_loads
from tracker.records.electrics import Load
from tracker.records.new_circuit import Circuit, CircuitAsked, Feeding
from tracker.seedfiles.loom import load_pattern
from tracker.seedfiles.new_loads import load_new_loads
from tracker.seedfiles.repairs import load_rules
from tracker.seedfiles.tables import electric_tables

TABLES = electric_tables()
LOOM = suppose(build(load_pattern(), {}))
GRIPS = CircuitAsked(
    words="heated grips", load=Load("power", 36), length_mm=1600, drop_percent=5, keyed=True, switched=True,
    supply_v=12, switch_a=5, ambient_c=40, together=1,
)  # fmt: skip
TAIL = Feeding("tail fuse", 10, 1.1, fuse=True)


def planned(asked: CircuitAsked = GRIPS, **more: object) -> Circuit:
    """The circuit."""
    return plan_circuit(replace(asked, **more), TABLES)  # type: ignore[arg-type]


def test_heated_grips_by_hand() -> None:
    # 36 W at 12 V are 3 A and a little more through the wire; the fuse over 1.25 x 3.1 = 3.9 A is 4 A.
    found = planned()
    assert (found.wire_name, found.size_mm2, found.fuse_a) == ("0.35 mm2 thin wall", 0.35, 4)
    assert 3.0 < found.current_a < 3.2
    assert found.relay
    assert found.refused == ()


@pytest.mark.parametrize(
    ("more", "relay", "why"),
    [
        ({}, True, "always live, and it must go off with the key"),
        ({"feed": TAIL, "feed_keyed": True}, False, "the tail fuse goes off with the key"),
        ({"feed": TAIL, "feed_keyed": False}, True, "the tail fuse feeds it, which is always live"),
        ({"keyed": False}, False, "no more than its switch carries"),
        ({"keyed": False, "switch_a": 3}, True, "its switch carries 3 A"),
        ({"keyed": False, "switched": False}, False, "nothing switches it"),
    ],
)
def test_a_relay_where_the_switch_or_the_key_wants_one(
    more: dict[str, object], relay: bool, why: str
) -> None:
    found = planned(GRIPS, **more)
    assert found.relay is relay
    assert why in found.why[-1]


def test_a_fuse_that_has_no_room_left_is_refused() -> None:
    # 10 A / 1.25 = 8 A all day; 5.5 A are there and 3.1 A would come.
    (refused,) = planned(feed=Feeding("tail fuse", 10, 5.5, fuse=True), feed_keyed=True).refused
    assert refused.startswith("The tail fuse of 10 A carries 5.5 A already; with 3.1 A more")
    assert "good for 8.0 A" in refused
    assert planned(feed=Feeding("tail fuse", 10, 4.5, fuse=True), feed_keyed=True).refused == ()


def test_a_wire_on_the_way_that_has_no_room_left_is_refused() -> None:
    wire = Feeding("wire of 2 mm², main feed to key,", 20, 18.5)
    (refused,) = planned(feed=TAIL, through=(wire,), feed_keyed=True).refused
    assert refused.startswith("The wire of 2 mm², main feed to key, of 20 A carries 18.5 A already")


def test_its_own_fuse_must_go_before_the_one_it_hangs_on() -> None:
    (refused,) = planned(
        feed=Feeding("small fuse", 4, 0.0, fuse=True), feed_keyed=True, load=Load("power", 30)
    ).refused
    assert "would not go before the small fuse of 4 A" in refused


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"load": Load("current", 45)}, "split over two circuits"),
        ({"load": Load("current", 150)}, "No fuse suits"),
        ({"length_mm": 6000, "drop_percent": 0.1}, "No thin wall wire keeps"),
    ],
)
def test_what_no_wire_carries_is_refused_in_words(more: dict[str, object], said: str) -> None:
    assert any(said in words for words in planned(GRIPS, **more).refused)


@given(st.floats(0.5, 20), st.floats(1.05, 3), st.integers(200, 4000))
@settings(max_examples=40, deadline=None)
def test_more_load_never_takes_less_wire_or_fuse(amps: float, times: float, length_mm: int) -> None:
    one = planned(load=Load("current", amps), length_mm=length_mm)
    more = planned(load=Load("current", amps * times), length_mm=length_mm)
    if one.wire is not None and more.wire is not None:
        assert more.size_mm2 >= one.size_mm2
        assert more.fuse_a >= one.fuse_a
        assert one.fuse_a >= 1.25 * one.current_a
    if more.wire is not None:
        assert one.wire is not None


def test_what_the_loom_takes_while_riding() -> None:
    loads = {load.name: load for load in riding_loads(LOOM)}
    assert loads["low-beam"].load == Load("filament", 55, 12)
    assert "tail-light" in loads
    assert not {"horn-winding", "starter", "turn-front-left", "high-beam", "regulator-leg-uv"} & set(loads)


def test_every_fuse_knows_what_feeds_it() -> None:
    tail = fuses(LOOM)["fuse-tail"]
    assert tail.rating_a == 10
    # Tail 5 W, position 5 W, instruments 3.4 W at 12 V.
    assert tail.carries_a == pytest.approx((5 + 5 + 3.4) / 12)
    assert [one.words for one in tail.feeds if one.fuse] == ["main fuse"]
    assert all(one.carries_a >= tail.carries_a for one in tail.feeds)


def test_an_alternator_that_cannot_feed_it_refuses() -> None:
    lamps = load_new_loads()["lamps"]
    weak = Output(points=((1200, 4), (4500, 9)))
    said, against = balance_words(lamps, balance_with(LOOM, lamps, weak), known=True)
    assert len(said) == 2
    (words,) = against
    assert words.startswith("The alternator cannot carry pair of auxiliary lamps")
    strong = Output(points=((1200, 16), (4500, 25)))
    assert balance_words(lamps, balance_with(LOOM, lamps, strong), known=True)[1] == ()


def test_one_that_is_short_at_idle_only_says_from_where_it_is_even() -> None:
    grips = load_new_loads()["heated-grips"]
    said, against = balance_words(
        grips, balance_with(LOOM, grips, Output(points=((1200, 6), (4500, 20)))), known=True
    )
    assert against == ()
    assert said[-1].startswith("At idle the battery gives ")
    assert "rev/min" in said[-1]


def test_leds_for_filaments_give_back_what_they_save() -> None:
    led = load_new_loads()["led-headlamp"]
    found = balance_with(LOOM, led, Output(rated_w=200))
    assert found is not None
    for now, after in zip(found.now, found.after, strict=True):
        # A 55 W lamp at 14 V by the filament law, less 20 W / 14 V.
        assert after.spare_a - now.spare_a == pytest.approx(55 / 12 * (14 / 12) ** 0.55 - 20 / 14, rel=0.02)
    indicators = load_new_loads()["led-indicators"]
    found = balance_with(LOOM, indicators, Output(rated_w=200))
    assert found is not None
    assert found.after[0].spare_a > found.now[0].spare_a


def test_nobody_said_what_the_alternator_gives() -> None:
    assert balance_words(load_new_loads()["usb"], None, known=False) == ((NOBODY_SAID,), ())


def test_the_table_names_rules_and_loads_that_there_are() -> None:
    for load in load_new_loads().values():
        rule = load_rules().by_id[load.rule]
        for part in load.answers.split():
            assert rule.ask(part.split("=")[0]) is not None
        assert all(name in LOOM.devices for name in load.instead)
