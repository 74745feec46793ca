"""What belongs to the person: where things lie, and preferences that never stop the program."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from tests.hostile import FINE
from tracker.settings import (
    APP,
    Preferences,
    config_folder,
    data_folder,
    default_file,
    log_folder,
    read_preferences,
    write_preferences,
)

MINE = Preferences(who="Zoë [/]", last_file="C:\\[x]\\shop.loomcard", theme="dark", keys={"next": "space"})


def test_each_folder_can_be_named_by_a_variable(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    for name, folder in {"DATA": data_folder, "CONFIG": config_folder, "LOG": log_folder}.items():
        monkeypatch.delenv(f"LOOMCARD_{name}", raising=False)
        assert APP in str(folder())
        monkeypatch.setenv(f"LOOMCARD_{name}", str(tmp_path / name))
        assert folder() == tmp_path / name
    assert default_file() == tmp_path / "DATA" / "workshop.loomcard"


def test_preferences_come_back(tmp_path: Path) -> None:
    assert read_preferences(tmp_path) == Preferences()
    write_preferences(MINE, tmp_path / "deep" / "er")
    assert read_preferences(tmp_path / "deep" / "er") == MINE
    assert [one.name for one in (tmp_path / "deep" / "er").iterdir()] == ["preferences.json"]


def test_they_lie_in_the_persons_own_folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("LOOMCARD_CONFIG", str(tmp_path))
    write_preferences(MINE)
    assert read_preferences() == MINE


def test_any_text_comes_back(tmp_path: Path) -> None:
    for text in FINE:
        mine = replace(MINE, who=text, keys={text: text})
        write_preferences(mine, tmp_path)
        assert read_preferences(tmp_path) == mine


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"{",
        b"[]",
        b"null",
        b'"x"',
        b"\xff\xfe",
        b"\x00" * 100,
        b'{"who": 1, "keys": []}',
        b"[" * 100_000,
    ],
    ids=lambda content: ascii(content[:12]),
)
def test_a_broken_file_gives_the_defaults(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "preferences.json").write_bytes(content)
    assert read_preferences(tmp_path) == Preferences()


def test_what_is_broken_is_passed_over_and_the_rest_is_taken(tmp_path: Path) -> None:
    spoilt = {"who": "Zoë", "theme": 7, "colour": "red", "keys": {"next": "space", "back": 1}}
    (tmp_path / "preferences.json").write_text(json.dumps(spoilt))
    assert read_preferences(tmp_path) == Preferences(who="Zoë", keys={"next": "space"})


def test_a_folder_in_the_files_place_gives_the_defaults(tmp_path: Path) -> None:
    (tmp_path / "preferences.json").mkdir()
    assert read_preferences(tmp_path) == Preferences()


def test_a_write_that_fails_leaves_the_one_before_and_nothing_beside(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_preferences(MINE, tmp_path)

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("json.dump", full)
    with pytest.raises(OSError, match="No space"):
        write_preferences(Preferences(), tmp_path)
    assert read_preferences(tmp_path) == MINE
    assert [one.name for one in tmp_path.iterdir()] == ["preferences.json"]
