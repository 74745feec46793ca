"""How figures and answers are written in an estimate's sentences."""

from collections.abc import Mapping
from decimal import Decimal

from tracker.records.estimating import Minutes
from tracker.records.repair_rule import HOLE, Answer, Answers, Figure, Spread

_COUNTED = frozenset({"piece", "minute", "hour", "call"})


def plain(value: Decimal | int) -> str:
    """A figure without trailing zeros or exponent.

    >>> plain(Decimal("4.50")), plain(Decimal("1E+2"))
    ('4.5', '100')
    """
    text = f"{Decimal(value):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def of_unit(qty: Decimal, unit: str) -> str:
    """A quantity with its unit, more than one of what is counted in the plural.

    >>> of_unit(Decimal(3), "piece"), of_unit(Decimal("0.2"), "m")
    ('3 pieces', '0.2 m')
    """
    return f"{plain(qty)} {unit}{'s' if unit in _COUNTED and qty != 1 else ''}"


def said(value: Answer | None) -> str:
    """An answer as a person would write it; nothing when there is none."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value if isinstance(value, str) else plain(value)


def filled(text: str, answers: Answers, extra: Mapping[str, str] | None = None) -> str:
    """A rule's words with the answers in place of the braces; a hole without an answer stays empty."""
    names = {name: said(value) for name, value in answers.values.items()} | dict(extra or {})
    return " ".join(HOLE.sub(lambda hole: names.get(hole[1], ""), text).split())


def range_of(spread: Spread) -> str:
    """Least to most, the likely one first.

    >>> range_of(Spread(Decimal(4), Decimal(6), Decimal(10)))
    '6 min (4 to 10)'
    """
    return f"{plain(spread.likely)} min ({plain(spread.least)} to {plain(spread.most)})"


def minutes_of(minutes: Minutes) -> str:
    """Expected first, then the range, in whole minutes."""
    return f"expected {minutes.expected} min, {minutes.least} to {minutes.most}"


def counted(figure: Figure, counts: Mapping[str, Decimal]) -> str:
    """What a figure is multiplied by, in words: “2 joints” reads “joint x 2”.

    >>> counted(Figure(status="read", source="", per=("joint",)), {"joint": Decimal(2)})
    'each joint x 2'
    """
    if not figure.per:
        return "once"
    return "each " + " and ".join(f"{name} x {plain(counts[name])}" for name in figure.per)
