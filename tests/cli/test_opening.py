"""Which command lines ask for the screens alone, and go round the library that reads the others."""

import subprocess
import sys

import pytest

from tracker.cli.context import Context
from tracker.cli.opening import screens_alone


@pytest.mark.parametrize(
    ("args", "context"),
    [
        ([], Context()),
        (["--file", "shop.loomcard"], Context(file="shop.loomcard")),
        (["--who=Ines", "--file=a b.loomcard"], Context(file="a b.loomcard", who="Ines")),
        (["--file", "one", "--file", "two"], Context(file="two")),
    ],
)
def test_a_file_and_a_person_alone_open_the_screens(args: list[str], context: Context) -> None:
    assert screens_alone(args) == context


@pytest.mark.parametrize(
    "args",
    [
        ["day"],
        ["--json"],
        ["--help"],
        ["--version"],
        ["--file"],
        ["--file="],
        ["--file", "--who"],
        ["--fil", "x"],
    ],
)
def test_any_other_line_is_read_whole(args: list[str]) -> None:
    assert screens_alone(args) is None


def test_opening_loads_neither_the_command_lines_library_nor_the_store() -> None:
    code = (
        "import sys, tracker.__main__, tracker.cli.net, tracker.cli.opening, tracker.screens.app\n"
        "import tracker.screens.start\n"
        "print(*{name.partition('.')[0] for name in sys.modules} & {'click', 'peewee', 'numpy', 'sqlite3'})"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == ""
