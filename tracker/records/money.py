"""Money: whole minor units and a currency, rounded in one named place."""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Self

EXPONENTS: dict[str, int] = {
    "BHD": 3, "CLP": 0, "ISK": 0, "IQD": 3, "JOD": 3, "JPY": 0, "KRW": 0, "KWD": 3, "LYD": 3,
    "OMR": 3, "PYG": 0, "RWF": 0, "TND": 3, "UGX": 0, "VND": 0, "XAF": 0, "XOF": 0, "XPF": 0,
}  # fmt: skip
"""Digits behind the point by ISO 4217 code where they are not 2 (source: ISO 4217 list one; from memory)."""


def exponent(currency: str) -> int:
    """Digits behind the point: 0, 2 or 3."""
    return EXPONENTS.get(currency, 2)


def round_half_up(amount: Decimal, digits: int = 0) -> Decimal:
    """Rounds half away from zero to `digits` behind the point: the one rounding of money (EN 16931).

    >>> round_half_up(Decimal("365.125"), 2)
    Decimal('365.13')
    """
    return amount.quantize(Decimal(1).scaleb(-digits), rounding=ROUND_HALF_UP)


@dataclass(frozen=True, slots=True, order=True)
class Money:
    """An exact amount: `minor` in the currency's smallest unit (cents), `currency` an ISO 4217 code."""

    minor: int
    currency: str

    @classmethod
    def of(cls, amount: Decimal, currency: str) -> Self:
        """Rounded half up to the currency's smallest unit; `amount` in major units."""
        return cls(int(round_half_up(amount.scaleb(exponent(currency)))), currency)

    @property
    def major(self) -> Decimal:
        """In major units, with as many decimals as the currency has."""
        return Decimal(self.minor).scaleb(-exponent(self.currency))

    def __add__(self, other: "Money") -> "Money":
        return Money(self.minor + self._same(other), self.currency)

    def __sub__(self, other: "Money") -> "Money":
        return Money(self.minor - self._same(other), self.currency)

    def __neg__(self) -> "Money":
        return Money(-self.minor, self.currency)

    def __str__(self) -> str:
        return f"{self.major:f}"

    def _same(self, other: "Money") -> int:
        if other.currency != self.currency:
            raise ValueError(f"{self.currency} and {other.currency} do not add up")
        return other.minor


def zero(currency: str) -> Money:
    """Nothing, in a currency."""
    return Money(0, currency)
