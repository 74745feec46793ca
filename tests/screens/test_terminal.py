"""In a real pseudo-terminal: a quick typist, a signal, a kill and a closed window."""

import signal
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.desk.conftest import Bench
from tests.screens.terminal import PATIENCE_S, Terminal
from tracker.desk.forms import draft_of
from tracker.records.card import Card
from tracker.records.people import Customer

ENTER, TAB, ESCAPE, SAVE = "\r", "\t", "\x1b", "\x13"


def until(holds: Callable[[], object]) -> None:
    """Waits until something holds in the file."""
    end = time.monotonic() + PATIENCE_S
    while not holds() and time.monotonic() < end:
        time.sleep(0.05)


def test_keys_without_a_pause_land_where_they_were_meant_to(bench: Bench, tmp_path: Path) -> None:
    bench.booked()
    with Terminal(bench.path, tmp_path) as terminal:
        terminal.wait_for("book in")
        terminal.type(f"blkm{ENTER}horn dead{ENTER}42000{TAB}horn; left rear indicator{TAB}y{TAB}+3{SAVE}")
        terminal.wait_for("26-0002")
        terminal.wait_for("horn dead")
        terminal.type(f"{ESCAPE}")
        time.sleep(0.3)  # a lone Escape is told from the beginning of a longer key by the time that passes
        terminal.type(f"caTheo Brandt{TAB}0155 1{TAB}{TAB}a road{SAVE}")
        until(lambda: len(bench.desk.read(lambda reader: reader.all(Customer))) > 1)
        assert terminal.end(signal.SIGTERM) == 0
    cards = bench.desk.read(lambda reader: reader.all(Card))
    assert [(c.complaint, c.odometer) for c in cards][1:] == [("horn dead", 42000)]
    assert cards[1].promised_on is not None
    loads = [one.load for one in bench.desk.facts(cards[1].id).symptoms if one.load]
    assert loads == ["horn", "left rear indicator"]
    added = bench.desk.read(lambda reader: reader.all(Customer))[-1]
    assert (added.name, added.phone, added.email, added.address) == ("Theo Brandt", "0155 1", "", "a road")


@pytest.mark.parametrize("keys", ["b", " ", f"blkm{ENTER}horn{SAVE}", f"cax{SAVE}"])
def test_an_end_in_the_middle_of_anything_is_an_end(bench: Bench, tmp_path: Path, keys: str) -> None:
    bench.booked()
    with Terminal(bench.path, tmp_path) as terminal:
        terminal.wait_for("book in")
        terminal.type(keys)
        assert terminal.end(signal.SIGTERM) == 0


@pytest.mark.parametrize("how", ["SIGTERM", "SIGHUP", "SIGKILL", "window"])
def test_what_stands_half_typed_outlives_the_program(bench: Bench, tmp_path: Path, how: str) -> None:
    bench.booked()
    with Terminal(bench.path, tmp_path) as terminal:
        terminal.wait_for("book in")
        terminal.type(f" {TAB}{TAB}{TAB}{TAB}rear lamp")
        terminal.wait_for("rear lamp")
        if how == "SIGKILL":
            until(lambda: draft_of(bench.desk, "look", "26-0001"))  # a kill leaves no time to write
        if how == "window":
            time.sleep(0.2)
            terminal.close_window()
            terminal.process.wait(20)
        else:
            code = terminal.end(getattr(signal, how))
            assert how == "SIGKILL" or code == 0
    assert draft_of(bench.desk, "look", "26-0001").get("dead") == "rear lamp"


def test_the_demo_opens_a_throwaway_copy_and_says_so(tmp_path: Path) -> None:
    shop = tmp_path / "own.loomcard"
    with Terminal(shop, tmp_path, words=("demo",), LOOMCARD_CONFIG=str(tmp_path)) as terminal:
        terminal.wait_for("DEMO: a throwaway copy")
        terminal.wait_for("Starter only clicks")
        terminal.type("q")
        assert terminal.end() == 0
    assert not shop.exists()
