"""A meter's reading as people write it: `13.9`, `13,9 V`, `850mA`, `0L`, `OL`, `1M2`, `4k7`."""

import re
from dataclasses import dataclass
from decimal import Decimal

from tracker.records.problem import Problem

_PREFIXES = {
    "": Decimal(1), "u": Decimal("1e-6"), "µ": Decimal("1e-6"), "μ": Decimal("1e-6"), "m": Decimal("1e-3"),
    "k": Decimal(1000), "K": Decimal(1000), "M": Decimal(1_000_000),
}  # fmt: skip
_UNITS = {
    "v": "V", "volt": "V", "volts": "V", "vac": "V", "vdc": "V", "a": "A", "amp": "A", "amps": "A",
    "ohm": "ohm", "ohms": "ohm", "ω": "ohm", "r": "ohm", "c": "C", "°c": "C", "degc": "C", "n": "N",
    "/min": "/min", "permin": "/min", "rpm": "rev/min", "rev/min": "rev/min", "s": "s", "%": "%", "h": "h",
}  # fmt: skip
_OVER = {"ol", "0l", "o.l", "0.l", "o.l.", "0.l.", "1.", "over", "inf", "∞"}
_INSIDE = re.compile(r"([+-]?)(\d+)([RrkKmMµμu])(\d+)")
_PLAIN = re.compile(r"([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+))\s*([^\d\s]*)")


@dataclass(frozen=True, slots=True)
class Metered:
    """What was read: `value` in the wanted unit, None when the meter was over its range."""

    value: float | None
    words: str


def metered(field: str, text: str, unit: str) -> Metered | Problem:
    """`text` as a figure in `unit` (V, A, mA, ohm, C, N, /min, yes/no, ...).

    A bare figure is in `unit` itself; with a unit of its own it is brought to `unit`, or refused where it is
    of another kind. OL and its spellings mean over the range. Case tells milli from mega.

    >>> metered("value", "850mA", "A").value, metered("value", "1M2", "ohm").value
    (0.85, 1200000.0)
    """
    plain = text.strip().replace("\u2212", "-")
    if plain.casefold() in _OVER:
        return Metered(None, "OL")
    if unit == "yes/no":
        known = {
            "yes": 1.0,
            "y": 1.0,
            "works": 1.0,
            "ok": 1.0,
            "1": 1.0,
            "no": 0.0,
            "n": 0.0,
            "dead": 0.0,
            "0": 0.0,
        }
        if plain.casefold() in known:
            return Metered(known[plain.casefold()], plain)
        return Problem(field, "Yes or no is expected here.", "yes when it works.", text[:60])
    found = _figure(plain)
    if found is None:
        return Problem(
            field, "This is not a reading.", f"Write it like 13.9 {unit}, 850 mA, 1M2 or OL.", text[:60]
        )
    figure, prefix, own = found
    wanted_prefix, wanted = _split_unit(unit)
    if own and own != wanted:
        return Problem(field, f"This is in {prefix}{own}; {unit} is expected here.", given=text[:60])
    if own or prefix:
        figure = figure * _PREFIXES[prefix] / _PREFIXES[wanted_prefix]
    if abs(figure) > Decimal(10) ** 12:
        return Problem(field, "No meter reads that much.", given=text[:60])
    return Metered(float(figure), plain)


def _figure(plain: str) -> tuple[Decimal, str, str] | None:
    if inside := _INSIDE.fullmatch(re.sub(r"\s*(?:ohms?|Ω|V|A)$", "", plain)):
        sign, whole, mark, part = inside.groups()
        ending = re.search(r"(ohms?|Ω|V|A)$", plain)
        own = _UNITS[ending[1].casefold()] if ending else ("ohm" if mark in "Rr" else "")
        return Decimal(f"{sign}{whole}.{part}"), "" if mark in "Rr" else mark, own
    if not (written := _PLAIN.fullmatch(plain)) or not written[1].isascii():
        return None
    figure = Decimal(written[1].replace(",", "."))
    prefix, own = _split_unit(written[2])
    if written[2] and not own and prefix == "":
        return None
    return figure, prefix, own


def _split_unit(text: str) -> tuple[str, str]:
    plain = text.strip()
    if plain.casefold() in _UNITS:
        return "", _UNITS[plain.casefold()]
    if plain in _PREFIXES:
        return plain, ""
    if plain[:1] in _PREFIXES and plain[1:].casefold() in _UNITS:
        return plain[:1], _UNITS[plain[1:].casefold()]
    return "", ""
