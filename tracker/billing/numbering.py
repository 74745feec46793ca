"""Numbers of cards and papers: `26-0412`, `INV-26-0042`, rendered and read back by a pattern.

A pattern holds {yy} or {yyyy} once, {n} once (or {n:04}, {n:05}: the fewest digits, four unless said;
more come as they are needed), and letters, digits and `-`, `.`, `_` and `/` between them. The count itself is
kept by the store, one row per series and year.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import permutations

from tracker.records.problem import Problem

_TOKEN = re.compile(r"\{(?:(yyyy|yy)|n(?::0?([1-9]))?)\}")
_PLAIN = re.compile(r"[A-Za-z0-9._/-]*")
_LONGEST = 24
_DEFAULT_WIDTH = 4


@dataclass(frozen=True, slots=True)
class Numbered:
    """The year and the place in that year's count that a number stands for."""

    year: int
    sequence: int


def render(pattern: str, year: int, sequence: int) -> str:
    """The number as it is printed. ValueError for a count under 1, or a year outside 2000-2099.

    >>> render("INV-{yy}-{n:04}", 2026, 42), render("{yy}-{n}", 2026, 12345)
    ('INV-26-0042', '26-12345')
    """
    if not 2000 <= year <= 2099 or sequence < 1:
        raise ValueError(f"no number for {sequence} in {year}")

    def one(token: re.Match[str]) -> str:
        if token[1]:
            return str(year) if token[1] == "yyyy" else f"{year % 100:02}"
        return f"{sequence:0{token[2] or _DEFAULT_WIDTH}}"

    return _TOKEN.sub(one, pattern)


def parse(pattern: str, text: str) -> Numbered | None:
    """The number that `text` stands for in this series, or None; small letters and missing noughts are fine.

    >>> parse("INV-{yy}-{n:04}", "inv-26-42")
    Numbered(year=2026, sequence=42)
    """
    found = re.fullmatch(_reader(pattern), text.strip(), re.IGNORECASE)
    if not found or len(found["n"]) > 9 or int(found["n"]) == 0:
        return None
    year = int(found["year"])
    year = year if len(found["year"]) == 4 else 2000 + year
    return Numbered(year, int(found["n"])) if 2000 <= year <= 2099 else None


def which(patterns: Mapping[str, str], text: str) -> tuple[str, Numbered] | None:
    """The series that a typed number belongs to, with what it stands for; None where it fits none."""
    for series, pattern in patterns.items():
        if found := parse(pattern, text):
            return series, found
    return None


def pattern_problems(patterns: Mapping[str, str]) -> tuple[Problem, ...]:
    """All that is wrong with the shop's patterns by series: each by itself, then two that look alike.

    An estimate's number may never be taken for an invoice's.
    """
    found: list[Problem] = []
    sound: dict[str, str] = {}
    for series, pattern in patterns.items():
        sentences = list(_own_faults(pattern))
        found.extend(Problem(f"numbers.{series}", sentence, given=pattern) for sentence in sentences)
        if not sentences:
            sound[series] = pattern
    clashing: set[frozenset[str]] = set()
    for one, other in permutations(sound, 2):
        if frozenset((one, other)) not in clashing and _alike(sound[one], sound[other]):
            clashing.add(frozenset((one, other)))
            sentence = f"Numbers of “{one}” and “{other}” cannot be told apart."
            found.append(Problem(f"numbers.{other}", sentence, "Put letters before one.", sound[other]))
    return tuple(found)


def gaps(sequences: Iterable[int]) -> tuple[int, ...]:
    """What is missing from a series that counts 1, 2, 3 ... without gaps; empty when nothing is."""
    taken = set(sequences)
    return tuple(sequence for sequence in range(1, max(taken, default=0)) if sequence not in taken)


def _own_faults(pattern: str) -> Iterable[str]:
    tokens = list(_TOKEN.finditer(pattern))
    counts = sum(1 for token in tokens if not token[1])
    if len(tokens) - counts != 1:
        yield "The pattern needs {yy} or {yyyy} once: the count starts anew each year."
    if counts != 1:
        yield "The pattern needs {n} once."
    if not _PLAIN.fullmatch(_TOKEN.sub("", pattern)):
        yield "Between year and count only letters, digits and - . _ / can stand."
    if len(pattern) > _LONGEST:
        yield f"The pattern is longer than {_LONGEST} characters."
    if counts == 1:
        place = next(token for token in tokens if not token[1])
        before, after = pattern[: place.start()], pattern[place.end() :]
        if before[-1:] in ("}", *"0123456789") or after[:1] in ("{", *"0123456789"):
            yield "The count needs a letter or a sign between it and other digits."


def _alike(one: str, other: str) -> bool:
    return any(
        parse(other, render(one, year, sequence))
        for year in (2000, 2026, 2099)
        for sequence in (1, 26, 2026, 12345)
    )


def _reader(pattern: str) -> str:
    parts: list[str] = []
    at = 0
    for token in _TOKEN.finditer(pattern):
        parts.append(re.escape(pattern[at : token.start()]))
        parts.append(f"(?P<year>[0-9]{{{len(token[1])}}})" if token[1] else "(?P<n>[0-9]+)")
        at = token.end()
    return "".join([*parts, re.escape(pattern[at:])])
