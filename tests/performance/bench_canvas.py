"""How long one mouse move takes: 1 of 60 pieces is dragged, or the table panned, while a search runs beside."""

from __future__ import annotations

import os
import statistics
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

os.environ["QT_QPA_PLATFORM"] = "offscreen"

from moves import drag_ms, pan_ms, widen
from PySide6.QtWidgets import QApplication
from scenes import pear

from coverlayout.app.wiring import Desktop
from coverlayout.book.book import Book, Volume
from coverlayout.cloth.cloth import Cloth, Flaw
from coverlayout.document.project import Layout, Project
from coverlayout.document.session import Session
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.question import ClothAsked, Ground, PieceAsked, Placed, Question
from coverlayout.motif.prints import LaidPrint
from coverlayout.ui.port import Heard

BOOKS = 15
MOVES = 200
# More than any search can take while the moves are measured.
ENDLESS_STEPS = 10**9


def scene() -> Session:
    """Sixty pieces (15 books) on cloth by the metre, over a half-drop print."""
    a_print, pictures = pear()
    crease = Flaw("flaw-1", "Crease", ((30.0, 1010.0), (900.0, 1040.0)), 12.0)
    cloth = Cloth("cloth-1", "By the metre", 1800.0, 1100.0, laid=LaidPrint("print-1"), flaws=(crease,))
    book = Book("book-1", "Ledgers", page_mm=(114.3, 152.4), volumes=tuple(Volume(k + 1) for k in range(BOOKS)))
    layout = Layout("layout-1", "Layout 1", tuple(_places()))
    return Session(Project("Ledgers", prints=(a_print,), cloths=(cloth,), books=(book,), layouts=(layout,)), pictures)


def _places() -> Iterator[Placed]:
    for k in range(BOOKS):
        for row, name in enumerate(("front", "back")):
            yield Placed(f"{name}-{k + 1}", "cloth-1", 80.0 + 150.0 * (k % 11), 100.0 + 190.0 * (2 * (k // 11) + row))
        yield Placed(f"liner-front-{k + 1}", "cloth-1", 700.0 + 112.0 * (k % 10), 460.0 + 150.0 * (k // 10))
        yield Placed(f"liner-back-{k + 1}", "cloth-1", 700.0 + 112.0 * (k % 10), 760.0 + 150.0 * (k // 10))


@contextmanager
def _search_beside(desktop: Desktop) -> Iterator[None]:
    """The worker searches a layout of sixty pieces; it must still be at it in the end."""
    heard: list[Heard] = []
    desktop.port.heard.connect(heard.append)
    question = _long_question()
    # The window asks about the opened project by itself; whoever asks last is heard, so ask until it is we.
    for _ in range(10):
        number = desktop.port.ask("lay", question)
        _work(3.0, lambda number=number: any(each.number == number for each in heard))
        if heard and heard[-1].number == number:
            break
    assert heard, "the search has not begun"
    assert heard[-1].number == number, "the search has not begun"
    yield
    states = {each.state for each in heard if each.number == number}
    assert not states & {"done", "trouble"}, f"the search ended too early: {states}"
    desktop.port.heard.disconnect(heard.append)


def _long_question() -> Question:
    """Sixty different pieces on cloth with 0.1 % to spare: nothing is found for many seconds, nor ruled out."""
    sizes = [(60.0 + 1.7 * k, 140.0 - 1.1 * k) for k in range(60)]
    pieces = tuple(PieceAsked(f"piece-{k}", rectangle(*size), (0.0, 0.0), (0.0, 90.0)) for k, size in enumerate(sizes))
    cloth = rectangle(900.0, 1.001 * sum(width * height for width, height in sizes) / 900.0)
    ground = Ground("ground", Region.of(cloth))
    return Question(pieces, (ClothAsked("cloth", "cloth", cloth, (ground,)),), steps=ENDLESS_STEPS)


def _work(most_s: float, enough: Callable[[], bool]) -> None:
    ends = time.monotonic() + most_s
    while not enough() and time.monotonic() < ends:
        QApplication.processEvents()
        time.sleep(0.01)


def figures(shared: Path | None) -> dict[str, dict[str, float]]:
    """Medians of one step of a drag and of a pan in the real window, in ms."""
    application = QApplication.instance() or QApplication([])
    desktop = Desktop(application)
    window, canvas = desktop.window, desktop.window.canvas
    made = scene()
    desktop.session.replace_all(made.project, made.pictures, None)
    window.show()
    widen(window, canvas)
    desktop.begin()
    judged: list[object] = []
    canvas.live.connect(judged.append)
    try:
        with _search_beside(desktop):
            drag = drag_ms(canvas, MOVES)
        with _search_beside(desktop):
            canvas.sight.zoom_in()
            QApplication.processEvents()
            pan = pan_ms(canvas, MOVES)
    finally:
        window.hide()
        desktop.close()
    assert len(judged) > MOVES * 0.9, "moves were not judged"
    return {
        "drag_frame_ms": {"value": statistics.median(drag), "goal": 2.0},
        "pan_frame_ms": {"value": statistics.median(pan), "goal": 2.0},
    }
