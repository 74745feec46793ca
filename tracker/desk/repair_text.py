"""A repair asked for in one text: `splice-butt:joints=2,from=rear-plug:tail,to=tail-lamp:tail,mm=420`."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from tracker.records.problem import Problem

OWN_WORDS = (
    "finding", "words", "circuit", "from", "to", "mm", "mm_end", "place", "zone", "visit", "colour_code",
    "fit",
)  # fmt: skip
"""What may be said of any repair beside its rule's own questions."""


@dataclass(frozen=True, slots=True)
class RepairText:
    """A repair type with answers to its questions and what is known of where it is."""

    rule: str
    answers: Mapping[str, str] = field(default_factory=dict)
    own: Mapping[str, str] = field(default_factory=dict)


def read_repair(text: str) -> RepairText | Problem:
    """Reads one; an answer may hold commas as long as no name and equals sign follow them.

    >>> read_repair("splice-butt:joints=2,colour=green,words=left side, under the seat").own["words"]
    'left side, under the seat'
    """
    rule, _, rest = text.partition(":")
    if not rule.strip():
        return Problem("repair", "Which repair type?", "loomcard rules lists them.", text[:60])
    pairs: dict[str, str] = {}
    last = ""
    for piece in rest.split(",") if rest.strip() else []:
        name, sign, value = piece.partition("=")
        if sign and name.strip().replace("_", "").isalnum() and not name.strip()[0].isdigit():
            last = name.strip()
            if last in pairs:
                return Problem("repair", f"“{last}” is said twice.", given=text[:60])
            pairs[last] = value.strip()
        elif last:
            pairs[last] += f",{piece}"
        else:
            return Problem(
                "repair", "Write the answers as name=value.", "splice-butt:joints=2,size_mm2=0.75", text[:60]
            )
    own = {name: value for name, value in pairs.items() if name in OWN_WORDS}
    answers = {name: value for name, value in pairs.items() if name not in OWN_WORDS}
    return RepairText(rule.strip(), answers, own)
