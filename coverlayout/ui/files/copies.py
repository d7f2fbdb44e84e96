"""Recovery copies written beside the window: a slow disk never holds up a drag."""

from __future__ import annotations

import threading
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from coverlayout.document.project import Project
from coverlayout.document.recovery import Keeper
from coverlayout.document.session import Pictures
from coverlayout.document.storage.stamp import Stamp
from coverlayout.errors import CoverlayoutError

__all__ = ["Copies"]

_Copy = tuple[Project, Pictures, Path | None, Stamp | None]


class Copies(QObject):
    """Keeps the recovery copy, and takes it away, on a thread of its own; the newest state wins.

    The thread begins with the first copy and waits between copies: beginning one anew for each would hold up the edit
    until the system gives it its turn. `refused` carries the sentence when the disk refuses; it comes from the thread,
    so connect it queued.
    """

    refused = Signal(str)

    def __init__(self, keeper: Keeper, parent: QObject) -> None:
        super().__init__(parent)
        self._keeper = keeper
        self._news = threading.Condition()
        self._next: _Copy | None = None
        self._writing = self._dropping = self._ended = False
        self._thread: threading.Thread | None = None

    def keep(self, project: Project, pictures: Pictures, path: Path | None, known: Stamp | None = None) -> None:
        """Write this state soon, in place of one that still waits; see Keeper.keep."""
        with self._news:
            self._next = project, pictures, path, known
            self._ended = False
            if self._thread is None or not self._thread.is_alive():
                self._thread = threading.Thread(target=self._write, name="recovery copy", daemon=True)
                self._thread.start()
            self._news.notify_all()

    def wait(self) -> None:
        """Until everything that was given is written (or refused) and what was to be taken away is gone."""
        with self._news:
            self._news.wait_for(lambda: not self._writing and not (self._is_asked and self._is_alive()))

    def discard(self) -> None:
        """Take the copy away soon, and what still waits at once; what is given after that is kept anew."""
        with self._news:
            self._next = None
            self._dropping = beside = self._is_alive()
            self._news.notify_all()
        if not beside:
            # Nothing was given yet, or the thread is at its end and has done this.
            self._keeper.discard()

    def end(self) -> None:
        """Take the copy away and end the thread: the window closes."""
        self.discard()
        self.wait()
        with self._news:
            self._ended = True
            self._news.notify_all()
        if self._thread is not None:
            self._thread.join()

    def _is_alive(self) -> bool:
        return self._thread is not None and self._thread.is_alive()

    @property
    def _is_asked(self) -> bool:
        return self._dropping or self._next is not None

    def _write(self) -> None:
        while (work := self._taken()) is not None:
            drop, copy = work
            try:
                if drop:
                    self._keeper.discard()
                if copy is not None:
                    self._keeper.keep(*copy)
            except CoverlayoutError as fault:
                self.refused.emit(str(fault))
            finally:
                with self._news:
                    self._writing = False
                    self._news.notify_all()

    def _taken(self) -> tuple[bool, _Copy | None] | None:
        """Whether the copy is to go first, and the newest state to keep; None when the window closes."""
        with self._news:
            self._news.wait_for(lambda: self._is_asked or self._ended)
            work = (self._dropping, self._next) if self._is_asked else None
            self._dropping, self._next = False, None
            self._writing = work is not None
            return work
