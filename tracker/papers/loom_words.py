"""Names of the loom as papers say them: places, parts, circuits, states; without an entry they stay English.

A catalogue says a name whole, or part by part: “right bar plug, ignition feed” is two parts, “way 3” is
`way {n}`. A name that a person gave is never looked up: only what the pattern calls something is.
"""

import re
from collections.abc import Iterator
from functools import cache

from tracker.papers.tongue import ENGLISH, catalogue, language, mark, t
from tracker.seedfiles.loom import load_pattern

SPLICE = mark("splice in {wire}")
"""What a splice is called that nobody gave a name to."""
_SPLICE = re.compile(r"splice in (?P<wire>.+)")
_ENDING = re.compile(r"(?P<words>.*[^\W\d]) (?P<n>\d+)")
_SIGN = re.compile(r"[A-Z]|\d+")


def loom_words(text: str) -> str:
    """A name of the loom in the language spoken.

    >>> loom_words("right bar plug, ignition feed")
    'right bar plug, ignition feed'
    """
    if language() == ENGLISH or not text:
        return text
    if found := _SPLICE.fullmatch(text):
        return t(SPLICE, wire=loom_words(found["wire"]))
    if text not in pattern_words():
        return text
    return _said(text) or text


def is_said(text: str, language: str) -> bool:
    """Whether a catalogue has all that is needed to say a name of the pattern."""
    known = catalogue(language)
    return text in known or all(_key(part) is None or _key(part) in known for part in _parts(text))


@cache
def pattern_words() -> frozenset[str]:
    """All that the general pattern calls something, and the states in which something should work."""
    return frozenset(_pattern_words())


def _pattern_words() -> Iterator[str]:
    pattern = load_pattern()
    yield from (one.words for one in pattern.bodies.values())
    yield from (one.words for one in pattern.places.values())
    yield from (one.words for one in pattern.devices.values())
    yield from (one.words for one in pattern.wires.values() if one.words)
    yield from (one.words for one in pattern.known.states.values())


def _said(text: str) -> str | None:
    """The whole name, or its parts where each is known; never half of it."""
    if text in catalogue(language()):
        return t(text)
    if not is_said(text, language()):
        return None
    return ", ".join(_part(part) for part in _parts(text))


def _parts(text: str) -> list[str]:
    return text.split(", ")


def _key(part: str) -> str | None:
    """Under what a part stands in a catalogue; None for the mark of a terminal, the same everywhere."""
    if _SIGN.fullmatch(part):
        return None
    found = _ENDING.fullmatch(part)
    return f"{found['words']} {{n}}" if found else part


def _part(part: str) -> str:
    key = _key(part)
    found = _ENDING.fullmatch(part)
    if key is None:
        return part
    return t(key, n=found["n"]) if found else t(key)
