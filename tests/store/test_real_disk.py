"""A folder without rights and a disk that is really full."""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.store.making import add, book_in, count, customer, do, opened, rows
from tests.store.stranger import NOBODY
from tracker.errors import StoreRefusedError
from tracker.records.people import Customer

pytestmark = pytest.mark.skipif(os.name == "nt", reason="rights and mounts are POSIX's")


@pytest.fixture
def place() -> Iterator[Path]:
    """A folder that anybody may look into, unlike pytest's own."""
    with tempfile.TemporaryDirectory() as folder:
        Path(folder).chmod(0o755)
        yield Path(folder)


def stranger(path: Path) -> dict[str, Any]:
    done = subprocess.run(
        (sys.executable, "-m", "tests.store.stranger", str(path)), capture_output=True, text=True, check=True
    )
    said: dict[str, Any] = json.loads(done.stdout)
    return said


def filled(place: Path, name: str = "workshop.loomcard") -> Path:
    path = place / name
    with opened(path) as store:
        do(store, book_in)
    return path


def own(path: Path) -> None:
    """Gives the folder to the stranger, where we are somebody who can."""
    if os.geteuid() == 0:
        os.chown(path, NOBODY, NOBODY)


def test_a_new_file_in_a_read_only_folder(place: Path) -> None:
    place.chmod(0o555)
    (sentence, hint) = stranger(place / "new.loomcard")["opened"]
    assert sentence == "The file cannot be opened."
    assert "may be written to" in hint
    (sentence, _) = stranger(place / "shop" / "new.loomcard")["opened"]
    assert "may not be written to" in sentence
    assert list(place.iterdir()) == []
    place.chmod(0o755)


def test_a_file_in_a_read_only_folder(place: Path) -> None:
    path = filled(place)
    path.chmod(0o666)
    before = path.read_bytes()
    place.chmod(0o555)
    (sentence, hint) = stranger(path)["opened"]
    assert sentence == "The file, or the folder it lies in, may not be written to."
    assert "permissions" in hint
    assert path.read_bytes() == before
    assert list(place.iterdir()) == [path]
    place.chmod(0o755)
    with opened(path) as store:
        assert count(store, "card") == 1


def test_a_read_only_file_can_be_looked_at_but_not_written(place: Path) -> None:
    path = filled(place)
    path.chmod(0o444)
    own(place)
    before = path.read_bytes()
    said = stranger(path)
    assert said["opened"] is True
    assert said["read"] is True
    (sentence, hint) = said["wrote"]
    assert sentence == "The file, or the folder it lies in, may not be written to."
    assert "permissions" in hint
    assert path.read_bytes() == before


def test_a_file_that_may_not_even_be_read(place: Path) -> None:
    path = filled(place)
    path.chmod(0)
    own(place)
    (sentence, hint) = stranger(path)["opened"]
    assert sentence == "The file, or the folder it lies in, may not be written to."
    assert "permissions" in hint


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    mounted = subprocess.run(
        ("mount", "-t", "tmpfs", "-o", "size=300k", "tmpfs", str(tmp_path)), capture_output=True, check=False
    )
    if mounted.returncode:
        pytest.skip("a small disk cannot be mounted here; elsewhere max_page_count stands in for one")
    yield tmp_path
    subprocess.run(("umount", str(tmp_path)), check=True, capture_output=True)


def resize(disk: Path, size: str) -> None:
    subprocess.run(("mount", "-o", f"remount,size={size}", str(disk)), check=True, capture_output=True)


def test_a_disk_that_is_really_full(small_disk: Path) -> None:
    path = small_disk / "workshop.loomcard"
    kept: list[str] = []

    def fill() -> None:
        with opened(path) as store:
            for number in range(500):
                kept.append(add(store, customer(f"{number}", notes="x" * 3000)).name)

    with pytest.raises(StoreRefusedError, match="The disk is full"):
        fill()  # not even the tables fit
    assert kept == []
    resize(small_disk, "2m")
    with pytest.raises(StoreRefusedError, match="The disk is full"):
        fill()
    assert len(kept) > 10
    with pytest.raises(StoreRefusedError, match="The disk is full"):
        fill()  # opened again it still is full, and nothing is lost of what was said to be kept
    resize(small_disk, "8m")
    with opened(path) as store:
        assert [one.name for one in rows(store, Customer)] == kept
        assert count(store, "journal_entry") == len(kept)
        add(store, customer("after"))
        assert store.read(lambda reader: reader.sql("PRAGMA integrity_check")) == [("ok",)]
