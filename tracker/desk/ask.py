"""A deed's fields, written once: command options, the form on the screen and JSON keys come from here.

A deed is a frozen dataclass of what a person gave. Its fields carry an `Ask` in `Annotated`; `parse` makes
one from texts, and raises every mistake at once, each beside its field.
"""

import math
import types
import typing
from collections.abc import Mapping, Sequence
from dataclasses import MISSING, dataclass, fields
from datetime import date
from decimal import Decimal
from enum import StrEnum
from typing import Any, Generic, NewType, TypeVar

from tracker.desk import typed
from tracker.records.money import Money
from tracker.records.problem import Mistakes, Problem
from tracker.records.text import clean_text

T = TypeVar("T")

Minutes = NewType("Minutes", int)
"""A span of time at the bench, in minutes."""


@dataclass(frozen=True, slots=True)
class Ask:
    """How one field is asked for. `place` is its turn among a command's bare words (0: an option).

    `least` and `most` are inclusive; `some` refuses nothing at all, 0.
    """

    label: str
    hint: str = ""
    lines: bool = False
    least: int | None = None
    most: int | None = None
    some: bool = False
    place: int = 0
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a deed, for whoever builds a command or a form of it."""

    name: str
    ask: Ask
    kind: Any
    optional: bool
    many: bool
    pairs: bool
    required: bool
    default: Any


@dataclass(frozen=True, slots=True)
class Where:
    """What reading typed text depends on: today's date and the shop's currency."""

    today: date
    currency: str


CLEARED = "-"
"""What is typed where something stood and nothing shall stand: nothing typed leaves it as it was."""

_FIELDS: dict[type, tuple[Field, ...]] = {}


def fields_of(deed: type) -> tuple[Field, ...]:
    """The fields of a deed in the order they are asked."""
    if deed not in _FIELDS:
        hints = typing.get_type_hints(deed, include_extras=True)
        _FIELDS[deed] = tuple(_field(f, hints[f.name]) for f in fields(deed))
    return _FIELDS[deed]


@dataclass(frozen=True, slots=True)
class Parsed(Generic[T]):
    """What was given as a deed, and all that is wrong with it. Where something is wrong the deed is only
    fit to look for more mistakes: fields that could not be read stand at their defaults.
    """

    deed: T
    problems: tuple[Problem, ...]


def read_fields(deed: type[T], raw: Mapping[str, object], where: Where) -> Parsed[T]:
    """A deed from what was given, by field name. Values are texts, numbers, or lists of them (from JSON)."""
    problems: list[Problem] = []
    values: dict[str, Any] = {}
    known = {f.name: f for f in fields_of(deed)}
    for name in raw:
        if name not in known:
            problems.append(
                Problem(name[:60], "There is no such field here.", f"Fields: {', '.join(known)}.")
            )
    for field in known.values():
        given = raw.get(field.name)
        if field.required:
            values[field.name] = _nothing(field)
        if _empty(given):
            if field.required:
                problems.append(Problem(field.name, f"{field.ask.label}: this is needed.", field.ask.hint))
            continue
        value = _value(field, given, where)
        if isinstance(value, Problem):
            problems.append(value)
        elif isinstance(value, list):
            problems += value
        else:
            values[field.name] = value
    return Parsed(deed(**values), tuple(problems))


def parse(deed: type[T], raw: Mapping[str, object], where: Where) -> T:
    """As `read_fields`; raises Mistakes with all that is wrong, fields that do not exist included."""
    parsed = read_fields(deed, raw, where)
    if parsed.problems:
        raise Mistakes(parsed.problems)
    return parsed.deed


def _nothing(field: Field) -> Any:
    """What stands in a needed field that could not be read."""
    if isinstance(field.kind, type) and issubclass(field.kind, StrEnum):
        return next(iter(field.kind))
    return {int: 1, Decimal: Decimal(1), Minutes: Minutes(1), bool: False}.get(field.kind, "")


def raise_all(problems: Sequence[Problem | None]) -> None:
    """Raises Mistakes when any of these is one."""
    found = [problem for problem in problems if problem is not None]
    if found:
        raise Mistakes(found)


def _empty(given: object) -> bool:
    if isinstance(given, str):
        return not given.strip()
    return given is None or given in ((), [], {})


def _field(raw: Any, hint: Any) -> Field:
    ask = Ask(raw.name.replace("_", " "))
    if typing.get_origin(hint) is typing.Annotated:
        hint, *extras = typing.get_args(hint)
        ask = next((extra for extra in extras if isinstance(extra, Ask)), ask)
    optional = False
    if typing.get_origin(hint) in (types.UnionType, typing.Union):
        (hint,) = [a for a in typing.get_args(hint) if a is not type(None)]
        optional = True
    many = typing.get_origin(hint) is tuple
    pairs = typing.get_origin(hint) is dict
    kind = typing.get_args(hint)[0] if many else str if pairs else hint
    required = raw.default is MISSING and raw.default_factory is MISSING
    default = raw.default_factory() if raw.default_factory is not MISSING else raw.default
    return Field(raw.name, ask, kind, optional, many, pairs, required, None if required else default)


def _value(field: Field, given: object, where: Where) -> Any:
    if field.pairs:
        return _pairs(field, given)
    if field.many:
        items = list(given) if isinstance(given, list | tuple) else [given]
        parts = [_one(field, item, where) for item in items]
        problems = [part for part in parts if isinstance(part, Problem)]
        return problems or tuple(parts)
    if isinstance(given, list | tuple | dict):
        return Problem(field.name, f"{field.ask.label}: one value is expected here.", given=str(given)[:60])
    if field.optional and field.kind is str and str(given).strip() == CLEARED:
        return ""
    return _one(field, given, where)


def _pairs(field: Field, given: object) -> Any:
    if isinstance(given, Mapping):
        found = {str(key): str(value) for key, value in given.items()}
    else:
        items = list(given) if isinstance(given, list | tuple) else [given]
        found = {}
        for item in items:
            name, sign, value = str(item).partition("=")
            if not sign:
                return Problem(field.name, "Write it as name=value.", field.ask.hint, str(item)[:60])
            found[name.strip()] = value.strip()
    cleaned = {}
    for key, value in found.items():
        for text in (key, value):
            if isinstance(seen := clean_text(field.name, text, longest=2000), Problem):
                return seen
        cleaned[key] = value
    return cleaned


def _one(field: Field, given: object, where: Where) -> Any:
    kind, name, ask = field.kind, field.name, field.ask
    text = _as_text(given)
    if text is None:
        return Problem(
            name, f"{ask.label}: this kind of value is not understood here.", given=str(given)[:60]
        )
    cleaned = clean_text(name, text, lines=ask.lines)
    if isinstance(cleaned, Problem):
        return cleaned
    if kind is bool:
        return typed.truth(name, cleaned)
    if kind is Minutes:
        return typed.minutes(name, cleaned)
    if kind is int:
        return typed.whole(name, cleaned, least=ask.least or 0, most=ask.most or int(typed.MOST))
    if kind is Decimal or kind is float:
        least = None if ask.least is None else Decimal(ask.least)
        found = typed.figure(
            name, cleaned, least=least, most=typed.MOST if ask.most is None else Decimal(ask.most)
        )
        if ask.some and not isinstance(found, Problem) and found == 0:
            return Problem(name, f"{ask.label}: more than none is expected here.", given=text[:60])
        return found if isinstance(found, Problem) or kind is Decimal else float(found)
    if kind is Money:
        return typed.amount(name, cleaned, where.currency, least=ask.least if ask.least is not None else 0)
    if kind is date:
        return typed.day(name, cleaned, where.today)
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        return _choice(field, cleaned, tuple(kind))
    if ask.choices:
        return _choice(field, cleaned, ask.choices)
    return cleaned


def _choice(field: Field, text: str, choices: Sequence[str]) -> Any:
    folded = text.casefold().replace("_", " ").replace("-", " ")
    plain = {str(choice).casefold().replace("_", " ").replace("-", " "): choice for choice in choices}
    if folded in plain:
        return plain[folded]
    near = [choice for key, choice in plain.items() if key.startswith(folded)]
    if len(near) == 1:
        return near[0]
    return Problem(
        field.name,
        f"{field.ask.label}: this is not one of the answers.",
        f"One of: {', '.join(choices)}.",
        text[:60],
    )


def _as_text(given: object) -> str | None:
    if isinstance(given, bool):
        return "yes" if given else "no"
    if isinstance(given, str):
        return given
    if isinstance(given, int | Decimal):
        return str(given)
    if isinstance(given, float):
        return f"{Decimal(repr(given)):f}" if math.isfinite(given) else None
    return None
