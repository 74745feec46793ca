"""A repair asked for in one text: `splice-butt:joints=2,from=rear-plug:tail,to=tail-lamp:tail,mm=420`."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from tracker.records.problem import Problem

OWN_WORDS = (
    "finding", "words", "circuit", "from", "to", "mm", "mm_end", "place", "zone", "visit", "colour_code",
)  # fmt: skip
"""What may be said of any repair beside its rule's own questions, once each."""

PARTS = ("fit", "own_part")
"""Parts that go with a repair, of the shop's or the customer's own: said as often as there are parts."""

_COUNTED = re.compile(r"(\d{1,4})\s*[x×*]\s*(\S.*)")


@dataclass(frozen=True, slots=True)
class PartText:
    """A part that goes with a repair: a code or words, how many, whether it is the customer's own."""

    name: str
    qty: Decimal = Decimal(1)
    customers_own: bool = False


@dataclass(frozen=True, slots=True)
class RepairText:
    """A repair type with answers to its questions and what is known of where it is."""

    rule: str
    answers: Mapping[str, str] = field(default_factory=dict)
    own: Mapping[str, str] = field(default_factory=dict)
    parts: tuple[PartText, ...] = ()


def read_repair(text: str) -> RepairText | Problem:
    """Reads one; an answer may hold commas as long as no name and equals sign follow them.

    >>> read_repair("splice-butt:joints=2,colour=green,words=left side, under the seat").own["words"]
    'left side, under the seat'
    >>> [(one.name, str(one.qty)) for one in read_repair("led:fit=2 x IND-LED,fit=FLASHER-E").parts]
    [('IND-LED', '2'), ('FLASHER-E', '1')]
    """
    rule, _, rest = text.partition(":")
    if not rule.strip():
        return Problem("repair", "Which repair type?", "loomcard rules lists them.", text[:60])
    pairs: list[tuple[str, str]] = []
    for piece in rest.split(",") if rest.strip() else []:
        name, sign, value = (part.strip() for part in piece.partition("="))
        if sign and name.replace("_", "").isalnum() and not name[0].isdigit():
            if name not in PARTS and any(name == said for said, _ in pairs):
                return Problem("repair", f"“{name}” is said twice.", given=text[:60])
            pairs.append((name, value))
        elif pairs:
            pairs[-1] = (pairs[-1][0], f"{pairs[-1][1]},{piece}")
        else:
            return Problem(
                "repair", "Write the answers as name=value.", "splice-butt:joints=2,size_mm2=0.75", text[:60]
            )
    own = {name: value for name, value in pairs if name in OWN_WORDS}
    parts = tuple(_part(name, value) for name, value in pairs if name in PARTS and value)
    answers = {name: value for name, value in pairs if name not in OWN_WORDS + PARTS}
    return RepairText(rule.strip(), answers, own, parts)


def _part(name: str, value: str) -> PartText:
    counted = _COUNTED.fullmatch(value)
    qty = Decimal(counted[1]) if counted and int(counted[1]) else Decimal(1)
    return PartText(counted[2] if counted else value, qty, name == "own_part")
