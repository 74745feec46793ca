"""What rooms below wrote in English by themselves, said in the language of the paper; people's words stay."""

import re
from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from functools import cache

from tracker.papers.say import day, number, price
from tracker.papers.tongue import ENGLISH, catalogue, language, mark, t
from tracker.seedfiles.door import SHIPPED
from tracker.seedfiles.loom_tables import read_accesses
from tracker.seedfiles.repairs import load_rules

LINES = (
    mark("Looking for the fault"),
    mark("Call-out"),
    mark("Distance"),
    mark("Discount"),
    mark("Deposit {number} of {day}"),
    mark("Deposit on estimate {number}"),
    mark("Off and on again: {what}"),
    mark("{what}, visit {visit}"),
    mark("Made up to the bench minimum"),
    mark("Wire {size} mm² {colour}"),
    mark("Wire {size} mm²"),
    mark("{part} (customer's own, no guarantee)"),
)
"""The lines of a bill or an estimate that the desk puts there itself."""
SENTENCES = (
    mark("About {amount}: more than the {limit} agreed, so it needs a further go-ahead."),
    mark("About {amount}, and not past it without a call."),
    mark("About {amount}, and not past {limit} without a call."),
    mark("{amount}, fixed."),
)
"""What an estimate comes to (`tracker.estimating.customer_words`)."""
NOTES = (
    mark("Of this the excess of {amount} is paid by {who}."),
    mark("Taken off {count} times: {what}, first on {first}, last on {last}; {who} came later."),
    mark("Taken off {count} times: {what}, first on {first}, last on {last} ({who})."),
    mark("Taken off {count} times: {what}, first on {first}, last on {last}."),
)
"""What billing notes on a document by itself."""
NAMES = frozenset({"who", "number"})
"""Places that hold somebody's name or a number, which is the same in every language."""
_PLACE = re.compile(r"\\\{(\w+)\\\}")
_DAY = re.compile(r"\d{4}-\d\d-\d\d")
_FIGURE = re.compile(r"\d+(?:\.\d+)?")
_AMOUNT = re.compile(r"(?P<figure>\d+(?:\.\d+)?) (?P<currency>[A-Z]{3})")


def line_words(words: str) -> str:
    """A line's words: the program's own in the language spoken, anybody else's as they are.

    >>> line_words("Deposit DEP-26-0007 of 2026-03-03"), line_words("Tail wire joined")
    ('Deposit DEP-26-0007 of 3 Mar 2026', 'Tail wire joined')
    """
    known = _said(words, LINES)
    if known is not None or language() == ENGLISH:
        return words if known is None else known
    return _from_seeds(words)


def sentence(words: str) -> str:
    """What an estimate comes to, in the language spoken.

    >>> sentence("About 180 EUR, and not past 220 EUR without a call.")
    'About 180 EUR, and not past 220 EUR without a call.'
    """
    return _said(words, SENTENCES) or words


def note_words(words: str) -> str:
    """A document's note: lines of the program's own in the language spoken, anybody else's as they are."""
    return "\n".join(_said(line, NOTES) or line for line in words.split("\n"))


@cache
def seed_words() -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What rules and tables put on papers word for word, and with places to be filled; the fullest first."""
    rules = load_rules().by_id.values()
    found: list[str] = [rule.words for rule in rules]
    found += [part.words for rule in rules for part in (*rule.parts, *rule.sleeves, *rule.tapes)]
    found += [access.words for access in read_accesses(SHIPPED, []).values()]
    filled = [words for rule in rules for words in rule.record.values() if "{" not in words]
    whole = dict.fromkeys([*(words for words in found if "{" not in words), *filled])
    places = dict.fromkeys(words for words in found if "{" in words)
    return tuple(whole), tuple(sorted(places, key=_literal, reverse=True))


def _literal(text: str) -> int:
    return len(re.sub(r"\{\w+\}", "", text))


def _from_seeds(words: str) -> str:
    """The same where a seed's text made it; a text with places only where all that fills them is known."""
    whole, places = seed_words()
    if words in whole:
        return t(words)
    for text in places:
        found = _pattern(text).fullmatch(words)
        if found and all(_is_known(value) for value in found.groups()):
            return t(text, **{name: _value(value) for name, value in found.groupdict().items()})
    return words


def _is_known(value: str) -> bool:
    return any(map(str.isdigit, value)) or value in catalogue(language())


def _said(words: str, known: Sequence[str]) -> str | None:
    for text in known:
        if found := _pattern(text).fullmatch(words):
            values = found.groupdict().items()
            return t(text, **{name: value if name in NAMES else _value(value) for name, value in values})
    return None


@cache
def _pattern(text: str) -> re.Pattern[str]:
    return re.compile(_PLACE.sub(r"(?P<\1>.+?)", re.escape(text)), re.DOTALL)


def _value(value: str) -> str:
    """A day, an amount or a figure as the language spoken writes it; a seed's words in it; others as is."""
    if _DAY.fullmatch(value):
        return day(date.fromisoformat(value))
    if found := _AMOUNT.fullmatch(value):
        whole = "." not in found["figure"]
        figure = found["figure"] if whole else price(Decimal(found["figure"]), found["currency"])
        return f"{figure} {found['currency']}"
    if language() == ENGLISH:
        return value
    if _FIGURE.fullmatch(value):
        return number(Decimal(value))
    known = catalogue(language()).get(value)
    if known is None and "/" in value:
        parts = [catalogue(language()).get(part) for part in value.split("/")]
        known = "/".join(part for part in parts if part) if all(parts) else None
    return line_words(value) if known is None else known
