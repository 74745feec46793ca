"""The wheel, as a stranger gets it: built, installed into an empty virtual environment, run elsewhere."""

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]


def run(*words: str | Path, cwd: Path, **more: str) -> subprocess.CompletedProcess[str]:
    """Runs a program without this checkout on its path."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "LOOMCARD"))}
    return subprocess.run(
        [str(word) for word in words],
        cwd=cwd,
        env={**kept, "PYTHONDONTWRITEBYTECODE": "1", **more},
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel of this checkout."""
    place = tmp_path_factory.mktemp("wheel")
    built = run(sys.executable, "-m", "pip", "wheel", "--no-deps", "--quiet", "-w", place, ROOT, cwd=place)
    assert built.returncode == 0, built.stderr
    (found,) = place.glob("loomcard-*.whl")
    return found


def test_the_wheel_carries_the_seeds_and_the_schema_and_nothing_of_the_tests(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    assert "tracker/seeds/demo/walk.toml" in names
    assert "tracker/seeds/repairs/splice-butt.toml" in names
    assert "tracker/store/schema/0001.sql" in names
    assert not [name for name in names if name.startswith(("tests/", "docs/", "seeds/"))]


def test_it_installs_into_an_empty_environment_and_does_the_main_job(wheel: Path, tmp_path: Path) -> None:
    venv = tmp_path / "venv"
    assert run(sys.executable, "-m", "venv", venv, cwd=tmp_path).returncode == 0
    bin_folder = venv / ("Scripts" if os.name == "nt" else "bin")
    installed = run(bin_folder / "python", "-m", "pip", "install", "--quiet", wheel, cwd=tmp_path)
    assert installed.returncode == 0, installed.stderr
    walked = run(bin_folder / "loomcard", "demo", "--walk", cwd=tmp_path)
    assert walked.returncode == 0, walked.stderr
    assert "INV-" in walked.stdout
    home = {"LOOMCARD_DATA": str(tmp_path / "data"), "LOOMCARD_CONFIG": str(tmp_path / "config")}
    booked = run(
        bin_folder / "loomcard",
        "book-in",
        "--make",
        "Halden",
        "--customer",
        "A",
        "flat",
        cwd=tmp_path,
        **home,
    )
    assert booked.returncode == 0, booked.stderr
    assert (tmp_path / "data" / "workshop.loomcard").exists()
