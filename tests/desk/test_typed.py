"""What people type: each is read, or said to be unreadable beside its field."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.desk.meter import Metered, metered
from tracker.desk.typed import amount, day, figure, minutes, truth, whole
from tracker.records.money import Money
from tracker.records.problem import Problem

TODAY = date(2026, 11, 25)  # a Wednesday


@pytest.mark.parametrize(
    ("text", "value"),
    [("13.9", "13.9"), ("13,9", "13.9"), ("1.234,50", "1234.50"), ("1,234.50", "1234.50"), ("-0.2", "-0.2"),
     ("\u22120.2", "-0.2"), (".5", "0.5"), ("7.", "7")],
)  # fmt: skip
def test_a_figure_is_read_with_either_decimal_sign(text: str, value: str) -> None:
    assert figure("f", text) == Decimal(value)


@pytest.mark.parametrize(
    "text", ["", "1e3", "1_000", "١٢", "NaN", "inf", "12 V", "0x10", "1.2.3", "--1", "9" * 12]
)
def test_what_is_no_figure_is_said(text: str) -> None:
    assert isinstance(figure("f", text), Problem)


@pytest.mark.parametrize(
    ("text", "minor"), [("186.40", 18640), ("186,4", 18640), ("EUR 12", 1200), ("1.234,50", 123450), ("0", 0)]
)
def test_an_amount_is_exact(text: str, minor: int) -> None:
    assert amount("a", text, "EUR") == Money(minor, "EUR")


@pytest.mark.parametrize("text", ["1.234", "1,234", "12.345", "ten", "-5"])
def test_an_amount_that_could_be_thousands_or_has_too_many_decimals_is_asked_again(text: str) -> None:
    assert isinstance(amount("a", text, "EUR"), Problem)


def test_a_currency_without_decimals_takes_none() -> None:
    assert amount("a", "1200", "JPY") == Money(1200, "JPY")
    assert isinstance(amount("a", "12.5", "JPY"), Problem)
    assert amount("a", "1.234", "KWD") == Money(1234, "KWD")


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("2026-12-03", date(2026, 12, 3)),
        ("3 dec", date(2026, 12, 3)),
        ("3. December 2027", date(2027, 12, 3)),
        ("3.12.2026", date(2026, 12, 3)),
        ("2 feb", date(2027, 2, 2)),
        ("20 nov", date(2026, 11, 20)),
        ("today", TODAY),
        ("tomorrow", date(2026, 11, 26)),
        ("fri", date(2026, 11, 27)),
        ("wed", date(2026, 12, 2)),
        ("+7", date(2026, 12, 2)),
        ("-1", date(2026, 11, 24)),
    ],
)
def test_a_day_is_read(text: str, wanted: date) -> None:
    assert day("d", text, TODAY) == wanted


@pytest.mark.parametrize(
    "text", ["3/12", "12/3/2026", "31 feb", "2026-13-01", "soon", "3", "٣ dec", "29.2.2027"]
)
def test_a_day_that_can_be_read_two_ways_or_not_at_all_is_said(text: str) -> None:
    assert isinstance(day("d", text, TODAY), Problem)


@pytest.mark.parametrize(
    ("text", "value"),
    [("90", 90), ("1.5 h", 90), ("1,5h", 90), ("1:30", 90), ("1h30", 90), ("45 min", 45), ("0", 0)],
)
def test_a_span_of_time_is_minutes(text: str, value: int) -> None:
    assert minutes("m", text) == value


@pytest.mark.parametrize("text", ["-5", "1:75", "long", "h", "1e9", "99999999"])
def test_what_is_no_span_is_said(text: str) -> None:
    assert isinstance(minutes("m", text), Problem)


def test_whole_figures_and_yes_or_no() -> None:
    assert whole("w", "41,230") == 41230
    assert isinstance(whole("w", "41.5"), Problem)
    assert isinstance(whole("w", "-1"), Problem)
    assert isinstance(whole("w", "9" * 400), Problem)
    assert truth("t", "Yes") is True
    assert truth("t", "off") is False
    assert isinstance(truth("t", "maybe"), Problem)


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("13.9", "V", 13.9),
        ("13,9 V", "V", 13.9),
        ("850mA", "A", 0.85),
        ("0.85 A", "mA", 850.0),
        ("1M2", "ohm", 1_200_000.0),
        ("4k7", "ohm", 4700.0),
        ("0R5", "ohm", 0.5),
        ("60 mV", "V", 0.06),
        ("92", "/min", 92.0),
        ("yes", "yes/no", 1.0),
        ("-12.4", "V", -12.4),
    ],
)
def test_a_reading_comes_in_the_unit_of_its_kind(text: str, unit: str, value: float) -> None:
    read = metered("value", text, unit)
    assert isinstance(read, Metered)
    assert read.value == pytest.approx(value)


@pytest.mark.parametrize("text", ["OL", "0L", "o.l.", "∞"])
def test_over_the_range_is_a_reading_without_a_value(text: str) -> None:
    assert metered("value", text, "ohm") == Metered(None, "OL")


@pytest.mark.parametrize(
    ("text", "unit"), [("12 A", "V"), ("warm", "V"), ("1e9", "V"), ("１２", "V"), ("", "V"), ("2", "yes/no")]
)
def test_a_reading_in_another_unit_or_none_is_said(text: str, unit: str) -> None:
    assert isinstance(metered("value", text, unit), Problem)


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=30))
def test_no_text_at_all_upsets_the_reading_of_it(text: str) -> None:
    for read in (
        figure("f", text), amount("f", text, "EUR"), day("f", text, TODAY), minutes("f", text),
        whole("f", text), truth("f", text), metered("f", text, "V"),
    ):  # fmt: skip
        assert not isinstance(read, Problem) or read.field == "f"


@settings(max_examples=100, deadline=None)
@given(st.integers(min_value=0, max_value=10**9))
def test_an_amount_written_plainly_comes_back(minor: int) -> None:
    money = Money(minor, "EUR")
    assert amount("a", str(money), "EUR") == money
