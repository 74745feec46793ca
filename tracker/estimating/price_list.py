"""Finding what an estimate wants in the shop's own list, and how much of it that is as it is sold.

Codes compare without case, and `-`, `_`, `/` and spaces are one sign. A rule names the code it wants;
wire is looked for as `WIRE-<mm²>-<colour>` and then as `WIRE-<mm²>`.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from tracker.estimating.words import plain
from tracker.records.estimating import WireNeed
from tracker.records.stock import Part

CUT_STEP_MM = 100
"""What is sold by the metre is cut in steps of so many mm (common practice, no source)."""

_LENGTH_UNIT = re.compile(r"(?:([0-9]{1,5})\s*)?(m|metres?|meters?|cm|mm)", re.ASCII)
_MM = {"m": 1000, "metre": 1000, "metres": 1000, "meter": 1000, "meters": 1000, "cm": 10, "mm": 1}


@dataclass(frozen=True, slots=True)
class Sold:
    """How much of a part is sold: `qty` of `unit`; `guessed` where its unit says nothing of its length."""

    qty: Decimal
    unit: str
    guessed: bool = False


def code_key(code: str) -> str:
    """A code as it is compared.

    >>> code_key("WIRE-0.75 Green/Black")
    'wire-0.75-green-black'
    """
    return "-".join(re.split(r"[-_/\s]+", code.strip().casefold()))


def price_list(parts: Iterable[Part]) -> dict[str, Part]:
    """The parts still kept, by code; the first of two with one code counts."""
    found: dict[str, Part] = {}
    for part in parts:
        if part.active and part.code:
            found.setdefault(code_key(part.code), part)
    return found


def part_for_wire(need: WireNeed, listed: Mapping[str, Part]) -> Part | None:
    """The wire of that size and colour, else of that size."""
    size = f"WIRE-{plain(need.size_mm2)}"
    return listed.get(code_key(f"{size}-{need.colour}")) or listed.get(code_key(size))


def sold_length(mm: int, unit: str, step_mm: int = CUT_STEP_MM) -> Sold:
    """A length as it is cut and sold: by the metre in steps of `step_mm`, in whole pieces of “5 m”.

    >>> sold_length(1230, "m").qty, sold_length(1230, "5 m").qty
    (Decimal('1.3'), Decimal('1'))
    """
    found = _LENGTH_UNIT.fullmatch(unit.strip().casefold())
    if found is None:
        return Sold(Decimal(1), unit, guessed=True)
    count, name = found.groups()
    if count:
        piece = Decimal(count) * _MM[name]
        return Sold((mm / piece).to_integral_value(ROUND_CEILING), unit)
    cut = (Decimal(mm) / step_mm).to_integral_value(ROUND_CEILING) * step_mm
    return Sold(cut / _MM[name], unit)
