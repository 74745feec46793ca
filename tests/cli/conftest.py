"""A command line in this process: its words, its exit code, what it said."""

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from tracker.cli.main import run


@dataclass(frozen=True)
class Said:
    """What one command line answered."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """The answer as JSON."""
        return json.loads(self.out)


Loomcard = Callable[..., Said]


@pytest.fixture
def loomcard(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Loomcard:
    """`loomcard(...)` on a file of its own."""
    monkeypatch.setenv("LOOMCARD_DATA", str(tmp_path / "data"))
    monkeypatch.setenv("LOOMCARD_CONFIG", str(tmp_path / "config"))
    monkeypatch.setenv("LOOMCARD_LOG", str(tmp_path / "log"))
    monkeypatch.setenv("LOOMCARD_WHO", "Ines")
    monkeypatch.delenv("LOOMCARD_FILE", raising=False)
    monkeypatch.setenv("LOOMCARD_NOW", "2026-03-02T09:00:00+00:00")

    def call(*words: str) -> Said:
        capsys.readouterr()
        code = run(list(words))
        said = capsys.readouterr()
        return Said(code, said.out, said.err)

    return call
