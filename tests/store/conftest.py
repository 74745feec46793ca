"""One fresh file for each test."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.store.making import opened
from tracker.store.store import Store


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "workshop.loomcard"


@pytest.fixture
def store(path: Path) -> Iterator[Store]:
    with opened(path) as one:
        yield one
