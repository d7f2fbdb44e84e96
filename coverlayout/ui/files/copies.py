"""Recovery copies written beside the window: a slow disk never holds up a drag."""

from __future__ import annotations

import threading
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from coverlayout.document.project import Project
from coverlayout.document.recovery import Keeper
from coverlayout.document.session import Pictures
from coverlayout.errors import FileTrouble

__all__ = ["Copies"]

_Copy = tuple[Project, Pictures, Path | None]


class Copies(QObject):
    """Keeps the recovery copy on a thread that lives as long as there is something to write; the newest state wins.

    `refused` carries the sentence when the disk refuses; it comes from the thread, so connect it queued.
    """

    refused = Signal(str)

    def __init__(self, keeper: Keeper, parent: QObject) -> None:
        super().__init__(parent)
        self._keeper = keeper
        self._lock = threading.Lock()
        self._next: _Copy | None = None
        self._thread: threading.Thread | None = None

    def keep(self, project: Project, pictures: Pictures, path: Path | None) -> None:
        """Write this state soon, in place of one that still waits."""
        with self._lock:
            self._next = project, pictures, path
            if self._thread is None or not self._thread.is_alive():
                self._thread = threading.Thread(target=self._write, name="recovery copy")
                self._thread.start()

    def wait(self) -> None:
        """Until everything that was given is written (or refused)."""
        thread = self._thread
        if thread is not None:
            thread.join()

    def discard(self) -> None:
        """Take the copy away, and what still waits with it."""
        with self._lock:
            self._next = None
        self.wait()
        self._keeper.discard()

    def _write(self) -> None:
        while True:
            with self._lock:
                copy, self._next = self._next, None
                if copy is None:
                    self._thread = None
                    return
            try:
                self._keeper.keep(*copy)
            except FileTrouble as fault:
                self.refused.emit(str(fault))
