"""The go-ahead stands on the page of the amount that it is given for, however long the estimate is."""

from dataclasses import replace

import pytest

from tests.papers import billed, build
from tests.papers.test_pdf import made, pages
from tracker.papers.estimate import estimate_paper
from tracker.papers.paper import Paper, Words
from tracker.records.card import Finding
from tracker.records.money import Money


def long(rows: int, findings: tuple[Finding, ...] = build.FINDINGS) -> Paper:
    """An estimate of so many lines."""
    estimate, lines = billed.estimate_of(fixed=False)
    many = [replace(lines[at % len(lines)], position=at + 1) for at in range(rows)]
    return estimate_paper(
        estimate,
        many,
        shop=build.SHOP,
        card=build.CARD,
        bike=build.BIKE,
        customer=build.CUSTOMER,
        findings=findings,
        wanted=build.WANTED,
        deposit=Money(10000, "EUR"),
    )


@pytest.mark.parametrize("rows", [1, 6, 8, 10, 16, 22, 24, 60])
def test_amount_go_ahead_and_signature_are_never_parted(rows: int) -> None:
    texts = pages(made(long(rows)).content)
    signed = [text for text in texts if "Your go-ahead" in text or "Signature" in text]
    assert len(signed) == 1
    for words in ("What it comes to", "not past 420 EUR without a call", "Your go-ahead", "Signature"):
        assert words in signed[0]


def test_what_no_page_holds_goes_on_over_pages_and_nothing_is_lost() -> None:
    left = tuple(
        Finding(
            id=at, card=1, words=f"Finding {at}. {'It says a great deal. ' * 12}", left="waits", at=build.CAME
        )
        for at in range(1, 31)
    )
    texts = pages(made(long(3, left)).content)
    whole = " ".join(texts)
    assert all(f"Finding {at}. " in whole for at in range(1, 31))
    assert "Your go-ahead" in texts[-1]
    assert "Signature" in texts[-1]


def test_without_a_customer_nothing_has_to_keep_together() -> None:
    estimate, lines = billed.estimate_of()
    paper = estimate_paper(estimate, lines, shop=build.SHOP, card=build.CARD)
    assert not any(block.keep for block in paper.blocks if isinstance(block, Words))
