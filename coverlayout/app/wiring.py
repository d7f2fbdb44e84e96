"""The one place where the parts of the desktop program are put together."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QObject, QSize, Qt, Signal, Slot
from PySide6.QtGui import QIcon, QImageReader, QPixmap
from PySide6.QtWidgets import QApplication

from coverlayout.document.session import Session
from coverlayout.ui.files.remembered import Remembered
from coverlayout.ui.look import Look
from coverlayout.ui.port import Heard, Kind
from coverlayout.ui.window import Window

if TYPE_CHECKING:
    from coverlayout.app.worker import Worker

__all__ = ["Desktop", "WorkerPort", "program_icon"]

_SIZE = QSize(1440, 900)
# Drawn once for each of these sizes; systems choose.
_ICON_PX = (16, 24, 32, 48, 64, 128, 256)


def program_icon() -> QIcon:
    """The program's sign: a board over a repeating print; empty where this Qt cannot draw it."""
    drawing = files("coverlayout.resources").joinpath("icons/coverlayout.svg").read_bytes()
    icon = QIcon()
    for side_px in _ICON_PX:
        buffer = QBuffer()
        buffer.setData(drawing)
        reader = QImageReader(buffer, b"svg")
        reader.setScaledSize(QSize(side_px, side_px))
        picture = QPixmap.fromImageReader(reader)
        if not picture.isNull():
            icon.addPixmap(picture)
    return icon


class WorkerPort(QObject):
    """The worker as the window sees it: answers come on the window's thread, older questions are never heard of."""

    heard = Signal(object)
    _arrived = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._newest = 0
        self._worker: Worker | None = None
        self._arrived.connect(self._deliver, Qt.ConnectionType.QueuedConnection)

    @property
    def worker(self) -> Worker:
        """The worker, made when it is first needed: the window is painted before its parts are even loaded."""
        if self._worker is None:
            from coverlayout.app.worker import Worker  # noqa: PLC0415  see above

            self._worker = Worker(self.take)
        return self._worker

    def take(self, heard: Heard) -> None:
        """Take a message in on whatever thread it comes."""
        self._arrived.emit(heard)

    def start(self) -> None:
        """Begin to warm up."""
        self.worker.start()

    def ask(self, kind: Kind, asked: object) -> int:
        """Ask in place of any other question."""
        self._newest = self.worker.ask(kind, asked)
        return self._newest

    def cancel(self) -> None:
        """Drop the question."""
        self._newest = 0
        if self._worker is not None:
            self._worker.cancel()

    @Slot(object)
    def _deliver(self, heard: Heard) -> None:
        if heard.number == self._newest:
            self.heard.emit(heard)

    def close(self) -> None:
        """End the worker; nothing more is heard."""
        self._newest = 0
        if self._worker is not None:
            self._worker.close()


class Desktop(QObject):
    """Everything a running window needs, made and ended together."""

    def __init__(self, application: QApplication) -> None:
        super().__init__()
        self.session = Session()
        self.port = WorkerPort()
        remembered = Remembered()
        self.look = Look(application, remembered.look, at_once=False)
        self.window = Window(self.session, self.port, self.look, remembered=remembered)
        self.look.dress()
        self._path: Path | None = None

    def show(self, path: Path | None) -> None:
        """Show the window with the project (or picture) at `path`, empty without one."""
        self._path = path
        if path is not None:
            self.window.open_path(path)
        # Never larger than the screen leaves free, whatever lies at its edges.
        self.window.resize(_SIZE.boundedTo(self.window.screen().availableSize()))
        self.window.show()

    def begin(self) -> None:
        """What can wait until the window has been painted."""
        self._keep_on_screen()
        QApplication.setWindowIcon(program_icon())
        self.window.asking.begin()
        if self._path is None:
            self.window.keeping.offer_left_behind()

    def _keep_on_screen(self) -> None:
        """The system's frame round the window counts too; how large it is shows only once it is there."""
        window, free = self.window, self.window.screen().availableSize()
        frame = window.frameGeometry().size() - window.size()
        if not window.isMaximized() and not window.isFullScreen():
            window.resize(window.size().boundedTo(free - frame))

    def close(self) -> None:
        """End what runs beside the window."""
        self.port.close()
