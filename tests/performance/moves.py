"""Moves before a real canvas, each timed: a drag of one piece and a pan of the table, for every bench of the canvas."""

from __future__ import annotations

import time
from collections.abc import Callable

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from coverlayout.ui.canvas.canvas import Canvas

__all__ = ["CANVAS_PX", "drag_ms", "pan_ms", "widen"]

CANVAS_PX = (1600, 1000)


def widen(window: QWidget, canvas: Canvas) -> None:
    """Make the window as large as it takes for the canvas to be 1600 x 1000."""
    for _ in range(3):
        QApplication.processEvents()
        more = CANVAS_PX[0] - canvas.width(), CANVAS_PX[1] - canvas.height()
        window.resize(window.width() + more[0], window.height() + more[1])
    QApplication.processEvents()
    assert (canvas.width(), canvas.height()) == CANVAS_PX


def drag_ms(canvas: Canvas, moves: int) -> list[float]:
    """Milliseconds for each move of a drag of one piece, given up in the end."""
    x, y = canvas.view.to_screen.at(canvas.bench.outlines["front-12"][1].middle)
    start = QPoint(round(x), round(y))
    QTest.mousePress(canvas, Qt.MouseButton.LeftButton, pos=start)
    taken = _timed(canvas, start, moves, lambda k: QPoint(20 + 3 * (k % 100), 20 + 2 * (k % 80)))
    QTest.keyClick(canvas, Qt.Key.Key_Escape)
    QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=start)
    return taken


def pan_ms(canvas: Canvas, moves: int) -> list[float]:
    """Milliseconds for each move of a pan from the middle."""
    start = QPoint(800, 500)
    QTest.mousePress(canvas, Qt.MouseButton.MiddleButton, pos=start)
    # A hand goes to and fro; each step brings strips at two sides into sight.
    taken = _timed(canvas, start, moves, lambda k: QPoint(4 + 5 * abs(k % 80 - 40), 4 + 3 * abs(k % 60 - 30)))
    QTest.mouseRelease(canvas, Qt.MouseButton.MiddleButton, pos=start)
    return taken


def _timed(widget: QWidget, start: QPoint, moves: int, place: Callable[[int], QPoint]) -> list[float]:
    """Milliseconds from each mouse move until everything it asked for is done and painted."""
    taken = []
    for k in range(moves):
        began = time.perf_counter()
        QTest.mouseMove(widget, start + place(k))
        QApplication.processEvents()
        taken.append((time.perf_counter() - began) * 1000)
    return taken
