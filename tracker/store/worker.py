"""One thread that does what is handed to it, in order, and says in words what went wrong."""

import queue
import threading
from collections import deque
from collections.abc import Callable, Iterator
from concurrent.futures import Future
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from typing import Any, TypeVar

from tracker.errors import StoreRefusedError
from tracker.store.translate import speaking_plainly

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class _Handed:
    """A piece of work, who waits for it, and the thread it came from; no work means the end."""

    future: "Future[Any]"
    work: Callable[[], Any] | None
    thread: int


class Worker:
    """The thread that owns the connection."""

    def __init__(self, name: str, at_end: Callable[[], None]) -> None:
        self._at_end = at_end
        self._waiting: queue.SimpleQueue[_Handed] = queue.SimpleQueue()
        self._aside: deque[_Handed] = deque()
        self._owner: int | None = None
        self._depth = 0
        self._inside: list[int] = []
        self._gate = threading.Lock()
        self._ending = False
        self._thread = threading.Thread(target=self._run, name=name, daemon=True)
        self._thread.start()

    def hand(self, work: Callable[[], T]) -> "Future[T]":
        """Hands in a piece of work; raises StoreRefusedError after the end."""
        return self._hand(work, threading.get_ident())

    @contextmanager
    def to_myself(self) -> Iterator[Callable[[Callable[[], Any]], "Future[Any]"]]:
        """The worker does only this thread's work until the block is left; others' waits in order.

        Gives a `hand` that speaks for this thread even when the block is left in another one.
        """
        me = threading.get_ident()
        self._hand(lambda: self._own(me), me)
        self._inside.append(me)
        try:
            yield lambda work: self._hand(work, me)
        finally:
            with suppress(StoreRefusedError):  # ended from inside the block
                self._hand(self._disown, me)
            if me in self._inside:
                self._inside.remove(me)

    def end(self) -> None:
        """Waits until all that was handed in is done, then ends the thread. Ending twice does nothing."""
        me = threading.get_ident()
        with self._gate:
            self._inside = [thread for thread in self._inside if thread != me]
            if not self._ending:
                self._ending = True
                self._waiting.put(_Handed(Future(), None, me))
        self._thread.join()

    def _hand(self, work: Callable[[], T], thread: int) -> "Future[T]":
        if threading.current_thread() is self._thread:
            raise RuntimeError(
                "work handed to the store from inside the store's own work would wait for ever"
            )
        future: Future[T] = Future()
        with self._gate:
            if self._ending and thread not in self._inside:
                raise StoreRefusedError("The file is closed.", "Open it again.")
            self._waiting.put(_Handed(future, work, thread))
        return future

    # ---- in the worker's own thread

    def _run(self) -> None:
        while (handed := self._next()).work is not None:
            _settle(handed.future, handed.work)
        for late in self._aside:
            _settle(late.future, _refuse)
        _settle(Future(), self._at_end)  # nobody is left to hear of a failure, and the file is whole as it is

    def _next(self) -> _Handed:
        for place, handed in enumerate(self._aside):
            if self._owner in (None, handed.thread):
                del self._aside[place]
                return handed
        while True:
            handed = self._waiting.get()
            if self._owner in (None, handed.thread):
                return handed
            self._aside.append(handed)

    def _own(self, thread: int) -> None:
        self._owner = thread
        self._depth += 1

    def _disown(self) -> None:
        self._depth -= 1
        if self._depth == 0:
            self._owner = None


def _refuse() -> None:
    raise StoreRefusedError("The file was closed before this was done.", "Open it again.")


def _settle(future: "Future[Any]", work: Callable[[], Any]) -> None:
    if not future.set_running_or_notify_cancel():
        return
    try:
        with speaking_plainly():
            result = work()
    except BaseException as error:  # handed to whoever waits, never lost in this thread
        future.set_exception(error)
    else:
        future.set_result(result)
