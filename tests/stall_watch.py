"""Watches a window for stalls: how long every event holds it up, told as the longest."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager

from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QApplication

__all__ = ["MOST_MS", "WatchedApplication"]

# Longer than this a hand feels: the picture lags behind it.
MOST_MS = 100.0


class WatchedApplication(QApplication):
    """An application that measures every event from its delivery until all it asked for at once is done.

    `clock` counts what the window's thread works itself (by default): what other programs take from it meanwhile is no
    stall of ours. `worst` holds the longest events as (ms, what), the longest first; those under 20 ms are forgotten.
    `doing` names what is being done at present.
    """

    def __init__(self, arguments: Sequence[str] = (), clock: Callable[[], float] = time.thread_time) -> None:
        super().__init__(list(arguments))
        self._clock = clock
        self._depth = 0
        self.watching = False
        self.doing = ""
        self.worst: list[tuple[float, str]] = []

    def notify(self, receiver: QObject, event: QEvent) -> bool:
        """Deliver an event; the outermost one is measured."""
        if not self.watching or self._depth:
            return super().notify(receiver, event)
        what = f"{event.type().name} of {type(receiver).__name__} {receiver.objectName()}"
        with self._watched(what):
            return super().notify(receiver, event)

    def during(self, name: str, do: Callable[[], object]) -> None:
        """Do it as if a key or a press had asked for it; what it asks for later is told under its name too."""
        self.doing = name
        with self._watched("itself"):
            do()

    @contextmanager
    def _watched(self, what: str) -> Iterator[None]:
        self._depth += 1
        began, own_began = self._clock(), time.thread_time()
        try:
            yield
        finally:
            self._depth -= 1
            took_ms = 1000 * (self._clock() - began)
            own_ms = 1000 * (time.thread_time() - own_began)
            if self.watching and took_ms >= 20:
                told = f"{self.doing}: {what} ({own_ms:.0f} ms of it work of the window's own)"
                self.worst = sorted([*self.worst, (took_ms, told)], reverse=True)[:60]

    @property
    def worst_ms(self) -> float:
        """The longest stall so far; 0 when nothing took 20 ms."""
        return self.worst[0][0] if self.worst else 0.0
