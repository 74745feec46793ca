"""Between a record's values and what SQLite keeps: one rule per Python type, taken from the type hints.

| Python            | SQLite  | as                              |
|-------------------|---------|---------------------------------|
| int, bool         | INTEGER |                                 |
| float             | REAL    | finite                          |
| Decimal           | TEXT    | plain digits                    |
| str, StrEnum      | TEXT    |                                 |
| date              | TEXT    | 2026-03-09                      |
| datetime          | TEXT    | 2026-03-09T14:05:00Z (UTC)      |
| bytes             | BLOB    |                                 |
| tuple, dict       | TEXT    | JSON                            |
"""

import json
import math
import operator
import re
import types
import typing
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, fields
from datetime import UTC, date, datetime
from decimal import Decimal
from enum import StrEnum
from typing import Any, TypeVar

from tracker.errors import StoreRefusedError
from tracker.records.row import Row

R = TypeVar("R", bound=Row)

SqlValue = int | float | str | bytes | None


@dataclass(frozen=True, slots=True)
class Column:
    """How one field of a record is kept."""

    name: str
    affinity: str
    nullable: bool
    encode: Callable[[Any], SqlValue]
    decode: Callable[[Any], Any]


def table_name(cls: type[Row]) -> str:
    """The table of a record class: `PartWanted` is kept in `part_wanted`."""
    return re.sub(r"(?<!^)(?=[A-Z])", "_", cls.__name__).lower()


_COLUMNS: dict[type[Row], tuple[Column, ...]] = {}


def columns(cls: type[Row]) -> tuple[Column, ...]:
    """The columns of a record class in the order of its fields."""
    if cls not in _COLUMNS:
        hints = typing.get_type_hints(cls)
        _COLUMNS[cls] = tuple(_column(f.name, hints[f.name]) for f in fields(cls))
    return _COLUMNS[cls]


def encode(record: Row) -> dict[str, SqlValue]:
    """A record as a row."""
    return {
        c.name: None if (v := getattr(record, c.name)) is None else c.encode(v) for c in columns(type(record))
    }


def encode_some(cls: type[Row], values: Mapping[str, Any]) -> dict[str, SqlValue]:
    """Some fields of a record class as they are kept; raises KeyError for a field it does not have."""
    by_name = {c.name: c for c in columns(cls)}
    return {name: None if value is None else by_name[name].encode(value) for name, value in values.items()}


def decode(cls: type[R], row: Sequence[Any]) -> R:
    """A row, in the order of `columns(cls)`, as a record. Raises StoreRefusedError where it is illegible."""
    try:
        values: dict[str, Any] = {
            c.name: None if v is None else c.decode(v) for c, v in zip(columns(cls), row, strict=True)
        }
    except (ValueError, TypeError, ArithmeticError) as error:
        raise StoreRefusedError(
            f"The file holds a {table_name(cls).replace('_', ' ')} that cannot be read (row {row[0]}).",
            "Nothing was written. loomcard check says more; loomcard restore BACKUP helps.",
        ) from error
    return cls(**values)


def instant_text(instant: datetime) -> str:
    """An aware instant as it is kept; texts sort as the instants do."""
    if instant.tzinfo is None:
        raise ValueError("an instant without a zone")
    plain = instant.astimezone(UTC).replace(tzinfo=None)
    return f"{plain.isoformat(timespec='seconds')}Z"  # strftime would not pad the years before 1000


def _whole(value: Any) -> int:
    return int(operator.index(value))  # int() would cut a float without a word


def _finite(value: float) -> float:
    if not math.isfinite(value):
        raise ValueError("a figure that is not finite")
    return float(value)


def _plain(value: Decimal) -> str:
    if not value.is_finite():
        raise ValueError("a figure that is not finite")
    return f"{value:f}"


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, sort_keys=True, allow_nan=False)


def _column(name: str, hint: Any) -> Column:
    nullable = False
    if typing.get_origin(hint) in (types.UnionType, typing.Union):
        inner = [a for a in typing.get_args(hint) if a is not type(None)]
        nullable = True
        (hint,) = inner
    origin = typing.get_origin(hint)
    if origin is tuple:
        return Column(name, "TEXT", nullable, lambda v: _json(list(v)), lambda v: tuple(json.loads(v)))
    if origin is dict:
        return Column(name, "TEXT", nullable, _json, json.loads)
    if issubclass(hint, StrEnum):
        return Column(name, "TEXT", nullable, lambda v: hint(v).value, hint)
    affinity, into, back = _PLAIN[hint]
    return Column(name, affinity, nullable, into, back)


_PLAIN: dict[type, tuple[str, Callable[[Any], SqlValue], Callable[[Any], Any]]] = {
    bool: ("INTEGER", _whole, bool),
    int: ("INTEGER", _whole, int),
    float: ("REAL", _finite, float),
    Decimal: ("TEXT", _plain, Decimal),
    str: ("TEXT", str, str),
    date: ("TEXT", date.isoformat, date.fromisoformat),
    datetime: ("TEXT", instant_text, datetime.fromisoformat),
    bytes: ("BLOB", bytes, bytes),
}
