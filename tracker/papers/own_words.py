"""What rooms below wrote in English by themselves, said in the language of the paper; people's words stay."""

import re
from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from functools import cache

from tracker.papers.say import day, price
from tracker.papers.tongue import mark, t

LINES = (
    mark("Looking for the fault"),
    mark("Call-out"),
    mark("Distance"),
    mark("Discount"),
    mark("Deposit {number} of {day}"),
    mark("Deposit on estimate {number}"),
    mark("Off and on again: {what}"),
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
NOTES = (mark("Of this the excess of {amount} is paid by {who}."),)
"""What billing notes on a document by itself."""
_PLACE = re.compile(r"\\\{(\w+)\\\}")
_DAY = re.compile(r"\d{4}-\d\d-\d\d")
_AMOUNT = re.compile(r"(?P<figure>\d+(?:\.\d+)?) (?P<currency>[A-Z]{3})")


def line_words(words: str) -> str:
    """A line's words: the program's own in the language spoken, anybody else's as they are.

    >>> line_words("Deposit DEP-26-0007 of 2026-03-03"), line_words("Tail wire joined")
    ('Deposit DEP-26-0007 of 3 Mar 2026', 'Tail wire joined')
    """
    return _said(words, LINES)


def sentence(words: str) -> str:
    """What an estimate comes to, in the language spoken.

    >>> sentence("About 180 EUR, and not past 220 EUR without a call.")
    'About 180 EUR, and not past 220 EUR without a call.'
    """
    return _said(words, SENTENCES)


def note_words(words: str) -> str:
    """A document's note: lines of the program's own in the language spoken, anybody else's as they are."""
    return "\n".join(_said(line, NOTES) for line in words.split("\n"))


def _said(words: str, known: Sequence[str]) -> str:
    for text in known:
        if found := _pattern(text).fullmatch(words):
            values = {name: _value(value) for name, value in found.groupdict().items()}
            return t(text, **values)
    return words


@cache
def _pattern(text: str) -> re.Pattern[str]:
    return re.compile(_PLACE.sub(r"(?P<\1>.+?)", re.escape(text)), re.DOTALL)


def _value(value: str) -> str:
    """A day or an amount as the language spoken writes it; other values as they are."""
    if _DAY.fullmatch(value):
        return day(date.fromisoformat(value))
    if found := _AMOUNT.fullmatch(value):
        whole = "." not in found["figure"]
        figure = found["figure"] if whole else price(Decimal(found["figure"]), found["currency"])
        return f"{figure} {found['currency']}"
    return value
