"""Numbers of cards and papers."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.billing.numbering import Numbered, gaps, parse, pattern_problems, render, which
from tracker.records.shop import Shop

SERIES = Shop().numbers


@pytest.mark.parametrize(
    ("series", "sequence", "number"),
    [
        ("card", 412, "26-0412"),
        ("invoice", 42, "INV-26-0042"),
        ("deposit", 7, "DEP-26-0007"),
        ("credit note", 3, "CRN-26-0003"),
        ("estimate", 12345, "EST-26-12345"),
    ],
)
def test_the_shops_own_series(series: str, sequence: int, number: str) -> None:
    assert render(SERIES[series], 2026, sequence) == number
    assert which(SERIES, number) == (series, Numbered(2026, sequence))


def test_width_is_the_fewest_digits_and_four_unless_said() -> None:
    assert [render(pattern, 2026, 7) for pattern in ("{yyyy}/{n}", "{yy}-{n:3}", "R{yy}.{n:06}")] == [
        "2026/0007",
        "26-007",
        "R26.000007",
    ]
    assert render("{yy}-{n:02}", 2026, 12345) == "26-12345"


@pytest.mark.parametrize("typed", ["inv-26-42", " INV-26-0042 ", "Inv-26-00042"])
def test_as_people_type_it(typed: str) -> None:
    assert which(SERIES, typed) == ("invoice", Numbered(2026, 42))


@pytest.mark.parametrize(
    "typed", ["", "INV-26-", "INV-26-0", "INV-2026-0042", "26-0412x", "26-٤١٢", "26-1234567890"]
)
def test_what_is_no_number(typed: str) -> None:
    assert which(SERIES, typed) is None


@given(
    st.sampled_from([*SERIES.values(), "{yyyy}/{n:1}", "B.{n}.{yy}", "WERK_{yyyy}-{n:05}"]),
    st.integers(2000, 2099),
    st.integers(1, 999_999_999),
)
@settings(max_examples=60, deadline=None)
def test_what_is_rendered_is_read_back(pattern: str, year: int, sequence: int) -> None:
    assert parse(pattern, render(pattern, year, sequence)) == Numbered(year, sequence)


@pytest.mark.parametrize(("year", "sequence"), [(2026, 0), (1999, 1), (2100, 1)])
def test_no_number_for_it(year: int, sequence: int) -> None:
    with pytest.raises(ValueError, match="no number"):
        render("{yy}-{n}", year, sequence)


def test_the_defaults_are_sound() -> None:
    assert pattern_problems(SERIES) == ()


def test_every_fault_of_a_pattern_is_named_under_its_series() -> None:
    found = pattern_problems({"card": "{n}{n}", "invoice": "INV 26-{month}", "estimate": "{yy}{n}"})
    assert [problem.field for problem in found] == [
        "numbers.card",
        "numbers.card",
        "numbers.invoice",
        "numbers.invoice",
        "numbers.invoice",
        "numbers.estimate",
    ]


@pytest.mark.parametrize(
    ("invoice", "estimate"),
    [("A-{yy}-{n}", "a-{yy}-{n}"), ("INV-{yy}-{n:04}", "INV-{yy}-{n:06}"), ("{yyyy}-{n}", "{yyyy}-{n}")],
)
def test_an_estimate_never_looks_like_an_invoice(invoice: str, estimate: str) -> None:
    (problem,) = pattern_problems({"invoice": invoice, "estimate": estimate})
    assert problem.field == "numbers.estimate"
    assert "cannot be told apart" in problem.sentence


def test_a_series_without_gaps() -> None:
    assert gaps([3, 1, 2]) == ()
    assert gaps([]) == ()
    assert gaps([2, 5, 4]) == (1, 3)
