"""Any record of a class, from its type hints alone."""

import typing
from dataclasses import fields
from datetime import UTC, date, datetime
from decimal import Decimal
from enum import StrEnum
from typing import Any

from hypothesis import strategies as st

from tests.hostile import FINE, LINES
from tracker.records.row import Row

INT64 = st.integers(-(2**63), 2**63 - 1)
FIGURES = st.floats(allow_nan=False, allow_infinity=False)
TEXTS = st.text(st.characters(codec="utf-8"), max_size=12) | st.sampled_from((*FINE, *LINES))
JSON = st.recursive(
    st.none() | st.booleans() | INT64 | FIGURES | TEXTS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXTS, inner, max_size=3),
    max_leaves=5,
)

_PLAIN: dict[Any, st.SearchStrategy[Any]] = {
    bool: st.booleans(),
    int: INT64,
    float: FIGURES,
    str: TEXTS,
    bytes: st.binary(max_size=20),
    Decimal: st.decimals(allow_nan=False, allow_infinity=False, min_value=-(10**15), max_value=10**15),
    date: st.dates(),
    datetime: st.datetimes(timezones=st.just(UTC)).map(lambda instant: instant.replace(microsecond=0)),
    object: JSON,
}


def records(cls: type[Row]) -> st.SearchStrategy[Row]:
    """Records of `cls` with every field of any legal value."""
    hints = typing.get_type_hints(cls)
    return st.builds(cls, **{field.name: of_hint(hints[field.name]) for field in fields(cls)})


def of_hint(hint: Any) -> st.SearchStrategy[Any]:
    """Values of a type hint as records write them."""
    arguments = typing.get_args(hint)
    if type(None) in arguments:
        (inner,) = (one for one in arguments if one is not type(None))
        return st.none() | of_hint(inner)
    if typing.get_origin(hint) is tuple:
        return st.lists(of_hint(arguments[0]), max_size=3).map(tuple)
    if typing.get_origin(hint) is dict:
        return st.dictionaries(of_hint(arguments[0]), of_hint(arguments[1]), max_size=3)
    if isinstance(hint, type) and issubclass(hint, StrEnum):
        return st.sampled_from(list(hint))
    return _PLAIN[hint]
