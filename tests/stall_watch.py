"""Watches a window for stalls: how long every event holds it up, told as the longest."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QApplication

__all__ = ["MOST_MS", "WatchedApplication"]

# Longer than this a hand feels: the picture lags behind it.
MOST_MS = 100.0


class WatchedApplication(QApplication):
    """An application that measures every event from its delivery until all it asked for at once is done.

    `clock` counts what the window's thread works itself (by default): what other programs take from it meanwhile is no
    stall of ours. `worst` holds the longest events as (ms, what), the longest first; those under 20 ms are forgotten.
    """

    def __init__(self, arguments: Sequence[str] = (), clock: Callable[[], float] = time.thread_time) -> None:
        super().__init__(list(arguments))
        self._clock = clock
        self._depth = 0
        self.watching = False
        self.worst: list[tuple[float, str]] = []

    def notify(self, receiver: QObject, event: QEvent) -> bool:
        """Deliver an event; the outermost one is measured."""
        if not self.watching or self._depth:
            return super().notify(receiver, event)
        self._depth += 1
        what = f"{event.type().name} of {type(receiver).__name__} {receiver.objectName()}"
        began = self._clock()
        try:
            return super().notify(receiver, event)
        finally:
            self._depth -= 1
            took_ms = 1000 * (self._clock() - began)
            if took_ms >= 20:
                self.worst = sorted([*self.worst, (took_ms, what)], reverse=True)[:20]

    @property
    def worst_ms(self) -> float:
        """The longest stall so far; 0 when nothing took 20 ms."""
        return self.worst[0][0] if self.worst else 0.0
