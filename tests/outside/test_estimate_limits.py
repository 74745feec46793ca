"""How far work may go past its estimate: two places that publish it, from the estimate to the invoice."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.desk.conftest import Bench
from tracker.desk.explain import explain
from tracker.records.problem import Mistakes


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Bench]:
    """A shop at 60.00 an hour."""
    bench = Bench(tmp_path / "shop.loomcard")
    bench.set_up()
    yield bench
    bench.desk.close()


def estimated(bench: Bench, tolerance: str, percent: str, tax: str) -> int:
    """A card whose estimate comes to 200.00 before tax, agreed at that; the estimate’s total with tax."""
    bench("settings change", tolerance=tolerance, tolerance_percent=percent, tax_rate=tax)
    bench.booked()
    # 200 minutes of looking at 60.00 an hour, and nothing else.
    bench("estimate", card="1", repair=["lamp"], looking="0")
    made = explain(bench.desk, "1").estimate
    bench("part want", card="1", part="Work", unit_price=f"{200 - made.net_minor / 100:.2f}")
    made = bench("estimate", card="1")
    assert made.net_minor == 20000
    with_tax = made.total_minor / 100
    bench("agree", card="1", limit=f"{with_tax:.2f}", how="signed")
    return int(made.total_minor)


def billed(bench: Bench, before_tax: str) -> int:
    """Bills that much, before tax; what the invoice asks for without tax."""
    return int(bench("bill", card="1", extra=[f"Work={before_tax}"]).net_minor)


@pytest.mark.parametrize("tax", ["0", "8.9"])
def test_a_tenth_more_before_tax_is_allowed_where_the_law_says_so(shop: Bench, tax: str) -> None:
    """EST-1: an estimate of 200.00 before tax, work of 220.00: allowed.

    Source: Washington State Department of Revenue, the sign text of RCW 46.71.031
    (dor.wa.gov/book/export/html/1294): not more than 110 % of the estimate, sales tax apart.
    """
    estimated(shop, "percent", "10", tax)
    with pytest.raises(Mistakes) as caught:
        billed(shop, "220.01")
    assert "is past what may be billed" in caught.value.problems[0].sentence
    assert billed(shop, "220.00") == 22000


def test_one_cent_more_needs_a_further_go_ahead_where_the_law_allows_nothing(shop: Bench) -> None:
    """EST-3: an estimate of 200.00, work of 200.01: a new authorisation is needed, with no tolerance.

    Source: California Code of Regulations, title 16, section 3354 (a) (govt.westlaw.com/calregs).
    """
    estimated(shop, "none", "0", "0")
    with pytest.raises(Mistakes) as caught:
        billed(shop, "200.01")
    (problem,) = caught.value.problems
    assert "200.01 in all is past what may be billed, 200.00." in problem.sentence
    assert "further go-ahead" in problem.hint
    shop("agree", card="1", limit="200.01")
    assert billed(shop, "200.01") == 20001
