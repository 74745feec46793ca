"""The repair rules on the command line: list, show, check, try, change, edit, restore."""

from pathlib import Path

import pytest

from tests.cli.conftest import Loomcard
from tracker.seedfiles.door import SHIPPED

TRACE = SHIPPED.text("repairs/trace.toml")
LONGER = TRACE.replace("likely = 0.55", "likely = 0.8")


@pytest.fixture
def shop(loomcard: Loomcard) -> Loomcard:
    """A shop with a bike."""
    loomcard("settings", "change", "--name", "Copperleaf", "--mechanic", "Ines")
    loomcard("bike", "add", "Halden", "--registration", "LKM 412")
    return loomcard


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A changed rule on disk."""
    path = tmp_path / "trace.toml"
    path.write_text(LONGER, "utf-8")
    return path


def test_rules_are_there_before_there_is_a_file(loomcard: Loomcard) -> None:
    assert "splice-butt" in loomcard("rules").out
    assert loomcard("rules", "trace").out.startswith("#")
    assert loomcard("rules", "show", "trace", "--json").json["own"] is False
    assert loomcard("rules", "check").out == "23 rules: nothing wrong.\n"
    assert loomcard("rules", "tace").code == 1


def test_checked_tried_kept_and_given_back(shop: Loomcard, file: Path) -> None:
    assert shop("rules", "check", str(file)).out == "1 rule: nothing wrong.\n"
    tried = shop("rules", "try", "trace", str(file), "--bike", "1")
    assert "Nothing is kept yet." in tried.out
    assert "with this text: expected 45 min" in tried.out  # (15 + 4 x 48 + 60) / 6 = 44.5
    assert shop("rules", "--json").json["rules"][-1]["own"] is False
    assert shop("rules", "change", "trace", str(file)).code == 0
    assert "trace *" in shop("rules").out
    assert "# Your own text." in shop("rules", "trace").out
    assert shop("rules", "restore", "trace").code == 0
    assert "trace *" not in shop("rules").out


def test_a_trial_in_json(shop: Loomcard, file: Path) -> None:
    found = shop("rules", "try", "trace", str(file), "--bike", "1", "--json").json
    assert found["bike"]["before"]["minutes"]["expected"] == 35
    assert found["bike"]["after"]["minutes"]["expected"] == 45
    assert (found["past"], found["off_after"]) == ([], None)


def test_every_mistake_of_a_text_is_said_at_once(shop: Loomcard, file: Path) -> None:
    file.write_text(LONGER.replace("most = 1\n", "most = 0.1\n").replace("least = 10", "lest = 10"), "utf-8")
    for words in (("rules", "check", str(file)), ("rules", "change", "trace", str(file))):
        said = shop(*words, "--json")
        assert said.code == 2
        fields = [row["field"] for row in said.json["error"]["fields"]]
        assert len(fields) >= 2
        assert any("minutes 1" in field for field in fields)
        assert any("asks 1" in field for field in fields)


def test_ones_own_editor(shop: Loomcard, monkeypatch: pytest.MonkeyPatch) -> None:
    answers = iter([True])
    monkeypatch.setattr("click.edit", lambda text, **_: text.replace("likely = 0.55", "likely = 0.8"))
    monkeypatch.setattr("click.confirm", lambda *_, **__: next(answers))
    assert "Kept." in shop("rules", "edit", "trace", "--bike", "1").out
    assert "likely = 0.8" in shop("rules", "trace").out


def test_an_editor_that_leaves_a_mistake_is_opened_again(
    shop: Loomcard, monkeypatch: pytest.MonkeyPatch
) -> None:
    texts = iter([LONGER.replace("likely = 0.8", "likely = 80"), LONGER])
    answers = iter([True, False])
    monkeypatch.setattr("click.edit", lambda *_, **__: next(texts))
    monkeypatch.setattr("click.confirm", lambda *_, **__: next(answers))
    said = shop("rules", "edit", "trace")
    assert "must rise" in said.out
    assert said.out.endswith("Not kept.\n")


def test_an_editor_that_changes_nothing(shop: Loomcard, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("click.edit", lambda *_, **__: None)
    assert shop("rules", "edit", "trace").out == "Nothing was changed.\n"
    assert shop("rules", "edit", "nothing").code == 1
