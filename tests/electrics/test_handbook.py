"""The room reads like a handbook: each example runs, each public function of the sums has its sections."""

import doctest
import importlib
import inspect
import pkgutil
import re
from collections.abc import Iterator
from types import FunctionType

import pytest

from tracker import electrics
from tracker.electrics.catalogue import WIRE_SUMS

MODULES = sorted(module.name for module in pkgutil.iter_modules(electrics.__path__))
HANDBOOK = (
    "arguments", "ampacity", "ballast", "bundle", "colour", "conductor", "crimp", "drop", "flasher", "fuse",
    "lamp", "load", "sizing", "sleeve", "splice", "splice_place", "tape", "terminal", "vin",
)  # fmt: skip
SECTIONS = ("Formula:", "Range:", "Example:", "Source:")


def functions() -> Iterator[tuple[str, FunctionType]]:
    for name in HANDBOOK:
        module = importlib.import_module(f"tracker.electrics.{name}")
        for word, thing in inspect.getmembers(module, inspect.isfunction):
            if thing.__module__ == module.__name__ and not word.startswith("_"):
                yield f"{name}.{word}", thing


@pytest.mark.parametrize("name", MODULES)
def test_every_example_runs(name: str) -> None:
    result = doctest.testmod(importlib.import_module(f"tracker.electrics.{name}"))
    assert result.failed == 0


@pytest.mark.parametrize(
    ("name", "function"), list(functions()), ids=lambda value: value if isinstance(value, str) else ""
)
def test_every_public_function_has_its_sections_in_order(name: str, function: FunctionType) -> None:
    text = inspect.getdoc(function) or ""
    places = [re.search(rf"^{section}", text, re.M) for section in SECTIONS]
    assert all(places), f"{name} lacks a section"
    starts = [place.start() for place in places if place]
    assert starts == sorted(starts)
    assert ">>> " in text[starts[2] : starts[3]]


@pytest.mark.parametrize(
    ("name", "function"), list(functions()), ids=lambda value: value if isinstance(value, str) else ""
)
def test_every_source_is_numbered_or_says_that_there_is_none(name: str, function: FunctionType) -> None:
    source = (inspect.getdoc(function) or "").split("Source:")[1].strip()
    assert re.match(r"\[1\] \S|none: \S", source), name


def test_each_named_sum_takes_arguments_by_name_only() -> None:
    for named in WIRE_SUMS:
        parameters = inspect.signature(named.function).parameters.values()
        assert all(parameter.kind is parameter.KEYWORD_ONLY for parameter in parameters), named.name


def test_the_names_of_the_sums() -> None:
    assert " ".join(named.name for named in WIRE_SUMS) == (
        "wire drop fuse bundle sleeve tape splice crimp lamp ballast flasher vin"
    )
