"""The turns of phrase, and that every example in the room's docstrings runs."""

import doctest
import importlib
import pkgutil
from datetime import date, timedelta

import pytest

import tracker.card
from tracker.card.words import day_words, money_words, quoted, several
from tracker.records.shop import Shop

WEDNESDAY = date(2026, 3, 4)


@pytest.mark.parametrize("name", [module.name for module in pkgutil.iter_modules(tracker.card.__path__)])
def test_examples_in_the_docstrings_run(name: str) -> None:
    assert doctest.testmod(importlib.import_module(f"tracker.card.{name}")).failed == 0


@pytest.mark.parametrize(
    ("days", "said"),
    [
        (-40, "40 days ago"),
        (-7, "7 days ago"),
        (-6, "6 days ago"),
        (-2, "2 days ago"),
        (-1, "yesterday"),
        (0, "today"),
        (1, "tomorrow"),
        (2, "Friday"),
        (6, "Tuesday"),
        (7, "in 7 days"),
    ],
)
def test_days_are_said_as_at_the_desk(days: int, said: str) -> None:
    assert day_words(WEDNESDAY + timedelta(days=days), WEDNESDAY) == said


@pytest.mark.parametrize(("currency", "said"), [("EUR", "186.40"), ("JPY", "18640"), ("KWD", "18.640")])
def test_money_has_its_currencys_decimals(currency: str, said: str) -> None:
    assert money_words(18640, Shop(currency=currency)) == said


@pytest.mark.parametrize(
    ("names", "said"),
    [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")],
)
def test_lists(names: list[str], said: str) -> None:
    assert several(names) == said


def test_long_words_are_cut_and_lines_joined() -> None:
    assert quoted("left\nrear \t plug") == "“left rear plug”"
    assert quoted("x" * 41) == f"“{'x' * 39}…”"
    assert quoted("x" * 40) == f"“{'x' * 40}”"
