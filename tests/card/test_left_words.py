"""How many minutes are left of what was agreed."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest

from tracker.card.left_words import bench_minutes_left, left_words
from tracker.records.card import Card, Ending, EndKind, GoAhead, GoAheadFor
from tracker.records.document import Estimate
from tracker.records.facts import CardFacts
from tracker.records.shop import Shop
from tracker.records.stock import PartWanted, WantedState
from tracker.records.work import TimeEntry, TimeKind

NINE = datetime(2026, 3, 2, 9, tzinfo=UTC)
SHOP = Shop(labour_rate=Decimal(60), looking_rate=Decimal(90), tax_rate=Decimal(20), currency="EUR")
CARD = Card(id=1, number="26-0001", complaint="dead", came_at=NINE)


def facts(
    *go_aheads: GoAhead,
    clocked_min: int = 0,
    wanted: tuple[PartWanted, ...] = (),
    estimates: tuple[Estimate, ...] = (),
    endings: tuple[Ending, ...] = (),
    kind: TimeKind = TimeKind.REPAIR,
) -> CardFacts:
    """A card with its go-aheads and so much time on the clock, which still runs."""
    times = (TimeEntry(id=1, card=1, mechanic=1, kind=kind, on_at=NINE),) if clocked_min else ()
    return CardFacts(
        card=CARD,
        shop=SHOP,
        go_aheads=go_aheads,
        times=times,
        wanted=wanted,
        estimates=estimates,
        endings=endings,
    )


def agreed(minor: int | None = None, minutes: int | None = None, **more: object) -> GoAhead:
    """A go-ahead to work."""
    given = {"what": GoAheadFor.WORK, "who": "Oona", "how": "phone", "at": NINE, "id": 1, "card": 1, **more}
    return GoAhead(limit_minor=minor, limit_min=minutes, **given)  # type: ignore[arg-type]


def after(minutes: int, found: CardFacts) -> int | None:
    """Minutes left when the clock has run so long."""
    return bench_minutes_left(found, NINE + timedelta(minutes=minutes))


def test_minutes_named_are_counted_down() -> None:
    card = facts(agreed(minutes=60), clocked_min=1)
    assert [after(minutes, card) for minutes in (0, 42, 60, 75)] == [60, 18, 0, -15]


def test_money_named_is_what_it_still_buys_at_the_rate_with_tax() -> None:
    # 72 EUR an hour with tax, 1.20 a minute: 90 EUR are 75 min, and 42 of them are gone.
    assert after(42, facts(agreed(9000), clocked_min=1)) == 33


def test_parts_to_come_are_taken_off_it_and_those_fitted_were_spent() -> None:
    part = PartWanted(id=1, card=1, words="relay", qty=Decimal(2), unit_price=Decimal(10), at=NINE)
    to_come, fitted = (
        PartWanted(
            **{name: getattr(part, name) for name in ("id", "card", "words", "qty", "unit_price", "at")},
            state=state,
        )
        for state in (WantedState.ORDERED, WantedState.FITTED)
    )
    # 24 EUR with tax are 20 minutes, whether it is still to come or fitted already.
    assert after(42, facts(agreed(9000), clocked_min=1, wanted=(to_come,))) == 13
    assert after(42, facts(agreed(9000), clocked_min=1, wanted=(fitted,))) == 13


def test_the_nearer_of_two_limits_counts() -> None:
    assert after(10, facts(agreed(9000, 30), clocked_min=1)) == 20
    assert after(10, facts(agreed(2400, 300), clocked_min=1)) == 10


def test_leave_to_look_goes_by_the_rate_for_looking() -> None:
    # 108 EUR an hour with tax: 54 EUR are 30 min.
    look = agreed(5400, what=GoAheadFor.LOOK)
    assert after(10, facts(look, clocked_min=1, kind=TimeKind.LOOKING)) == 20


@pytest.mark.parametrize(
    ("left", "words"),
    [
        (47, "47 minutes left of what was agreed."),
        (18, "18 minutes left of what was agreed. Ring before it is used up."),
        (1, "1 minute left of what was agreed. Ring before it is used up."),
        (0, "Nothing is left of what was agreed: a further go-ahead is wanted."),
        (-5, "5 minutes past what was agreed: a further go-ahead is wanted."),
    ],
)
def test_in_words(left: int, words: str) -> None:
    assert left_words(facts(agreed(minutes=60), clocked_min=1), NINE + timedelta(minutes=60 - left)) == words


def test_nothing_is_said_where_nothing_limits_the_time() -> None:
    fixed = Estimate(
        id=7, card=1, number="EST-1", revision=1, made_on=NINE.date(), fixed_price=True, currency="EUR",
        least_min=1, likely_min=1, most_min=1, expected_min=1, low_min=1, high_min=1,
        net_minor=100, tax_minor=20, total_minor=120, high_total_minor=120, wire_mm={}, frozen={}, at=NINE,
    )  # fmt: skip
    ended = Ending(id=1, card=1, kind=EndKind.DECLINED, at=NINE + timedelta(minutes=1))
    for card in (
        facts(),
        facts(agreed()),
        facts(agreed(12_000, estimate=7), estimates=(fixed,), clocked_min=1),
        facts(agreed(9000), endings=(ended,)),
    ):
        assert left_words(card, NINE + timedelta(minutes=10)) == ""
