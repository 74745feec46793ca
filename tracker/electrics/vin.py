"""The check digit of a vehicle identification number: a typing slip found, nothing refused."""

from dataclasses import dataclass
from typing import Literal

from tracker.electrics.arguments import Arguments
from tracker.records.electrics import Sum

Verdict = Literal["valid", "invalid", "unsure", "rejected", "unchecked"]

WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
VALUES = {
    sign: int(value)
    for sign, value in zip(
        "0123456789ABCDEFGHJKLMNPRSTUVWXYZ", "012345678912345678123457923456789", strict=True
    )
}
NEVER_USED = "IOQ"
NORTH_AMERICA = "12345"
"""First characters of frames built in North America (ISO 3780)."""

LENGTH, CHECK_PLACE = 17, 9


@dataclass(frozen=True, slots=True, kw_only=True)
class VinSum(Sum):
    """What the check digit says: “valid”, “invalid”, “unsure” (built elsewhere), “rejected”, “unchecked”.

    Figures are None where the number could not be reckoned with.
    """

    vin: str
    verdict: Verdict
    weighted_sum: int | None
    check_digit: str | None
    found_digit: str | None


def weighted_sum(vin: str) -> int:
    """The sum that the check digit is the remainder of.

    Formula: sum of value x weight over the 17 places; weights 8 7 6 5 4 3 2 10 0 9 8 7 6 5 4 3 2.
    Range: 17 capitals or digits without I, O and Q.
    Example:
        >>> weighted_sum("1M8GDM9AXKP042788")
        351

    Source: [1] 49 CFR 565.15.
    """
    return sum(VALUES[sign] * weight for sign, weight in zip(vin, WEIGHTS, strict=True))


def check_digit(vin: str) -> str:
    """The character that place 9 must have.

    Formula: sum mod 11; 10 is written X.
    Range: 17 capitals or digits without I, O and Q.
    Example:
        >>> check_digit("1M8GDM9AXKP042788"), check_digit("11111111111111111")
        ('X', '1')

    Source: [1] 49 CFR 565.15.
    """
    remainder = weighted_sum(vin) % 11
    return "X" if remainder == 10 else str(remainder)


def vin(*, vin: str) -> VinSum:
    """A VIN's check digit. It warns and never refuses: frame numbers before 1981 and elsewhere are free.

    Formula: place 9 = (sum of value x weight) mod 11, 10 written X.
    Range: any text; 17 places without I, O and Q are reckoned; spaces and dashes are passed over.
    Example:
        >>> vin(vin="1G4AH59H45G118341").verdict, vin(vin="1G4AH59H05G118341").check_digit
        ('valid', '4')

    Source: [1] 49 CFR 565.15. [2] ISO 3779 and ISO 3780.
    """
    arguments = Arguments()
    plain = "".join(sign for sign in vin.upper() if not sign.isspace() and sign not in "-‐‑–")
    if not plain:
        arguments.wrong("vin", vin, "“vin” is empty; it must be the number on the frame.")
    if len(plain) > 40:
        arguments.wrong("vin", vin[:60], f"“vin” has {len(plain)} places; at most 40 are looked at.")
    arguments.settle()
    strange = [(place, sign) for place, sign in enumerate(plain, 1) if sign not in VALUES]
    if len(plain) != LENGTH:
        return _answer(
            plain,
            "unchecked",
            f"It has {len(plain)} places; a VIN has {LENGTH}. Frame numbers before 1981 are free.",
        )
    if strange:
        named = ", ".join(f"“{sign}” in place {place}" for place, sign in strange)
        hint = (
            "Read it again: I and O are mostly 1 and 0." if {s for _, s in strange} <= set(NEVER_USED) else ""
        )
        return _answer(plain, "rejected", f"A VIN never has {named}.", hint)
    right, found = check_digit(plain), plain[CHECK_PLACE - 1]
    first = f"The sum is {weighted_sum(plain)}; place {CHECK_PLACE} must be {right} and is {found}."
    if right == found:
        return _answer(plain, "valid", first, "The check digit is right.")
    if plain[0] in NORTH_AMERICA:
        return _answer(
            plain, "invalid", first, "A figure is wrong, or two are swapped: read it off the frame again."
        )
    return _answer(
        plain,
        "unsure",
        first,
        "Built outside North America, where many makers do not use the check digit: look again.",
    )


def _answer(plain: str, verdict: Verdict, *why: str) -> VinSum:
    reckoned = verdict in {"valid", "invalid", "unsure"}
    return VinSum(
        vin=plain,
        verdict=verdict,
        weighted_sum=weighted_sum(plain) if reckoned else None,
        check_digit=check_digit(plain) if reckoned else None,
        found_digit=plain[CHECK_PLACE - 1] if reckoned else None,
        why=tuple(sentence for sentence in why if sentence),
        source=("49 CFR 565.15",),
    )
