"""Money is whole minor units, rounded half up in one place."""

from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.records.money import EXPONENTS, Money, exponent, round_half_up, zero

AMOUNTS = st.decimals(min_value=-(10**9), max_value=10**9, allow_nan=False, allow_infinity=False, places=5)
MINORS = st.integers(-(10**15), 10**15)
CURRENCIES = st.sampled_from(["EUR", "GBP", "JPY", "KWD"])


@pytest.mark.parametrize(
    ("amount", "currency", "minor"),
    [
        ("0.005", "EUR", 1), ("0.0049", "EUR", 0), ("-0.005", "EUR", -1), ("2.675", "EUR", 268),
        ("1.5", "JPY", 2), ("2.5", "JPY", 3), ("0.0005", "KWD", 1), ("365.125", "GBP", 36513),
    ],
)  # fmt: skip
def test_half_goes_away_from_zero_in_each_currencys_own_smallest_unit(
    amount: str, currency: str, minor: int
) -> None:
    assert Money.of(Decimal(amount), currency) == Money(minor, currency)


@given(AMOUNTS, st.integers(0, 4))
def test_rounding_is_never_more_than_half_a_step_off_and_is_even_in_sign(
    amount: Decimal, digits: int
) -> None:
    rounded = round_half_up(amount, digits)
    assert abs(rounded - amount) <= Decimal(5).scaleb(-digits - 1)
    assert round_half_up(-amount, digits) == -rounded
    assert round_half_up(rounded, digits) == rounded
    assert rounded == amount.quantize(Decimal(1).scaleb(-digits), rounding=ROUND_HALF_UP)


@given(MINORS, CURRENCIES)
def test_major_units_and_back(minor: int, currency: str) -> None:
    money = Money(minor, currency)
    assert Money.of(money.major, currency) == money
    assert Decimal(str(money)) == money.major
    assert "E" not in str(money)
    assert money + -money == zero(currency)
    assert money + zero(currency) == money


@given(MINORS, MINORS, MINORS)
def test_sums_are_exact_in_any_order(one: int, two: int, three: int) -> None:
    a, b, c = (Money(minor, "EUR") for minor in (one, two, three))
    assert (a + b) + c == a + (b + c)
    assert a + b - b == a


def test_money_is_written_with_the_decimals_its_currency_has() -> None:
    assert str(Money(5, "EUR")) == "0.05"
    assert str(Money(-105, "EUR")) == "-1.05"
    assert str(Money(1000, "JPY")) == "1000"
    assert str(Money(1, "KWD")) == "0.001"
    assert exponent("XYZ") == 2
    assert set(EXPONENTS.values()) <= {0, 3}


def test_two_currencies_never_add_up() -> None:
    for work in (Money.__add__, Money.__sub__):
        with pytest.raises(ValueError, match="EUR and GBP do not add up"):
            work(Money(1, "EUR"), Money(1, "GBP"))
