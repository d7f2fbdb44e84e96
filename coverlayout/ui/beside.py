"""Work beside the window: on a thread of its own, one piece after another, its results back in the window's thread."""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Callable
from contextlib import suppress
from typing import Any, TypeVar

from PySide6.QtCore import QObject, Qt, Signal

__all__ = ["Beside"]

Result = TypeVar("Result")
# A window closes after this long whatever a disk that does not answer holds up.
_LONGEST_WAIT_S = 5.0


class Beside(QObject):
    """For work that waits for a disk or takes longer than a blink, and changes nothing the window shows.

    The thread begins with the first piece of work and ends when there is none left.
    """

    _made = Signal(object, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._asked: deque[tuple[Callable[[], Any], Callable[[Any], object]]] = deque()
        self._news = threading.Condition()
        self._thread: threading.Thread | None = None
        self._ended = False
        self._made.connect(self._deliver, Qt.ConnectionType.QueuedConnection)

    def ask(self, work: Callable[[], Result], then: Callable[[Result], object] = lambda _: None) -> None:
        """Do `work` on the thread; `then` hears of the result in the window's thread, unless the window has closed."""
        with self._news:
            self._asked.append((work, then))
            if self._thread is None:
                self._thread = threading.Thread(target=self._work, name="beside the window", daemon=True)
                self._thread.start()

    def end(self) -> None:
        """Tell of nothing more: the window closes. What was asked for is done before, unless the disk hangs."""
        self._ended = True
        with self._news:
            thread = self._thread
        if thread is not None:
            thread.join(_LONGEST_WAIT_S)

    def _work(self) -> None:
        try:
            while (asked := self._taken()) is not None:
                work, then = asked
                result = work()
                # RuntimeError: the window has closed meanwhile, and nobody is left to tell.
                with suppress(RuntimeError):
                    self._made.emit(then, result)
        finally:
            # A fault of the program in one piece of work goes to the log; the next piece gets a thread of its own.
            with self._news:
                if self._thread is threading.current_thread():
                    self._thread = None

    def _taken(self) -> tuple[Callable[[], Any], Callable[[Any], object]] | None:
        with self._news:
            if not self._asked:
                self._thread = None
                return None
            return self._asked.popleft()

    def _deliver(self, then: Callable[[Any], object], result: object) -> None:
        if not self._ended:
            then(result)
