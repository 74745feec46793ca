"""Many deeds as one, and who has to wait meanwhile."""

import threading
from concurrent.futures import Future
from pathlib import Path

import pytest

from tests.store.making import add, all_rows, book_in, count, customer, deed, do, opened, rows, take_back
from tracker.errors import StoreRefusedError, WrongUseError
from tracker.records.people import Customer
from tracker.store.store import Store


class StoppedError(Exception):
    """What goes wrong in the middle."""


def test_all_are_kept(store: Store) -> None:
    with store.one_transaction():
        for _ in range(3):
            do(store, book_in)
        assert count(store, "card") == 3
    assert count(store, "card") == count(store, "journal_entry") == 3


def test_or_none(store: Store) -> None:
    do(store, book_in)
    before = all_rows(store)

    def half() -> None:
        with store.one_transaction():
            do(store, book_in)
            do(store, book_in)
            raise StoppedError

    with pytest.raises(StoppedError):
        half()
    assert all_rows(store) == before
    assert do(store, book_in).number == "26-0002"


def test_nothing_is_seen_by_another_window_before_the_end(path: Path) -> None:
    with opened(path) as one, opened(path) as two:
        with one.one_transaction():
            do(one, book_in)
            assert count(two, "card") == 0
        assert count(two, "card") == 1


def test_a_deed_that_fails_inside_is_taken_back_alone(store: Store) -> None:
    with store.one_transaction():
        do(store, book_in)
        with pytest.raises(WrongUseError):
            do(store, _fails)
        do(store, book_in)
    assert [one.number for one in rows(store, type(do(store, book_in)))] == ["26-0001", "26-0002", "26-0003"]


def _fails(unit: object) -> Customer:
    raise WrongUseError("no")


def test_wholes_nest(store: Store) -> None:
    def half() -> None:
        with store.one_transaction():
            do(store, book_in)
            raise StoppedError

    with store.one_transaction():
        do(store, book_in)
        with pytest.raises(StoppedError):
            half()
        with store.one_transaction():
            do(store, book_in)
    assert count(store, "card") == 2


def test_a_deed_inside_can_be_undone_inside(store: Store) -> None:
    with store.one_transaction():
        do(store, book_in)
        do(store, book_in)
        take_back(store)
    assert count(store, "card") == 1


def test_another_thread_waits_and_its_deed_outlives_a_whole_that_fails(store: Store) -> None:
    handed: list[Future[Customer]] = []
    ready = threading.Event()

    def other() -> None:
        handed.append(store.submit_deed(deed("Ben"), lambda unit: unit.insert(customer("Ben's"))))
        ready.set()

    def half() -> None:
        with store.one_transaction():
            add(store, customer("gone"))
            thread = threading.Thread(target=other)
            thread.start()
            assert ready.wait(10)
            thread.join()
            add(store, customer("gone too"))
            assert not handed[0].done()
            raise StoppedError

    with pytest.raises(StoppedError):
        half()
    assert handed[0].result(10).name == "Ben's"
    assert [one.name for one in rows(store, Customer)] == ["Ben's"]


def test_two_threads_take_turns(store: Store) -> None:
    def whole(who: str) -> None:
        with store.one_transaction():
            for number in range(5):
                add(store, customer(f"{who}{number}"), who)

    threads = [threading.Thread(target=whole, args=(who,)) for who in "ABC"]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    names = "".join(one.name[0] for one in rows(store, Customer))
    assert len(names) == 15
    assert {names[:5], names[5:10], names[10:]} == {"AAAAA", "BBBBB", "CCCCC"}


def test_closing_from_another_thread_waits_for_the_end(path: Path) -> None:
    store = opened(path)
    with store.one_transaction():
        do(store, book_in)
        closing = threading.Thread(target=store.close)
        closing.start()
        closing.join(0.1)
        do(store, book_in)
    closing.join(10)
    assert not closing.is_alive()
    with opened(path) as again:
        assert count(again, "card") == 2


def test_closing_from_inside_keeps_nothing_and_says_so(path: Path) -> None:
    store = opened(path)

    def half() -> None:
        with store.one_transaction():
            do(store, book_in)
            store.close()

    with pytest.raises(StoreRefusedError, match="The file is closed"):
        half()
    with opened(path) as again:
        assert count(again, "card") == 0


@pytest.mark.parametrize("goes_on", [True, False])
def test_a_disk_full_in_the_middle_takes_back_the_whole(store: Store, goes_on: bool) -> None:
    add(store, customer("before"))
    pages = store.read(lambda reader: reader.sql("PRAGMA page_count"))[0][0]
    store.read(lambda reader: reader.sql(f"PRAGMA max_page_count = {pages + 3}"))

    def fill() -> None:
        with store.one_transaction():
            for number in range(200):
                try:
                    add(store, customer(f"{number}", notes="x" * 3000))
                except StoreRefusedError:
                    if not goes_on:
                        return
                    add(store, customer("small"))

    with pytest.raises(StoreRefusedError, match="taken back as a whole"):
        fill()
    store.read(lambda reader: reader.sql("PRAGMA max_page_count = 100000"))
    assert [one.name for one in rows(store, Customer)] == ["before"]
    add(store, customer("after"))
    with store.one_transaction():
        add(store, customer("together"))
    assert [one.name for one in rows(store, Customer)] == ["before", "after", "together"]
