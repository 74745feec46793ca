"""Closing, being interrupted, and what may not be asked of the store."""

import _thread
import signal
import sqlite3
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.store.making import add, book_in, count, customer, deed, do, opened
from tracker.errors import StoreRefusedError
from tracker.records.card import Card
from tracker.store.store import Store
from tracker.store.unit import Unit


@pytest.fixture(autouse=True)
def interruptible() -> Iterator[None]:
    """Ctrl+C interrupts, even where the tests were begun in the background of a shell that ignores it."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


def test_all_that_was_handed_in_is_done_before_closing(path: Path) -> None:
    store = opened(path)
    futures = [store.submit_deed(deed(), book_in) for _ in range(20)]
    store.close()
    assert [future.result(0).number for future in futures][-1] == "26-0020"
    with opened(path) as again:
        assert count(again, "card") == 20


def test_a_closed_file_says_so_at_once(path: Path) -> None:
    store = opened(path)
    store.close()
    store.close()
    for ask in (lambda: do(store, book_in), lambda: count(store, "card"), lambda: store.submit(str)):
        with pytest.raises(StoreRefusedError, match="The file is closed"):
            ask()


def test_closing_puts_all_into_the_one_file(path: Path) -> None:
    with opened(path) as store:
        do(store, book_in)
    assert [one.name for one in path.parent.iterdir()] == [path.name]


def test_the_thread_ends_with_the_store(path: Path) -> None:
    before = threading.active_count()
    store = opened(path)
    assert threading.active_count() == before + 1
    store.close()
    assert threading.active_count() == before
    with pytest.raises(StoreRefusedError):
        opened(path / "below a file")
    assert threading.active_count() == before


def test_handing_work_in_from_inside_work_is_a_mistake_of_the_program(store: Store) -> None:
    with pytest.raises(RuntimeError, match="wait for ever"):
        store.read(lambda _: count(store, "card"))
    assert count(store, "card") == 0


def test_interrupted_before_its_turn_a_deed_is_not_done(store: Store) -> None:
    holding, let_go = threading.Event(), threading.Event()

    def held(_: object) -> None:
        holding.set()
        assert let_go.wait(10)

    busy = store.submit(held)
    assert holding.wait(10)
    interrupt = threading.Timer(0.1, _thread.interrupt_main)
    interrupt.start()
    with pytest.raises(KeyboardInterrupt):
        add(store, customer("never"))
    interrupt.join()
    let_go.set()
    busy.result(10)
    assert count(store, "customer") == 0
    add(store, customer("after"))
    assert count(store, "customer") == 1


def test_interrupted_in_the_middle_a_deed_ends_unseen_and_its_token_tells(store: Store) -> None:
    began = threading.Event()

    def slow(unit: Unit) -> Card:
        began.set()
        time.sleep(0.3)
        return book_in(unit)

    same = deed(token="slow")

    def interrupt() -> None:
        assert began.wait(10)
        _thread.interrupt_main()

    threading.Thread(target=interrupt).start()
    with pytest.raises(KeyboardInterrupt):
        store.do(same, slow)
    assert store.do(same, book_in).number == "26-0001"
    assert count(store, "card") == 1


def test_interrupted_inside_a_whole_is_taken_back(path: Path) -> None:
    def whole(store: Store) -> None:
        with store.one_transaction():
            add(store, customer("one"))
            _thread.interrupt_main()
            time.sleep(5)

    with opened(path) as store:
        with pytest.raises(KeyboardInterrupt):
            whole(store)
        _only_later_ones_are_kept(store)


def test_interrupted_while_waiting_to_begin_a_whole_is_taken_back(path: Path) -> None:
    other = _holder(path)
    threading.Timer(0.2, _thread.interrupt_main).start()
    with opened(path, busy_ms=1000) as store:
        with pytest.raises(KeyboardInterrupt), store.one_transaction():
            raise AssertionError("it had to wait")
        other.execute("ROLLBACK")
        other.close()
        _only_later_ones_are_kept(store)


def _holder(path: Path) -> sqlite3.Connection:
    """Another program that holds the file."""
    opened(path).close()
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    return other


def _only_later_ones_are_kept(store: Store) -> None:
    assert count(store, "customer") == 0
    add(store, customer("after"))
    with store.one_transaction():
        add(store, customer("again"))
    assert count(store, "customer") == 2
