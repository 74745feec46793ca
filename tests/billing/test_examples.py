"""The worked examples in the room's docstrings."""

import doctest
import importlib
import pkgutil

import pytest

import tracker.billing

MODULES = [module.name for module in pkgutil.iter_modules(tracker.billing.__path__)]


@pytest.mark.parametrize("name", MODULES)
def test_examples_run(name: str) -> None:
    assert doctest.testmod(importlib.import_module(f"tracker.billing.{name}")).failed == 0


def test_there_are_examples() -> None:
    finder = doctest.DocTestFinder(exclude_empty=True)
    found = [
        test
        for name in MODULES
        for test in finder.find(importlib.import_module(f"tracker.billing.{name}"))
        if test.examples
    ]
    assert len(found) >= 10
