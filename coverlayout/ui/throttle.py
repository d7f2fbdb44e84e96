"""Slows down noise in one place: the first call goes through at once, the last one is never lost."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer

__all__ = ["Throttle"]


class Throttle(QObject):
    """Calls `act` at most once every `delay_ms`, the first time at once, and once more for what came in between.

    With `at_once` False even the first call waits: for work that is only worth doing when things are quiet for a while.
    """

    def __init__(
        self, act: Callable[[], None], delay_ms: int, *, at_once: bool = True, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._act = act
        self._at_once = at_once
        self._wanted = False
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(delay_ms)
        self._timer.timeout.connect(self._time_is_up)

    def __call__(self) -> None:
        """Ask for the work: now when it has been quiet, else when the delay is over."""
        if self._timer.isActive() or not self._at_once:
            self._wanted = True
            if not self._timer.isActive():
                self._timer.start()
            return
        self._timer.start()
        self._act()

    @property
    def waiting(self) -> bool:
        """True while a call is still to come."""
        return self._wanted

    def flush(self) -> None:
        """Do at once what still waits."""
        if self._wanted:
            self._timer.stop()
            self._time_is_up()

    def cancel(self) -> None:
        """Forget what still waits."""
        self._wanted = False
        self._timer.stop()

    def _time_is_up(self) -> None:
        if self._wanted:
            self._wanted = False
            if self._at_once:
                self._timer.start()
            self._act()
