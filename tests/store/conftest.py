"""One fresh file for each test."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.store.making import do, opened
from tests.store.samples import everything
from tracker.records.card import Card
from tracker.store.backup import backup
from tracker.store.store import Store


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "workshop.loomcard"


@pytest.fixture
def store(path: Path) -> Iterator[Store]:
    with opened(path) as one:
        yield one


@pytest.fixture
def kept(store: Store, tmp_path: Path) -> Path:
    """A backup of a file with a row of everything."""
    do(store, lambda unit: everything(unit)[Card])
    return backup(store, tmp_path / "kept.loomcard")
