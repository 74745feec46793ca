"""The first deed makes the file; one that fails leaves nothing behind, and nobody's file is written over."""

from pathlib import Path

import pytest

from tests.cli.conftest import Loomcard
from tracker.store.store import Store


def test_a_failing_first_deed_leaves_no_file(loomcard: Loomcard, tmp_path: Path) -> None:
    path = tmp_path / "new" / "shop.loomcard"
    for words in (("book-in", "--make", "Halden"), ("came", "1"), ("bill", "--credit", "X")):
        assert loomcard("--file", str(path), *words).code in {1, 2}
        assert list(path.parent.iterdir()) == []
    assert loomcard("--file", str(path), "customer", "add", "Oona").code == 0
    assert [one.name for one in path.parent.iterdir()] == ["shop.loomcard"]
    assert "Oona" in loomcard("--file", str(path), "customers").out


def test_a_file_that_was_there_stays_whatever_fails(loomcard: Loomcard, tmp_path: Path) -> None:
    path = tmp_path / "shop.loomcard"
    loomcard("--file", str(path), "customer", "add", "Oona")
    assert loomcard("--file", str(path), "came", "1").code == 1
    assert "Oona" in loomcard("--file", str(path), "customers").out


def test_what_another_window_made_meanwhile_stays(
    loomcard: Loomcard, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "shop.loomcard"
    close = Store.close

    def late(store: Store) -> None:
        close(store)
        if ".new-" in store.path.name:
            path.write_text("somebody else's")

    monkeypatch.setattr(Store, "close", late)
    said = loomcard("--file", str(path), "customer", "add", "Oona")
    assert said.code == 3
    assert "another window" in said.err
    assert path.read_text() == "somebody else's"
    assert [one.name for one in tmp_path.iterdir() if ".new-" in one.name] == []


def test_a_place_without_links_gets_its_file_all_the_same(
    loomcard: Loomcard, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def none(*_: object) -> None:
        raise PermissionError(1, "no links here")

    monkeypatch.setattr(Path, "hardlink_to", none)
    path = tmp_path / "shop.loomcard"
    assert loomcard("--file", str(path), "customer", "add", "Oona").code == 0
    assert path.exists()


def test_a_file_that_cannot_be_made_is_said_by_its_own_name(loomcard: Loomcard, tmp_path: Path) -> None:
    (tmp_path / "plain").write_text("x")
    said = loomcard("--file", str(tmp_path / "plain" / "shop.loomcard"), "customer", "add", "Oona")
    assert said.code == 3
    assert ".new-" not in said.err
