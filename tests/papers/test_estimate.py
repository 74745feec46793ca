"""An estimate never looks like an invoice, and says what it may come to and what word is needed."""

from dataclasses import replace
from datetime import date

from hypothesis import given, settings

from tests.billing.making import many_lines
from tests.papers import billed, build
from tests.papers.every import estimate as whole
from tracker.billing.tax import tax_off
from tracker.papers.estimate import NO_GUARANTEE, estimate_paper
from tracker.papers.plain import plain
from tracker.papers.say import amount, number, price
from tracker.records.billing import BillLine
from tracker.records.money import Money
from tracker.records.stock import PartWanted, WantedState


def text_of(lines: tuple[BillLine, ...] = billed.PRICED, **given: object) -> str:
    fixed = bool(given.pop("fixed", False))
    made, own = billed.estimate_of(lines, fixed=fixed)
    arguments = {"customer": build.CUSTOMER, **given}
    return plain(estimate_paper(made, own, shop=build.SHOP, card=build.CARD, **arguments))  # type: ignore[arg-type]


def test_it_says_what_it_is() -> None:
    assert text_of().startswith("Estimate ")
    assert text_of(fixed=True).startswith("Quote (fixed price) ")
    assert "This is an estimate and no invoice" in text_of()
    assert not any(line.startswith("Invoice") for line in text_of().splitlines())


def test_the_range_is_said_in_a_customers_words() -> None:
    text = text_of()
    assert "About 340 EUR, and not past 420 EUR without a call." in text
    assert "we stop and ring you first" in text


def test_beyond_what_was_agreed_a_further_go_ahead_is_asked() -> None:
    text = text_of(limit=Money(30000, "EUR"))
    assert "more than the 300 EUR agreed, so it needs a further" in text


def test_a_quote_is_kept() -> None:
    text = text_of(fixed=True)
    assert "340.63 EUR, fixed. This price is kept, whatever the work takes." in text
    assert "without a call" not in text


@given(many_lines)
@settings(max_examples=40, deadline=None)
def test_every_figure_is_there(lines: list[BillLine]) -> None:
    made, own = billed.estimate_of(tuple(lines))
    found = set(plain(estimate_paper(made, own, shop=build.SHOP, card=build.CARD)).split())
    wanted = {amount(minor, "EUR") for minor in (made.net_minor, made.tax_minor, made.total_minor)}
    for line in own:
        wanted |= {amount(line.net_minor, "EUR"), number(line.qty), price(line.unit_price, "EUR")}
    assert wanted <= found


def test_an_odd_cent_is_said() -> None:
    made, own = billed.estimate_of()
    odd = replace(made, total_minor=made.total_minor + 1)
    text = plain(estimate_paper(odd, own, shop=build.SHOP, card=build.CARD))
    assert "Rounding                    0.01 EUR" in text
    assert "Rounding" not in text_of()


def test_a_trader_without_tax_shows_none() -> None:
    text = text_of(tax_off(billed.PRICED)[0])
    assert "%" not in text
    assert "Total without tax" not in text
    assert "290.19 EUR" in text


def test_how_long_it_holds_and_which_revision_it_is() -> None:
    text = plain(whole())
    assert "Holds until  31 Mar 2026" in text
    assert "2; it takes the place of" in text
    assert "Revision" not in text_of(holds_until=date(2026, 3, 31))


def test_a_customers_own_part_has_no_guarantee() -> None:
    assert NO_GUARANTEE in plain(whole())
    shops = [part for part in build.WANTED if not part.customers_own]
    assert NO_GUARANTEE not in text_of(wanted=shops)
    gone: PartWanted = replace(build.WANTED[1], state=WantedState.DROPPED)
    assert NO_GUARANTEE not in text_of(wanted=[gone])


def test_what_is_unsafe_is_said() -> None:
    assert "NOT SAFE TO RIDE like this" in plain(whole())
    found = replace(build.FINDINGS[0], told_unsafe=True)
    assert "NOT SAFE TO RIDE until it is mended." in text_of(findings=[found])
    assert "SAFE" not in text_of(findings=build.FINDINGS[:2])


def test_the_go_ahead_is_asked_of_a_customer_only() -> None:
    assert "Signature ____" in text_of()
    assert "deposit of 100.00 EUR" in text_of(deposit=Money(10000, "EUR"))
    project = text_of(customer=None)
    assert "Signature" not in project
    assert "go-ahead" not in project
