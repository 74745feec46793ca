"""Numbers without gaps, whoever takes them and whatever fails."""

import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from tests.store.making import book_in, count, deed, do, opened, rows
from tracker.errors import StoreRefusedError, WrongUseError
from tracker.records.bike import Bike
from tracker.records.card import Card
from tracker.records.shop import Counter
from tracker.store.store import Store
from tracker.store.unit import Unit


def test_each_series_counts_for_itself_and_anew_each_year(store: Store) -> None:
    taken: list[int] = []

    def work(unit: Unit) -> Bike:
        for series, year in (
            ("card", 2026),
            ("card", 2026),
            ("invoice", 2026),
            ("card", 2027),
            ("card", 2026),
        ):
            taken.append(unit.number(series, year))
        return unit.insert(Bike(make="Harrow"))

    do(store, work)
    assert taken == [1, 2, 1, 1, 3]


def test_a_deed_that_fails_gives_its_number_back(store: Store) -> None:
    do(store, book_in)

    def fails(unit: Unit) -> Card:
        assert unit.number("card", 2026) == 2
        raise WrongUseError("no")

    with pytest.raises(WrongUseError):
        do(store, fails)
    assert do(store, book_in).number == "26-0002"


def test_threads_of_one_window_leave_no_gap(store: Store) -> None:
    with ThreadPoolExecutor(8) as pool:
        numbers = list(pool.map(lambda _: store.do(deed(), book_in).number, range(80)))
    assert sorted(numbers) == [f"26-{number:04}" for number in range(1, 81)]


def test_windows_of_one_process_leave_no_gap(path: Path) -> None:
    def window(who: str) -> list[str]:
        with opened(path) as store:
            return [store.do(deed(who), book_in).number for _ in range(15)]

    with ThreadPoolExecutor(4) as pool:
        numbers = [number for taken in pool.map(window, "ABCD") for number in taken]
    assert sorted(numbers) == [f"26-{number:04}" for number in range(1, 61)]


def test_four_processes_that_begin_with_no_file_leave_no_gap(path: Path) -> None:
    command = (sys.executable, "-m", "tests.store.writer", str(path))
    windows = [
        subprocess.Popen((*command, who, "25"), stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        for who in "ABCD"
    ]
    said = [window.communicate(timeout=60) for window in windows]
    assert [(window.returncode, err) for window, (_, err) in zip(windows, said, strict=True)] == [(0, "")] * 4
    numbers = [number for out, _ in said for number in out.split()]
    assert sorted(numbers) == [f"26-{number:04}" for number in range(1, 101)]
    with opened(path, create=False) as store:
        (counter,) = rows(store, Counter)
        assert (counter.last, counter.version) == (100, 100)
        assert count(store, "card") == count(store, "journal_entry") == 100
        assert count(store, "symptom") == 300


def test_a_number_already_on_a_paper_is_refused(store: Store) -> None:
    do(store, book_in)
    with pytest.raises(StoreRefusedError, match="There is one with that number already"):
        do(store, lambda unit: unit.insert(Card(number="26-0001", bike=1, complaint="", came_at=unit.at)))


@pytest.mark.skipif(not hasattr(os, "fork"), reason="forks its windows")
def test_windows_that_make_the_same_file_in_the_same_instant_all_get_in(tmp_path: Path) -> None:
    command = (sys.executable, "-m", "tests.store.opening", str(tmp_path), "12")
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=120)
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
