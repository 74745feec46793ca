"""One revision of an estimate against the one before."""

import json
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

import pytest

from tests.estimating.making import BIKE, PARTS, SIZES, asked_with
from tracker.estimating.card_total import CardAsked, estimate_card
from tracker.estimating.freeze import freeze
from tracker.estimating.pricing import price
from tracker.estimating.revision import changes, reasons, summary
from tracker.records.document import Estimate, EstimateLine
from tracker.records.estimating import Priced
from tracker.records.shop import Shop
from tracker.seedfiles.repairs import read_rule

SHOP = Shop(labour_rate=Decimal(60), currency="EUR")


def made(joints: str, shop: Shop = SHOP, *, earth: bool = False) -> tuple[Priced, dict[str, Any]]:
    """A revision: its prices and what is kept of it, as it comes back from the store."""
    splice = asked_with("splice-butt", {"joints": joints, "colour": "red"}, "seat", repair=1)
    more = (asked_with("earth", {}, "seat", repair=2),) if earth else ()
    asking = CardAsked(repairs=(splice, *more))
    result = estimate_card(asking, BIKE, SIZES)
    priced = price(result, shop, PARTS)
    return priced, json.loads(json.dumps(freeze(asking, shop, result, priced)))


def kept(priced: Priced, revision: int) -> tuple[Estimate, list[EstimateLine]]:
    """The rows a desk would store."""
    lines = [
        EstimateLine(
            estimate=revision, position=place, kind=line.kind, words=line.words, qty=line.qty, unit=line.unit,
            unit_price=line.unit_price, net_minor=line.amount.minor, tax_category="S", tax_rate=Decimal(20),
            repair=line.repair, part=line.part, book_min=line.book.expected if line.book else None,
        )
        for place, line in enumerate(priced.lines, 1)
    ]  # fmt: skip
    net = priced.amount.minor
    estimate = Estimate(
        card=1, number="EST-26-0001", revision=revision, made_on=date(2026, 7, 14), currency="EUR",
        least_min=0, likely_min=0, most_min=0, expected_min=sum(line.book_min or 0 for line in lines),
        low_min=0, high_min=0, net_minor=net, tax_minor=0, total_minor=net, high_total_minor=net, wire_mm={},
        frozen={},
        at=datetime(2026, 7, 14, 9, tzinfo=UTC),
    )  # fmt: skip
    return estimate, lines


def test_nothing_changed_is_nothing_said() -> None:
    one, kept_one = made("2")
    assert changes(*kept(one, 1), *kept(one, 2)) == ()
    assert reasons(kept_one, kept_one) == ()


def test_more_joints_are_said_line_by_line() -> None:
    (one, kept_one), (two, kept_two) = made("2"), made("3")
    found = changes(*kept(one, 1), *kept(two, 2))
    assert [change.words for change in found] == [
        "Splice with a butt connector: 23 minutes, was 17 minutes; comes to 23.00, was 17.00.",
        "butt connector, red, for 0.75 mm²: 3 pieces, was 2 pieces; comes to 1.20, was 0.80.",
        "adhesive heat shrink over the joint: 0.2 m, was 0.1 m; comes to 1.20, was 0.60.",
    ]
    assert [change.minutes for change in found] == [6, 0, 0]
    assert sum(change.net_minor for change in found) == two.amount.minor - one.amount.minor
    assert reasons(kept_one, kept_two) == ("Splice with a butt connector: joints 3, was 2.",)


def test_a_repair_more_and_a_repair_less() -> None:
    (one, _), (two, _) = made("2"), made("2", earth=True)
    assert [change.words for change in changes(*kept(one, 1), *kept(two, 2))] == [
        "New: Earth or ring terminal cleaned, 13 minutes, 13.00."
    ]
    (gone,) = changes(*kept(two, 1), *kept(one, 2))
    assert gone.words == "No longer: Earth or ring terminal cleaned, 13 minutes, 13.00."
    assert (gone.minutes, gone.net_minor) == (-13, -1300)


def test_another_rate_is_the_reason_given() -> None:
    (_, kept_one), (_, kept_two) = made("2"), made("2", replace(SHOP, labour_rate=Decimal(66)))
    assert reasons(kept_one, kept_two) == ("Labour rate 66, was 60.",)


def test_another_price_is_the_reason_given() -> None:
    _, kept_one = made("2")
    kept_two = json.loads(json.dumps(kept_one))
    kept_two["prices"]["butt connector, red, for 0.75 mm²"] = "0.45 per piece"
    assert reasons(kept_one, kept_two) == (
        "Butt connector, red, for 0.75 mm² 0.45 per piece, was 0.4 per piece.",
    )


def test_another_rule_is_the_reason_given() -> None:
    _, kept_one = made("2")
    kept_two = json.loads(json.dumps(kept_one))
    kept_two["rules"]["splice-butt"] += "\n# slower than we thought\n"
    assert reasons(kept_one, kept_two) == ("The rule “splice-butt” was changed in between.",)


def test_the_kept_text_gives_the_rule_back() -> None:
    _, kept_one = made("2")
    text = kept_one["rules"]["splice-butt"]
    again = read_rule("repairs/splice-butt.toml", text)
    assert again == asked_with("splice-butt", {}).rule


def test_the_totals_in_a_sentence() -> None:
    (one, _), (two, _) = made("2"), made("3")
    words = summary(kept(one, 1)[0], kept(two, 2)[0])
    assert words == f"Total {two.amount} EUR, was {one.amount}; expected 26 min, was 20."


def test_two_currencies_do_not_compare() -> None:
    (old, lines), (new, _) = kept(made("2")[0], 1), kept(made("2")[0], 2)
    with pytest.raises(ValueError, match="do not compare"):
        changes(old, lines, replace(new, currency="GBP"), lines)
