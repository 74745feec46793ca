"""What every record keeps to: frozen, with its own words, no money in floats."""

import dataclasses
import importlib
import pkgutil
import typing
from datetime import UTC, date, datetime
from decimal import Decimal
from enum import StrEnum
from typing import Any

import pytest

import tracker.records
from tracker.errors import LoomcardError
from tracker.records.bike import UNKNOWN, Bike, Earth
from tracker.records.card import Card
from tracker.records.document import Document, DocumentKind
from tracker.records.problem import Mistakes, Problem
from tracker.records.row import Kept, Row
from tracker.records.shop import Shop

MODULES = [
    importlib.import_module(f"tracker.records.{module.name}")
    for module in pkgutil.iter_modules(tracker.records.__path__)
]
OWN = [
    thing
    for module in MODULES
    for thing in vars(module).values()
    if isinstance(thing, type) and thing.__module__ == module.__name__
]
RECORDS: list[type[Any]] = [thing for thing in OWN if dataclasses.is_dataclass(thing)]
CHOICES = [thing for thing in OWN if issubclass(thing, StrEnum)]


@pytest.mark.parametrize("record", RECORDS, ids=lambda cls: cls.__name__)
def test_a_record_is_frozen_and_has_no_room_for_more(record: type[Any]) -> None:
    assert record.__dataclass_params__.frozen
    assert "__slots__" in vars(record)
    assert record.__doc__
    assert not record.__doc__.startswith(f"{record.__name__}(")  # what dataclass would write by itself


@pytest.mark.parametrize("record", RECORDS, ids=lambda cls: cls.__name__)
def test_money_mm_and_minutes_are_whole_and_prices_are_decimals(record: type[Any]) -> None:
    for name, hint in typing.get_type_hints(record).items():
        kinds = typing.get_args(hint) or (hint,)
        if name.endswith("_minor"):
            assert int in kinds, name
        if name in {"qty", "unit_price", "price", "cost", "tax_rate", "rate", "base_qty", "unit_cost"}:
            assert Decimal in kinds, name
        if issubclass(record, Row) and name.endswith(("_mm", "_min")) and name != "wire_mm":
            assert int in kinds, name


@pytest.mark.parametrize(
    "record", [one for one in RECORDS if issubclass(one, Row)], ids=lambda cls: cls.__name__
)
def test_a_stored_record_takes_its_fields_by_name_only(record: type[Any]) -> None:
    with pytest.raises(TypeError):
        record(1)
    assert [field.name for field in dataclasses.fields(record)][:2] == ["id", "token"]


@pytest.mark.parametrize("choice", CHOICES, ids=lambda cls: cls.__name__)
def test_choices_are_plain_words_without_twins(choice: type[StrEnum]) -> None:
    words = [one.value for one in choice]
    assert len(set(words)) == len(list(choice.__members__)) == len(words)
    assert all(word == word.strip() and word for word in words)
    assert choice.__doc__


def test_dont_know_is_an_answer() -> None:
    bike = Bike(make="Harrow")
    assert bike.earth is Earth.UNKNOWN
    assert bike.earth == bike.battery_kind == UNKNOWN
    assert bike.volts is bike.battery_ah is None


def test_a_bikes_name_is_make_and_model() -> None:
    assert Bike(make="Harrow", model="Trail 125").name == "Harrow Trail 125"
    assert Bike(make="Harrow").name == "Harrow"


def test_a_new_record_has_no_id_and_a_kept_one_is_version_one() -> None:
    card = Card(number="26-0001", complaint="", came_at=datetime(2026, 3, 9, tzinfo=UTC))
    assert (card.id, card.token, card.version) == (0, "", 1)
    assert isinstance(card, Kept)
    day = date(2026, 3, 9)
    issued = Document(
        kind=DocumentKind.INVOICE, number="INV-26-0001", series="invoice", year=2026, sequence=1,
        issued_on=day, supply_on=day, due_on=day, currency="EUR", seller={}, buyer={},
        line_total_minor=0, net_minor=0, tax_minor=0, total_minor=0, payable_minor=0, at=card.came_at,
    )  # fmt: skip
    assert not hasattr(issued, "version")


def test_shops_do_not_share_their_number_formats() -> None:
    assert Shop().numbers is not Shop().numbers
    assert Shop() == Shop()


def test_one_mistake_speaks_for_itself_and_several_are_counted() -> None:
    year = Problem("year", "A year has four digits.", "For instance 1981.", "81")
    mass = Problem("volts", "6 or 12.")
    one, two = Mistakes([year]), Mistakes(iter([year, mass]))
    assert (one.sentence, one.hint) == (year.sentence, year.hint)
    assert (two.sentence, two.hint) == ("2 things need another look.", "")
    assert two.problems == (year, mass)
    assert isinstance(two, LoomcardError)
    assert two.exit_code == 2
