"""Parts and facts as plain values (text, numbers, lists), as they are kept and as they come back.

Whoever reads them back gets a part or every mistake by field; nothing here trusts what was kept.
"""

import dataclasses
import types
import typing
from collections.abc import Mapping
from typing import Any, Final, Literal, get_args, get_origin

from tracker.records.loom import Body, Colour, Device, End, Entry, Place, Wire
from tracker.records.loom_made import Changed, Fact
from tracker.records.loom_pattern import Zone
from tracker.records.problem import Mistakes, Problem

CLASSES: Final[dict[Changed, type[Entry] | type[Zone]]] = {
    "body": Body, "place": Place, "device": Device, "wire": Wire, "zone": Zone,
}  # fmt: skip
FIXED: Final = frozenset({"id", "when", "alter", "was"})
"""Fields that belong to the pattern and that no fact changes."""

ZONE_FIELDS: Final = frozenset({"words", "station_mm", "branch_mm"})


def to_plain(part: Entry) -> dict[str, object]:
    """The fields of a part that differ from their defaults, without its id and the pattern's own."""
    values: dict[str, object] = {}
    for field in dataclasses.fields(part):
        value = getattr(part, field.name)
        if field.name not in FIXED and value != field.default:
            values[field.name] = _plain(value)
    return values


def _plain(value: object) -> object:
    match value:
        case End():
            return str(value)
        case Colour():
            return {"main": value.main, "tracer": value.tracer, "code": value.code}
        case tuple():
            return [_plain(one) for one in value]
        case _:
            return value


def from_plain(what: Changed, values: Mapping[str, object]) -> dict[str, Any]:
    """The fields of a part read back, as they go into its record; raises Mistakes naming every field."""
    hints = typing.get_type_hints(CLASSES[what])
    allowed = ZONE_FIELDS if what == "zone" else frozenset(hints) - FIXED
    read: dict[str, Any] = {}
    problems: list[Problem] = []
    for name, value in values.items():
        if name not in allowed:
            problems.append(Problem(name, f"A {what} has no “{name}” that can be changed.", given=str(value)))
            continue
        try:
            read[name] = _end(name, value) if hints[name] is End else _typed(hints[name], value)
        except (TypeError, ValueError):
            problems.append(Problem(name, f"“{value}” does not fit here.", _wanted(hints[name]), str(value)))
    if problems:
        raise Mistakes(problems)
    return read


def _typed(hint: Any, value: Any) -> Any:
    origin, args = get_origin(hint), get_args(hint)
    if origin in {typing.Union, types.UnionType}:
        return None if value is None else _typed(next(a for a in args if a is not type(None)), value)
    if origin is Literal:
        return _must(value in args, value)
    if hint is Colour:
        return Colour(**{name: _must(isinstance(one, str), one) for name, one in dict(value).items()})
    if origin is tuple:
        items = list(_must(isinstance(value, list | tuple), value))
        if args[-1] is not Ellipsis:
            return tuple(_typed(arg, one) for arg, one in zip(args, items, strict=True))
        return tuple(_typed(args[0], one) for one in items)
    if hint is bool or hint is str:
        return _must(isinstance(value, hint), value)
    number = _must(isinstance(value, int | float) and not isinstance(value, bool), value)
    return float(number) if hint is float else _must(int(number) == number, int(number))


def _end(name: str, value: object) -> End:
    """Out of the one place and into the other, where no side is said."""
    return End.of(_must(isinstance(value, str), value), "out" if name == "a" else "in")


def _must(fits: bool, value: Any) -> Any:
    if not fits:
        raise ValueError(value)
    return value


def _wanted(hint: Any) -> str:
    if get_origin(hint) is Literal:
        return f"One of: {', '.join(str(one) for one in get_args(hint))}."
    names = {int: "a whole number", float: "a number", str: "text", bool: "true or false", End: "a place"}
    inner = [a for a in get_args(hint) if a is not type(None)] or [hint]
    return f"Wanted: {names.get(inner[0], 'a list')}."


def fact_to_row(fact: Fact) -> tuple[str, dict[str, object]]:
    """A fact as it is kept: its deed, and plain values by name. Words, card and date stand beside it."""
    kept: dict[str, object] = {"what": fact.what, "id": fact.id}
    kept |= {name: text for name, text in (("a", fact.a), ("b", fact.b)) if text}
    if fact.mm is not None:
        kept["mm"] = fact.mm
    if fact.values:
        kept["values"] = dict(fact.values)
    return fact.deed, kept
