"""What a card leaves: its parts cost what they cost on the day they were fitted."""

from decimal import Decimal
from typing import Any

from tests.desk.conftest import Bench
from tracker.desk.margin import Margin, margin_of


def listed(bench: Bench, cost: str | None) -> None:
    given: dict[str, Any] = {"cost": Decimal(cost)} if cost else {}
    bench("stock add", code="FUSE", name="blade fuse", price=Decimal(5), count=Decimal(20), **given)


def fitted(bench: Bench, qty: str = "2") -> None:
    bench.booked()
    bench("part want", card="1", part="FUSE", qty=qty)
    bench("part fit", card="1", part="1")


def left(bench: Bench) -> Margin:
    return margin_of(bench.desk, "1")


def test_a_part_that_gets_dearer_afterwards_changes_nothing(bench: Bench) -> None:
    bench.set_up()
    listed(bench, "2.15")
    fitted(bench)
    assert left(bench).cost_minor == 430
    bench.later(days=30)
    bench("stock add", code="FUSE", cost=Decimal("9.99"))
    assert left(bench).cost_minor == 430


def test_fitted_again_it_costs_what_it_cost_then(bench: Bench) -> None:
    bench.set_up()
    listed(bench, "2.15")
    fitted(bench)
    bench("part wrong", card="1", part="1")
    bench("stock add", code="FUSE", cost=Decimal("3.00"))
    bench("part fit", card="1", part="1")
    bench("stock add", code="FUSE", cost=Decimal("9.99"))
    assert left(bench).cost_minor == 600


def test_a_cost_that_was_said_only_later_stands_in(bench: Bench) -> None:
    bench.set_up()
    listed(bench, None)
    fitted(bench)
    assert left(bench).unknown == ("blade fuse",)
    bench("stock add", code="FUSE", cost=Decimal("2.00"))
    assert (left(bench).cost_minor, left(bench).unknown) == (400, ())
