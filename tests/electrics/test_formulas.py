"""docs/formulas.md is true: it is what the docstrings say today, and nothing of the room is missing in it."""

import doctest
import inspect
import pkgutil
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tracker import electrics
from tracker.electrics.catalogue import NamedSum
from tracker.electrics.catalogue_arguments import arguments_of
from tracker.electrics.catalogue_sums import ALSO, SUMS
from tracker.electrics.handbook import (
    CHAPTERS,
    SECTIONS,
    command_line,
    functions,
    handbook,
    section,
    sections,
    worked_example,
)
from tracker.electrics.tape import tape

DOCS = Path(__file__).parents[2] / "docs" / "formulas.md"
ALL = (*SUMS, *ALSO)

READS_AND_WRITES = {
    "arguments", "catalogue_arguments", "catalogue_budget", "catalogue_charging", "catalogue_figures",
    "handbook",
}  # fmt: skip
"""Modules without formulas of their own; what the named ones wrap stands where it is reckoned."""


def test_the_handbook_on_disk_is_what_the_docstrings_say() -> None:
    told = "docs/formulas.md is behind: python -m tracker.electrics.handbook > docs/formulas.md"
    assert DOCS.read_text("utf-8") == handbook(), told


def test_the_command_prints_it() -> None:
    done = subprocess.run(
        [sys.executable, "-X", "utf8", "-m", "tracker.electrics.handbook"], capture_output=True, check=True
    )
    assert done.stdout.decode("utf-8") == handbook()


def test_every_module_with_a_formula_is_in_a_chapter_once() -> None:
    in_chapters = [module for _, modules in CHAPTERS for module in modules]
    with_formulas = {
        one.name for one in pkgutil.iter_modules(electrics.__path__) if list(functions(one.name))
    }
    assert len(in_chapters) == len(set(in_chapters))
    assert with_formulas - set(in_chapters) <= READS_AND_WRITES
    assert set(in_chapters) <= with_formulas


@pytest.mark.parametrize("named", ALL, ids=lambda named: named.name)
def test_every_named_sum_has_its_entry_with_all_sections(named: NamedSum) -> None:
    text = DOCS.read_text("utf-8")
    (entry,) = re.findall(rf"^### {re.escape(named.name)}$.*?^```$", text, re.MULTILINE | re.DOTALL)
    assert f"`{command_line(named)}`" in entry
    for name in ("Formula", "Range", "Source"):
        assert f"- **{name}**: {section(named.function, name)}" in entry
        assert section(named.function, name)
    assert ">>> " in entry


@pytest.mark.parametrize("named", ALL, ids=lambda named: named.name)
def test_every_example_of_a_named_sum_can_be_typed(named: NamedSum) -> None:
    example = worked_example(named.function)
    assert set(example) <= {one.name for one in arguments_of(named)}
    assert {one.name for one in arguments_of(named) if one.required} <= set(example)


def test_every_example_in_the_handbook_runs() -> None:
    """Each on its own, with what its own module knows."""
    runner = doctest.DocTestRunner(verbose=False)
    ran = 0
    for _, modules in CHAPTERS:
        for module in modules:
            for function in functions(module):
                examples = doctest.DocTestParser().get_doctest(
                    inspect.getdoc(function) or "", dict(function.__globals__), function.__name__, None, None
                )
                assert examples.examples, function.__name__
                ran += runner.run(examples).attempted
    assert runner.summarize(verbose=False).failed == 0
    assert ran > 100


def test_sections_are_cut_at_their_headings() -> None:
    assert list(sections(tape)) == ["Words", *SECTIONS]
    assert section(tape, "Formula").startswith("length = pi D L")
    assert section(test_sections_are_cut_at_their_headings, "Formula") == ""
