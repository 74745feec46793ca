"""An estimate in money, by the shop's rates and list."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.estimating.making import PARTS, asked, asked_with, card, part
from tracker.estimating.price_list import code_key, part_for_wire, price_list, sold_length
from tracker.estimating.pricing import price
from tracker.records.document import LineKind
from tracker.records.estimating import Priced, Travel, WireNeed
from tracker.records.money import Money
from tracker.records.shop import Shop

SHOP = Shop(labour_rate=Decimal(60), looking_rate=Decimal(66), currency="EUR")


def line(priced: Priced, words: str) -> tuple[str, str, str, int]:
    """Quantity, unit, unit price and minor units of the line with those words."""
    one = next(one for one in priced.lines if one.words == words)
    return str(one.qty), one.unit, str(one.unit_price), one.amount.minor


@pytest.mark.parametrize(
    ("mm", "unit", "qty"),
    [
        (1, "m", "0.1"),
        (100, "m", "0.1"),
        (101, "m", "0.2"),
        (1230, "metre", "1.3"),
        (1230, "cm", "130"),
        (1230, "mm", "1300"),
        (1230, "5 m", "1"),
        (5001, "5m", "2"),
        (250, "100 mm", "3"),
        (0, "m", "0"),
    ],
)
def test_lengths_as_they_are_cut_and_sold(mm: int, unit: str, qty: str) -> None:
    found = sold_length(mm, unit)
    assert (found.qty, found.guessed) == (Decimal(qty), False)


def test_a_unit_that_is_no_length_is_owned_up_to() -> None:
    assert sold_length(1230, "roll").guessed
    rolls = [replace(one, unit="roll") if one.code == "TAPE-19" else one for one in PARTS]
    priced = price(card(asked("wire", "seat", length_mm="500")), SHOP, rolls)
    tape = next(one for one in priced.lines if one.words.startswith("loom tape"))
    assert "“roll” says nothing of its length: 1 was taken" in tape.why


def test_codes_compare_loosely_but_keep_the_point() -> None:
    assert code_key(" wire_0.75 GREEN/black ") == code_key("WIRE-0.75-Green-Black")
    assert code_key("WIRE-1.5") != code_key("WIRE-15")


def test_wire_of_its_colour_before_wire_of_its_size() -> None:
    listed = price_list(PARTS)
    tracer = WireNeed(size_mm2=Decimal("0.75"), colour="green/black", mm=1)
    found = part_for_wire(tracer, listed), part_for_wire(replace(tracer, colour="red"), listed)
    assert [one.code if one else None for one in found] == ["WIRE-0.75-green/black", "WIRE-0.75"]
    assert part_for_wire(replace(tracer, size_mm2=Decimal(6)), listed) is None


def test_parts_no_longer_kept_are_passed_over() -> None:
    assert price_list([replace(part(9, "X", "1"), active=False)]) == {}


def test_parts_and_wire_by_the_list() -> None:
    priced = price(card(asked("splice-butt", "seat", joints="3", colour="red", gap_mm="450")), SHOP, PARTS)
    assert line(priced, "butt connector, red, for 0.75 mm²") == ("3", "piece", "0.40", 120)
    # 450 + 3 x 10 = 480 mm, cut as 0.5 m at 1.20.
    assert line(priced, "Wire 0.75 mm² red") == ("0.5", "m", "1.20", 60)
    # 3 x 45 = 135 mm, cut as 0.2 m at 6.00.
    assert line(priced, "adhesive heat shrink over the joint") == ("0.2", "m", "6.00", 120)


def test_what_the_list_lacks_is_marked_not_guessed() -> None:
    priced = price(card(asked("regulator", "seat")), SHOP, PARTS)
    missing = [one for one in priced.lines if one.missing]
    assert [one.words for one in missing] == ["regulator/rectifier for this bike"]
    assert missing[0].amount == Money(0, "EUR")
    assert priced.notes == (
        "“regulator/rectifier for this bike” is not in the parts list: its price is still to be put in.",
    )


def test_consumables_are_billed_only_where_the_shop_lists_them() -> None:
    result = card(asked("earth", "seat"))
    assert "contact grease" not in [one.words for one in price(result, SHOP, PARTS).lines]
    listed = [*PARTS, part(7, "GREASE", "0.20", "dab")]
    assert line(price(result, SHOP, listed), "contact grease") == ("1", "dab", "0.20", 20)


def test_looking_goes_at_its_own_rate() -> None:
    priced = price(card(asked("trace", limit_min="60")), SHOP, ())
    # 15-33-60: mean 34.5, half a minute up; 35 / 60 x 66 = 38.50.
    assert line(priced, "Trace an electrical fault, by the hour up to a limit") == (
        "35",
        "minute",
        "66",
        3850,
    )


def test_no_rate_or_currency_loses_a_cent() -> None:
    shop = replace(SHOP, labour_rate=Decimal("62.50"), currency="JPY")
    priced = price(card(asked("splice-butt", "left-engine")), shop, ())
    assert line(priced, "Splice with a butt connector") == ("11", "minute", "62.50", 11)  # 11.458
    assert priced.lines[0].base_qty == 60


def test_travel_is_its_own_lines_and_not_charged_where_there_is_no_charge() -> None:
    result = card(asked("trace"))
    away = Travel(call_out=True, distance=Decimal(18))
    assert [one for one in price(result, SHOP, (), away).lines if one.kind is LineKind.TRAVEL] == []
    mobile = replace(SHOP, call_out_charge=Decimal(30), distance_charge=Decimal("0.50"))
    priced = price(result, mobile, (), away)
    assert line(priced, "Call-out") == ("1", "call", "30", 3000)
    assert line(priced, "Distance") == ("36", "km", "0.50", 1800)


def test_a_line_is_for_the_one_repair_that_asks_for_it() -> None:
    result = card(
        asked_with("splice-butt", {"colour": "red"}, "seat", repair=7),
        asked_with("terminal", {}, "seat", repair=8),
        asked_with("splice-butt", {"colour": "blue"}, "seat", repair=9),
    )
    repairs = {one.words: one.repair for one in price(result, SHOP, PARTS).lines}
    assert repairs["Wire 0.75 mm² red"] == 7
    assert repairs["plug socket terminal for 0.75 mm²"] == 8
    assert repairs["butt connector, red, for 0.75 mm²"] is None


@given(st.integers(1, 12), st.integers(1, 12), st.integers(0, 900), st.integers(0, 900), st.integers(20, 150))
@settings(max_examples=40, deadline=None)
def test_together_costs_no_more_than_apart_but_for_rounding(
    joints: int, others: int, gap: int, other_gap: int, rate: int
) -> None:
    shop = replace(SHOP, labour_rate=Decimal(rate))
    one = asked("splice-butt", "under-tank", joints=str(joints), gap_mm=str(gap))
    other = asked("splice-butt", "under-tank", joints=str(others), gap_mm=str(other_gap))
    both, *apart = (price(card(*some), shop, PARTS) for some in ((one, other), (one,), (other,)))
    # Wire and parts of both are one line each: it can round up where two lines rounded down.
    goods = sum(line.minutes is None for line in both.lines)
    assert both.amount.minor <= apart[0].amount.minor + apart[1].amount.minor + goods
    assert both.low <= both.amount <= both.high
