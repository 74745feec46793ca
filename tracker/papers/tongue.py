"""The language that papers speak: every word of ours goes through `t`, figures and dates follow.

A language is one file, `words/LANGUAGE.toml`, that gives each English text its own; figures and dates then
follow that language's locale by themselves. English needs no file: it is what stands in the code. What people
wrote is never looked up where it stands by itself as text of theirs.
"""

import tomllib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import date
from decimal import Decimal
from functools import cache
from importlib.resources import files

from tracker.errors import WrongUseError

ENGLISH = "en"
_SPOKEN: ContextVar[str] = ContextVar("spoken", default=ENGLISH)
_BLANKS = str.maketrans({"\u00a0": " ", "\u202f": " "})


def languages() -> tuple[str, ...]:
    """Every language there is a catalogue for, English first."""
    folder = files("tracker.papers") / "words"
    found = sorted(one.name.removesuffix(".toml") for one in folder.iterdir() if one.name.endswith(".toml"))
    return (ENGLISH, *found)


@cache
def catalogue(language: str) -> Mapping[str, str]:
    """A language's texts by their English ones; empty for English."""
    if language == ENGLISH:
        return {}
    path = files("tracker.papers") / "words" / f"{language}.toml"
    return tomllib.loads(path.read_text("utf-8"))


@contextmanager
def speaking(language: str) -> Iterator[None]:
    """Papers made and printed inside speak `language`; raises WrongUseError where there is no catalogue."""
    if language not in languages():
        raise WrongUseError(
            f"There are no papers in “{language}” yet.", f"Languages: {', '.join(languages())}."
        )
    token = _SPOKEN.set(language)
    try:
        yield
    finally:
        _SPOKEN.reset(token)


def language() -> str:
    """What is spoken now, a code of ISO 639-1."""
    return _SPOKEN.get()


def t(text: str, **values: object) -> str:
    """A text of ours as it is said, with `values` in its places; a text unknown to the catalogue stays.

    >>> t("Deposit {number}", number="DEP-26-0001")
    'Deposit DEP-26-0001'
    """
    said = catalogue(language()).get(text, text)
    return said.format(**values) if values else said


def mark(text: str) -> str:
    """A text that is said with `t` later on, so that the catalogues are checked for it."""
    return text


def local_decimal(value: Decimal, digits: int) -> str:
    """A figure with so many decimals, grouped and pointed as the language does it; `value` is exact."""
    from babel.numbers import format_decimal

    pattern = "#,##0." + "0" * digits if digits else "#,##0"
    return format_decimal(value, format=pattern, locale=language()).translate(_BLANKS)


def local_date(value: date) -> str:
    """A date as the language spoken writes it in figures."""
    from babel.dates import format_date

    return format_date(value, "medium", locale=language()).translate(_BLANKS)
