"""Every paper as it was last looked at; `python -m tests.papers.every` writes them anew."""

import pytest

from tests.papers.every import EVERY, GOLDEN
from tracker.papers.plain import plain


@pytest.mark.parametrize("name", EVERY)
def test_paper(name: str) -> None:
    assert plain(EVERY[name]()) == (GOLDEN / f"{name}.txt").read_text("utf-8")


def test_no_golden_file_is_left_over() -> None:
    assert {path.stem for path in GOLDEN.glob("*.txt")} == set(EVERY)
