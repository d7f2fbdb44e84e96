"""What the tests of the window share: a session, what was said, and hands that type and choose."""

from __future__ import annotations

import gc
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from canvas_samples import session_of
from PySide6.QtCore import QCoreApplication, QEvent, QObject, QTimer, Signal
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from shiboken6 import isValid

from coverlayout.document.project import Project
from coverlayout.document.recovery import Keeper
from coverlayout.document.session import Session
from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.entry import Entry
from coverlayout.ui.files.remembered import Remembered
from coverlayout.ui.look import Look
from coverlayout.ui.panels.book_panel import BookPanel
from coverlayout.ui.port import Heard, HeardState, Kind
from coverlayout.ui.window import Window


class QuickBot(QtBot):
    """Looks every millisecond, not every ten, whether what is waited for has come."""

    def waitUntil(self, callback: Callable[[], bool | None], *, timeout: int = 5000) -> None:
        ends = time.monotonic() + timeout / 1000
        while not _came(callback) and time.monotonic() < ends:
            self.wait(1)
        super().waitUntil(callback, timeout=0)


def _came(callback: Callable[[], bool | None]) -> bool:
    try:
        return callback() in (None, True)
    except AssertionError:
        return False


@pytest.fixture
def qtbot(qapp: QApplication, request: pytest.FixtureRequest) -> QtBot:
    return QuickBot(request)


class Hands:
    """Types into fields and chooses words as a maker would, and keeps what the panels said."""

    def __init__(self) -> None:
        self.said: list[tuple[str, bool]] = []

    def hear(self, sentence: str, trouble: bool) -> None:
        self.said.append((sentence, trouble))

    def type(self, entry: Entry, text: str) -> None:
        entry.line.setText(text)
        entry.line.setModified(True)
        entry.line.editingFinished.emit()

    def choose(self, choice: Choice, words: str) -> None:
        at = choice.box.findText(words)
        assert at >= 0, f"{words} is not among {[choice.box.itemText(k) for k in range(choice.box.count())]}"
        choice.box.setCurrentIndex(at)
        choice.box.activated.emit(at)


@pytest.fixture
def hands() -> Hands:
    return Hands()


@pytest.fixture
def session() -> Session:
    return Session()


@pytest.fixture
def panel(qtbot: QtBot, session: Session, hands: Hands) -> BookPanel:
    """The book step by itself."""
    made = BookPanel(session, hands.hear)
    qtbot.addWidget(made)
    session.listen(lambda old, new: made.show_project(new))
    made.show_project(session.project)
    return made


@pytest.fixture(autouse=True)
def nothing_left_over() -> Iterator[None]:
    """After a test no window is open, no timer runs and no thread works that was not there before it."""
    threads = set(threading.enumerate())
    windows, timers = _open_windows(), _running_timers()
    yield
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    gc.collect()
    ends = time.monotonic() + 5.0
    while (late := set(threading.enumerate()) - threads) and time.monotonic() < ends:
        next(iter(late)).join(0.1)
    assert not late, f"threads still at work: {[thread.name for thread in late]}"
    left = [str(window) for window in _open_windows() if window not in windows]
    assert not left, f"windows still open: {left}"
    running = [_owner(timer) for timer in _running_timers() if timer not in timers]
    assert not running, f"timers still running, of: {running}"


def _open_windows() -> list[QObject]:
    return [window for window in QApplication.topLevelWidgets() if window.isVisible()]


def _running_timers() -> list[QTimer]:
    timers = [found for found in gc.get_objects() if isinstance(found, QTimer)]
    return [timer for timer in timers if isValid(timer) and timer.isActive()]


def _owner(timer: QTimer) -> str:
    return str(timer.parent())


class AnsweringPort(QObject):
    """Stands for the worker: keeps what is asked, and answers when the test says so."""

    heard = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.asked: list[tuple[int, str, object]] = []
        self.cancelled = 0
        self.started = False

    def start(self) -> None:
        self.started = True

    def ask(self, kind: Kind, asked: object) -> int:
        self.asked.append((len(self.asked) + 1, kind, asked))
        return len(self.asked)

    def cancel(self) -> None:
        self.cancelled += 1

    def tell(self, state: HeardState, answer: object = None, *, share: float = 0.5, **more: object) -> None:
        number, kind, _ = self.asked[-1]
        self.heard.emit(Heard(number, kind, state, share, answer, **more))  # type: ignore[arg-type]  # kind as asked


@pytest.fixture
def port() -> AnsweringPort:
    return AnsweringPort()


@pytest.fixture(scope="session")
def look(qapp: QApplication) -> Look:
    return Look(qapp, "light")


@pytest.fixture
def opened(qtbot: QtBot, port: AnsweringPort, look: Look, tmp_path: Path) -> Iterator[Callable[[Project], Window]]:
    """Opens the window on a project; nothing is asked when it closes."""
    made: list[Window] = []

    def open_one(project: Project) -> Window:
        session = session_of(project)
        window = Window(
            session, port, look, keeper=Keeper(tmp_path / "kept"), remembered=Remembered(tmp_path / "settings")
        )
        qtbot.addWidget(window, before_close_func=lambda _closing: session.mark_saved(tmp_path / "closing"))
        window.resize(1280, 800)
        window.show()
        qtbot.waitUntil(lambda: window._painted)
        made.append(window)
        return window

    yield open_one
    for window in made:
        window.session.mark_saved(tmp_path / "closing")
        window.close()
