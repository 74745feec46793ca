"""The worked examples in the room's docstrings, and in the records it speaks."""

import doctest
import importlib
import pkgutil

import pytest

import tracker.estimating

MODULES = [
    *(f"tracker.estimating.{module.name}" for module in pkgutil.iter_modules(tracker.estimating.__path__)),
    "tracker.records.repair_rule",
]


@pytest.mark.parametrize("name", MODULES)
def test_examples_run(name: str) -> None:
    assert doctest.testmod(importlib.import_module(name)).failed == 0


def test_there_are_examples() -> None:
    finder = doctest.DocTestFinder(exclude_empty=True)
    found = [test for name in MODULES for test in finder.find(importlib.import_module(name)) if test.examples]
    assert len(found) >= 10
