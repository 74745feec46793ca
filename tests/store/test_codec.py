"""Whatever a record holds comes back from SQLite as it was."""

import sqlite3
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta, timezone
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.store.strategies import records
from tracker.errors import StoreRefusedError
from tracker.records.bike import Bike, OwnFigure
from tracker.records.card import Card, GoAhead
from tracker.records.document import Estimate
from tracker.records.row import Row
from tracker.records.stock import Part
from tracker.store.codec import columns, decode, encode, encode_some, instant_text, table_name
from tracker.store.tables import KEPT

AT = datetime(2026, 3, 9, 9, 30, tzinfo=UTC)


@pytest.fixture(scope="module")
def mirror() -> Iterator[sqlite3.Connection]:
    """Tables with the records' columns and STRICT kinds, and no rule besides."""
    connection = sqlite3.connect(":memory:")
    for cls in KEPT:
        listed = ", ".join(f'"{column.name}" {column.affinity}' for column in columns(cls))
        connection.execute(f'CREATE TABLE "{table_name(cls)}" ({listed}) STRICT')
    yield connection
    connection.close()


@pytest.mark.parametrize("cls", KEPT, ids=table_name)
def test_every_record_comes_back_as_it_was(mirror: sqlite3.Connection, cls: type[Row]) -> None:
    table = table_name(cls)

    @settings(max_examples=25, deadline=None)
    @given(records(cls))
    def round_trip(record: Row) -> None:
        row = encode(record)
        assert list(row) == [column.name for column in columns(cls)]
        mirror.execute(f'DELETE FROM "{table}"')
        mirror.execute(f'INSERT INTO "{table}" VALUES ({", ".join("?" for _ in row)})', tuple(row.values()))
        (kept,) = mirror.execute(f'SELECT * FROM "{table}"').fetchall()
        assert decode(cls, kept) == record

    round_trip()


@given(
    st.datetimes(
        min_value=datetime(1, 1, 3),
        max_value=datetime(9999, 12, 28),
        timezones=st.integers(-23, 23).map(lambda hours: timezone(timedelta(hours=hours))),
    ),
    st.integers(1, 10**6),
)
def test_instants_sort_as_their_texts(instant: datetime, seconds: int) -> None:
    text = instant_text(instant)
    assert datetime.fromisoformat(text) == instant.replace(microsecond=0)
    assert instant_text(instant - timedelta(seconds=seconds)) < text


@given(st.decimals(allow_nan=False, allow_infinity=False, min_value=-(10**9), max_value=10**9))
def test_decimals_are_plain_digits(figure: Decimal) -> None:
    text = str(encode_some(Part, {"price": figure})["price"])
    assert set(text) <= set("-.0123456789")
    assert Decimal(text) == figure


@pytest.mark.parametrize(
    ("cls", "values"),
    [
        (OwnFigure, {"least": float("nan")}),
        (OwnFigure, {"most": float("inf")}),
        (Part, {"price": Decimal("NaN")}),
        (Part, {"price": Decimal("-Infinity")}),
        (Card, {"came_at": datetime(2026, 3, 9, 9, 30)}),
        (Estimate, {"frozen": {"rate": float("nan")}}),
        (Bike, {"earth": "sideways"}),
    ],
)
def test_what_cannot_be_kept_is_never_written(cls: type[Row], values: dict[str, Any]) -> None:
    with pytest.raises(ValueError):  # noqa: PT011 - whichever says so, nothing is written
        encode_some(cls, values)


def test_a_whole_number_is_never_cut_from_a_figure() -> None:
    with pytest.raises(TypeError):
        encode_some(Bike, {"volts": 6.5})
    assert encode_some(Bike, {"volts": True}) == {"volts": 1}


def test_a_field_that_is_not_there_is_an_error() -> None:
    with pytest.raises(KeyError):
        encode_some(Bike, {"wings": 2})


@pytest.mark.parametrize(
    ("name", "damage"),
    [("came_at", "yesterday"), ("kind", "boat"), ("promised_on", "2026-02-30"), ("odometer", "far")],
)
def test_an_illegible_row_is_said_in_words(name: str, damage: str) -> None:
    row = encode(Card(id=7, number="26-0001", complaint="", came_at=AT))
    row[name] = damage
    with pytest.raises(StoreRefusedError, match=r"a card that cannot be read \(row 7\)") as caught:
        decode(Card, tuple(row.values()))
    assert "restore" in caught.value.hint


def test_an_illegible_list_is_said_in_words() -> None:
    row = {c.name: None for c in columns(GoAhead)} | {"id": 1, "covers": "[1, 2"}
    with pytest.raises(StoreRefusedError, match="go ahead"):
        decode(GoAhead, tuple(row.values()))
