"""What comes off is paid once a visit."""

from tests.estimating.making import BIKE, SIZES, access, asked, asked_with, card
from tracker.estimating.card_total import CardAsked, estimate_card
from tracker.estimating.openings import Wanted
from tracker.loom.access import Reachable, in_order, reachable
from tracker.records.document import LineKind
from tracker.records.estimating import EstimateResult
from tracker.seedfiles.door import SHIPPED
from tracker.seedfiles.loom_tables import read_accesses, read_zones


def off(result: EstimateResult) -> list[str]:
    """What comes off, line by line."""
    return [line.words for line in result.lines if line.kind is LineKind.ACCESS]


def test_two_repairs_under_the_tank_lift_it_once() -> None:
    one, other = asked("splice-butt", "under-tank"), asked("earth", "under-tank")
    assert off(card(one, other)) == off(card(one)) == ["seat", "tank"]


def test_the_line_says_what_it_is_for() -> None:
    result = card(asked("splice-butt", "under-tank"), asked("earth", "seat"))
    seat, tank = (line.why for line in result.lines if line.kind is LineKind.ACCESS)
    assert seat.startswith(
        "Off and on again 3 min, once for: Earth or ring terminal cleaned, Splice with a butt connector."
    )
    assert "Earth" not in tank


def test_the_seat_comes_off_before_the_tank() -> None:
    assert off(card(asked("splice-butt", "battery"), asked("earth", "under-tank"))) == [
        "seat", "tank", "battery cover"
    ]  # fmt: skip


def test_a_second_visit_is_paid_again_and_seen() -> None:
    result = card(asked("splice-butt", "under-tank"), asked_with("regulator", {}, "under-tank", 2))
    assert off(result) == ["seat", "tank", "seat, visit 2", "tank, visit 2"]


def test_what_stands_open_costs_nothing_on_the_first_visit() -> None:
    asking = CardAsked(
        repairs=(asked("splice-butt", "under-tank"), asked_with("earth", {}, "under-tank", 2)),
        already_off={"seat", "tank"},
    )
    assert off(estimate_card(asking, BIKE, SIZES)) == ["seat, visit 2", "tank, visit 2"]


def test_what_is_off_needs_nothing_more_off() -> None:
    asking = CardAsked(repairs=(asked("splice-butt", "under-tank"),), already_off={"tank"})
    assert off(estimate_card(asking, BIKE, SIZES)) == []


def test_what_stands_open_now_may_be_a_later_visits() -> None:
    asking = CardAsked(
        repairs=(asked("splice-butt", "under-tank"), asked_with("earth", {}, "under-tank", 2)),
        already_off={"seat", "tank"},
        visit_now=2,
    )
    assert off(estimate_card(asking, BIKE, SIZES)) == ["seat", "tank"]


def test_a_check_that_needs_the_headlamp_out_is_counted() -> None:
    asking = CardAsked(
        repairs=(asked("splice-butt", "seat"),), also=(Wanted("look at the plug", ("headlamp",)),)
    )
    assert off(estimate_card(asking, BIKE, SIZES)) == ["seat", "headlamp"]


def test_a_part_may_need_more_off_than_its_zone() -> None:
    from dataclasses import replace

    from tracker.records.estimating import Where

    stator = replace(asked("stator"), where=Where(spot="left-engine", off=("generator cover",)))
    bike = Reachable(BIKE.off, {**BIKE.accesses, "generator cover": access("generator cover", 45)})
    assert off(card(stator, bike=bike)) == ["generator cover"]


def test_a_zone_nobody_knows_is_said() -> None:
    notes = card(asked("splice-butt", "boot")).notes
    assert "What comes off to reach “boot” isn’t known, so it is not counted." in notes


def test_things_that_need_each_other_end_all_the_same() -> None:
    ring = Reachable({"a": ("one",)}, {"one": access("one", 1, "two"), "two": access("two", 2, "one")})
    assert in_order(ring.off["a"], ring.accesses.get) == ("two", "one")


def test_the_shipped_table_by_features() -> None:
    from tracker.records.loom_pattern import Feature, Known, RouteRules

    fairing = Feature(
        id="fairing", question="Fairing", values={"none": "", "half": "", "full": ""}, usual="none"
    )
    cooling = Feature(id="cooling", question="Cooling", values={"air": "", "liquid": ""}, usual="air")
    rules = RouteRules(
        reference_wheelbase_mm=1400, twig_mm=100, slack_percent=5, slack_end_mm=50, sizes={},
        status="common practice", source="no source",
    )  # fmt: skip
    known = Known(
        features={"fairing": fairing, "cooling": cooling}, zones=read_zones(SHIPPED, []),
        accesses=read_accesses(SHIPPED, []), controls={}, states={}, joints={}, sizes=(), cautions={},
        route=rules,
    )  # fmt: skip
    bare, faired = reachable(known, {"fairing": "none"}), reachable(known, {"fairing": "full"})
    assert "fairing" not in bare.accesses
    assert in_order(faired.off["headstock"], faired.accesses.get) == ("headlamp", "fairing")
    unsaid = reachable(known, {})
    assert "fairing" not in unsaid.accesses
    notes = card(asked("splice-butt", "headstock"), bike=unsaid).notes
    assert "Nobody has said whether this bike has this to come off: fairing. It is not counted." in notes
