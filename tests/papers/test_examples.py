"""The examples in this room's docstrings run."""

import doctest
import importlib
import pkgutil

import pytest

import tracker.papers

ROOMS = [found.name for found in pkgutil.iter_modules(tracker.papers.__path__)]


@pytest.mark.parametrize("name", ROOMS)
def test_examples(name: str) -> None:
    assert doctest.testmod(importlib.import_module(f"tracker.papers.{name}")).failed == 0
