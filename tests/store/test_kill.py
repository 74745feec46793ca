"""Killed at any moment: nothing acknowledged is lost, nothing half there, nothing doubled when repeated."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest


@pytest.mark.skipif(not hasattr(os, "fork"), reason="forks its victims")
def test_fifty_kills_lose_nothing(tmp_path: Path) -> None:
    done = subprocess.run(
        (sys.executable, "-m", "tests.store.killing", str(tmp_path), "50"),
        capture_output=True, text=True, check=False, timeout=120,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    for what in ("lost", "half", "doubled", "faults"):
        assert found[what] == [], what
    assert found["acknowledged"] > 100  # else it was killed too early to try anything
    assert 0 < found["killed_before_any"] < 40
