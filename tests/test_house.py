"""The house rules that imports alone do not show: what a fresh interpreter loads, and where time comes in."""

import ast
import json
import pkgutil
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest

import tracker

HOUSE = Path(tracker.__file__).parent

HEAVY = {"textual", "peewee", "pydantic", "numpy", "click", "icalendar", "dateutil", "babel", "typst"}

ROOMS: dict[str, set[str]] = {
    "clock": HEAVY,
    "errors": HEAVY,
    "settings": HEAVY,
    "records": HEAVY,
    "electrics": HEAVY,
    "loom": HEAVY,
    "trace": HEAVY,
    "card": HEAVY,
    "billing": HEAVY,
    "estimating": HEAVY,
    "seedfiles": HEAVY - {"pydantic"},  # its shapes are pydantic's; the desk below shows that its door is not
    "store": HEAVY - {"peewee"},
    "desk": HEAVY - {"peewee"},
    "papers": HEAVY - {"peewee"},
    "cli": HEAVY - {"peewee", "click"},
}
"""What importing every module of a room may not load."""

LOADS = """
import importlib, json, sys
for name in sys.argv[1:]:
    importlib.import_module(name)
print(json.dumps(sorted({name.split(".")[0] for name in sys.modules})))
"""


def modules_of(room: str) -> list[str]:
    """A room and every module in it, by name."""
    name = f"tracker.{room}"
    spec = find_spec(name)
    assert spec is not None, f"there is no room {room}"
    inside = pkgutil.walk_packages(spec.submodule_search_locations or [], f"{name}.")
    return [name, *(module.name for module in inside)]


@pytest.mark.parametrize("room", ROOMS)
def test_a_fresh_interpreter_loads_nothing_heavy_for_a_room(room: str) -> None:
    done = subprocess.run(
        (sys.executable, "-c", LOADS, *modules_of(room)), capture_output=True, text=True, check=True
    )
    assert set(json.loads(done.stdout)) & ROOMS[room] == set()


def test_every_room_of_the_house_is_looked_at() -> None:
    rooms = {one.name.removesuffix(".py") for one in HOUSE.iterdir() if one.suffix == ".py" or one.is_dir()}
    not_rooms = {"__init__", "__main__", "__pycache__", "seeds", "screens"}  # screens are what loads Textual
    assert rooms - not_rooms == set(ROOMS)


TELLING = {
    "datetime.datetime.now", "datetime.datetime.utcnow", "datetime.datetime.today", "datetime.date.today",
    "time.time", "time.time_ns", "time.localtime", "time.gmtime", "time.ctime", "time.asctime",
}  # fmt: skip
"""What asks the machine for the time of day. Time that only measures (monotonic, perf_counter) is free."""


def asks_the_time(source: str) -> list[str]:
    """Where a module asks the machine for the time, whatever it calls the modules it imports."""
    tree = ast.parse(source)
    known: dict[str, str] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            known |= {one.asname or one.name: one.name for one in node.names}
        elif isinstance(node, ast.ImportFrom):
            known |= {one.asname or one.name: f"{node.module}.{one.name}" for one in node.names}
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Name | ast.Attribute):
            first, _, rest = ast.unparse(node).partition(".")
            full = f"{known.get(first, first)}.{rest}" if rest else known.get(first, first)
            if full in TELLING:
                found.append(f"{node.lineno}: {full}")
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            words = node.value.lower()
            if "current_timestamp" in words or "('now'" in words.replace(" ", ""):
                found.append(f"{node.lineno}: SQLite's own clock")
    return found


def test_time_comes_in_through_the_clock_only() -> None:
    asking = {
        str(path.relative_to(HOUSE)): found
        for path in sorted(HOUSE.rglob("*.py"))
        if (found := asks_the_time(path.read_text("utf-8")))
    }
    assert set(asking) == {"clock.py"}, asking


@pytest.mark.parametrize(
    "source",
    [
        "import datetime\nx = datetime.datetime.now()",
        "import datetime as dt\nx = dt.date.today()",
        "from datetime import datetime as D\nx = D.now(None)",
        "from datetime import date\ntoday = date.today",
        "import time\nx = time.time()",
        "from time import time as t\nx = t()",
        "def f():\n    from datetime import datetime\n    return datetime.utcnow()",
        "sql = \"SELECT date('now')\"",
        "sql = 'x DEFAULT CURRENT_TIMESTAMP'",
    ],
)
def test_the_search_for_it_finds_it(source: str) -> None:
    assert asks_the_time(source)


@pytest.mark.parametrize(
    "source",
    [
        "import time\nx = time.monotonic()",
        "x = clock.now()",
        "from datetime import date\nx = date.fromisoformat('')",
    ],
)
def test_the_search_for_it_lets_the_rest_pass(source: str) -> None:
    assert asks_the_time(source) == []
